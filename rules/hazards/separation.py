"""Oil and water that do not stay together in something that is kept."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case, Ingredient
from rules.catalogue import Phase, Role
from rules.chemistry.chemistry import Mixing
from rules.hazards.evidence import finding
from rules.recipe import Circumstance, Site

FEW_DROPS = 0.2  # percent of oil in a watery mix: a few drops of a vitamin float, and nothing else goes wrong
GEL_HOLDS = 1.0  # percent of oil that a gel keeps where it was stirred in: common practice
GEL_SHARE = 20.0  # percent of a bought gel from which on the whole is one
SPIRIT_DISSOLVES = 0.3  # percent of scent that goes clear in a fifth of alcohol, or is rinsed off: common practice
SYRUPS = ("honey", "corn_syrup", "agave", "maple_syrup", "molasses")
HONEY_HOLDS = 50.0  # percent of honey or syrup from which on drops stay where they are stirred in
LITTLE_WATER = 10.0  # percent that a spoon of honey brings: it beads, no more


def _scent(case: Case) -> float:
    return sum(i.percent.best for i in case.with_role(Role.ESSENTIAL_OIL, Role.FRAGRANCE))


def _only_drops_float(case: Case) -> bool:
    """A few drops of an oil that does not sting where it lands."""
    oil, water = case.chemistry.oil_percent, case.chemistry.emulsion.water_percent
    return oil.best < FEW_DROPS and water.best > 50 and _scent(case) == 0


def _only_scent_floats(case: Case) -> bool:
    scent = _scent(case)
    return scent > 0 and scent >= 0.8 * case.chemistry.oil_percent.best


def _held_by_gel(case: Case) -> bool:
    """A gel or cream keeps a few drops where they were stirred in; a thin water lets them rise."""
    if case.sprayed or case.chemistry.oil_percent.best > GEL_HOLDS:
        return False
    if case.made_as("hair_gel", "brow_gel"):
        return True
    if sum(i.percent.best for i in case.ingredients if i.substance.id.startswith(SYRUPS)) > HONEY_HOLDS:
        return True
    thick = (i for i in case.ingredients if i.has(Role.THICKENER) or i.substance.phase is Phase.EMULSION)
    gels = (i for i in case.ingredients if "gel" in i.substance.id.split("_") and i.percent.best > GEL_SHARE)
    return any(i.substance.phase is not Phase.OIL for i in thick) or any(True for _ in gels)


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


def _severity(case: Case, scent: bool) -> Severity:
    emulsion = case.chemistry.emulsion
    little = emulsion.water_percent.best < LITTLE_WATER or _held_by_gel(case)
    if not case.kept or _only_drops_float(case) or little or case.made_as("soap"):
        return Severity.NOTE
    spirit = case.chemistry.preservation.reason == "alcohol"
    if scent and _scent(case) <= SPIRIT_DISSOLVES and (spirit or not case.left_on):
        return Severity.NOTE
    if scent and case.left_on and (case.at_mucosa or case.at(Site.FACE) or case.fragile):
        return Severity.FIX
    shaken = case.when(Circumstance.SHAKEN_BEFORE_USE) or emulsion.mixing is Mixing.SHAKE
    # In strong spirit nothing grows where the layers meet, and most of the scent dissolves: a shake will do.
    return Severity.NOTE if shaken or spirit else Severity.FIX


def _what(case: Case) -> tuple[str, str, tuple[Ingredient, ...]]:
    """Reason, safer way, and the lines that could be the cause."""
    if _only_scent_floats(case):
        return "scent_floats", "solubilise_scent", case.with_role(Role.ESSENTIAL_OIL, Role.FRAGRANCE)
    if any(result == "soap_curdles" for _, _, result in case.chemistry.vapour.dangerous_pairs):
        return "soap_curdles_in_acid", "mild_surfactant", case.with_role(Role.SOAP)
    floating = any(i.substance.phase is Phase.OIL for i in case.ingredients)
    if floating and _only_drops_float(case):
        oils = tuple(i for i in case.ingredients if i.substance.phase is Phase.OIL)
        return "oil_drops_float", "shake_or_leave_oil_out", oils
    return "oil_and_water_part", "add_emulsifier", ()


def check(case: Case) -> Iterator[Finding]:
    emulsion = case.chemistry.emulsion
    if case.soap_making:
        return  # the soap that forms holds oil and water together, and sets
    if case.dry or emulsion.mixing not in (Mixing.SEPARATES, Mixing.SHAKE):
        yield from _only_soap_holds(case)
        return
    reason, instead, causes = _what(case)
    yield finding(
        Hazard.SEPARATES,
        _severity(case, reason == "scent_floats"),
        reason,
        instead,
        Basis.COMPUTED,
        "hlb_method",
        cause=max(causes, key=lambda i: i.percent.best, default=None),
        value=emulsion.emulsifier_percent,
        unit="percent emulsifier",
        oil=round(emulsion.oil_percent.best, 1),
        water=round(emulsion.water_percent.best),
    )
