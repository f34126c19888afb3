"""Slips of the pen in words that tell of harm: people in pain do not proofread."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

from rapidfuzz.distance import OSA

_VOWELS = frozenset("aeiou")
_SHORTEST = 5  # letters; a shorter word is too easily another word


@dataclass(frozen=True, slots=True)
class Slips:
    """near: words of the table by what is left of them without one letter. friends: words that are no slip of any."""

    near: Mapping[str, tuple[str, ...]]
    friends: frozenset[str]

    def mended(self, word: str) -> str:
        """The word that `word` misspells, else `word` itself."""
        if len(word) < _SHORTEST or not word.isalpha() or word in self.friends:
            return word
        likely = {known for cut in _cuts(word) for known in self.near.get(cut, ())}
        close = [known for known in likely if known[0] == word[0] and _is_slip(word, known)]
        return min(close, key=lambda known: (abs(len(known) - len(word)), known)) if close else word


def slips_of(words: Iterable[str], friends: frozenset[str]) -> Slips:
    """Looks among `words`; all of them are friends, too."""
    known = frozenset(words)
    near: dict[str, tuple[str, ...]] = {}
    for word in sorted(known):
        if len(word) >= _SHORTEST and word.isalpha():
            for cut in _cuts(word):
                near[cut] = (*near.get(cut, ()), word)
    return Slips(near, friends | known)


def _cuts(word: str) -> Iterator[str]:
    """The word, and the word without one letter; the first letter is seldom wrong."""
    yield word
    yield from (word[:i] + word[i + 1 :] for i in range(1, len(word)))


def _is_slip(word: str, known: str) -> bool:
    """Two letters swapped, one doubled or not, one vowel wrong: another consonant makes another word."""
    if OSA.distance(word, known) != 1:
        return False
    return sorted(word) == sorted(known) or _bones(word) == _bones(known)


def _bones(word: str) -> str:
    """Consonants, the doubled ones single."""
    rest = "".join(letter for letter in word[1:] if letter not in _VOWELS)
    return word[0] + "".join(b for a, b in pairwise(" " + rest) if a != b)
