"""Hot spices, plumpers and what stings on purpose."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case, Ingredient
from rules.catalogue import Role
from rules.hazards.evidence import finding, for_fragile
from rules.recipe import Site

MASK_PERCENT = 1.0  # spice in a rinse-off face product: common practice
# What holds capsaicin or its like.
BURNING = frozenset(
    {"cayenne", "chili_powder", "chili_fresh", "capsaicin", "capsaicin_cream", "wasabi_powder"}
)
# Plumpers that redden or swell by more than coolness.
STRONG = frozenset(
    {"nicotinic_acid", "niacin_plumper", "benzyl_nicotinate", "methyl_nicotinate", "bee_venom"}
)


def _of_spice(case: Case, spice: Ingredient) -> Severity:
    burns = spice.substance.id in BURNING
    if burns and case.at(Site.LIPS, Site.EYE_AREA):
        return Severity.AVOID
    if case.left_on and (burns or case.at(Site.LIPS, Site.EYE_AREA, Site.FACE, Site.HAIR)):
        return for_fragile(case, Severity.FIX)
    if case.at(Site.FACE, Site.EYE_AREA, Site.LIPS) and spice.percent.best >= MASK_PERCENT:
        return for_fragile(case, Severity.FIX)
    return for_fragile(case, Severity.NOTE)


def _of_plumper(case: Case, plumper: Ingredient) -> Severity:
    strong = plumper.substance.id in STRONG
    if case.left_on and (case.at(Site.EYE_AREA) or (strong and case.at(Site.LIPS, Site.FACE))):
        return Severity.FIX
    return for_fragile(case, Severity.NOTE)


def check(case: Case) -> Iterator[Finding]:
    for hot in case.with_role(Role.IRRITANT_SPICE, Role.PLUMPER):
        if hot.has(Role.ESSENTIAL_OIL):
            continue  # oils have their own maxima
        burns = hot.substance.id in BURNING
        spice = burns or hot.has(Role.IRRITANT_SPICE)
        yield finding(
            Hazard.SENSITISER,
            _of_spice(case, hot) if spice else _of_plumper(case, hot),
            "capsaicin_burns" if burns and case.at_mucosa else "hot_spice" if spice else "stings_on_purpose",
            "leave_spice_out" if spice else "leave_it_out",
            Basis.OPINION if burns else Basis.COMMON_PRACTICE,
            "capsaicin_label" if burns else "common_practice",
            cause=hot,
            value=hot.percent,
            unit="percent",
        )
