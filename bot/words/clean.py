"""Makes a stranger's words harmless before they are said again: no mention, markup or link survives.

Only letters, figures, spaces and a few marks are let through, so there is no list of bad things to keep up
to date.
"""

from __future__ import annotations

import re
import unicodedata

LENGTH = 40
MARKS = frozenset("'’-%&+,.")
SPACES = re.compile(r"\s+")
LONE_DOT = re.compile(r"\.(?!\d)|(?<!\d)\.")
SURROGATES = re.compile(r"[\ud800-\udfff]")


def whole_characters(text: str) -> str:
    """Half characters, which no encoder takes, become U+FFFD; every place keeps its number."""
    return SURROGATES.sub("\ufffd", text)


def clean_phrase(raw: str, length: int = 160) -> str:
    """A text of our own tables that may carry a name from a message: brackets, colons and slashes stay."""
    return _clean(raw.replace("//", " "), length, MARKS | frozenset("():;/§"))


def clean_name(raw: str, length: int = LENGTH) -> str:
    """A name from a message, safe to say: at most `length` characters, one line, no markup; may be empty."""
    return _clean(raw, length, MARKS)


def _clean(raw: str, length: int, letters: frozenset[str]) -> str:
    kept = []
    marks = 0
    for character in unicodedata.normalize("NFKC", raw[: 20 * length]):
        category = unicodedata.category(character)
        marks = marks + 1 if category == "Mn" else 0
        if category[0] == "L" or category in ("Nd", "Mc") or character in letters or marks == 1:
            kept.append(character)
        elif category[0] in "ZPS" or character in "\n\r\t":
            kept.append(" ")
    text = LONE_DOT.sub(" ", "".join(kept))
    return cut(SPACES.sub(" ", text).strip(" ,-&+'’"), length)


def clean_words(raw: str) -> str:
    """The creator's own words: kept as written but for control and direction marks, and pings made inert."""
    shown = (c for c in raw if c in "\n " or unicodedata.category(c)[0] not in "CZ" or c == "\u00a0")
    text = SPACES.sub(" ", "".join(shown)).strip()
    return text.replace("@", "@ ").replace("<", "‹").replace(">", "›")


def cut(text: str, limit: int) -> str:
    """At most `limit` characters, cut at a word where there is one, with an ellipsis where cut."""
    if len(text) <= limit:
        return text
    head = text[: limit - 1]
    space = len(head) if text[limit - 1] == " " else head.rfind(" ")
    # A single word longer than the limit has no place to cut but the middle.
    return (head[:space] if space > limit // 2 else head).rstrip(" ,;:-.") + "…"
