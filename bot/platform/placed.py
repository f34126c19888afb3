"""The place that was chosen from the list under a reply: kept as a line of words, read as what it is."""

from __future__ import annotations

from functools import lru_cache

from bot.triage import Reads
from bot.words.phrases import languages, load_phrases
from nlp.reading import Note, Reading
from rules.recipe import Site


def place_line(place: Site, language: str) -> str:
    words = load_phrases(language)
    return "\n" + words.say("platform", "place_said", place=words.raw("site", place))


@lru_cache(maxsize=1)
def _lines() -> dict[str, Site]:
    return {place_line(place, language): place for language in languages() for place in Site}


def without_place(text: str) -> tuple[str, Site | None]:
    """The words themselves, and the place that was chosen, in whichever language that was said."""
    before, mark, last = text.rpartition("\n")
    place = _lines().get(mark + last) if mark else None
    return (text, None) if place is None else (before, place)


class PlacedReader:
    """Reads the words, and puts the chosen place over whatever they say of it."""

    def __init__(self, reader: Reads) -> None:
        self._reader = reader

    def read(self, text: str) -> Reading:
        words, place = without_place(text)
        if place is None:
            return self._reader.read(text)
        reading = self._reader.read(words)
        question = reading.question
        return reading.model_copy(
            update={
                "notes": reading.notes | {Note.ANSWERED},
                "recipes": tuple(recipe.model_copy(update={"sites": (place,)}) for recipe in reading.recipes),
                "question": question and question.model_copy(update={"sites": (place,)}),
            }
        )
