"""A quick look at a text, before it is read: might somebody be hurt? Decides the order, never the answer."""

from __future__ import annotations

import re

from nlp.hurt import mended
from nlp.language import detect
from nlp.lexicon import ENGLISH, LANGUAGES
from nlp.tokens import fold
from nlp.told import told

LOOKED_AT = 4000
WORD = re.compile(r"[\w']+")
_ALONE = frozenset({"sign.stifle", "sign.dire"})
_WITH_SOMEBODY = frozenset({"event.ingest", "into.eye"})
_SOMEBODY = ("who.kin", "who.infant", "who.pet", "who.self")


def looks_urgent(text: str) -> bool:
    """Grave words, or harm together with a call for help. Errs towards yes; takes well under a millisecond."""
    norm = [fold(word) for word in WORD.findall(text[:LOOKED_AT].lower().replace("’", "'"))]
    return any(_sounds_urgent(norm, language) for language in {ENGLISH, detect(norm)}.intersection(LANGUAGES))


def _sounds_urgent(norm: list[str], language: str) -> bool:
    words = mended(norm, language)
    labels = {one.label for one in told(words, [0] * len(words), language)}
    pleads = "when.plea" in labels
    return bool(
        labels & _ALONE
        or (labels & _WITH_SOMEBODY and labels.intersection(_SOMEBODY))
        or (pleads and any(label.startswith("sign.") for label in labels))
    )
