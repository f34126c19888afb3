"""What a label or a word of praise does not say: "non-toxic", "natural", "edible"."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case, Ingredient
from rules.catalogue import Role
from rules.hazards.evidence import finding
from rules.recipe import Claim, Quality


def _said(hazard: Hazard, reason: str, cause: Ingredient) -> Finding:
    art = reason == "non_toxic_is_about_art"
    return finding(
        hazard,
        Severity.NOTE,
        reason,
        "judge_by_what_is_in_it",
        Basis.STANDARD if art else Basis.COMMON_PRACTICE,
        "cpsc_art_materials" if art else "common_practice",
        cause=cause,
    )


def check(case: Case) -> Iterator[Finding]:
    for thing in case.ingredients:
        if thing.loose and Quality.NON_TOXIC_LABEL in thing.line.qualities:
            yield _said(Hazard.NON_COSMETIC_MATERIAL, "non_toxic_is_about_art", thing)
    hot = case.with_role(Role.IRRITANT_SPICE, Role.ESSENTIAL_OIL, Role.PHOTOTOXIC_JUICE)
    if Claim.NATURAL in case.recipe.claims and hot:
        yield _said(Hazard.SENSITISER, "natural_can_irritate", hot[0])
    food = case.with_role(Role.PERISHABLE, Role.IRRITANT_SPICE)
    if Claim.EDIBLE in case.recipe.claims and food:
        yield _said(Hazard.SENSITISER, "edible_is_not_skin_safe", food[0])
