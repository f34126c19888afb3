"""Alcohol and solvents: a note where it is ordinary, more near a flame or sprayed at a face."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case, Ingredient
from rules.catalogue import Phase, Role
from rules.hazards.evidence import finding
from rules.recipe import Circumstance, Site

WARM_CELSIUS = 60.0  # flash point at and below which a liquid is classed flammable (GHS category 3, from memory)
ALCOHOL_PERCENT = 20.0
SPRAY_PERCENT = 50.0


def _solvent(case: Case) -> Ingredient | None:
    """A solvent or propellant that makes up a good part and flashes at or below 60 degrees."""
    for ingredient in case.ingredients:
        volatile = ingredient.substance.phase is Phase.SOLVENT or ingredient.has(Role.PROPELLANT)
        flash = ingredient.substance.flash_point_celsius
        if volatile and ingredient.percent.best > ALCOHOL_PERCENT and (flash is None or flash <= WARM_CELSIUS):
            return ingredient
    return None


def _severity(case: Case) -> Severity:
    vapour = case.chemistry.vapour
    flash = vapour.flash_point_celsius
    if case.when(Circumstance.NEAR_FLAME):
        return Severity.AVOID if flash is not None and flash.best < WARM_CELSIUS else Severity.FIX
    at_face = case.sprayed and case.at(Site.FACE, Site.EYE_AREA)
    return Severity.FIX if at_face and vapour.alcohol_percent.low > SPRAY_PERCENT else Severity.NOTE


def check(case: Case) -> Iterator[Finding]:
    flash, alcohol = case.chemistry.vapour.flash_point_celsius, case.chemistry.vapour.alcohol_percent
    solvent = _solvent(case)
    if solvent is None and alcohol.best < ALCOHOL_PERCENT:
        return
    severity = _severity(case)
    alcohols = [i for i in case.ingredients if i.substance.phase is Phase.ALCOHOL]
    cause = max(alcohols, key=lambda i: i.percent.best, default=solvent)
    yield finding(
        Hazard.FLAMMABLE,
        severity,
        "burns_near_flame" if severity is not Severity.NOTE else "flammable_like_any",
        "away_from_flame",
        Basis.COMPUTED,
        "flash_points",
        cause=cause,
        value=flash if flash is not None else alcohol,
        limit=WARM_CELSIUS if flash is not None else ALCOHOL_PERCENT,
        unit="degrees Celsius" if flash is not None else "percent",
        alcohol=round(alcohol.best),
    )
