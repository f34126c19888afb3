"""Amends a fan's last recipe by a later "I meant 1 tsp"."""

from __future__ import annotations

from rapidfuzz import fuzz

from bot.queue.likeness import normalised
from rules.recipe import Line, Recipe

ALIKE = 85.0  # of 100: the same word with a slip of the finger (own choice, no source)


def amend(last: Recipe, fragment: Recipe) -> Recipe | None:
    """The last recipe with the amounts, ingredients and places that the correction names; None where it
    names none.

    A line that matches replaces the amount; one that matches nothing is added, since leaving out what was
    named could make a recipe look better than it is.
    """
    lines = list(last.lines)
    for said in fragment.lines:
        place = next((i for i, line in enumerate(lines) if _matches(line, said)), None)
        if place is None:
            lines.append(said.model_copy(update={"alternative_of": None}))
        elif said.amount is not None:
            told = {"amount": said.amount, "as_written": said.as_written}
            if said.strength is not None:
                told["strength"] = said.strength
            lines[place] = lines[place].model_copy(update=told)
    changes: dict[str, object] = {"lines": tuple(lines)}
    for field in ("product", "sites", "contact", "keeping"):
        said_now, said_before = getattr(fragment, field), getattr(last, field)
        # Beside a bare ingredient line these are the reader's guess, which must not move a lip tint to the
        # body.
        if said_now and not (fragment.lines and said_before):
            changes[field] = said_now
    amended = last.model_copy(update=changes)
    return None if amended == last and not fragment.lines else amended


def _matches(line: Line, said: Line) -> bool:
    if line.substance is not None and said.substance is not None:
        return line.substance == said.substance
    return fuzz.ratio(normalised(line.name), normalised(said.name)) >= ALIKE
