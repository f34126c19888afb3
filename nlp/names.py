"""All names of substances, as the matcher wants them: from folded words to an id of the catalogue."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property, lru_cache
from itertools import accumulate
from operator import or_

from rapidfuzz import process
from rapidfuzz.distance import DamerauLevenshtein

from nlp.lexicon import Lexicon
from nlp.phrases import Hit, Phrases
from nlp.tokens import NormalisingTokenizer
from rules.catalogue import Catalogue, Phase, Substance

_OIL_HEADS = ("essential oil", "oil", "butter")
_SHORTEST = 4  # letters; so short a word is too easily another word
_SHORT = 5  # letters; only swapped or doubled letters are taken for a slip there
_LONG = 8  # letters; two swapped or doubled ones are believed from here on
_LONGER = 10  # letters; any two slips
_RIVALS = 6  # names that are compared for one misspelling
# Chemical endings tell substances apart; a slip of the pen is never assumed there.
_ENDINGS = ("ate", "ite", "ide", "ic", "ol", "yl", "ose", "one")


class Names:
    """Looks names up, exactly or by likeness."""

    def __init__(self, catalogue: Catalogue, tokenizer: NormalisingTokenizer, lexicon: Lexicon) -> None:
        self.catalogue = catalogue
        self._table: Phrases[str | None] = Phrases()
        self._ids: dict[str, str] = {}
        for substance in catalogue:
            own = lexicon.names.get(substance.id, ())
            for name in own:
                self._learn([lexicon.small.get(word, word) for word in tokenizer.pieces(name)], substance.id)
        for substance in catalogue:
            for name in _names(substance):
                words = tokenizer.pieces(name)
                # "juice of one lemon" is counted in lemons: the lemon is found, and the rest joined to it later.
                if not (words[0] in lexicon.words["squeezed"] and "of" in words[1:]):
                    self._learn(words, substance.id)
        self._likely: dict[str, list[str]] = {}
        for key in sorted(self._ids):
            self._likely.setdefault(key[0], []).append(key)
        self._strangers = lexicon.words["stranger"]
        for bare in _bare_names(self._ids, _never_bare(lexicon)):
            if bare not in lexicon.words["never_bare"]:
                self._table.add(bare.split(), None)
        self.nearest = lru_cache(maxsize=4096)(self._nearest)

    def _learn(self, words: list[str], substance_id: str) -> None:
        key = " ".join(words)
        if key and key not in self._ids:
            self._ids[key] = substance_id
            self._table.add(words, substance_id)

    def find_all(self, norm: Sequence[str]) -> list[Hit[str | None]]:
        """Names in a text, the longest at each place; None for one that is only the beginning of a name."""
        return self._table.find_longest(norm)

    def find(self, norm: Iterable[str]) -> Substance | None:
        return self.catalogue.get(self._ids.get(" ".join(norm)))

    def completed(self, norm: Iterable[str], heads: Iterable[str]) -> Substance | None:
        """What "lavender" is among essential oils, "olive" among oils."""
        base = " ".join(norm)
        for head in heads:
            if found := self._ids.get(f"{base} {head}"):
                return self.catalogue[found]
        return None

    def _nearest(self, name: str) -> Substance | None:
        """The one substance that `name` misspells, or None. Every word must be close by itself and no real word."""
        if len(name) <= _SHORTEST:
            return None
        if swapped := self._ids.get(name[1] + name[0] + name[2:]):
            return self.catalogue[swapped]
        cutoff = 1 + len(name) // _LONG
        near = process.extract(
            name,
            self._likely.get(name[0], ()),
            scorer=DamerauLevenshtein.distance,
            score_cutoff=cutoff,
            limit=_RIVALS,
        )
        slips = [(distance, self._ids[known]) for known, distance, _ in near if self._is_slip(name, known)]
        closest = {substance for distance, substance in slips if distance == slips[0][0]}
        return self.catalogue[closest.pop()] if len(closest) == 1 else None

    @cached_property
    def _where(self) -> dict[str, set[str]]:
        """Ids by each word of their names; made at the first misspelling, not at every start."""
        where: dict[str, set[str]] = {}
        for key, owner in self._ids.items():
            for word in key.split():
                where.setdefault(word, set()).add(owner)
        return where

    def _is_slip(self, name: str, known: str) -> bool:
        theirs, ours = name.split(), known.split()
        if len(theirs) != len(ours):
            return name.replace(" ", "") == known.replace(" ", "")
        sure = [False, *accumulate((a == b and len(a) >= _SHORT for a, b in zip(theirs, ours, strict=True)), or_)]
        return all(a == b or self._word_slip(a, b, sure=s) for a, b, s in zip(theirs, ours, sure, strict=False))

    def _word_slip(self, word: str, known: str, *, sure: bool) -> bool:
        """A word of the language, or of names of other substances, says what it says; it is no slip for `known`."""
        of_others = self._where.get(word)
        if word in self._strangers or (of_others is not None and of_others.isdisjoint(self._where[known])):
            return False
        return _close(word, known, sure=sure)


def _bare_names(names: Iterable[str], never_bare: frozenset[str]) -> Iterator[str]:
    """ "lavender" for what is only listed as "lavender oil"."""
    known = set(names)
    for name in known:
        for head in _OIL_HEADS:
            bare = name.removesuffix(" " + head)
            if bare != name and bare not in known and _stands_alone(bare, never_bare):
                yield bare
                break


def _never_bare(lexicon: Lexicon) -> frozenset[str]:
    """Words that cannot stand for "... oil" by themselves."""
    kinds = ("stop", "grade", "tool", "container", "form", "colour", "purpose")
    return frozenset().union(*(lexicon.words[kind] for kind in kinds), lexicon.units)


def _stands_alone(bare: str, never_bare: frozenset[str]) -> bool:
    return len(bare) >= _SHORTEST and bare.replace(" ", "").isalpha() and not never_bare.intersection(bare.split())


def _names(substance: Substance) -> tuple[str, ...]:
    extra = [name for name in (substance.inci, substance.ci) if name]
    if substance.ci:
        extra.append(substance.ci.replace(" ", ""))
    return (substance.name, *substance.aliases, *extra)


def _close(word: str, known: str, *, sure: bool) -> bool:
    """Whether one is a slip for the other; `sure`: a long word before it is spelt right, so it may be short."""
    swapped = set(word) == set(known)
    if len(known) <= (2 if sure else _SHORTEST) or any(c.isdigit() for c in word + known):
        return False
    if word[0] != known[0] and not (sure and swapped):
        return False
    if DamerauLevenshtein.distance(word, known) > _allowed(len(known), swapped=swapped, sure=sure):
        return False
    cut = word == known[:-1]
    ends_otherwise = any(known.endswith(e) and not word.endswith(e[-1]) for e in _ENDINGS)
    return cut or (not ends_otherwise and not _both_chemical(word, known))


def _allowed(letters: int, *, swapped: bool, sure: bool) -> int:
    """Slips in a word of so many letters; swapped and doubled letters are likelier slips than other letters."""
    if letters <= _SHORT:
        return 1 if swapped or sure else 0
    return 2 if letters >= _LONGER or (swapped and letters >= _LONG) else 1


def _both_chemical(word: str, known: str) -> bool:
    ends = [next((e for e in _ENDINGS if w.endswith(e)), "") for w in (word, known)]
    return bool(ends[0]) and bool(ends[1]) and ends[0] != ends[1]


def is_watery(substance: Substance) -> bool:
    return substance.phase in (Phase.WATER, Phase.EMULSION)
