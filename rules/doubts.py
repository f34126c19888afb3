"""What is open in a recipe, and the one question that would decide it (a key of the phrase tables)."""

from __future__ import annotations

from rules.assessment import Severity
from rules.case import Case
from rules.catalogue import Role
from rules.chemistry.chemistry import Preserved
from rules.hazards import alkaline
from rules.hazards.sun import perhaps_meant
from rules.recipe import Amount, Circumstance, Claim, Line, Recipe, Site, Unit


def not_understood(recipe: Recipe) -> tuple[int, ...]:
    """Indexes of lines whose substance is unknown."""
    return tuple(i for i, line in enumerate(recipe.lines) if line.substance is None)


HELPER_PERCENT, CHOICE_PERCENT = 1.2, 5.0  # a little above 1 for lists that do not quite add up
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


def of_lines(case: Case) -> str | None:
    """An unknown ingredient that counts, or nothing to judge at all."""
    recipe = case.recipe
    if not recipe.lines:
        return "what_is_in_it"
    if any(_counted(recipe, index) and not _too_little(case, index) for index in not_understood(recipe)):
        return "what_is_the_unknown"
    return None


def _too_little(case: Case, index: int) -> bool:
    """About 1 % of a weighed, preserved formula: a helper by its trade name; up to 5 % where "or" names a known one.

    It is named as not understood all the same. Never at eyes, lips or in the mouth, nor on those who are fragile.
    Common practice, no source.
    """
    share = next((p for p in case.composition.portions if p.line == index), None)
    if share is None or share.estimated or case.at_mucosa or case.fragile:
        return False
    named = any(line.alternative_of == index and line.substance is not None for line in case.recipe.lines)
    if named:
        return share.percent.high <= CHOICE_PERCENT
    amount = case.recipe.lines[index].amount
    weighed = amount is not None and amount.unit in (Unit.PERCENT, Unit.G)
    preserved = case.chemistry.preservation.status is Preserved.EFFECTIVE
    return weighed and preserved and share.percent.high <= HELPER_PERCENT


def of_case(case: Case) -> str | None:
    """What the chemistry could not tell and that decides."""
    if perhaps_meant(case) and Claim.SUN_PROTECTION not in case.recipe.claims:
        return "is_it_against_sun"
    if any(f.reason == "free_lye" and f.severity is Severity.NOTE for f in alkaline.check(case)):
        return "how_much_lye"
    found = case.chemistry.preservation
    if not case.kept or case.dry or found.status is not Preserved.CANNOT_TELL:
        return None
    if found.reason == "amount_unsure" and _only_dose_is_open(case):
        return None
    return {"ph_decides": "what_ph", "amount_unsure": "how_much_preservative"}.get(found.reason)


def _only_dose_is_open(case: Case) -> bool:
    """ "Broad-spectrum preservative" without a figure: who adds one doses it by its label, and a note says so.

    Not so for eyes and infants, and not where drops or spoons of it are named that may be too few.
    """
    if (case.at(Site.EYE_AREA) and case.left_on) or case.when(Circumstance.INFANT):
        return False
    added = [i for i in case.ingredients if i.has(Role.PRESERVATIVE)]
    return bool(added) and all(i.line.amount is None or _range_of_percents(i.line.amount) for i in added)


def _range_of_percents(amount: Amount) -> bool:
    """ "At 0.5 to 1 %": what a data sheet says, and no slip of a spoon."""
    return amount.unit is Unit.PERCENT and amount.written is not None and amount.written[0] < amount.written[1]
