"""Common food and latex allergens, named once each: never more than a note."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case
from rules.hazards.evidence import finding

NAMES = {"bee": "bee products", "nut": "tree nuts", "latex": "natural latex"}


def check(case: Case) -> Iterator[Finding]:
    said: set[str] = set()
    for ingredient in case.ingredients:
        for allergen in sorted(ingredient.substance.allergens - said):
            said.add(allergen)
            yield finding(
                Hazard.SENSITISER,
                Severity.NOTE,
                "allergen",
                "patch_test_or_leave_out",
                Basis.COMMON_PRACTICE,
                "common_practice",
                cause=ingredient,
                allergen=NAMES.get(allergen, allergen),
            )
