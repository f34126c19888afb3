"""Alcohol and solvents: a note where it is ordinary, more near a flame or sprayed at a face."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case
from rules.catalogue import Phase, Role
from rules.hazards.evidence import finding
from rules.recipe import Circumstance, Site

WARM_CELSIUS = (
    60.0  # flash point at and below which a liquid is classed flammable (GHS category 3, from memory)
)
ALCOHOL_PERCENT = 20.0
SPRAY_PERCENT = 50.0


def check(case: Case) -> Iterator[Finding]:
    vapour = case.chemistry.vapour
    solvent = next(
        (
            i
            for i in case.ingredients
            if i.substance.phase is Phase.SOLVENT or i.has(Role.PROPELLANT)
            if i.percent.best > ALCOHOL_PERCENT
        ),
        None,
    )
    flash = vapour.flash_point_celsius
    alcohol = vapour.alcohol_percent
    burns = alcohol.best >= ALCOHOL_PERCENT or (
        solvent is not None and (solvent.substance.flash_point_celsius or 0) <= WARM_CELSIUS
    )
    if not burns:
        return
    severity = Severity.NOTE
    if case.when(Circumstance.NEAR_FLAME):
        severity = Severity.AVOID if flash is not None and flash.best < WARM_CELSIUS else Severity.FIX
    elif case.sprayed and alcohol.low > SPRAY_PERCENT and case.at(Site.FACE, Site.EYE_AREA):
        severity = Severity.FIX
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
