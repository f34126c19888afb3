"""Numbers as people write them: 1/2, 1 /8, 1 1/2, 1-1/2, "one and a half", "half a", 2-3, "2 to 3", 10/11."""

from __future__ import annotations

from typing import NamedTuple

from nlp.lexicon import Lexicon
from nlp.tokens import Words, figure

LARGEST = 1e7  # a larger figure is nonsense in a kitchen
_HALVINGS = frozenset({2, 3, 4, 5, 6, 8, 10, 12, 16, 32})
_RANGE = frozenset({"-", "to", "a", "until", "or", "/", "~"})


class Number(NamedTuple):
    """`end` is the token after the number; `exact` is False for "few" and the like."""

    low: float
    best: float
    high: float
    end: int
    exact: bool = True


class Value(NamedTuple):
    value: float
    end: int


def number_at(words: Words, at: int, lexicon: Lexicon) -> Number | None:
    """The number or range that begins at token `at`."""
    vague = _vague(words, at, lexicon)
    if vague:
        return vague
    first = value_at(words, at, lexicon)
    if first is None or first.value > LARGEST:
        return None
    second = _range_end(words, first, lexicon, between=words.at(at - 1) == "between")
    if second is None:
        return Number(first.value, first.value, first.value, _other_choice(words, first, lexicon))
    low, high = sorted((first.value, second.value))
    return Number(low, (low + high) / 2, high, second.end)


def _vague(words: Words, at: int, lexicon: Lexicon) -> Number | None:
    begin = at
    if words.at(at) == "a" or words.at(at) in lexicon.modifiers:
        while begin - at < 3 and words.at(begin + 1) in lexicon.modifiers:
            begin += 1
        begin += 1
    bounds = lexicon.vague.get(words.at(begin))
    if words.at(begin) == "bit" and words.at(begin + 1) != "of":
        return None
    return Number(*bounds, begin + 1, False) if bounds else None


def _other_choice(words: Words, first: Value, lexicon: Lexicon) -> int:
    """ "1/2 or 1/4 cup": the first counts, and the smaller one behind it is passed over."""
    if words.at(first.end) != "or" or figure(words.at(first.end + 1)) is None:
        return first.end
    second = value_at(words, first.end + 1, lexicon)
    return second.end if second is not None and second.value < first.value else first.end


def _range_end(words: Words, first: Value, lexicon: Lexicon, *, between: bool) -> Value | None:
    """The upper end of "2-3", "2 to 3", "10/11", "5 or 6", "between 5 and 6"; None where no range follows."""
    sign = words.at(first.end)
    if sign not in _RANGE and not (between and sign == "and"):
        return None
    after = first.end + 1
    if sign == "-" and words.at(after) in ("-", ">"):
        after += 1
    if figure(words.at(after)) is None and (sign == "a" or words.at(after) in ("a", "an")):
        return None
    second = value_at(words, after, lexicon)
    if second is None or second.value <= first.value or second.value > LARGEST:
        return None
    if sign in ("or", "a", "/") and second.value > 3 * first.value + 2:
        return None
    return second


def value_at(words: Words, at: int, lexicon: Lexicon) -> Value | None:
    """One number: figures, a fraction, a mixed number or number words."""
    whole = figure(words.at(at))
    if whole is None:
        return _spoken(words, at, lexicon)
    fraction = _fraction(words, at)
    if fraction:
        return fraction
    end = at + 1
    if whole == int(whole):
        mixed = _fraction(words, end)
        if mixed and mixed.value < 1 and whole >= 1:
            return Value(whole + mixed.value, mixed.end)
        if words.at(end) == "-" and words.glued(end) and words.glued(end + 1) and whole >= 1:
            mixed = _fraction(words, end + 1)
            if mixed and mixed.value < 1:
                return Value(whole + mixed.value, mixed.end)
    return and_part(words, Value(whole, end), lexicon)


def _fraction(words: Words, at: int) -> Value | None:
    """1/2, 1 /8, 1/ 4; "10/11" is no fraction but a choice, "1/0" is none."""
    top, bottom = figure(words.at(at)), None
    if top is not None and words.at(at + 1) == "/":
        bottom = figure(words.at(at + 2))
    if top is None or not bottom or bottom not in _HALVINGS or (top > bottom and bottom > 4):
        return None
    return Value(top / bottom, at + 3)


def and_part(words: Words, whole: Value, lexicon: Lexicon) -> Value:
    """Adds "and a half", "& 1/2", "and a quarter"."""
    if words.at(whole.end) not in ("and", "&", "+"):
        return whole
    at = whole.end + 1
    fraction = _fraction(words, at)
    if fraction and fraction.value < 1:
        return Value(whole.value + fraction.value, fraction.end)
    if words.at(at) in ("a", "an", "one"):
        at += 1
    elif words.at(at) not in ("half", "quarter"):
        return whole
    part = lexicon.part.get(words.at(at))
    return Value(whole.value + part, at + 1) if part else whole


def _spoken(words: Words, at: int, lexicon: Lexicon) -> Value | None:
    """ "two", "twenty five", "half a", "one eighth of a", "three quarters", "a couple of", "a half"."""
    word = words.at(at)
    part = lexicon.part.get(word)
    if part and word in ("half", "quarter"):
        return Value(part, at + 1)
    whole = lexicon.whole.get(word)
    if whole is None:
        return None
    end = at + 1
    if words.at(end) in lexicon.whole and (word in ("a", "an") or words.at(end) == "dozen"):
        if words.at(end) not in ("couple", "pair", "dozen", "single", "hundred"):
            return None
        whole *= lexicon.whole[words.at(end)]
        end += 1
    elif whole >= 20 and 0 < lexicon.whole.get(words.at(end), 0) < 10 and words.at(end) not in ("a", "an"):
        return Value(whole + lexicon.whole[words.at(end)], end + 1)
    part = lexicon.part.get(words.at(end))
    if part and words.at(end) != "second":
        return Value(whole * part, end + 1)
    return and_part(words, Value(whole, end), lexicon)
