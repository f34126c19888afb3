"""A table of phrases by their folded words, looked up along a message in time linear in its length."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Generic, NamedTuple, TypeVar

T = TypeVar("T")


class Hit(NamedTuple, Generic[T]):
    """Tokens start..end are a phrase with this value."""

    start: int
    end: int
    value: T


class Phrases(Generic[T]):
    """Several values may share a phrase; they come in the order in which they were added."""

    def __init__(self) -> None:
        self._values: dict[str, list[T]] = {}
        self._lengths: dict[str, tuple[int, ...]] = {}  # by first word, the longest first

    def add(self, words: Sequence[str], value: T) -> None:
        """`words` are folded as the tokenizer folds a text. Nothing happens for an empty phrase."""
        if not words:
            return
        self._values.setdefault(" ".join(words), []).append(value)
        lengths = self._lengths.get(words[0], ())
        if len(words) not in lengths:
            self._lengths[words[0]] = tuple(sorted((*lengths, len(words)), reverse=True))

    def get(self, words: Sequence[str]) -> list[T]:
        return self._values.get(" ".join(words), [])

    def keys(self) -> list[str]:
        return list(self._values)

    def find(self, norm: Sequence[str]) -> Iterator[Hit[T]]:
        """Every phrase in the text, by its start, a longer one first."""
        lengths, values = self._lengths, self._values
        for start, word in enumerate(norm):
            for length in lengths.get(word, ()):
                if start + length > len(norm):
                    continue
                key = word if length == 1 else " ".join(norm[start : start + length])
                for value in values.get(key, ()):
                    yield Hit(start, start + length, value)

    def find_longest(self, norm: Sequence[str]) -> list[Hit[T]]:
        """From left to right the longest phrase at each place, none overlapping; the first value of each."""
        hits: list[Hit[T]] = []
        reach = 0
        for hit in self.find(norm):
            if hit.start >= reach:
                hits.append(hit)
                reach = hit.end
        return hits
