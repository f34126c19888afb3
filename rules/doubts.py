"""What is open in a recipe, and the one question that would decide it (a key of the phrase tables)."""

from __future__ import annotations

from rules.assessment import Severity
from rules.case import Case
from rules.chemistry.chemistry import Preserved
from rules.hazards import alkaline
from rules.hazards.sun import perhaps_meant
from rules.recipe import Claim, Line, Recipe, Unit


def not_understood(recipe: Recipe) -> tuple[int, ...]:
    """Indexes of lines whose substance is unknown."""
    return tuple(i for i, line in enumerate(recipe.lines) if line.substance is None)


# Names of things that go in by drops, whichever kind it is: they neither preserve, colour nor bring water that counts.
SCENT_WORDS = frozenset({"fragrance", "parfum", "aroma", "scent", "perfume", "flavor", "flavour", "flavoring"})


def _counted(recipe: Recipe, index: int) -> bool:
    line = recipe.lines[index]
    if not SCENT_WORDS.isdisjoint(line.name.lower().split()) and _by_drops(line):
        return False
    return not line.optional and line.alternative_of is None


def _by_drops(line: Line) -> bool:
    """At most ten drops, or one percent."""
    amount = line.amount
    if amount is None:
        return False
    most = {Unit.DROP: 10.0, Unit.PERCENT: 1.0}.get(amount.unit or Unit.PIECE, 0.0)
    return amount.quantity.high <= most


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
    if any(f.reason == "free_lye" and f.severity is Severity.NOTE for f in alkaline.check(case)):
        return "how_much_lye"
    found = case.chemistry.preservation
    if not case.kept or case.dry or found.status is not Preserved.CANNOT_TELL:
        return None
    return {"ph_decides": "what_ph", "amount_unsure": "how_much_preservative"}.get(found.reason)
