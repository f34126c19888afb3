"""Numbers as people read them."""

from __future__ import annotations

from typing import Any

from rules.interval import Interval


class Figure(float):
    """A number that prints itself short: three significant figures, no exponent, no idle zeros."""

    mark: str

    def __new__(cls, value: float, mark: str = ".") -> Figure:
        made = super().__new__(cls, value)
        made.mark = mark
        return made

    def __format__(self, spec: str) -> str:
        return str(self) if not spec else float.__format__(self, spec)

    def __str__(self) -> str:
        return short(self, self.mark)


def short(value: float, mark: str = ".") -> str:
    """0.98, 12.5, 1200; never "1e+03", never "-0". `mark` is the decimal mark of the language."""
    if value != value or value in (float("inf"), float("-inf")):
        return "?"
    size = abs(value)
    places = 0 if size >= 100 else 1 if size >= 10 else 2 if size >= 1 else 3 if size >= 0.1 else 4
    text = f"{value:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text.replace(".", mark)


def nearest_edge(limit: Interval, value: Interval | None) -> float:
    """The bound of a limit that the value is held against: the low one for what lies below, else the high
    one."""
    if limit.is_exact or value is None:
        return limit.best
    if value.best < limit.low:
        return limit.low
    return limit.high if value.best > limit.high else limit.best


def number_or_name(value: Any, mark: str = ".") -> Any:
    """Numbers print themselves short; all else stays."""
    return Figure(value, mark) if isinstance(value, (int, float)) and not isinstance(value, bool) else value
