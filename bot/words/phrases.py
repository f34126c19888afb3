"""The phrase tables of one language, and how a phrase is filled."""

from __future__ import annotations

import logging
import string
from collections.abc import Mapping
from functools import lru_cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any

import tomli

log = logging.getLogger(__name__)
HOME = "en"
NAMES = frozenset({"substance", "product", "said"})  # tables of names: English has them from rules/
FORMAT = string.Formatter()


class MissingPhraseError(LookupError):
    """No language has this phrase: a fault of the tables."""

    def __init__(self, table: str, key: str) -> None:
        super().__init__(f"bot/words: no phrase {table}.{key}")


class Phrases:
    """Phrases by table and key. A language that lacks one borrows it from English."""

    def __init__(self, language: str, tables: Mapping[str, Mapping[str, str]], home: Phrases | None) -> None:
        self.language = language
        self._tables = tables
        self._home = home

    def has(self, table: str, key: str) -> bool:
        return key in self._tables.get(table, {}) or (self._home is not None and self._home.has(table, key))

    def raw(self, table: str, key: str) -> str:
        """The phrase with its gaps open. Raises MissingPhraseError."""
        phrase = self._tables.get(table, {}).get(key)
        if phrase is not None:
            return phrase
        if self._home is None:
            raise MissingPhraseError(table, key)
        return self._home.raw(table, key)

    def say(self, table: str, key: str, **facts: Any) -> str:
        """The phrase with its gaps filled. Raises MissingPhraseError, or KeyError for a gap without a
        fact."""
        return self.raw(table, key).format(**facts)

    def word(self, table: str, key: str) -> str:
        """A single word of a list; the key itself, made readable, where the list lacks it."""
        return self.raw(table, key) if self.has(table, key) else key.replace("_", " ")

    def word_of(self, text: str) -> str:
        """A fixed text of rules/ in this language; the text itself where the language has no other."""
        return self.raw("said", text) if self.has("said", text) else text

    def try_say(self, table: str, key: str, facts: Mapping[str, Any]) -> str | None:
        """Like `say`, but None where phrase or fact is missing; the caller has a plainer sentence."""
        if not self.has(table, key):
            return None
        try:
            return self.raw(table, key).format(**facts)
        except (KeyError, IndexError, ValueError, AttributeError, TypeError) as error:
            log.warning("phrase %s.%s could not be filled: %s", table, key, error)
            return None

    @property
    def mark(self) -> str:
        """The decimal mark."""
        return self._tables.get("figure", {}).get("mark", ".")

    @property
    def tables(self) -> Mapping[str, Mapping[str, str]]:
        """The tables of this language alone."""
        return self._tables


def gaps(phrase: str) -> frozenset[str]:
    """The names of the gaps in a phrase. Raises ValueError where braces do not match."""
    return frozenset(name.split(".")[0].split("[")[0] for _, name, _, _ in FORMAT.parse(phrase) if name)


@lru_cache(maxsize=1)
def languages() -> tuple[str, ...]:
    """Languages that have a folder with tables, English first."""
    found = {entry.name for entry in files("bot.words").iterdir() if entry.is_dir() and _tables_in(entry)}
    return (HOME, *sorted(found - {HOME}))


@lru_cache(maxsize=64)  # the platform names some thirty languages
def load_phrases(language: str = HOME) -> Phrases:
    """The phrases of a language; English where we have no tables for it. Raises ValueError for a faulty table."""
    if language not in languages():
        return load_phrases(HOME)
    tables: dict[str, Mapping[str, str]] = {}
    for file in _tables_in(files("bot.words").joinpath(language)):
        for name, table in tomli.loads(file.read_text("utf-8")).items():
            if name in tables:
                raise ValueError(f"bot/words/{language}/{file.name}: table [{name}] stands in another file too")
            tables[name] = table
    return Phrases(language, tables, None if language == HOME else load_phrases(HOME))


def _tables_in(folder: Traversable) -> list[Traversable]:
    return sorted((file for file in folder.iterdir() if file.name.endswith(".toml")), key=lambda file: file.name)
