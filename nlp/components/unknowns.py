"""Proposes names that the catalogue does not have: the words beside an amount, or alone in a list of ingredients."""

from __future__ import annotations

from dataclasses import replace

from spacy.language import Language
from spacy.tokens import Doc

from nlp.components.cues import cues_of, lexicon_of
from nlp.components.substances import names_of
from nlp.lexicon import Lexicon
from nlp.measure import Measure
from nlp.mention import Found, Mention
from nlp.names import Names
from nlp.tokens import Words

_LONGEST = 5  # words in a name
_MOST_LOOKS = 40  # misspellings looked up in one message
_BEFORE_NAME = frozenset({"of", "the", "your", "my", "*", "each"})
_LEFT_SIGNS = frozenset({"-", ":", "=", "(", "~", "|", "about", "approx", "[", "@", ">", "approximately"})


class _Ground:
    """What is already taken, token by token."""

    def __init__(self, doc: Doc) -> None:
        self.words: Words = doc._.words
        self.lexicon: Lexicon = lexicon_of(doc)
        self.names: Names = names_of(doc)
        self.taken = [False] * (len(self.words) + 1)
        self.mentions: list[Mention] = list(doc._.mentions)
        for piece in (*self.mentions, *doc._.amounts):
            self.taken[piece.start : piece.end] = [True] * (piece.end - piece.start)
        for at in doc._.made:
            self.taken[at] = True
        self.looked = 0
        self.places = {mention.start: place for place, mention in enumerate(self.mentions)}
        self.starts = {mention.start for mention in self.mentions}
        self.ends = {mention.end for mention in self.mentions}

    def plain(self, at: int) -> bool:
        """A word that can be part of an unknown name."""
        words, kinds = self.words, self.lexicon.words
        return (
            words.is_word(at)
            and not self.taken[at]
            and words.norm[at] not in kinds["stop"]
            and words.norm[at] != "<url>"
        )

    def widen(self, start: int, first: int) -> None:
        """ "moringa leaf oil" where only "oil" is known: a class word takes in the words before it."""
        place = self.places.get(start)
        if place is None or not self.mentions[place].generic:
            return
        whole = replace(self.mentions[place], start=first)
        self.looked += 1
        near = self.names.nearest(" ".join(self.words.norm[first : whole.end])) if self.looked <= _MOST_LOOKS else None
        if near is not None:
            whole = replace(whole, substance=near.id, found=Found.SPELLING, generic=near.generic)
        self.mentions[place] = whole
        self.taken[first:start] = [True] * (start - first)

    def name_brand(self, start: int, first: int) -> None:
        """ "50 g Somebrand cream": with a name before it the cream is one from a tube, and no dairy."""
        place = self.places.get(start)
        bought = self.names.find(("face", "cream"))
        named = self.words.text[first][:1].isupper() and self.words.norm[start : start + 1] == ["cream"]
        if place is not None and named and bought is not None and self.mentions[place].substance == "cream":
            self.mentions[place] = replace(self.mentions[place], start=first, substance=bought.id)
            self.taken[first:start] = [True] * (start - first)

    def add(self, start: int, end: int) -> None:
        kinds = self.lexicon.words
        norm = self.words.norm
        while start < end and (norm[start] in kinds["grade"] or norm[start] in kinds["colour"]):
            start += 1
        while end > start and norm[end - 1] in kinds["grade"]:
            end -= 1
        if start >= end or norm[end - 1] in kinds["tool"] or norm[end - 1] in kinds["container"]:
            return
        general = kinds["form"] | kinds["colour"] | kinds["category"]
        if all(word in general for word in norm[start:end]):
            return
        if not any(len(word) > 2 for word in norm[start:end]):
            return
        self.looked += 1
        near = self.names.nearest(" ".join(norm[start:end])) if self.looked <= _MOST_LOOKS else None
        mention = (
            Mention(start, end, near.id, Found.SPELLING, near.generic)
            if near
            else Mention(start, end, None, Found.UNKNOWN)
        )
        self.mentions.append(mention)
        self.taken[start:end] = [True] * (end - start)
        self.starts.add(start)
        self.ends.add(end)


def unknowns(doc: Doc) -> Doc:
    """Adds to `doc._.mentions`; the order of the text is kept."""
    ground = _Ground(doc)
    measures: list[Measure] = doc._.amounts
    for measure in measures:
        if not measure.size:
            _beside(ground, measure)
    _alone_in_list(ground, doc)
    taken = {at for mention in ground.mentions for at in range(mention.start, mention.end)}
    doc._.amounts = [m for m in measures if not (m.start in taken and m.end - 1 in taken)]
    doc._.mentions = sorted(ground.mentions, key=lambda mention: mention.start)
    return doc


