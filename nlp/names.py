"""All names of substances, as the matcher wants them: from folded words to an id of the catalogue."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache

from rapidfuzz import process
from rapidfuzz.distance import DamerauLevenshtein

from nlp.lexicon import Lexicon
from nlp.phrases import Hit, Phrases
from nlp.tokens import NormalisingTokenizer
from rules.catalogue import Catalogue, Phase, Substance

_OIL_HEADS = ("essential oil", "oil", "butter")
_SHORTEST = 4  # letters; shorter words are too easily another word
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
        for bare in _bare_names(self._ids, _never_bare(lexicon)):
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
        """The substance that `name` misspells, or None. Every word must be close by itself."""
        if len(name) <= _SHORTEST:
            return None
        hit = process.extractOne(
            name, self._likely.get(name[0], ()), scorer=DamerauLevenshtein.distance, score_cutoff=1 + len(name) // 8
        )
        if hit is None or not _is_slip(name, hit[0]):
            return None
        return self.catalogue[self._ids[hit[0]]]


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


def _is_slip(name: str, known: str) -> bool:
    theirs, ours = name.split(), known.split()
    if len(theirs) != len(ours):
        return name.replace(" ", "") == known.replace(" ", "")
    return all(_word_slip(a, b) for a, b in zip(theirs, ours, strict=True))


def _word_slip(word: str, known: str) -> bool:
    if word == known:
        return True
    if len(known) <= _SHORTEST or word[0] != known[0] or any(c.isdigit() for c in word + known):
        return False
    allowed = 1 if len(known) < 8 else 2
    if DamerauLevenshtein.distance(word, known) > allowed:
        return False
    return not any(known.endswith(e) and not word.endswith(e[-1]) for e in _ENDINGS) and not _both_chemical(word, known)


def _both_chemical(word: str, known: str) -> bool:
    ends = [next((e for e in _ENDINGS if w.endswith(e)), "") for w in (word, known)]
    return bool(ends[0]) and bool(ends[1]) and ends[0] != ends[1]


def is_watery(substance: Substance) -> bool:
    return substance.phase in (Phase.WATER, Phase.EMULSION)
