"""An amount as it stands in the text: figures, unit, and the tokens that hold them."""

from __future__ import annotations

from dataclasses import dataclass, replace

from rules.interval import Interval
from rules.recipe import Amount, Unit

OUNCES_A_POUND = 16.0
# Factors for a home measure that the text counts exactly once ("a handful"): low, best, high of one.
_LOOSE = frozenset({Unit.HANDFUL, Unit.SPLASH, Unit.SQUIRT, Unit.SPOONFUL})


@dataclass(frozen=True, slots=True)
class Measure:
    """Tokens start..end. `low`, `best`, `high` are figures in `unit`.

    written: whether the text names figures at all ("a few" does not). shared: "each", "equal parts": it holds for every
    name beside it. ratio: the figures of "2:1:1". size: it tells how big something is, not how much of an ingredient.
    """

    start: int
    end: int
    low: float
    best: float
    high: float
    unit: Unit | None
    written: bool = True
    shared: bool = False
    ratio: tuple[float, ...] = ()
    size: bool = False

    def amount(self) -> Amount | None:
        """The same for the recipe; None where the words name neither figure nor unit ("some")."""
        if self.unit is None and not self.written:
            return None
        factor, unit = (OUNCES_A_POUND, Unit.OZ) if self.unit is Unit.LB else (1.0, self.unit)
        quantity = Interval(self.low * factor, self.best * factor, self.high * factor)
        written = (quantity.low, quantity.high) if self.written else None
        return Amount(
            quantity=quantity,
            unit=unit or Unit.PIECE,
            written=written,
            estimated=not self.written or self.unit in _LOOSE,
        )

    def share(self, index: int) -> Measure:
        """The part of a ratio that falls to the name with this index."""
        if not self.ratio:
            return self
        value = self.ratio[min(index, len(self.ratio) - 1)]
        return replace(self, low=value, best=value, high=value, ratio=())
