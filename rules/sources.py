"""The sources that tables and findings name, each once."""

from __future__ import annotations

from enum import StrEnum
from functools import lru_cache
from importlib.resources import files

import tomli

from rules.assessment import Basis
from rules.catalogue.substance import Id
from rules.recipe import Frozen


class Checked(StrEnum):
    """How we know what the source says; only READ may carry the strongest verdict."""

    READ = "read"
    MEMORY = "memory"


class Source(Frozen):
    """`address` is empty where nothing can be opened (common practice, our own computation)."""

    id: Id
    title: str
    publisher: str
    year: int
    address: str
    basis: Basis
    checked: Checked

    @property
    def carries_avoid(self) -> bool:
        """Whether a row with this source may alone cause the strongest verdict."""
        return self.checked is Checked.READ and self.basis not in (Basis.COMMON_PRACTICE, Basis.DRAFT)


@lru_cache(maxsize=1)
def load_sources() -> dict[str, Source]:
    """Sources by id. Raises pydantic.ValidationError for a faulty row, ValueError for a repeated id."""
    rows = tomli.loads(files("rules").joinpath("sources.toml").read_text("utf-8"))["source"]
    sources = {row["id"]: Source.model_validate(row) for row in rows}
    if len(sources) != len(rows):
        raise ValueError("sources.toml: an id stands twice")
    return sources
