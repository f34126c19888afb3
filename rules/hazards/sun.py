"""Sun protection that nobody has measured."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case
from rules.catalogue import Role
from rules.hazards.evidence import finding
from rules.recipe import Claim


def check(case: Case) -> Iterator[Finding]:
    claimed = Claim.SUN_PROTECTION in case.recipe.claims
    product = case.product is not None and case.product.sun_protection
    if not claimed and not product:
        return
    filters = case.with_role(Role.UV_FILTER)
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
