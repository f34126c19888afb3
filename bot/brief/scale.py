"""One kind of picture for every number that is held against ranges: water activity, pH, time."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from bot.brief.paint import BAND, GREY, WIDTH, Sheet, box, rule, write
from bot.words.clean import cut
from rules.interval import Interval

LEFT, RIGHT, ROW, HEAD, FOOT = 106.0, WIDTH - 14.0, 17.0, 40.0, 20.0
NAME = 20


@dataclass(frozen=True, slots=True)
class Range:
    """One row: a name and where it reaches; `reached` rows are hatched and marked."""

    name: str
    low: float
    high: float
    reached: bool


@dataclass(frozen=True, slots=True)
class Scale:
    """A value on an axis above rows of ranges. `place` turns a number into 0..1 along the axis."""

    heading: str
    label: str
    value: Interval
    ranges: tuple[Range, ...]
    ticks: tuple[tuple[float, str], ...]
    place: Callable[[float], float]

    @property
    def height(self) -> float:
        return HEAD + FOOT + ROW * max(1, len(self.ranges))

    def paint(self, sheet: Sheet) -> None:
        bottom, top = FOOT, FOOT + ROW * max(1, len(self.ranges))
        write(sheet, 4, self.height - 9, self.heading, bold=True)
        low, best, high = (self._x(bound) for bound in (self.value.low, self.value.best, self.value.high))
        if high - low > 1:
            box(sheet, low, bottom, high - low, top - bottom, fill=BAND)
        for number, row in enumerate(self.ranges):
            self._row(sheet, row, top - ROW * (number + 1))
        rule(sheet, (best, bottom), (best, top + 6), heavy=True)
        self._label(sheet, best, top + 13)
        for tick, words in self.ticks:
            rule(sheet, (self._x(tick), bottom - 4), (self._x(tick), bottom))
            write(sheet, self._x(tick), bottom - 11, words, size=9, across="center")
        rule(sheet, (LEFT, bottom), (RIGHT, bottom))

    def _row(self, sheet: Sheet, row: Range, bottom: float) -> None:
        write(sheet, 4, bottom + ROW / 2, cut(row.name, NAME), size=9)
        start, end = self._x(row.low), self._x(row.high)
        fill, hatch = (GREY, "////") if row.reached else ("#ffffff", "")
        box(sheet, start, bottom + 3, max(2.0, end - start), ROW - 6, fill=fill, hatch=hatch)

    def _label(self, sheet: Sheet, x: float, y: float) -> None:
        """Inside the page, whatever the value."""
        room = 3.1 * len(self.label)
        write(sheet, min(max(x, 4 + room), WIDTH - 4 - room), y, self.label, across="center")

    def _x(self, number: float) -> float:
        return LEFT + (RIGHT - LEFT) * min(1.0, max(0.0, self.place(number)))


def straight(low: float, high: float) -> Callable[[float], float]:
    return lambda number: (number - low) / (high - low)


def halvings(low: float, high: float) -> Callable[[float], float]:
    """Equal steps for equal factors; numbers above zero."""
    width = math.log(high / low)
    return lambda number: math.log(max(number, low) / low) / width
