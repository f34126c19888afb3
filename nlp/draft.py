"""A message on its way from mentions to lines: what each part of the line builder reads and marks."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass, field

from spacy.tokens import Doc

from nlp.components.cues import Cue, lexicon_of
from nlp.components.substances import names_of
from nlp.layout import Layout, layout_of
from nlp.lexicon import Lexicon
from nlp.measure import Measure
from nlp.mention import Mention
from nlp.names import Names
from nlp.phrases import Hit
from nlp.tokens import Words
from rules.recipe import Quality

_LOOK_BACK = 8  # entries


@dataclass(slots=True)
class Entry:
    """A mention that may become a line. `head` is the entry that it is an alternative to; `strength` a share of 1."""

    mention: Mention
    measure: Measure | None = None
    optional: bool = False
    negated: bool = False
    example: bool = False
    dropped: bool = False
    qualities: frozenset[Quality] = frozenset()
    head: Entry | None = None
    strength: float | None = None

    @property
    def start(self) -> int:
        return self.mention.start

    @property
    def end(self) -> int:
        return self.mention.end


@dataclass(slots=True)
class Draft:
    """The words, how they are laid out, and the entries in the order of the text."""

    words: Words
    lexicon: Lexicon
    names: Names
    layout: Layout
    cues: list[Cue]
    told: list[Measure]  # every amount in the text, sizes too
    named: list[Hit[str]]
    entries: list[Entry] = field(default_factory=list)
    starts: list[int] = field(default_factory=list)
    on_line: dict[int, list[Entry]] = field(default_factory=dict)
    in_bracket: dict[int, list[Entry]] = field(default_factory=dict)

    @classmethod
    def of(cls, doc: Doc) -> Draft:
        words: Words = doc._.words
        return cls(
            words,
            lexicon_of(doc),
            names_of(doc),
            layout_of(words),
            list(doc._.cues),
            list(doc._.amounts),
            list(doc._.named),
        )

    def fill(self, entries: list[Entry]) -> None:
        """Takes the entries, and knows them by line and by bracket."""
        self.entries = entries
        self.starts = [entry.start for entry in entries]
        for entry in entries:
            self.on_line.setdefault(self.layout.line[entry.start], []).append(entry)
            if number := self.layout.bracket[entry.start]:
                self.in_bracket.setdefault(number, []).append(entry)

    def last_before(self, at: int) -> Entry | None:
        """The nearest entry that ends at or before a token and is not dropped, on the same line."""
        index = bisect_left(self.starts, at) - 1
        for entry in reversed(self.entries[max(0, index - _LOOK_BACK) : index + 1]):
            if self.layout.line[entry.start] != self.layout.line[at]:
                return None
            if entry.end <= at and not entry.dropped:
                return entry
        return None

    def next_after(self, at: int) -> Entry | None:
        """The nearest entry that begins at or after a token, on the same line."""
        index = bisect_left(self.starts, at)
        if index < len(self.entries) and self.layout.line[self.starts[index]] == self.layout.line[at]:
            return self.entries[index]
        return None

    def cues_with(self, label: str) -> list[Cue]:
        return [cue for cue in self.cues if cue.label == label]

    def between(self, first: Entry, second: Entry) -> list[str]:
        """The folded words between two entries, without brackets and without an amount that belongs to the second."""
        stop = second.start
        if second.measure is not None and first.end <= second.measure.start < second.start:
            stop = second.measure.start
        outside = self.layout.bracket[first.start]
        if self.layout.bracket[second.start] != outside:
            return self.words.norm[first.end : stop]
        return [self.words.norm[at] for at in range(first.end, stop) if self.layout.bracket[at] == outside]

    def key(self, entry: Entry) -> str:
        """What makes two mentions the same ingredient."""
        return entry.mention.substance or " ".join(self.words.norm[entry.start : entry.end])
