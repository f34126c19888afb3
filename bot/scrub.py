"""A case without a word of the person who brought it: only what the tables know, and amounts."""

from __future__ import annotations

from bot.record import title
from bot.store.cases import Case
from rules.recipe import Line, Recipe


def scrub(case: Case) -> tuple[str, str, str | None, str | None]:
    """Fingerprint, title, sketch and recipe (JSON) to keep in place of those of the case."""
    fingerprint = f"withdrawn:{case.id}"
    if case.recipe is None or case.sketch is None:
        return fingerprint, "withdrawn", None, None
    recipe = case.recipe.model_copy(update={"lines": tuple(_plain(line) for line in case.recipe.lines)})
    # An unknown ingredient stays one that is like no other: a ruling on it must not reach recipes without it.
    shares = {
        f"?withdrawn {case.id} {place}" if token.startswith("?") else token: share
        for place, (token, share) in enumerate(case.sketch.shares.items())
    }
    sketch = case.sketch.model_copy(update={"shares": shares})
    return fingerprint, _title(recipe), sketch.model_dump_json(), recipe.model_dump_json()


def _plain(line: Line) -> Line:
    name = line.substance.replace("_", " ") if line.substance else "unknown"
    return line.model_copy(update={"as_written": name, "name": name, "span": (0, 0)})


def _title(recipe: Recipe) -> str:
    return title(recipe) or "withdrawn"
