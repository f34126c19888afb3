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
BURNING = frozenset({"cayenne", "chili_powder", "chili_fresh", "capsaicin", "capsaicin_cream", "wasabi_powder"})
# Mustard oil and garlic blister skin that they stay on.
BLISTERING = frozenset({"garlic", "garlic_juice", "garlic_powder", "horseradish", "mustard", "mustard_powder"})
BODY_PERCENT = 10.0  # spice left on the body; BURNING_RINSED: capsaicin spice rinsed off: common practice
BURNING_RINSED = 1.0
POULTICE_PERCENT = 10.0  # mustard or garlic by the spoon blisters within the hour, rinsed or not: common practice
# Spice oils rinsed off, or left where no maximum of their own holds, w/w %: common practice.
HOT_OIL_PERCENT = 1.0
WARM_OILS = frozenset({"black_pepper_essential_oil", "ginger_essential_oil"})
# Plumpers that redden or swell by more than coolness.
STRONG = frozenset({"nicotinic_acid", "niacin_plumper", "benzyl_nicotinate", "methyl_nicotinate", "bee_venom"})


def _of_spice(case: Case, spice: Ingredient) -> Severity:
    burns = spice.substance.id in BURNING
    if burns and case.at(Site.LIPS, Site.EYE_AREA):
        return Severity.AVOID
    if case.dry and set(case.sites) == {Site.HAIR} and not burns and spice.percent.best <= BODY_PERCENT:
        return for_fragile(case, Severity.NOTE)  # nothing wet draws it out, and it is brushed off
    if case.left_on and (burns or case.at(Site.LIPS, Site.EYE_AREA, Site.FACE, Site.HAIR)):
        return for_fragile(case, Severity.FIX)
    if case.at(Site.MOUTH) and burns:
        return Severity.FIX
    most = BURNING_RINSED if burns else BODY_PERCENT
    if (burns or case.left_on) and spice.percent.best > most and not case.at(Site.BATH):
        return for_fragile(case, Severity.FIX)
    if spice.substance.id in BLISTERING and (case.left_on or spice.percent.best > POULTICE_PERCENT):
        return for_fragile(case, Severity.FIX)
    if case.at(Site.FACE, Site.EYE_AREA, Site.LIPS) and spice.percent.best >= MASK_PERCENT:
        return for_fragile(case, Severity.FIX)
    return for_fragile(case, Severity.NOTE)


def _of_plumper(case: Case, plumper: Ingredient) -> Severity:
    strong = plumper.substance.id in STRONG
    if case.left_on and (case.at(Site.EYE_AREA) or (strong and case.at(Site.LIPS, Site.FACE))):
        return Severity.FIX
    return for_fragile(case, Severity.NOTE)


def _hot_oil(case: Case, oil: Ingredient) -> Iterator[Finding]:
    """Cinnamon, clove and their like: at any dose they redden some; above the usual one, most."""
    over = oil.percent.best > HOT_OIL_PERCENT
    if oil.substance.id in WARM_OILS or not (over or case.left_on):
        return
    yield finding(
        Hazard.SENSITISER,
        for_fragile(case, Severity.FIX) if over else Severity.NOTE,
        "hot_spice",
        "use_fewer_drops",
        Basis.COMMON_PRACTICE,
        "common_practice",
        cause=oil,
        value=oil.percent,
        limit=HOT_OIL_PERCENT,
        unit="percent",
    )


def check(case: Case) -> Iterator[Finding]:
    for hot in case.with_role(Role.IRRITANT_SPICE, Role.PLUMPER):
        if hot.has(Role.ESSENTIAL_OIL):
            if hot.has(Role.IRRITANT_SPICE):
                yield from _hot_oil(case, hot)
            continue  # left on, oils have their own maxima
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
