"""The words that tell of harm, one table a language: nlp/data/<language>/hurt.toml.

Entries are parted by commas; "a|b" stands for either word, "a~" for the regular endings of a. The groups body, into,
event, sign and chem are looked up without the small words of `lean`; who, when and calm among all words.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from itertools import product

import tomli

from nlp.lexicon import load_lexicon
from nlp.normalise import normalise
from nlp.phrases import Phrases
from nlp.slips import Slips, slips_of
from nlp.tokens import fold

_ELIDED = re.compile(r"\b([dlnmstjc]')(?=[a-z])")
_VOWELS = frozenset("aeiou")
_AMONG_ALL = ("who", "when", "calm")
_MISSPELT = frozenset({"sign", "body", "event", "chem"})  # groups in whose words slips are looked for
# What an entry must not shrink to without the small words.
_EMPTY = frozenset({"in", "on", "up", "to", "off", "at", "me", "him", "out", "into", "over", "down", "and"})


@dataclass(frozen=True, slots=True)
class Hurt:
    """The words of one language; `lean` holds phrases without `small` words, `full` phrases of all words."""

    language: str
    small: frozenset[str]
    spelling: Mapping[str, str]
    lean: Phrases[str]
    full: Phrases[str]
    slips: Slips


@lru_cache(maxsize=8)
def load_hurt(language: str) -> Hurt:
    """Reads the table of a language."""
    table = tomli.loads(files("nlp").joinpath("data", language, "hurt.toml").read_text("utf-8"))
    lexicon = load_lexicon(language)
    spelling = {fold(wrong): right for right, wrongs in table.pop("spelling").items() for wrong in wrongs.split()}
    small = frozenset(lexicon.small.get(word, word) for word in map(fold, table.pop("lean")["small"].split()))
    friends = {fold(word) for word in table.pop("friends")["words"].split()}
    lean: Phrases[str] = Phrases()
    full: Phrases[str] = Phrases()
    misspelt: set[str] = set()
    for group, rows in table.items():
        for name, entries in rows.items():
            for phrase in _phrases(entries):
                words = [spelling.get(word, lexicon.small.get(word, word)) for word in phrase]
                friends.update(words)
                if group in _AMONG_ALL:
                    full.add(words, f"{group}.{name}")
                elif not _EMPTY.issuperset(rest := [word for word in words if word not in small]):
                    lean.add(rest, f"{group}.{name}")
                    misspelt.update(rest if group in _MISSPELT else ())
    # Words that mean something in a recipe are no slips either.
    friends |= frozenset().union(*lexicon.words.values(), lexicon.units, lexicon.whole)
    return Hurt(language, small, spelling, lean, full, slips_of(misspelt, frozenset(friends)))


def mended(norm: Sequence[str], language: str) -> list[str]:
    """The words of a message as the table writes them."""
    return [_mended(word, language) for word in norm]


@lru_cache(maxsize=32768)
def _mended(word: str, language: str) -> str:
    table = load_hurt(language)
    return table.spelling.get(word) or table.slips.mended(word)


def _phrases(entries: str) -> Iterator[list[str]]:
    for entry in normalise(entries).text.replace("-", " ").split(","):
        if choices := [_forms(part) for part in _ELIDED.sub(r"\1 ", entry).split()]:
            yield from (list(chosen) for chosen in product(*choices))


@lru_cache(maxsize=16384)
def _forms(part: str) -> tuple[str, ...]:
    """The words that one word of an entry stands for."""
    forms: list[str] = []
    for word in part.split("|"):
        forms += _endings(word[:-1]) if word.endswith("~") else [fold(word)]
    return tuple(dict.fromkeys(forms))


def _endings(stem: str) -> list[str]:
    """Regular endings of a verb or noun; some are no words, which does no harm."""
    last, bare = stem[-1:], stem.removesuffix("e")
    ends_short = len(stem) > 2 and last not in _VOWELS and last not in "wxy" and stem[-2] in _VOWELS
    doubled = stem + last if ends_short and stem[-3] not in _VOWELS else stem
    nouns = [stem, stem + "e", fold(stem + "s"), fold(stem + "es"), stem + "y"]
    return [*nouns, *(base + end for base in (stem, bare, doubled) for end in ("ed", "ing"))]
