"""From the findings on a Doc to the frozen Reading."""

from __future__ import annotations

from spacy.tokens import Doc

from nlp.asking import asked
from nlp.components.context import Context
from nlp.draft import Entry
from nlp.language import OTHER
from nlp.normalise import Normalised
from nlp.reading import Emergency, Kind, Note, Reading
from nlp.tokens import Words
from rules.recipe import Line, Recipe

_WITH_RECIPE = frozenset({Kind.RECIPE, Kind.CORRECTION})


def reading_of(doc: Doc, text: str) -> Reading:
    kind: Kind = doc._.kind
    recipes = _recipes(doc, text) if kind in _WITH_RECIPE else ()
    emergency: Emergency | None = doc._.emergency if kind is Kind.URGENT else None
    return Reading(
        text=text,
        language=doc._.language,
        kind=kind,
        recipes=recipes,
        question=asked(doc) if kind is Kind.QUESTION else None,
        emergency=emergency,
        infant=doc._.infant,
        notes=_notes(doc, recipes),
    )


def _recipes(doc: Doc, text: str) -> tuple[Recipe, ...]:
    return tuple(
        _recipe(doc, text, part, context) for part, context in zip(doc._.recipes, doc._.contexts, strict=False)
    )


def _recipe(doc: Doc, text: str, part: list[Entry], context: Context) -> Recipe:
    source: Normalised = doc._.source
    words: Words = doc._.words
    index = {id(entry): place for place, entry in enumerate(part)}
    return Recipe(
        lines=tuple(_line(entry, index, words, source, text) for entry in part),
        product=context.product,
        sites=context.sites,
        contact=context.contact,
        keeping=context.keeping,
        claims=context.claims,
        circumstances=context.circumstances,
        guessed=context.guessed,
        aside=doc._.aside,
    )


def _line(entry: Entry, index: dict[int, int], words: Words, source: Normalised, text: str) -> Line:
    span = source.original(words.start[entry.start], words.end[entry.end - 1])
    first, last = entry.start, entry.end
    if entry.measure is not None and entry.measure.end <= entry.start and entry.start - entry.measure.end < 12:
        first = entry.measure.start
    elif entry.measure is not None and 0 <= entry.measure.start - entry.end < 12:
        last = entry.measure.end
    begin, end = source.original(words.start[first], words.end[last - 1])
    return Line(
        as_written=text[begin:end],
        name=text[span[0] : span[1]],
        span=span,
        substance=entry.mention.substance,
        amount=entry.measure.amount() if entry.measure else None,
        optional=entry.optional,
        qualities=entry.qualities,
        alternative_of=index.get(id(entry.head)) if entry.head else None,
        strength=entry.strength,
    )


def _notes(doc: Doc, recipes: tuple[Recipe, ...]) -> frozenset[Note]:
    notes = set()
    if doc._.language == OTHER:
        notes.add(Note.UNKNOWN_LANGUAGE)
    if any(recipe.guessed for recipe in recipes):
        notes.add(Note.USE_GUESSED)
    if len(recipes) > 1:
        notes.add(Note.SEVERAL_RECIPES)
    lines = [line for recipe in recipes for line in recipe.lines]
    if any(line.amount is not None and line.amount.quantity.best <= 0 for line in lines):
        notes.add(Note.AMOUNT_UNCLEAR)
    if any(line.substance is None for line in lines):
        notes.add(Note.UNKNOWN_INGREDIENT)
    if any(line.alternative_of is not None for line in lines):
        notes.add(Note.CHOICE)
    return frozenset(notes)
