"""Sun protection that nobody has measured."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case
from rules.catalogue import Role
from rules.hazards.evidence import finding
from rules.recipe import Circumstance, Claim, Site

FILTER_PERCENT = 8.0  # of zinc oxide or titanium dioxide in a fat, beyond what colours or soothes
FAT_PERCENT = 40.0
# Kinds that say how it is made and not what it is for.
MINERAL = frozenset({"titanium_dioxide_dispersion", "zinc_oxide_dispersion"})
NO_PURPOSE = frozenset({"salve", "lotion_bar", "body_butter", "body_oil", "lotion", "body_cream", "face_cream"})


ORGANIC_PERCENT = 1.0  # of a filter that does nothing else in a cosmetic: common practice


def _only_filters(case: Case) -> float:
    """Filters that neither colour nor soothe, w/w %: they are there against the sun."""
    law = case.law
    named = (i for i in case.with_role(Role.UV_FILTER) if i.substance.id not in MINERAL)
    return sum(i.percent.best for i in named if not law.is_colour(i.substance.id))


def perhaps_meant(case: Case) -> bool:
    """A sun filter by itself, or a fat full of mineral filter and no word of what it is for."""
    if case.left_on and (case.on_skin or case.at(Site.MOUTH)) and _only_filters(case) >= ORGANIC_PERCENT:
        return True
    if case.product is not None and not case.recipe.guessed and case.product.id not in NO_PURPOSE:
        return False
    if case.made_as("nappy_balm") or case.when(Circumstance.INFANT):
        return False  # zinc oxide in fat is what keeps a nappy area dry
    filters = sum(i.percent.best for i in case.with_role(Role.UV_FILTER))
    powder = sum(i.percent.best for i in case.ingredients if i.substance.id in ("cornstarch", "arrowroot"))
    return filters >= FILTER_PERCENT and powder < 5 and case.chemistry.oil_percent.best >= FAT_PERCENT


def _unprotected() -> Finding:
    return finding(
        Hazard.UNPROVEN_SUN_PROTECTION,
        Severity.FIX,
        "oil_does_not_protect",
        "buy_tested_sunscreen",
        Basis.OPINION,
        "home_sunscreen_study",
    )


def check(case: Case) -> Iterator[Finding]:
    claimed = Claim.SUN_PROTECTION in case.recipe.claims
    product = case.product is not None and case.product.sun_protection
    filters = case.with_role(Role.UV_FILTER)
    if not claimed and not product:
        if perhaps_meant(case):
            yield finding(
                Hazard.UNPROVEN_SUN_PROTECTION,
                Severity.NOTE,
                "perhaps_sunscreen",
                "buy_tested_sunscreen",
                Basis.LAW,
                "home_sunscreen_study",
                "cfr_700_35",
                cause=filters[0],
                value=filters[0].percent,
                unit="percent",
            )
        elif case.made_as("tanning_oil"):
            yield _unprotected()
        return
    yield finding(
        Hazard.UNPROVEN_SUN_PROTECTION,
        Severity.AVOID,
        "home_sunscreen",
        "buy_tested_sunscreen",
        Basis.LAW,
        "home_sunscreen_study",
        "cfr_700_35",
        cause=filters[0] if filters else None,
        value=filters[0].percent if filters else None,
        unit="percent" if filters else None,
        region=case.jurisdiction,
    )
