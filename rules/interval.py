"""Numbers that know how sure they are: low <= best <= high, in one unit that the holder names."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Interval:
    """A bounded estimate. `best` is the single figure to print, `low` and `high` what it could be.

    Arithmetic is interval arithmetic on the bounds and ordinary arithmetic on `best`, so the point result always
    lies inside. Operands are taken as independent, which can only widen a result.
    """

    low: float
    best: float
    high: float

    def __post_init__(self) -> None:
        if not self.low <= self.best <= self.high:
            raise ValueError(f"an interval needs low <= best <= high, got {self.low}, {self.best}, {self.high}")

    @classmethod
    def exact(cls, value: float) -> Interval:
        return cls(value, value, value)

    @classmethod
    def around(cls, value: float, share: float) -> Interval:
        """`value` within plus or minus `share` of itself (0.1 = 10 %); value >= 0."""
        return cls(value * (1 - share), value, value * (1 + share))

    @classmethod
    def total(cls, parts: Iterable[Interval]) -> Interval:
        low = best = high = 0.0
        for part in parts:
            low += part.low
            best += part.best
            high += part.high
        return cls(low, best, high)

    def __add__(self, other: Interval) -> Interval:
        return Interval(self.low + other.low, self.best + other.best, self.high + other.high)

    def scaled(self, factor: float) -> Interval:
        """Times a non-negative exact number."""
        return Interval(self.low * factor, self.best * factor, self.high * factor)

    def times(self, other: Interval) -> Interval:
        """Product of two non-negative intervals."""
        return Interval(self.low * other.low, self.best * other.best, self.high * other.high)

    def hull(self, other: Interval) -> Interval:
        """The smallest interval that holds both; keeps this one's best."""
        return Interval(min(self.low, other.low), self.best, max(self.high, other.high))

    def clamped(self, floor: float, ceiling: float) -> Interval:
        if floor <= self.low and self.high <= ceiling:
            return self
        return Interval(*(min(max(bound, floor), ceiling) for bound in (self.low, self.best, self.high)))

    @property
    def is_exact(self) -> bool:
        return self.low == self.high
