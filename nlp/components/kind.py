"""What kind of message it is; an emergency stands before everything else.

The rules say what the counts speak for; the trained part (nlp/kinds.py) decides, with what the rules say as its
strongest hint.
"""

from __future__ import annotations

from collections import Counter

from spacy.language import Language
from spacy.tokens import Doc

from nlp.alarm import Message
from nlp.components.cues import lexicon_of
from nlp.draft import Entry
from nlp.kinds import evidence_features, likeliest, load_kinds
from nlp.language import OTHER
from nlp.lexicon import Lexicon
from nlp.linear import Features
from nlp.reading import Kind
from nlp.tokens import Words, register
from rules.recipe import Unit

_FEW_WORDS = 7  # beside an address; more is a message of its own
_SHORT = 45  # words of a correction
_LONG = 5  # ingredients
_COUNTED = (
    "measured", "figures", "known", "counted", "units", "use", "mentions", "choices", "terse", "asks_first", "asks",
    "asks_amount", "asks_inside", "foreign", "address",
)  # fmt: skip
_CLAUSE = frozenset({",", "-", ".", ";", "and", "so"})
_OPENING = 4  # words; "sorry" further on amends nothing


def kind_of(doc: Doc) -> Doc:
    """Sets `doc._.kind`."""
    if doc._.emergency is not None:
        doc._.kind = Kind.URGENT
        return doc
    evidence = Evidence(doc)
    ruled = evidence.kind()
    doc._.kind = ruled if evidence.is_plain(ruled) else likeliest(load_kinds(), *evidence.features(ruled))
    return doc


class Evidence:
    """Counts of what speaks for each kind."""

    def __init__(self, doc: Doc) -> None:
        self.words: Words = doc._.words
        self.message: Message = doc._.message
        self.entries: list[Entry] = doc._.entries
        named = {at for mention in doc._.mentions for at in range(mention.start, mention.end)}
        cues = [cue for cue in doc._.cues if cue.label.startswith("kind.") and cue.start not in named]
        self.said = Counter(cue.label for cue in cues if cue.label != "kind.slip" or cue.start < _OPENING)
        self.measured = sum(
            1 for entry in self.entries if entry.measure is not None and entry.measure.unit is not Unit.PERCENT
        )
        self.figures = sum(1 for entry in self.entries if entry.measure is not None)
        self.known = sum(1 for entry in self.entries if entry.mention.substance is not None)
        self.counted = sum(
            1 for e in self.entries if e.measure is not None and e.measure.unit not in (None, Unit.PART, Unit.PERCENT)
        )
        self.units = sum(1 for entry in self.entries if entry.measure is not None and entry.measure.unit is not None)
        self.use = bool(doc._.named) or any(cue.label.startswith(("site.", "contact.")) for cue in doc._.cues)
        self.mentions = len(doc._.mentions)
        self.choices = sum(1 for entry in self.entries if entry.head is not None)
        self.terse: bool = doc._.terse
        self.asks_amount = any(cue.label == "ask.much" and cue.start == 0 for cue in doc._.cues)
        self.asks_first = self.asks_amount or _opens_as_question(self.words, lexicon_of(doc), first=True)
        self.asks = (
            self.asks_amount
            or "?" in self.words.norm
            or self.said["kind.question"] > 0
            or _opens_as_question(self.words, lexicon_of(doc))
        )
        self.asks_inside = _asks_inside(self.words, lexicon_of(doc))
        self.foreign = doc._.language == OTHER
        self.address = "<url>" in self.words.norm

    def kind(self) -> Kind:
        if (
            self.address
            and sum(word[0].isalpha() for word in self.words.norm) <= _FEW_WORDS
            and not self.said["kind.advert"]
        ):
            return Kind.LINK_ONLY
        if self._is_spam():
            return Kind.SPAM
        if self._is_correction():
            return Kind.CORRECTION
        if self._is_food():
            return Kind.FOOD
        if self._is_recipe():
            return Kind.RECIPE
        about = self.mentions or self.use or self.said["kind.topic"] or self.foreign
        return Kind.QUESTION if self.asks and about else Kind.CHATTER

    def is_plain(self, ruled: Kind) -> bool:
        """An address without words to weigh; a long list with amounts, of which nothing is eaten or amended."""
        if ruled is not Kind.RECIPE:
            return ruled is Kind.LINK_ONLY
        other = ("kind.food", "kind.cook", "kind.amends")
        return self.measured >= _LONG and self.known >= _LONG and not any(self.said[label] for label in other)

    def features(self, ruled: Kind) -> tuple[Features, Features]:
        """What the trained part looks at."""
        counts = {name: int(getattr(self, name)) for name in _COUNTED} | {"entries": len(self.entries)}
        cues = self.message.cues
        return self.message.words, evidence_features(ruled, counts, self.said, cues, self.message.norm)

    def _is_spam(self) -> bool:
        advert, sell = self.said["kind.advert"], self.said["kind.sell"]
        if self.measured >= 2 or not advert:
            return False
        return advert >= 2 or sell >= 1 or self.address or not self.known

    def _is_correction(self) -> bool:
        if len(self.words) > _SHORT or len(self.entries) > 3:
            return False
        if self.said["kind.amends"] and "?" not in self.words.norm:
            return True
        starred = self.words.at(0) == "*" and self.words.is_word(1) and len(self.words) < 15
        slip = self.said["kind.slip"] > 0 and (self.figures > 0 or "not" in self.words.norm) and self.mentions > 0
        return (starred or slip) and "?" not in self.words.norm

    def _is_food(self) -> bool:
        if self.use:
            return self.said["kind.food"] >= 3 and self.said["kind.cook"] >= 2
        return self.said["kind.food"] >= 2 or (self.said["kind.cook"] > 0 and self.figures > 0)

    def _is_recipe(self) -> bool:
        count = len(self.entries)
        if self.asks_first and (self.counted < 2 or (self.asks_amount and count < 3)):
            return False
        if self.terse and not self.asks:
            return True
        if self.figures >= 2 and (self.known or self.units >= 2 or self.use):
            return True
        if self.measured and self.known and (count >= 2 or self.use):
            return True
        if self.figures and count >= 3:
            return True
        listed = count - self.choices
        return self.known >= 2 and (listed >= 3 or (listed >= 2 and not self.asks))


def _opens_as_question(words: Words, lexicon: Lexicon, *, first: bool = False) -> bool:
    """A sentence (`first`: the first one) begins with "does", "what", "can i" ..., whoever is called before it."""
    opening = True
    for at, word in enumerate(words.norm):
        asks = word not in ("can", "could", "may") or words.at(at + 1) in lexicon.words["asker"]
        if opening and word in lexicon.words["asks"] and asks:
            return True
        called = words.at(at - 1) == "@"
        if first and not (opening or called or word == "@"):
            return False
        opening = called or (not word[0].isalpha() and word != ",") or (opening and word in lexicon.words["fillers"])
    return False


def _asks_inside(words: Words, lexicon: Lexicon) -> bool:
    """ "it went grainy, can i melt it again": a question without its mark, behind a comma."""
    asks = lexicon.words["asks"]
    return any(word in _CLAUSE and words.at(at + 1) in asks for at, word in enumerate(words.norm))


@Language.component("watchglass_kind", assigns=["doc._.kind"])
def component(doc: Doc) -> Doc:
    return kind_of(doc)


register([("kind", Kind.CHATTER)])
