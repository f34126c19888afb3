"""The recipe as first written, and as it is with each option taken."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Condition
from rules.recipe import Line, Recipe


def _with(recipe: Recipe, changes: dict[int, Line]) -> Recipe:
    lines = tuple(changes.get(index, line) for index, line in enumerate(recipe.lines))
    return recipe.model_copy(update={"lines": lines})


def _added(recipe: Recipe, index: int) -> Recipe:
    return _with(recipe, {index: recipe.lines[index].model_copy(update={"optional": False})})


def _chosen(recipe: Recipe, index: int, first: int) -> Recipe:
    """Line `index` in the place of line `first`, with that one's amount where it has none of its own."""
    chosen, displaced = recipe.lines[index], recipe.lines[first]
    amount = chosen.amount if chosen.amount is not None else displaced.amount
    return _with(
        recipe,
        {
            index: chosen.model_copy(update={"alternative_of": None, "optional": False, "amount": amount}),
            first: displaced.model_copy(update={"alternative_of": index, "optional": False}),
        },
    )


def variants(recipe: Recipe) -> Iterator[tuple[int, Condition, Recipe]]:
    """One recipe for each optional line added and each alternative chosen, with the line's index."""
    for index, line in enumerate(recipe.lines):
        first = line.alternative_of
        if first is not None and 0 <= first < len(recipe.lines) and first != index:
            yield index, Condition.IF_CHOSEN, _chosen(recipe, index, first)
        elif line.optional:
            yield index, Condition.IF_ADDED, _added(recipe, index)
