"""Language of the message, and every phrase of its tables that stands in it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from spacy.language import Language
from spacy.matcher import PhraseMatcher
from spacy.tokens import Doc

from nlp.language import detect
from nlp.lexicon import LANGUAGES, Lexicon, load_lexicon
from nlp.tokens import NormalisingTokenizer, register


@dataclass(frozen=True, slots=True)
class Cue:
    label: str
    start: int
    end: int


class Cues:
    """Sets `doc._.language`, `doc._.lexicon` and `doc._.cues` (in order of the text, a longer phrase hides its parts)."""

    def __init__(self, tokenizer: NormalisingTokenizer) -> None:
        vocab = tokenizer.inner.vocab
        self._strings = vocab.strings
        self._matchers: dict[str, PhraseMatcher] = {}
        for language in LANGUAGES:
            matcher = PhraseMatcher(vocab, attr="NORM")
            for label, phrases in load_lexicon(language).cues.items():
                matcher.add(label, [tokenizer.phrase(phrase) for phrase in phrases])
            self._matchers[language] = matcher

    def __call__(self, doc: Doc) -> Doc:
        language = detect(doc._.words.norm)
        known = language if language in self._matchers else "en"
        doc._.language = language
        doc._.lexicon = load_lexicon(known)
        found = (Cue(self._strings[key], start, end) for key, start, end in self._matchers[known](doc))
        doc._.cues = _longest(found)
        return doc


def _longest(cues: Iterable[Cue]) -> list[Cue]:
    """Within one group of labels ("site", "line", ...) a phrase inside a longer one does not count."""
    kept: list[Cue] = []
    reach: dict[str, int] = {}
    for cue in sorted(cues, key=lambda c: (c.start, c.start - c.end)):
        group = cue.label.partition(".")[0]
        if cue.end > reach.get(group, 0) or (kept and (kept[-1].start, kept[-1].end) == (cue.start, cue.end)):
            kept.append(cue)
            reach[group] = max(cue.end, reach.get(group, 0))
    return kept


def cues_of(doc: Doc, label: str) -> list[Cue]:
    found: list[Cue] = doc._.cues
    return [cue for cue in found if cue.label == label]


@Language.factory("watchglass_cues", assigns=["doc._.cues"])
def create(nlp: Language, name: str) -> Cues:  # noqa: ARG001 spaCy calls a factory with the name of the pipe
    return Cues(nlp.tokenizer)  # type: ignore[arg-type]


register([("language", "en"), ("lexicon", None), ("cues", ())])


def lexicon_of(doc: Doc) -> Lexicon:
    lexicon: Lexicon = doc._.lexicon
    return lexicon
