"""Which amount belongs to which name: the cheapest way to pair neighbours along the text."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

from nlp.layout import Layout
from nlp.lexicon import Lexicon
from nlp.measure import Measure
from nlp.mention import Mention
from nlp.tokens import Words

_ALONE = 4.0  # price of an amount that finds no name
_BARE_NAME = 0.3  # price of a name without an amount
_LEFT = 0.5  # price of an amount behind its name, where nothing else speaks for it
_NEVER = 99.0
_AMOUNT_LINE = 1.2  # price of a line break beside a line that holds nothing but an amount
_WORD = 0.8

_RIGHT_PRICES = {
    "of": 0.0, "*": 0.0, '"': 0.0, "'": 0.0, "_": 0.0, "x": 0.2, "-": 1.0, ":": 1.5, "(": 0.6, ")": 0.3, "/": 0.8, ",": 2.5, "\n": 5.0,
    "\n\n": 7.0, ".": 4.0, ";": 4.0, "!": 4.0, "?": 4.0, "•": 5.0, "and": 2.0, "&": 2.0, "+": 2.0, "with": 1.5,
    "plus": 2.0, "or": 2.0, "|": 0.3, "in": 2.5, "to": 2.0, "into": 3.0,
}  # fmt: skip
_LEFT_PRICES = {
    "-": 0.0, ":": 0.0, "=": 0.0, "(": 0.0, "[": 0.0, "|": 0.2, "~": 0.0, "about": 0.0, "at": 0.1, "@": 0.0, "approx": 0.0, "*": 0.1,
    "approximately": 0.0, "around": 0.0, ".": 3.0, ",": 1.0, "\n": 5.0, "\n\n": 7.0, ";": 4.0, "!": 4.0, "?": 4.0,
    "•": 5.0, "and": 3.0, "&": 3.0, "+": 3.0, "with": 3.0, "plus": 3.0, "of": 3.0, "or": 3.0, "then": 3.0, "add": 3.0,
    "optional": 0.1, "for": 3.0, ")": 0.1, "in": 2.0, "to": 2.0, "from": 0.3, "anywhere": 0.1, "up": 0.1, "x": 0.0,
}  # fmt: skip

Item = Measure | Mention


def attach(
    words: Words, layout: Layout, lexicon: Lexicon, mentions: Sequence[Mention], measures: Sequence[Measure]
) -> dict[int, Measure]:
    """The amount for each mention, by the mention's first token. A bracket with names is paired within itself."""
    with_names = {layout.bracket[mention.start] for mention in mentions}
    prices = _Prices(words, layout, lexicon, with_names)
    lots: dict[int, list[Item]] = {}
    for item in sorted([*mentions, *measures], key=lambda item: item.start):
        number = layout.bracket[item.start]
        lots.setdefault(number if number in with_names else 0, []).append(item)
    pairs: dict[int, Measure] = {}
    for lot in lots.values():
        for mention, measure in _cheapest(lot, prices):
            pairs[mention.start] = measure
    return pairs


class _Prices:
    """Price of the words between an amount and a name, as sums along the text."""

    def __init__(self, words: Words, layout: Layout, lexicon: Lexicon, closed: set[int]) -> None:
        grade = lexicon.words["grade"]
        right, left = [], []
        for at, word in enumerate(words.norm):
            if layout.bracket[at] in closed and layout.bracket[at]:
                right.append(0.2 / 3)
                left.append(0.2 / 3)
                continue
            mild = word in grade
            right.append(_RIGHT_PRICES.get(word, 0.0 if mild else _WORD))
            left.append(_LEFT_PRICES.get(word, 0.2 if mild else _WORD))
        self.words = words
        self._right = list(accumulate(right, initial=0.0))
        self._left = list(accumulate(left, initial=0.0))

    def right(self, measure: Measure, mention: Mention) -> float:
        price = self._right[mention.start] - self._right[measure.end]
        if measure.unit is None and price > 0.7:
            return _NEVER
        return price - self._relief(measure, 5.0, measure.end)

    def left(self, mention: Mention, measure: Measure) -> float:
        price = _LEFT + self._left[measure.start] - self._left[mention.end]
        if measure.unit is None and not (price <= 1.0 and self._closes(measure.end)):
            return _NEVER
        return price - self._relief(measure, 5.0, measure.start - 1)

    def _closes(self, at: int) -> bool:
        return self.words.is_break(at) or self.words.at(at) in (",", ";", ")", ".", "•")

    def _relief(self, measure: Measure, break_price: float, beside: int) -> float:
        """A line with nothing but an amount reaches over the break on either side."""
        words = self.words
        alone = words.is_break(measure.start - 1) and words.is_break(measure.end)
        return break_price - _AMOUNT_LINE if alone and words.at(beside) == "\n" else 0.0


def _cheapest(items: Sequence[Item], prices: _Prices) -> list[tuple[Mention, Measure]]:
    """Dynamic programme over three states: the last name is free, nothing is open, an amount waits for its name."""
    best: dict[str, tuple[float, tuple[object, ...] | None]] = {"none": (0.0, None)}
    before: Item | None = None
    for item in items:
        following: dict[str, tuple[float, tuple[object, ...] | None]] = {}
        for state, (price, trail) in best.items():
            for new, more, pair in _moves(state, before, item, prices):
                if new not in following or price + more < following[new][0]:
                    following[new] = (price + more, (trail, pair) if pair else trail)
        best, before = following, item
    closing = {"free": _BARE_NAME, "waits": _ALONE, "none": 0.0}
    _, trail = min(((price + closing[state], trail) for state, (price, trail) in best.items()), key=lambda end: end[0])
    return _pairs(trail)


def _moves(
    state: str, before: Item | None, item: Item, prices: _Prices
) -> list[tuple[str, float, tuple[Mention, Measure] | None]]:
    left_over = {"free": _BARE_NAME, "waits": _ALONE, "none": 0.0}[state]
    if isinstance(item, Mention):
        moves: list[tuple[str, float, tuple[Mention, Measure] | None]] = [("free", left_over, None)]
        if state == "waits" and isinstance(before, Measure):
            moves.append(("none", prices.right(before, item), (item, before)))
        return moves
    moves = [("waits", left_over, None)]
    if state == "free" and isinstance(before, Mention):
        moves.append(("none", prices.left(before, item), (before, item)))
    return moves


def _pairs(trail: object) -> list[tuple[Mention, Measure]]:
    pairs: list[tuple[Mention, Measure]] = []
    while trail is not None:
        trail, pair = trail  # type: ignore[misc]
        pairs.append(pair)  # type: ignore[arg-type]
    return pairs
