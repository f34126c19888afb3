"""What kind of message it is; an emergency stands before everything else."""

from __future__ import annotations

from collections import Counter

from spacy.language import Language
from spacy.tokens import Doc

from nlp.draft import Entry
from nlp.reading import Kind
from nlp.tokens import Words, register


def kind_of(doc: Doc) -> Doc:
    """Sets `doc._.kind`."""
    doc._.kind = _kind(doc)
    return doc


def _kind(doc: Doc) -> Kind:
    words: Words = doc._.words
    entries: list[Entry] = doc._.entries
    said = Counter(cue.label for cue in doc._.cues if cue.label.startswith("kind."))
    if _link_only(words):
        return Kind.LINK_ONLY
    measured = sum(1 for e in entries if e.measure is not None)
    asks = "?" in words.norm or said["kind.question"] > 0
    if said["kind.spam"] >= 2 or (said["kind.spam"] and "<url>" in words.norm):
        return Kind.SPAM
    if said["kind.correction"] and len(entries) <= 2 and len(words) < 40 and not asks:
        return Kind.CORRECTION
    cosmetic = doc._.context.product is not None or bool(doc._.context.sites)
    if said["kind.food"] >= 2 and not cosmetic:
        return Kind.FOOD
    if measured >= 2 or (measured and len(entries) >= 2) or (len(entries) >= 3 and not asks):
        return Kind.RECIPE
    if asks:
        return Kind.QUESTION
    if len(entries) >= 2 or (entries and cosmetic and measured):
        return Kind.RECIPE
    return Kind.CHATTER


def _link_only(words: Words) -> bool:
    if "<url>" not in words.norm:
        return False
    rest = [word for word in words.norm if word[0].isalpha()]
    return len(rest) <= 6


@Language.component("watchglass_kind", assigns=["doc._.kind"])
def component(doc: Doc) -> Doc:
    return kind_of(doc)


register([("kind", Kind.CHATTER), ("emergency", None)])
