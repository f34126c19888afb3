"""Hot spices, plumpers and what stings on purpose."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case, Ingredient
from rules.catalogue import Role
from rules.hazards.evidence import finding, for_fragile
from rules.recipe import Site

MASK_PERCENT = 1.0  # spice in a rinse-off face product: common practice
BURNING = frozenset(
    {"cayenne", "cayenne_pepper", "chili_powder", "chilli_powder", "capsaicin", "capsicum", "chilli"}
)


def _burns(spice: Ingredient) -> bool:
    return (spice.has(Role.PLUMPER) and spice.has(Role.IRRITANT_SPICE)) or spice.substance.id in BURNING


def _severity(case: Case, spice: Ingredient) -> Severity:
    if _burns(spice) and case.at_mucosa:
        return Severity.AVOID
    if case.left_on and (case.at_mucosa or case.at(Site.FACE, Site.HAIR)):
        return for_fragile(case, Severity.FIX)
    if _burns(spice) and case.left_on:
        return for_fragile(case, Severity.FIX)
    if case.at(Site.FACE, Site.EYE_AREA) and spice.percent.best >= MASK_PERCENT:
        return for_fragile(case, Severity.FIX)
    return for_fragile(case, Severity.NOTE)


def check(case: Case) -> Iterator[Finding]:
    for spice in case.with_role(Role.IRRITANT_SPICE, Role.PLUMPER):
        if spice.has(Role.ESSENTIAL_OIL) and not case.at_mucosa:
            continue  # oils have their own maxima
        burns = _burns(spice)
        yield finding(
            Hazard.SENSITISER,
            _severity(case, spice),
            "capsaicin_burns" if burns and case.at_mucosa else "hot_spice",
            "leave_spice_out",
            Basis.OPINION if burns else Basis.COMMON_PRACTICE,
            "capsaicin_label" if burns else "common_practice",
            cause=spice,
            value=spice.percent,
            unit="percent",
        )
