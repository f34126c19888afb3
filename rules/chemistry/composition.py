"""From amounts as people write them to mass and w/w %."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from rules.catalogue import Catalogue, Role, Substance
from rules.interval import Interval
from rules.recipe import Recipe


@dataclass(frozen=True, slots=True)
class Portion:
    """One ingredient line that counts. `grams` is None where only parts or percents were given."""

    line: int
    substance: Substance | None
    grams: Interval | None
    percent: Interval
    estimated: bool


@dataclass(frozen=True, slots=True)
class Composition:
    """The recipe by mass.

    portions: counted lines (an alternative does not count; an optional line counts only when asked for).
    parts: w/w % of the whole by substance id after finished products, juices and solutions are taken apart.
    total: grams; None where only parts or percents were given.
    statements: keys of what must be said: "over_100_percent", "no_amounts", "evaporates", ...
    """

    portions: tuple[Portion, ...]
    parts: Mapping[str, Interval]
    total: Interval | None
    statements: tuple[str, ...]

    def percent_of(self, *substances: str) -> Interval:
        """Sum of the named substances, w/w % of the whole."""
        return Interval.total(self.parts[s] for s in substances if s in self.parts).clamped(0, 100)

    def with_role(self, role: Role, catalogue: Catalogue) -> Interval:
        """Sum of all parts with this role, w/w % of the whole."""
        found = (share for part, share in self.parts.items() if role in catalogue[part].roles)
        return Interval.total(found).clamped(0, 100)


def compose(recipe: Recipe, catalogue: Catalogue, *, with_optional: bool = False) -> Composition:
    """Mass balance of the recipe; every amount an interval."""
    raise NotImplementedError
