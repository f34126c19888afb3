"""Language of the message, and every phrase of its tables that stands in it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from spacy.language import Language
from spacy.tokens import Doc

from nlp.language import detect
from nlp.lexicon import ENGLISH, LANGUAGES, Lexicon, load_lexicon
from nlp.phrases import Phrases
from nlp.tokens import NormalisingTokenizer, register

_WASHING = "washing."


@dataclass(frozen=True, slots=True)
class Cue:
    label: str
    start: int
    end: int


class Cues:
    """Sets `doc._.language`, `doc._.lexicon`, `doc._.cues` (a longer phrase hides its parts) and `doc._.washing`.

    What tells of washing stands apart: it reads an instruction and says nothing of the kind of message.
    """

    def __init__(self, tokenizer: NormalisingTokenizer) -> None:
        self._tokenizer = tokenizer
        self._tables: dict[str, Phrases[str]] = {}
        self._table(ENGLISH)

    def _table(self, language: str) -> Phrases[str]:
        """The phrases of one language; those of another than English are laid out when the first message comes."""
        if language not in self._tables:
            table = self._tables[language] = Phrases()
            small = load_lexicon(language).small
            for label, phrases in load_lexicon(language).cues.items():
                for phrase in phrases:
                    table.add([small.get(word, word) for word in self._tokenizer.pieces(phrase)], label)
        return self._tables[language]

    def __call__(self, doc: Doc) -> Doc:
        language = detect(doc._.words.norm)
        known = language if language in LANGUAGES else ENGLISH
        lexicon = load_lexicon(known)
        words = doc._.words.translated(lexicon.small)
        doc._.language, doc._.lexicon, doc._.words = language, lexicon, words
        found = _longest(Cue(hit.value, hit.start, hit.end) for hit in self._table(known).find(words.norm))
        doc._.cues = [cue for cue in found if not cue.label.startswith(_WASHING)]
        doc._.washing = [cue for cue in found if cue.label.startswith(_WASHING)]
        return doc


def _longest(cues: Iterable[Cue]) -> list[Cue]:
    """Within one group of labels ("site", "line", ...) a phrase inside a longer one does not count."""
    kept: list[Cue] = []
    reach: dict[str, tuple[int, int]] = {}
    for cue in cues:
        group = cue.label.partition(".")[0]
        if cue.end > reach.get(group, (0, 0))[1] or reach[group] == (cue.start, cue.end):
            kept.append(cue)
            reach[group] = (cue.start, cue.end)
    return kept


def cues_of(doc: Doc, label: str) -> list[Cue]:
    found: list[Cue] = doc._.cues
    return [cue for cue in found if cue.label == label]


@Language.factory("watchglass_cues", assigns=["doc._.cues", "doc._.washing"])
def create(nlp: Language, name: str) -> Cues:  # noqa: ARG001 spaCy calls a factory with the name of the pipe
    return Cues(nlp.tokenizer)  # type: ignore[arg-type]


register([("language", "en"), ("lexicon", None), ("cues", ()), ("washing", ())])


def lexicon_of(doc: Doc) -> Lexicon:
    lexicon: Lexicon = doc._.lexicon
    return lexicon
