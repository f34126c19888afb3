"""Which amount belongs to which name: the cheapest way to pair neighbours along the text."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

from nlp.layout import Layout
from nlp.lexicon import Lexicon
from nlp.measure import Measure
from nlp.mention import Mention
from nlp.runs import paired_runs
from nlp.tokens import Words
from rules.recipe import Unit

_ALONE = 4.0  # price of an amount that finds no name
_BARE_NAME = 0.3  # price of a name without an amount
_LEFT = 0.5  # price of an amount behind its name, where nothing else speaks for it
_NEVER = 99.0
_AMOUNT_LINE = 1.2  # price of a line break beside a line that holds nothing but an amount
_WORD = 0.8
_STRENGTH = 0.6  # price of taking a percentage for the strength of a thing, where another amount says how much
_ONE_WORD = 0.9  # what may stand between a count and its name: one plain word
_WIDTH = 4  # open states kept

_RIGHT_PRICES = {
    "of": 0.0, "*": 0.0, '"': 0.0, "'": 0.0, "_": 0.0, "x": 0.2, "-": 1.0, ":": 1.5, "(": 0.6, ")": 0.3, "/": 0.8,
    ",": 2.5,
    "\n": 5.0,
    "\n\n": 7.0, ".": 4.0, ";": 4.0, "!": 4.0, "?": 4.0, "•": 5.0, "and": 2.0, "&": 2.0, "+": 2.0, "with": 1.5,
    "plus": 2.0, "or": 2.0, "|": 0.3, "in": 2.5, "to": 2.0, "into": 3.0,
}  # fmt: skip
_LEFT_PRICES = {
    "-": 0.0, ":": 0.0, "=": 0.0, "(": 0.0, "[": 0.0, "|": 0.2, "~": 0.0, "about": 0.0, "at": 0.1, "@": 0.0,
    "approx": 0.0, "*": 0.1, "approximately": 0.0, "around": 0.0, ".": 3.0, ",": 1.0, "\n": 5.0, "\n\n": 7.0,
    ";": 4.0, "!": 4.0, "?": 4.0, "•": 5.0, "and": 3.0, "&": 3.0, "+": 3.0, "with": 3.0, "plus": 3.0,
    "of": 3.0, "or": 3.0, "then": 3.0, "add": 3.0, "optional": 0.1, "for": 3.0, ")": 0.1, "in": 2.0, "to": 2.0,
    "from": 0.3, "anywhere": 0.1, "somewhere": 0.1, "between": 0.1, "up": 0.1, "x": 0.0,
}  # fmt: skip

_CHOICE = frozenset({"choice", "choosing", "liking", "preference"})

Item = Measure | Mention


def attach(
    words: Words, layout: Layout, lexicon: Lexicon, mentions: Sequence[Mention], measures: Sequence[Measure]
) -> dict[int, Measure]:
    """The amount for each mention, by the mention's first token. A bracket with names is paired within itself."""
    if not mentions or not measures:
        return {}
    with_names = {layout.bracket[mention.start] for mention in mentions}
    measured = {layout.bracket[measure.start] for measure in measures}
    aside = with_names | {number for number in range(1, len(layout.brackets) + 1) if number not in measured}
    prices = _Prices(words, layout, lexicon, aside, measures)
    in_order = _in_order(mentions, measures)
    pairs = paired_runs(words, lexicon, in_order)
    settled = {id(measure) for measure in pairs.values()}
    lots: dict[int, list[Item]] = {}
    for item in in_order:
        if id(item) in settled or (item.start in pairs and isinstance(item, Mention)):
            continue
        number = layout.bracket[item.start]
        lots.setdefault(number if number in with_names else 0, []).append(item)
    for lot in lots.values():
        if not any(isinstance(item, Mention) for item in lot):
            continue
        for mention, measure in _cheapest(lot, prices):
            pairs[mention.start] = measure
    return pairs


def _left_open(words: Words) -> set[int]:
    """Tokens of "of your choice", "of choice", which part no amount from its name."""
    free: set[int] = set()
    if _CHOICE.isdisjoint(words.norm):
        return free
    for at, word in enumerate(words.norm):
        if word in _CHOICE:
            first = at - 1 if words.at(at - 1) == "of" else at - 2 if words.at(at - 2) == "of" else at
            free.update(range(first, at + 1) if first < at else ())
    return free


def _in_order(mentions: Sequence[Mention], measures: Sequence[Measure]) -> list[Item]:
    items: list[Item] = [*mentions, *measures]
    return sorted(items, key=lambda item: item.start)


