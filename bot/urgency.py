"""A quick look at a text, before it is read: might somebody be hurt? Decides the order of the line, never the answer."""

from __future__ import annotations

import re
from functools import lru_cache

from nlp.lexicon import LANGUAGES, load_lexicon

LOOKED_AT = 4000


def looks_urgent(text: str) -> bool:
    """A grave phrase, or harm together with a call for help. Errs towards yes; takes well under a millisecond."""
    head = text[:LOOKED_AT].lower().replace("’", "'")
    grave, harm, alarm = _patterns()
    return bool(grave.search(head) or (harm.search(head) and alarm.search(head)))


@lru_cache(maxsize=1)
def _patterns() -> tuple[re.Pattern[str], re.Pattern[str], re.Pattern[str]]:
    return _pattern("grave."), _pattern("harm."), _pattern("hurt.alarm")


def _pattern(prefix: str) -> re.Pattern[str]:
    phrases = {
        phrase
        for language in LANGUAGES
        for label, listed in load_lexicon(language).cues.items()
        if label.startswith(prefix)
        for phrase in listed
    }
    return re.compile(r"\b(?:" + "|".join(re.escape(phrase) for phrase in sorted(phrases)) + r")\b")
