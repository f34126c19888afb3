"""The words of one language, as tables beside the code: numbers, units, classes of words, phrases."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any

import tomli

from nlp.tokens import fold
from rules.recipe import Unit

ENGLISH = "en"
LANGUAGES = ("en", "es", "pt", "fr")


@dataclass(frozen=True, slots=True)
class Lexicon:
    """All keys are folded words; unit names of several words are joined by one space.

    small: small words of the language and the English words that stand for them in all other keys.
    names, products: names by id, for other languages than English.

    whole, part: values of number words. vague: low, best, high of words that name no figure.
    exact: units of which the case matters. words: classes of words ("grade", "tool", ...).
    starters: words without a figure that an amount can begin with. cues: phrases by label
    ("site.lips", "line.optional", ...).
    """

    language: str
    small: Mapping[str, str]
    names: Mapping[str, tuple[str, ...]]
    products: Mapping[str, tuple[str, ...]]
    whole: Mapping[str, float]
    part: Mapping[str, float]
    vague: Mapping[str, tuple[float, float, float]]
    exact: Mapping[str, Unit]
    units: Mapping[str, Unit]
    unit_lengths: Mapping[str, tuple[int, ...]]
    other_units: frozenset[str]
    modifiers: frozenset[str]
    words: Mapping[str, frozenset[str]]
    starters: frozenset[str]
    cues: Mapping[str, tuple[str, ...]]


def _table(language: str, name: str) -> dict[str, Any]:
    path = files("nlp").joinpath("data", language, f"{name}.toml")
    return tomli.loads(path.read_text("utf-8")) if path.is_file() else {}


def _folded(phrase: str, small: Mapping[str, str]) -> str:
    words = (fold(word) for word in phrase.split())
    return " ".join(small.get(word, word) for word in words)


@lru_cache(maxsize=8)
def load_lexicon(language: str) -> Lexicon:
    """Reads the tables of `language`; what the rules know in English only comes from there."""
    small = {fold(word): pivot for pivot, words in _table(language, "small").items() for word in words.split()}
    numbers, units, words = _numbers(language), _units(language, small), _words(language, small)
    cues = _table(language, "cues") | _table(language, "asking")
    return Lexicon(
        language=language,
        small=small,
        names=_names(language, "names"),
        products=_names(language, "products"),
        whole={fold(word): float(value) for word, value in numbers["whole"].items()},
        part={fold(word): float(value) for word, value in numbers["part"].items()},
        vague={fold(word): (float(a), float(b), float(c)) for word, (a, b, c) in numbers["vague"].items()},
        exact={word: Unit(unit) for word, unit in _table(language, "units")["exact"].items()},
        units=units,
        unit_lengths=_lengths(units),
        other_units=_unit_class(language, "other", small),
        modifiers=_unit_class(language, "modifiers", small),
        words=words,
        starters=frozenset(
            {fold(word) for name in ("whole", "part", "vague") for word in numbers[name]}
            | {key.split(" ", 1)[0] for key in units}
            | {"equal", "same", "twice", "triple", "tiny", "little", "wee", "a"}
        ),
        cues={
            f"{group}.{label}": tuple(phrases) for group, labels in cues.items() for label, phrases in labels.items()
        },
    )


def _numbers(language: str) -> dict[str, Any]:
    """Numbers are known in English; `small` leads the words of another language there."""
    english, own = _table(ENGLISH, "numbers"), _table(language, "numbers")
    return {name: english[name] | own.get(name, {}) for name in english}


def _units(language: str, small: Mapping[str, str]) -> dict[str, Unit]:
    """Later rows win: the own words of a language over English ones."""
    return {
        _folded(word, small): Unit(unit)
        for source in dict.fromkeys((ENGLISH, language))
        for unit, forms in _table(source, "units")["words"].items()
        for word in forms
    }


def _lengths(units: Mapping[str, Unit]) -> dict[str, tuple[int, ...]]:
    lengths: dict[str, set[int]] = {}
    for key in units:
        parts = key.split(" ")
        lengths.setdefault(parts[0], set()).add(len(parts))
    return {first: tuple(sorted(found, reverse=True)) for first, found in lengths.items()}


def _unit_class(language: str, name: str, small: Mapping[str, str]) -> frozenset[str]:
    sources = dict.fromkeys((ENGLISH, language))
    return frozenset(_folded(word, small) for source in sources for word in _table(source, "units")[name]["words"])


def _words(language: str, small: Mapping[str, str]) -> dict[str, frozenset[str]]:
    english, own = _table(ENGLISH, "words") | _table(ENGLISH, "strangers"), _table(language, "words")
    return {
        name: frozenset(fold(word) for word in english[name].split())
        | frozenset(_folded(word, small) for word in own.get(name, "").split())
        for name in english
    }


def _names(language: str, table: str) -> dict[str, tuple[str, ...]]:
    rows = {} if language == ENGLISH else _table(language, table).get("names", {})
    return {name_id: tuple(names) for name_id, names in rows.items()}
