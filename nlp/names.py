"""All names of substances, as the matcher wants them: from folded words to an id of the catalogue."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache

from rapidfuzz import process
from rapidfuzz.distance import DamerauLevenshtein
from spacy.matcher import PhraseMatcher
from spacy.tokens import Doc

from nlp.tokens import NormalisingTokenizer, Words, words_of
from rules.catalogue import Catalogue, Phase, Substance

_OIL_HEADS = ("essential oil", "oil", "butter")
_SHORTEST = 5  # letters; shorter words are too easily another word
# Chemical endings tell substances apart; a slip of the pen is never assumed there.
_ENDINGS = ("ate", "ite", "ide", "ic", "ol", "yl", "in", "ine", "ose", "one")


class Names:
    """Looks names up; `matcher` finds them in a Doc."""

    def __init__(self, catalogue: Catalogue, tokenizer: NormalisingTokenizer) -> None:
        self.catalogue = catalogue
        self.matcher = PhraseMatcher(tokenizer.inner.vocab, attr="NORM")
        self._ids: dict[str, str] = {}
        self._bare: set[str] = set()
        docs = list(self._learn(tokenizer))
        self.matcher.add("name", docs)
        self._list = sorted(self._ids)
        self.nearest = lru_cache(maxsize=4096)(self._nearest)

    def _learn(self, tokenizer: NormalisingTokenizer) -> Iterator[Doc]:
        """Full names first, then "lavender" for what is only listed as "lavender oil"."""
        partial: dict[str, Doc] = {}
        for substance in self.catalogue:
            for name in _names(substance):
                doc = tokenizer.phrase(name)
                norm = words_of(doc).norm
                key = " ".join(norm)
                if key and self._ids.setdefault(key, substance.id) == substance.id:
                    yield doc
                for head in _OIL_HEADS:
                    if key.endswith(" " + head):
                        bare = key.removesuffix(" " + head)
                        partial.setdefault(bare, doc[: len(bare.split())].as_doc())
                        break
        for bare, doc in partial.items():
            if bare not in self._ids and bare and not bare.isdigit():
                self._bare.add(bare)
                yield doc

    def find(self, norm: Iterable[str]) -> Substance | None:
        return self.catalogue.get(self._ids.get(" ".join(norm)))

    def is_bare(self, norm: Iterable[str]) -> bool:
        """Known only as the beginning of the name of an oil or butter."""
        return " ".join(norm) in self._bare

    def completed(self, norm: Iterable[str], heads: Iterable[str]) -> Substance | None:
        """What "lavender" is among essential oils, "olive" among oils."""
        base = " ".join(norm)
        for head in heads:
            if found := self._ids.get(f"{base} {head}"):
                return self.catalogue[found]
        return None

    def _nearest(self, name: str) -> Substance | None:
        """The substance that `name` misspells, or None. Every word must be close by itself."""
        if len(name) < _SHORTEST:
            return None
        hit = process.extractOne(name, self._list, scorer=DamerauLevenshtein.distance, score_cutoff=1 + len(name) // 8)
        if hit is None or not _is_slip(name, hit[0]):
            return None
        return self.catalogue[self._ids[hit[0]]]


def _names(substance: Substance) -> tuple[str, ...]:
    extra = [name for name in (substance.inci, substance.ci) if name]
    if substance.ci:
        extra.append(substance.ci.replace(" ", ""))
    return (substance.name, *substance.aliases, *extra)


def _is_slip(name: str, known: str) -> bool:
    if name[0] != known[0]:
        return False
    theirs, ours = name.split(), known.split()
    if len(theirs) != len(ours):
        return name.replace(" ", "") == known.replace(" ", "")
    return all(_word_slip(a, b) for a, b in zip(theirs, ours, strict=True))


def _word_slip(word: str, known: str) -> bool:
    if word == known:
        return True
    if len(known) < _SHORTEST or word[0] != known[0] or any(c.isdigit() for c in word + known):
        return False
    allowed = 1 if len(known) < 8 else 2
    if DamerauLevenshtein.distance(word, known) > allowed:
        return False
    return not any(known.endswith(e) and not word.endswith(e[-1]) for e in _ENDINGS) and not _both_chemical(word, known)


def _both_chemical(word: str, known: str) -> bool:
    ends = [next((e for e in _ENDINGS if w.endswith(e)), "") for w in (word, known)]
    return bool(ends[0]) and bool(ends[1]) and ends[0] != ends[1]


def head_words(words: Words, start: int, end: int) -> list[str]:
    return words.norm[start:end]


def is_watery(substance: Substance) -> bool:
    return substance.phase in (Phase.WATER, Phase.EMULSION)
