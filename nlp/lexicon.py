"""The words of one language, as tables beside the code: numbers, units, classes of words, phrases."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files

from nlp.tokens import fold
from rules.recipe import Unit

LANGUAGES = ("en",)


@dataclass(frozen=True, slots=True)
class Lexicon:
    """All keys are folded words; unit names of several words are joined by one space.

    whole, part: values of number words. vague: low, best, high of words that name no figure.
    exact: units of which the case matters. words: classes of words ("grade", "tool", ...).
    starters: words without a figure that an amount can begin with. cues: phrases by label ("site.lips", "line.optional", ...).
    """

    language: str
    whole: Mapping[str, float]
    part: Mapping[str, float]
    vague: Mapping[str, tuple[float, float, float]]
    exact: Mapping[str, Unit]
    units: Mapping[str, Unit]
    other_units: frozenset[str]
    modifiers: frozenset[str]
    words: Mapping[str, frozenset[str]]
    starters: frozenset[str]
    cues: Mapping[str, tuple[str, ...]]


def _table(language: str, name: str) -> dict[str, dict[str, object]]:
    return tomllib.loads(files("nlp").joinpath("data", language, f"{name}.toml").read_text("utf-8"))


def _folded(phrase: str) -> str:
    return " ".join(fold(word) for word in phrase.split())


@lru_cache(maxsize=8)
def load_lexicon(language: str) -> Lexicon:
    """Reads the tables of `language`. Raises ValueError where a unit word has two meanings."""
    numbers: dict = _table(language, "numbers")  # type: ignore[type-arg]
    units: dict = _table(language, "units")  # type: ignore[type-arg]
    words: dict = _table(language, "words")  # type: ignore[type-arg]
    cues: dict = _table(language, "cues") | _table(language, "urgent")  # type: ignore[type-arg]
    return Lexicon(
        language=language,
        whole={fold(word): float(value) for word, value in numbers["whole"].items()},
        part={fold(word): float(value) for word, value in numbers["part"].items()},
        vague={fold(word): (float(a), float(b), float(c)) for word, (a, b, c) in numbers["vague"].items()},
        exact={word: Unit(unit) for word, unit in units["exact"].items()},
        units={_folded(word): Unit(unit) for unit, forms in units["words"].items() for word in forms},
        other_units=frozenset(fold(word) for word in units["other"]["words"]),
        modifiers=frozenset(fold(word) for word in units["modifiers"]["words"]),
        starters=frozenset(
            {fold(word) for name in ("whole", "part", "vague") for word in numbers[name]}
            | {fold(form.split()[0]) for forms in units["words"].values() for form in forms}
            | {"equal", "same", "tiny", "little", "wee"}
        ),
        words={name: frozenset(fold(word) for word in text.split()) for name, text in words.items()},
        cues={
            f"{group}.{label}": tuple(phrases)
            for group, labels in cues.items()
            for label, phrases in labels.items()
        },
    )
