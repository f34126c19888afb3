"""Too acid for the place, by the computed pH and by how much acid stands behind it."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case, Ingredient
from rules.catalogue import Phase, Role, Shelf
from rules.hazards.evidence import finding, for_fragile, step_up
from rules.recipe import Circumstance, Site

LEAVE_ON_FLOOR = 3.5  # the pH at which the review of alpha hydroxy acids stops
LEAVE_ON_HARD = 2.5
BURNS = 1.5
RINSE_HARD = 2.0
HAIR_RINSE_FLOOR = 2.8
WET = 20.0  # percent of water below which the computed pH says little about what touches skin
LITTLE_ACID = 1.0  # percent of acid below which skin buffers a low pH: common practice


def _floor(case: Case) -> tuple[float, Severity] | None:
    """The floor that the pH has gone below and what that weighs."""
    ph = case.chemistry.ph
    acid = case.composition.with_role(Role.ACID, case.catalogue)
    if ph is None or case.dry or case.chemistry.water_percent.best < WET:
        return None
    frail = case.at(Site.EYE_AREA) or case.when(Circumstance.INFANT, Circumstance.BROKEN_SKIN, Circumstance.INTIMATE)
    if case.left_on:
        if ph.high < BURNS and acid.best >= LITTLE_ACID:
            return BURNS, Severity.AVOID
        if ph.high < LEAVE_ON_HARD and acid.best >= LITTLE_ACID:
            return LEAVE_ON_HARD, step_up(Severity.FIX) if frail else Severity.FIX
        if ph.best < LEAVE_ON_FLOOR:
            severity = Severity.FIX if acid.best >= LITTLE_ACID else Severity.NOTE
            sure = ph.high < LEAVE_ON_FLOOR
            return LEAVE_ON_FLOOR, step_up(severity) if frail and sure else severity
        return None
    if ph.best < RINSE_HARD:
        return RINSE_HARD, for_fragile(case, Severity.FIX)
    if ph.best < LEAVE_ON_FLOOR:
        severity = Severity.NOTE
        if case.at(Site.HAIR) and ph.best < HAIR_RINSE_FLOOR and acid.best > 2.5:
            severity = Severity.FIX
        return LEAVE_ON_FLOOR, step_up(severity) if frail else severity
    return None


def _instead(case: Case, acid: Ingredient | None) -> str:
    """Vinegar and lemon can be thinned and a serum's acid buffered; a peel, pool acid or a douche is left out."""
    if acid is not None and (acid.has(Role.DISSOLVES_SKIN) or acid.substance.shelf is Shelf.HOUSEHOLD or case.fragile):
        return "leave_it_out"
    if case.left_on:
        return "raise_ph"
    return "dilute_acid" if acid is not None and acid.substance.phase is Phase.WATER else "leave_it_out"


def check(case: Case) -> Iterator[Finding]:
    below = _floor(case)
    if below is None or case.at(Site.BATH):
        return
    limit, severity = below
    acids = case.with_role(Role.ACID) or case.ingredients
    strongest = max(acids, key=lambda i: i.percent.best, default=None)
    if strongest is not None and strongest.line.amount is None and strongest.substance.phase is Phase.SOLUTE:
        severity = Severity.NOTE  # "citric acid to pH 5": it is dosed to a pH, so the one computed says nothing
    yield finding(
        Hazard.PH_TOO_LOW,
        severity,
        "too_acid_left_on" if case.left_on else "acid_rinse",
        _instead(case, strongest),
        Basis.COMPUTED,
        "cir_aha",
        "computed",
        cause=strongest,
        value=case.chemistry.ph,
        limit=limit,
        unit="pH",
        acid=round(case.composition.with_role(Role.ACID, case.catalogue).best, 1),
    )
