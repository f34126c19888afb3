"""Which language a message is in, by its commonest small words."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from functools import lru_cache
from importlib.resources import files

import tomli

OTHER = "other"
DEFAULT = "en"
LOOK_AT = 400  # words
_FEW = 3  # words; a message of fewer known words keeps the default
_SURE = 2  # words of a short message, so that "vaseline" alone makes no French


@lru_cache(maxsize=1)
def small_words() -> dict[str, tuple[str, ...]]:
    """Languages by small word; a word that several languages share counts for each."""
    table = tomli.loads(files("nlp").joinpath("data", "languages.toml").read_text("utf-8"))
    languages: dict[str, tuple[str, ...]] = {}
    for language, text in table.items():
        for word in text.split():
            languages[word] = (*languages.get(word, ()), language)
    return languages


def detect(norm: Sequence[str]) -> str:
    """en, es, pt, fr, or "other" where most letters are not Latin or another language's words prevail."""
    table = small_words()
    score: defaultdict[str, float] = defaultdict(float)
    words = foreign = 0
    for word in norm[:LOOK_AT]:
        if not word[:1].isalpha() or (len(word) == 1 and word not in table):
            continue
        words += 1
        if not word.isascii():
            foreign += 1
            continue
        owners = table.get(word, ())
        for language in owners:
            score[language] += 1 / len(owners)
    if words and foreign * 2 > words:
        return OTHER
    if not score:
        return DEFAULT
    best, points = max(score.items(), key=lambda item: (item[1], item[0] == DEFAULT))
    if points < max(min(_FEW, words / 4), min(_SURE, words / 3)) or score[DEFAULT] * 1.3 >= points:
        return DEFAULT
    return best if best in ("en", "es", "pt", "fr") else OTHER
