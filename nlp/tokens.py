"""The tokenizer and the folded form of a word, as spaCy is told about them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from typing import Any

from spacy.attrs import IDX, LENGTH, NORM, PREFIX, SHAPE, SUFFIX  # type: ignore[import-not-found]
from spacy.language import Language
from spacy.tokenizer import Tokenizer  # type: ignore[import-not-found]
from spacy.tokens import Doc
from spacy.util import registry

from nlp.normalise import Normalised, normalise

_PREFIX = re.compile(r"^(?:(?!\.\d)[^\w\s]|_)")
_SUFFIX = re.compile(r"(?:[^\w\s]|_)$")
# A figure ends where letters begin ("10g"); marks split, but for a point or comma between figures and an apostrophe.
_INFIX = re.compile(r"[^\w\s.,']|_|[.,](?!\d)|(?<!\d)[.,]|(?<=\d)(?=[A-Za-z])|(?<=\b[dlnmstjcqDLNMSTJCQ]')(?=[A-Za-z])")
_URL = re.compile(
    r"^(?:https?:|www\.)\S+$"
    r"|^[\w-]+(?:\.[\w-]+)*\.(?:com|org|net|io|example|co|me|ly|shop|info)(?:/\S*)?$",
    re.IGNORECASE,
)
# Phrases of tables whose words are seen without the tokenizer: "tea-tree oil", "vitamin b5".
_WORD = r"(?:[A-Za-z]+[0-9]*|[0-9]+)"
_PLAIN = re.compile(rf"^{_WORD}(?:(?: |(?<=[A-Za-z])-(?=[A-Za-z])){_WORD})*$")
_WHOLE = (
    "vit.", "Vit.", "veg.", "ess.", "dist.", "denat.", "alc.", "org.", "e.g.", "i.e.", "E.g.", "I.e.", "E.G.", "eg.",
    "approx.",
)  # fmt: skip
_DIGIT_MARKS = re.compile(r"^(?:\d+(?:[.,]\d+)*|\.\d+)$")


_KEPT = frozenset({"unas", "unos", "umas"})  # "some" in its language, and not several of "a"


@lru_cache(maxsize=65536)
def fold(word: str) -> str:
    """Lower case and singular, the same for a name in a table and in a text; it need not be good English."""
    word = word.lower()
    if word.endswith(".") and word.count(".") == 1 and len(word) > 1:
        word = word[:-1]
    if word.endswith("'s") and len(word) > 2:  # a folded word is never empty
        word = word[:-2]
    if len(word) < 4 or word in _KEPT or not word.endswith("s") or word.endswith(("ss", "us", "is")):
        return word
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("xes", "ches", "shes", "sses", "oes")):
        return word[:-2]
    return word[:-1]


@dataclass(frozen=True, slots=True)
class Words:
    """The tokens of a message as plain lists: folded form, exact form, bounds in the normalised text.

    A break of line is the folded form "\\n", an empty line "\\n\\n"; an address "<url>".
    """

    norm: list[str]
    text: list[str]
    start: list[int]
    end: list[int]

    def __len__(self) -> int:
        return len(self.norm)

    def translated(self, small: Mapping[str, str]) -> Words:
        """The same words with the small ones of another language as the rules know them."""
        return replace(self, norm=[small.get(word, word) for word in self.norm]) if small else self

    def at(self, index: int) -> str:
        """Folded form, and "" outside the text."""
        if index < 0:
            return ""
        try:
            return self.norm[index]
        except IndexError:  # the rarest case by far, and this is called for every word of every message
            return ""

    def glued(self, index: int) -> bool:
        """Whether no space stands between this token and the one before it."""
        return 0 < index < len(self.norm) and self.end[index - 1] == self.start[index]

    def is_word(self, index: int) -> bool:
        return 0 <= index < len(self.norm) and self.norm[index][:1].isalpha()

    def is_break(self, index: int) -> bool:
        """A line ends here, or the text begins or ends."""
        return not 0 <= index < len(self.norm) or self.norm[index][:1] == "\n"


class NormalisingTokenizer:
    """spaCy's tokenizer on the normalised text; keeps the way back in `doc._.source`."""

    def __init__(self, inner: Tokenizer) -> None:
        self.inner = inner

    def __call__(self, text: str) -> Doc:
        source = normalise(text)
        doc: Doc = self.inner(source.text)
        doc._.source = source
        doc._.words = words_of(doc)
        return doc

    def pieces(self, phrase: str) -> list[str]:
        """The folded words of a phrase of a table."""
        if _PLAIN.match(phrase):
            return [fold(word) for word in phrase.replace("-", " ").split(" ")]
        return words_of(self.inner(normalise(phrase).text)).norm

    def to_disk(self, _path: str | Path, **_: Any) -> None:
        """Nothing to keep: the configuration says it all."""

    def from_disk(self, _path: str | Path, **_: Any) -> NormalisingTokenizer:
        return self

    def to_bytes(self, **_: Any) -> bytes:
        return b""

    def from_bytes(self, _data: bytes, **__: Any) -> NormalisingTokenizer:
        return self


def words_of(doc: Doc) -> Words:
    text, strings = doc.text, doc.vocab.strings
    rows = doc.to_array([NORM, IDX, LENGTH]).tolist()
    start = [int(row[1]) for row in rows]
    end = [int(row[1] + row[2]) for row in rows]
    exact = [text[first:last] for first, last in zip(start, end, strict=True)]
    return Words([strings[row[0]] for row in rows], exact, start, end)


def _norm(text: str) -> str:
    if text.isspace():
        return "\n" if text == "\n" else "\n\n" if "\n" in text else " "
    if _URL.match(text):
        return "<url>"
    return fold(text)


@registry.tokenizers("watchglass.tokenizer.v1")  # type: ignore[untyped-decorator]
def create_tokenizer() -> Any:
    """The factory that the configuration names."""

    def build(nlp: Language) -> NormalisingTokenizer:
        for unused in (SHAPE, PREFIX, SUFFIX):
            nlp.vocab.lex_attr_getters.pop(unused, None)  # type: ignore[attr-defined]
        nlp.vocab.lex_attr_getters[NORM] = _norm  # type: ignore[attr-defined]
        rules = {word: [{"ORTH": word}] for word in _WHOLE}
        return NormalisingTokenizer(
            Tokenizer(
                nlp.vocab,
                rules=rules,
                prefix_search=_PREFIX.search,
                suffix_search=_SUFFIX.search,
                infix_finditer=_INFIX.finditer,
                url_match=_URL.match,
            )
        )

    return build


@lru_cache(maxsize=4096)
def figure(word: str) -> float | None:
    """The value of "12", "1.5", "1,5" or "1,000"; None for anything else and for absurd lengths."""
    if len(word) > 12 or not _DIGIT_MARKS.match(word):
        return None
    whole, comma, rest = word.rpartition(",")
    if comma and "." not in word:
        thousands = len(rest) == 3 and whole.strip("0") != ""
        word = word.replace(",", "") if thousands else f"{whole.replace(',', '')}.{rest}"
    word = word.replace(",", "")
    if "." not in word:
        return float(word)
    head, _, tail = word.rpartition(".")
    return float(f"{head.replace('.', '')}.{tail}")


def register(names: Iterable[tuple[str, object]]) -> None:
    """Declares the places on a Doc where components leave their findings, once a process."""
    for name, default in names:
        if not Doc.has_extension(name):
            Doc.set_extension(name, default=default)


register([("source", Normalised("", range(0), range(0))), ("words", Words([], [], [], []))])
