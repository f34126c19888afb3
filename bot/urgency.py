"""A quick look at a text, before it is read: might somebody be hurt? Decides the order, never the answer."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Sequence
from functools import lru_cache

from nlp.lexicon import LANGUAGES, load_lexicon
from nlp.tokens import fold

LOOKED_AT = 4000
WORD = re.compile(r"[\w']+")
Phrases = dict[str, list[tuple[str, ...]]]


def looks_urgent(text: str) -> bool:
    """A grave phrase, or harm together with a call for help. Errs towards yes; takes well under a
    millisecond."""
    words = _words(text[:LOOKED_AT])
    grave, harm, alarm = _tables()
    return _holds(words, grave) or (_holds(words, alarm) and _holds(words, harm))


def _words(text: str) -> list[str]:
    return [fold(word) for word in WORD.findall(text.lower().replace("’", "'"))]


def _holds(words: Sequence[str], phrases: Phrases) -> bool:
    """Whether one of the phrases, known by their first words, stands in the text."""
    return any(
        tuple(words[place : place + len(phrase)]) == phrase
        for place, word in enumerate(words)
        if word in phrases
        for phrase in phrases[word]
    )


@lru_cache(maxsize=1)
def _tables() -> tuple[Phrases, Phrases, Phrases]:
    return _table("grave."), _table("harm."), _table("hurt.alarm")


def _table(prefix: str) -> Phrases:
    found: Phrases = defaultdict(list)
    for language in LANGUAGES:
        for label, listed in load_lexicon(language).cues.items():
            for words in (tuple(_words(phrase)) for phrase in listed if label.startswith(prefix)):
                found[words[0]].append(words)
    return dict(found)
