"""In which of our languages a text is, where nothing has read it yet."""

from __future__ import annotations

import re

from bot.words.phrases import HOME, languages
from nlp.language import detect
from nlp.tokens import fold

WORD = re.compile(r"[^\W\d_]+")
FEW = 5  # words; of fewer a language is a guess


def of_text(text: str) -> str | None:
    """None where too few words say it, or where it is none of ours."""
    words = [fold(word) for word in WORD.findall(text.lower())]
    found = detect(words)
    return found if found in languages() and (found != HOME or len(words) >= FEW) else None
