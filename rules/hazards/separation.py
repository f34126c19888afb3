"""Oil and water that do not stay together in something that is kept."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case
from rules.catalogue import Role
from rules.chemistry.chemistry import Mixing
from rules.hazards.evidence import finding, for_fragile
from rules.recipe import Circumstance, Site

LITTLE_WATER = 10.0  # percent that a spoon of honey brings: it beads, no more


def _only_scent_floats(case: Case) -> bool:
    scent = sum(i.percent.best for i in case.with_role(Role.ESSENTIAL_OIL, Role.FRAGRANCE))
    return scent > 0 and scent >= 0.8 * case.chemistry.oil_percent.best


def _only_soap_holds(case: Case) -> Iterator[Finding]:
    """Soap takes up a little oil; what it carries creams up again in the bottle."""
    emulsion = case.chemistry.emulsion
    soap = case.composition.with_role(Role.SOAP, case.catalogue).best > 1
    proper = case.with_role(Role.EMULSIFIER, Role.SOLUBILISER)
    if case.kept and not case.dry and soap and not proper and emulsion.mixing is Mixing.HOLDS:
        yield finding(
            Hazard.SEPARATES,
            Severity.NOTE,
            "soap_carries_little_oil",
            "add_emulsifier",
            Basis.COMMON_PRACTICE,
            "common_practice",
        )


def check(case: Case) -> Iterator[Finding]:
    emulsion = case.chemistry.emulsion
    if case.dry or emulsion.mixing not in (Mixing.SEPARATES, Mixing.SHAKE):
        yield from _only_soap_holds(case)
        return
    scent = _only_scent_floats(case)
    shaken = case.when(Circumstance.SHAKEN_BEFORE_USE) or emulsion.mixing is Mixing.SHAKE
    if not case.kept or emulsion.water_percent.best < LITTLE_WATER or case.made_as("soap"):
        severity = Severity.NOTE
    elif scent and case.left_on and (case.at_mucosa or case.at(Site.FACE) or case.fragile):
        severity = for_fragile(case, Severity.FIX)
    elif scent or shaken:
        severity = Severity.NOTE if shaken else Severity.FIX
    else:
        severity = Severity.FIX
    cause = max(
        case.with_role(Role.ESSENTIAL_OIL, Role.FRAGRANCE) if scent else (),
        key=lambda i: i.percent.best,
        default=None,
    )
    yield finding(
        Hazard.SEPARATES,
        severity,
        "scent_floats" if scent else "oil_and_water_part",
        "solubilise_scent" if scent else "add_emulsifier",
        Basis.COMPUTED,
        "hlb_method",
        cause=cause,
        value=emulsion.emulsifier_percent,
        unit="percent emulsifier",
        oil=round(emulsion.oil_percent.best, 1),
        water=round(emulsion.water_percent.best),
    )