class _Prices:
    """Price of the words between an amount and a name, as sums along the text."""

    def __init__(
        self, words: Words, layout: Layout, lexicon: Lexicon, closed: set[int], measures: Sequence[Measure]
    ) -> None:
        grade = lexicon.words["grade"] | lexicon.words["colour"]
        free = _left_open(words)
        figures = {at for measure in measures for at in range(measure.start, measure.end)}
        right, left = [], []
        for at, word in enumerate(words.norm):
            if at in figures or at in free:
                right.append(0.05)
                left.append(0.05)
                continue
            if layout.bracket[at] in closed and layout.bracket[at]:
                right.append(0.2 / 3)
                left.append(0.2 / 3)
                continue
            mild = word in grade
            if word == "," and words.at(at - 1) in grade:
                mild, word = True, ""
            right.append(_RIGHT_PRICES.get(word, 0.0 if mild else _WORD))
            left.append(_LEFT_PRICES.get(word, 0.2 if mild else _WORD))
        self.words = words
        self._right = list(accumulate(right, initial=0.0))
        self._left = list(accumulate(left, initial=0.0))

    def right(self, measure: Measure, mention: Mention) -> float:
        price = self._right[mention.start] - self._right[measure.end]
        if measure.unit is None and price > _ONE_WORD:
            return _NEVER
        if measure.shared and self.words.at(measure.end) == "each" and self._closes(measure.end + 1):
            return _NEVER  # "honey and oats 1 tbsp each, milk"
        dotted = 0.4 if self.words.at(measure.end - 1) == "." else 0.0
        return price + dotted - self._relief(measure, 5.0, measure.end)

    def left(self, mention: Mention, measure: Measure) -> float:
        price = _LEFT + self._left[measure.start] - self._left[mention.end]
        if measure.unit is None and not (price <= 1.0 and self._closes(measure.end)):
            return _NEVER
        return price - self._relief(measure, 5.0, measure.start - 1)

    def strength(self, before: Item | None, measure: Measure) -> float:
        """Price of a percentage that tells how strong a thing is: beside another amount, or right at a name."""
        last = measure.end + 1 >= len(self._right)
        ahead = _ALONE if last else self._right[measure.end + 1] - self._right[measure.end]
        if before is None or (isinstance(before, Measure) and before.unit is Unit.PERCENT):
            return _STRENGTH + ahead
        behind = self._left[measure.start] - self._left[before.end]
        return _STRENGTH + (behind if behind < 1 else _STRENGTH + ahead)

    def _closes(self, at: int) -> bool:
        return self.words.is_break(at) or self.words.at(at) in (",", ";", ")", ".", "•", "/", "|")

    def _relief(self, measure: Measure, break_price: float, beside: int) -> float:
        """A line with nothing but an amount reaches over the break on either side."""
        words = self.words
        alone = words.is_break(measure.start - 1) and words.is_break(measure.end)
        return break_price - _AMOUNT_LINE if alone and words.at(beside) == "\n" else 0.0


@dataclass(frozen=True, slots=True)
class _Trail:
    """A pair, and the pairs made before it."""

    before: _Trail | None
    pair: tuple[Mention, Measure]


@dataclass(frozen=True, slots=True)
class _State:
    """A way to have read the items so far: what is still open, what it cost, which pairs it made (last first)."""

    open: Item | None
    price: float
    trail: _Trail | None

    def closed(self) -> float:
        """The price once nothing more can be paired with what is open."""
        left_over = 0.0 if self.open is None else _BARE_NAME if isinstance(self.open, Mention) else _ALONE
        return self.price + left_over


def _cheapest(items: Sequence[Item], prices: _Prices) -> list[tuple[Mention, Measure]]:
    """Dynamic programme along the text; at most a name or one of two amounts is open at a time."""
    states = [_State(None, 0.0, None)]
    for before, item in zip([None, *items], items, strict=False):
        best: dict[int, _State] = {}
        for state in states:
            for new in _moves(state, before, item, prices):
                key = id(new.open)
                if key not in best or new.price < best[key].price:
                    best[key] = new
        states = sorted(best.values(), key=_State.closed)[:_WIDTH]
    return _pairs(min(states, key=_State.closed).trail)


def _moves(state: _State, before: Item | None, item: Item, prices: _Prices) -> list[_State]:
    if isinstance(item, Mention):
        moves = [_State(item, state.closed(), state.trail)]
        if isinstance(state.open, Measure):
            price = state.price + prices.right(state.open, item)
            moves.append(_State(None, price, _Trail(state.trail, (item, state.open))))
        return moves
    moves = [_State(item, state.closed(), state.trail)]
    if isinstance(state.open, Mention):
        price = state.price + prices.left(state.open, item)
        moves.append(_State(None, price, _Trail(state.trail, (state.open, item))))
    if item.unit is Unit.PERCENT:
        strength = prices.strength(before, item)
        if strength < _ALONE:
            moves.append(_State(state.open, state.price + strength, state.trail))
    return moves


def _pairs(trail: _Trail | None) -> list[tuple[Mention, Measure]]:
    pairs: list[tuple[Mention, Measure]] = []
    while trail is not None:
        pairs.append(trail.pair)
        trail = trail.before
    return pairs
