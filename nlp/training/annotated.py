"""The annotated corpus: hand-written mark-up in, text with exact character spans out (corpus/README.md)."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from enum import StrEnum
from fractions import Fraction
from importlib.resources import files

from nlp.reading import Emergency, Kind
from rules.recipe import Contact, Frozen, Site, Unit

LANGUAGES = {"es": "es", "pt": "pt", "fr": "fr", "xx": "other"}  # as a header writes them: as a reading does
_HEADER = re.compile(r"^=== (.+)$", re.M)
_NUMBER = r"(?:\d+ )?\d+/\d+|\d+(?:\.\d+)?"
_AMOUNT = re.compile(rf"(?P<low>-|{_NUMBER})(?:-(?P<high>{_NUMBER}))?(?: (?P<unit>[a-z]+))?")


class CorpusError(ValueError):
    """Mark-up that breaks the notation; says where."""


class Split(StrEnum):
    TRAIN = "train"
    DEV = "dev"
    TEST = "test"


class Gold(Frozen):
    """One ingredient as labelled. `figures` is low and high as written, None where no figure is given."""

    name: str
    span: tuple[int, int]
    figures: tuple[float, float] | None = None
    unit: Unit | None = None
    optional: bool = False
    group: str | None = None
    recipe: int = 1


class Message(Frozen):
    """One annotated message; `golds` spans are offsets in `text`."""

    id: str
    family: str
    kind: Kind
    text: str
    language: str = "en"
    product: str | None = None
    sites: tuple[Site, ...] = ()
    contact: Contact | None = None
    emergency: Emergency | None = None
    golds: tuple[Gold, ...] = ()

    @property
    def split(self) -> Split:
        return split_of(self.family)


def split_of(family: str) -> Split:
    """About 60 / 20 / 20, fixed by the family's name alone."""
    place = int(hashlib.sha256(family.encode()).hexdigest()[:8], 16) % 100
    return Split.TRAIN if place < 60 else Split.DEV if place < 80 else Split.TEST


def escape(text: str, inside: bool) -> str:
    """Text as it must be written in the mark-up, inside or outside an ingredient's brackets."""
    return re.sub(r"[\\\[\]|]" if inside else r"[\\\[]", lambda m: "\\" + m[0], text)


def strip_markup(marked: str) -> tuple[str, tuple[Gold, ...]]:
    """The message without its mark-up, and its ingredients. Raises CorpusError."""
    text: list[str] = []
    golds: list[Gold] = []
    length = at = 0
    while at < len(marked):
        if marked[at] == "[":
            fields, at = _bracket(marked, at + 1)
            golds.append(_gold(fields, length))
            piece = fields[0]
        else:
            at += marked[at] == "\\"
            if at == len(marked):
                raise CorpusError("the text ends in an escape")
            piece = marked[at]
            at += 1
        text.append(piece)
        length += len(piece)
    return "".join(text), tuple(golds)


def _bracket(marked: str, at: int) -> tuple[list[str], int]:
    """The fields of the bracket whose content starts at `at`, and where the text goes on."""
    fields = [""]
    while at < len(marked):
        letter = marked[at]
        if letter == "]":
            return fields, at + 1
        if letter == "|":
            fields.append("")
        elif letter == "[":
            raise CorpusError(f"a bracket opens inside {fields[0]!r}")
        else:
            at += letter == "\\"
            fields[-1] += marked[at : at + 1]
        at += 1
    raise CorpusError(f"no closing bracket after {fields[0]!r}")


def _gold(fields: list[str], start: int) -> Gold:
    name, amount, *flags = [*fields, ""] if len(fields) == 1 else fields
    if not name or name != name.strip():
        raise CorpusError(f"an ingredient's name is empty or has blanks around it: {name!r}")
    figures, unit = parse_amount(amount)
    group, recipe = None, 1
    for flag in flags:
        if flag.startswith("alt=") and len(flag) > 4:
            group = flag[4:]
        elif re.fullmatch(r"r[2-9]", flag):
            recipe = int(flag[1])
        elif flag != "opt":
            raise CorpusError(f"unknown flag {flag!r} at {name!r}")
    span = (start, start + len(name))
    return Gold(name=name, span=span, figures=figures, unit=unit, optional="opt" in flags, group=group, recipe=recipe)


def parse_amount(written: str) -> tuple[tuple[float, float] | None, Unit | None]:
    """`1 1/2 cup`, `10-15 drop`, `- drop`, `2`, `-` or nothing. Raises CorpusError."""
    if not written:
        return None, None
    match = _AMOUNT.fullmatch(written)
    try:
        unit = Unit(match["unit"]) if match and match["unit"] else None
    except ValueError:
        match = None
    if match is None or (match["low"] == "-" and match["high"]):
        raise CorpusError(f"not an amount: {written!r}")
    if match["low"] == "-":
        return None, unit
    low = _number(match["low"])
    return (low, _number(match["high"]) if match["high"] else low), unit


def _number(written: str) -> float:
    return float(sum(Fraction(part) for part in written.split()))


def parse_file(source: str, stem: str) -> Iterator[Message]:
    """The messages of a file, numbered after its name. Raises CorpusError with the line of the header."""
    heads = list(_HEADER.finditer(source))
    for number, head in enumerate(heads, 1):
        end = heads[number].start() if number < len(heads) else len(source)
        try:
            yield _message(f"{stem}-{number:03}", head[1].split(), source[head.end() : end].strip("\n"))
        except ValueError as fault:
            line = source.count("\n", 0, head.start()) + 1
            raise CorpusError(f"{stem}, line {line}: {fault}") from fault


def _message(name: str, head: list[str], marked: str) -> Message:
    language = LANGUAGES[head.pop()] if head[-1] in LANGUAGES else "en"
    family, kind, *rest = head
    text, golds = strip_markup(marked)
    about: dict[str, object] = {}
    if kind == Kind.RECIPE:
        product, sites, contact = rest
        about = {
            "product": None if product == "-" else product,
            "sites": () if sites == "-" else tuple(sites.split(",")),
            "contact": None if contact == "-" else contact,
        }
    elif kind == Kind.URGENT:
        (about["emergency"],) = rest
    elif rest:
        raise CorpusError(f"{kind} takes no {' '.join(rest)}")
    return Message.model_validate(
        {
            "id": name,
            "family": family,
            "kind": kind,
            "text": text,
            "language": language,
            "golds": golds,
            **about,
        }
    )


def load_corpus(split: Split | None = None) -> tuple[Message, ...]:
    """Every message of the corpus, or of one part of it, in the order of the files' names."""
    folder = files("nlp.training").joinpath("corpus")
    sources = sorted((f for f in folder.iterdir() if f.name.endswith(".txt")), key=lambda f: f.name)
    messages = [m for f in sources for m in parse_file(f.read_text("utf-8"), f.name.removesuffix(".txt"))]
    return tuple(m for m in messages if split is None or m.split is split)
