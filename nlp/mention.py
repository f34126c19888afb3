"""A place in the text that names a substance, known or not."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Found(Enum):
    """How a mention was found, the surest first."""

    NAME = "name"  # a name of the catalogue
    BARE = "bare"  # "lavender" where the catalogue has the oil only; counts where the words around say so
    SPELLING = "spelling"  # a name of the catalogue, misspelt
    UNKNOWN = "unknown"  # the words beside an amount or a bullet


@dataclass(frozen=True, slots=True)
class Mention:
    """Tokens start..end name the substance with this id, or something unknown (None)."""

    start: int
    end: int
    substance: str | None
    found: Found = Found.NAME
    generic: bool = False
