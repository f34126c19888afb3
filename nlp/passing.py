"""Words that name a kind of product but say nothing of what is made: "whip like cream", "wear a mask"."""

from __future__ import annotations

from collections.abc import Mapping

from nlp.tokens import Words

# Names that are verbs too: "cream the shea", "scrub your hands", "to mask the smell".
_VERBS = frozenset({"cream", "scrub", "mask", "polish", "soap", "rinse", "peel", "soak", "butter", "steam", "essence"})
_OBJECTS = frozenset({"the", "your", "my", "it", "them", "gently", "well", "any"})
_ANOTHER = frozenset(
    {"thick", "heavy", "regular", "usual", "normal", "ice", "whipped", "favourite", "favorite", "same"}
)
_GUARDS = frozenset({"wear", "wearing", "dust", "respirator"})
_ARTICLES = frozenset({"a", "an", "the", "your", "my", "some", "plain", "clear", "old"})
_LINE = 60  # tokens of a line that are looked at
_BULLETS = frozenset({"-", "•", "*"})
_STOPS = frozenset({".", "!", "?", ";"})
_NEAR = 7  # words back in which "if" makes a warning of it


def is_in_passing(words: Words, start: int, end: int, classes: Mapping[str, frozenset[str]]) -> bool:
    """Whether the name of a product at start..end is a verb, another product that is used too, or a comparison."""
    before, after = words.at(start - 1), words.at(end)
    if end - start == 1 and _is_verb_or_likeness(words, start, before, after):
        return True
    if after in ("after", "afterwards") or (before in _ANOTHER and not words.is_break(start - 2)):
        return True
    return _is_vessel_of_all(words, start, end, classes) or _is_warning(words, start) or _is_listed(words, start, end)


def _is_verb_or_likeness(words: Words, at: int, before: str, after: str) -> bool:
    if before == "like" or (before in _ARTICLES and words.at(at - 2) in _GUARDS) or before in _GUARDS:
        return True
    return words.at(at) in _VERBS and (before == "to" or after in _OBJECTS or (after == "on" and before == "."))


def _is_vessel_of_all(words: Words, start: int, end: int, classes: Mapping[str, frozenset[str]]) -> bool:
    """ "Set it in clear lip balm": it goes into a finished product. "Into lip balm tubes" is what is made."""
    at = start - 1
    while start - at < 3 and words.at(at) in _ARTICLES:
        at -= 1
    if words.at(at) not in ("in", "into") or words.at(at - 1) not in ("it", "that", "them", "stirred", "mixed", "set"):
        return False
    return words.at(end) not in classes["container"]


def _is_warning(words: Words, start: int) -> bool:
    """ "If it gets in the eyes rinse": no eye rinse is made."""
    at = start - 1
    while start - at < _NEAR and not words.is_break(at) and words.at(at) not in _STOPS:
        if words.at(at) == "if":
            return True
        at -= 1
    return False


def _is_listed(words: Words, start: int, end: int) -> bool:
    """ "- Vitamin E cream (optional)" behind other items of a list: one more of them."""
    if words.at(end) != "(":
        return False
    first = start
    while not words.is_break(first - 1) and start - first < _LINE:
        first -= 1
    if words.at(first) not in _BULLETS or not words.is_break(first - 1) or first < 2:
        return False
    above = first - 1
    while not words.is_break(above - 1) and first - above < _LINE:
        above -= 1
    return words.at(above) == words.at(first) and above < first - 1