def _beside(ground: _Ground, measure: Measure) -> None:
    words, kinds = ground.words, ground.lexicon.words
    at = measure.end
    while words.at(at) in _BEFORE_NAME or words.at(at) in kinds["grade"] or _joins_grades(words, at, kinds["grade"]):
        at += 1
    if words.at(at) == "(" and (close := _closing(words, at)) is not None and close - at <= 3:
        at = close + 1
    while words.at(at) in ("of", "the", "your") or words.at(at) in kinds["grade"]:
        at += 1
    if at in ground.starts:
        return
    end = at
    while end - at < _LONGEST and (ground.plain(end) or _is_code(words, end)):
        end += 1
    if end > at:
        after = end
        while words.at(after) in kinds["grade"]:
            after += 1
        if after in ground.starts:
            ground.widen(after, at)
            ground.name_brand(after, at)
            return
        if any(words.at(ahead) in kinds["tool"] or words.at(ahead) in kinds["container"] for ahead in (end, end + 1)):
            return
        if measure.unit is not None and _is_grade_number(words, end):
            end += 1  # "olivem 1000": the figure is part of a trade name
        if measure.unit is not None or end - at <= 3:
            ground.add(at, end)
        return
    if measure.unit is not None:
        _before(ground, measure)


def _is_code(words: Words, at: int) -> bool:
    """The dash and the figure of "PA-3", glued to the name."""
    dash = at if words.at(at) == "-" else at - 1
    return words.at(dash) == "-" and words.glued(dash) and words.glued(dash + 1) and words.at(dash + 1).isdigit()


def _joins_grades(words: Words, at: int, grade: frozenset[str]) -> bool:
    """The comma of "gentle, unscented lotion"."""
    return words.at(at) == "," and words.at(at - 1) in grade and words.at(at + 1) in grade


def _is_grade_number(words: Words, at: int) -> bool:
    ends = words.is_break(at + 1) or words.at(at + 1) in (",", ";", ")", "(", ".")
    return words.at(at).isdigit() and ends and not words.is_break(at)


def _before(ground: _Ground, measure: Measure) -> None:
    """ "Name - 3 tsp", "Name 60.75 %", "Name: 2 tbsp": the words fill the line or the item up to the amount."""
    words = ground.words
    end = measure.start
    while words.at(end - 1) in _LEFT_SIGNS or (words.at(end - 1) == "." and end > 1):
        end -= 1
    start = end
    while end - start < _LONGEST and ground.plain(start - 1):
        start -= 1
    if start < end and (
        words.is_break(start - 1) or words.at(start - 1) in (",", ";", "•", "-", "*", ".", ")", "|", ":", "and")
    ):
        ground.add(start, end)


def _closing(words: Words, at: int) -> int | None:
    for ahead in range(at + 1, min(at + 12, len(words))):
        if words.norm[ahead] == ")":
            return ahead
        if words.is_break(ahead):
            return None
    return None


def _alone_in_list(ground: _Ground, doc: Doc) -> None:
    """A short line without an amount, between two lines that are ingredients."""
    words = ground.words
    lines = _lines(words)
    headed = {cue.start for cue in cues_of(doc, "line.ingredients")}
    marks = [_is_item(ground, start, end) for start, end in lines]
    for index, (start, end) in enumerate(lines):
        bullet = words.at(start) in ("•", "-", "*")
        first = start + 1 if bullet else start
        if marks[index] or not first < end <= first + 4 or not all(ground.plain(at) for at in range(first, end)):
            continue
        if any(at in headed for at in range(start, end)) or words.at(first) in ground.lexicon.words["method"]:
            continue
        around = marks[max(0, index - 1) : index] + marks[index + 1 : index + 2]
        if sum(marks) >= 2 and all(around) and (bullet or len(around) == 2):
            ground.add(first, end)


def _is_item(ground: _Ground, start: int, end: int) -> bool:
    """A line that begins with an amount or with a name."""
    while start < end and not ground.words.norm[start][:1].isalnum():
        start += 1
    while start < end and not ground.taken[start] and ground.words.norm[start] in ground.lexicon.words["grade"]:
        start += 1
    return start < end and ground.taken[start]


def _lines(words: Words) -> list[tuple[int, int]]:
    lines, start = [], 0
    for at in range(len(words) + 1):
        if words.is_break(at):
            if at > start:
                lines.append((start, at))
            start = at + 1
    return lines


@Language.component("watchglass_unknowns", assigns=["doc._.mentions"])
def component(doc: Doc) -> Doc:
    return unknowns(doc)
