"""One amount in two notations: "1/2 oz (15 ml)", "1 tbsp + 1 tsp", "a few drops (2-5)"."""

from __future__ import annotations

from dataclasses import replace

from nlp.measure import Measure
from nlp.tokens import Words
from rules.recipe import Unit

_DUAL = frozenset(
    {"(", "/", "or", "=", "-", "about", "~", "|", "approx", "approximately", "≈", ",", "roughly", "[", "*"}
)
_TEASPOONS = {Unit.TSP: 1.0, Unit.TBSP: 3.0, Unit.FLOZ: 6.0, Unit.CUP: 48.0}
_MASS = frozenset({Unit.G, Unit.MG, Unit.KG, Unit.OZ, Unit.LB})
_VOLUME = frozenset({Unit.ML, Unit.L, Unit.TSP, Unit.TBSP, Unit.CUP, Unit.FLOZ})


def joined_with(words: Words, first: Measure, second: Measure) -> Measure | None:
    """The one amount that two neighbours tell together; None where each stands for itself."""
    if _dual(words, first, second):
        return replace(first, end=_closed(words, second.end))
    return _sum(words, first, second) or _told_in_bracket(words, first, second)


def _told_in_bracket(words: Words, first: Measure, second: Measure) -> Measure | None:
    """ "a few drops (2-5)": the figure for an amount without one."""
    inside = words.norm[first.end : second.start] == ["("] and words.at(second.end) == ")"
    if first.written or first.unit is None or not inside or second.unit is not None or not second.written:
        return None
    return replace(second, start=first.start, end=second.end + 1, unit=first.unit)


def _sum(words: Words, first: Measure, second: Measure) -> Measure | None:
    """ "1 tbsp + 1 tsp", "a cup plus 2 tbsp": one amount, in the first unit."""
    if words.norm[first.end : second.start] not in (["+"], ["plus"], ["and"], ["&"]) or second.size or first.size:
        return None
    if first.unit not in _TEASPOONS or second.unit not in _TEASPOONS or first.unit is second.unit:
        return None
    share = _TEASPOONS[second.unit] / _TEASPOONS[first.unit]
    if share >= 1:
        return None
    return replace(
        first,
        end=second.end,
        low=first.low + second.low * share,
        best=first.best + second.best * share,
        high=first.high + second.high * share,
    )


def _dual(words: Words, first: Measure, second: Measure) -> bool:
    """ "1/2 oz (15 ml)", "2 tbsp / 30 ml": one amount in two notations; the first counts."""
    between = words.norm[first.end : second.start]
    if first.unit is None or second.unit is None or first.unit is second.unit or len(between) > 3:
        return False
    if first.size or second.size or not all(word in _DUAL for word in between) or not second.written:
        return False
    if "," in between and len(between) == 1:
        return False
    measurable = _MASS | _VOLUME
    if first.unit in measurable and second.unit in measurable:
        return True
    return "(" in between or "=" in between


def _closed(words: Words, end: int) -> int:
    return end + 1 if words.at(end) in (")", "]") else end
