"""Amounts that are told by other amounts: "equal parts", "2:1:1", "half that amount of", "drop by drop"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from nlp.measure import Measure
from nlp.tokens import Words, figure
from rules.recipe import Unit

_SHARES = frozenset({"part", "amount", "quantity", "measure", "portion"})
_FACTORS = {
    "half": 0.5, "quarter": 0.25, "third": 1 / 3, "twice": 2.0, "double": 2.0, "triple": 3.0, "same": 1.0, "equal": 1.0,
}  # fmt: skip
_POINTING = frozenset({"that", "the", "this", "of", "as", "a", "an"})
_AMOUNT = frozenset({"amount", "quantity", "much", "many", "volume", "weight"})
_LONGEST_RATIO = 12
_BACK = 10  # amounts looked back over
_DRIP = (2.0, 6.0, 30.0)  # drops, low, best, high: "until it looks right"; common practice, no source


def equal_parts(words: Words, at: int) -> Measure | None:
    if words.at(at) == "part" and words.at(at + 1) == "equal":
        return Measure(at, at + 2, 1.0, 1.0, 1.0, Unit.PART, shared=True)
    if words.at(at) in ("equal", "same") and words.at(at + 1) in _SHARES:
        return Measure(at, at + 2, 1.0, 1.0, 1.0, Unit.PART, shared=True)
    return None


def ratio_at(words: Words, at: int) -> Measure | None:
    """ "2:1:1", "50/30/20", "70/30"; "1:1" too, but not a time of day such as "10:30", nor a fraction."""
    sign = words.at(at + 1)
    if sign not in (":", "/") or words.at(at - 1) == sign:
        return None
    figures, end = _run(words, at, sign)
    if len(figures) < 2:
        return None
    clock = len(figures) == 2 and len(words.at(end - 1)) == 2 and words.at(end - 1) != "10"
    if clock if sign == ":" else not _is_split(figures):
        return None
    return Measure(at, end, figures[0], figures[0], figures[0], Unit.PART, ratio=tuple(figures))


def _is_split(figures: Sequence[float]) -> bool:
    """Shares of ten or a hundred, and no fraction, no date ("12/11/2025"), nor anything ("1/2/3")."""
    if len(figures) == 2:
        return sum(figures) == 100
    return sum(figures) in (10, 100) or all(value % 5 == 0 for value in figures)


def _run(words: Words, at: int, sign: str) -> tuple[list[float], int]:
    figures: list[float] = []
    end = at
    while (value := figure(words.at(end))) is not None and value <= 100:
        figures.append(value)
        if words.at(end + 1) != sign or len(figures) > _LONGEST_RATIO:
            return figures, end + 1
        end += 2
    return figures, end


def again(words: Words, at: int, found: Sequence[Measure]) -> Measure | None:
    """ "half that amount of", "the same amount of", "twice as much": by the amount before it, where one is."""
    factor = _FACTORS.get(words.at(at))
    base = None if factor is None else next((measure for measure in reversed(found[-_BACK:]) if not measure.size), None)
    if factor is None or base is None or base.unit is None or base.shared or base.ratio:
        return None
    end = at + 1
    while words.at(end) in _POINTING and end - at < 4:
        end += 1
    if words.at(end) not in _AMOUNT:
        return None
    end += 1
    if words.at(end) == "again" or words.at(end) == "as":
        end += 1
    low, best, high = base.low * factor, base.best * factor, base.high * factor
    return replace(base, start=at, end=end, low=low, best=best, high=high)


def drop_by_drop(words: Words, at: int) -> Measure | None:
    if words.at(at) == "drop" and words.at(at + 1) in ("by", "wise") and words.at(at + 2) == "drop":
        return Measure(at, at + 3, *_DRIP, Unit.DROP, written=False)
    return None
