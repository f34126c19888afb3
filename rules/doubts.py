"""What is open in a recipe, and the one question that would decide it (a key of the phrase tables)."""

from __future__ import annotations

from rules.case import Case
from rules.chemistry.chemistry import Preserved
from rules.hazards.sun import perhaps_meant
from rules.recipe import Claim, Recipe


def not_understood(recipe: Recipe) -> tuple[int, ...]:
    """Indexes of lines whose substance is unknown."""
    return tuple(i for i, line in enumerate(recipe.lines) if line.substance is None)


def _counted(recipe: Recipe, index: int) -> bool:
    line = recipe.lines[index]
    return not line.optional and line.alternative_of is None


def of_lines(recipe: Recipe) -> str | None:
    """An unknown ingredient that counts, or nothing to judge at all."""
    if not recipe.lines:
        return "what_is_in_it"
    if any(_counted(recipe, index) for index in not_understood(recipe)):
        return "what_is_the_unknown"
    return None


def of_case(case: Case) -> str | None:
    """What the chemistry could not tell and that decides."""
    if perhaps_meant(case) and Claim.SUN_PROTECTION not in case.recipe.claims:
        return "is_it_against_sun"
    found = case.chemistry.preservation
    if not case.kept or case.dry or found.status is not Preserved.CANNOT_TELL:
        return None
    return {"ph_decides": "what_ph", "amount_unsure": "how_much_preservative"}.get(found.reason)
