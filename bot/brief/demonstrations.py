"""The table of demonstrations for the camera: one a hazard, and one for a sound recipe."""

from __future__ import annotations

from functools import lru_cache
from importlib.resources import files

import tomli
from pydantic import Field

from rules.assessment import Hazard
from rules.recipe import Frozen
from rules.sources import load_sources

SOUND = "sound"


class Demonstration(Frozen):
    """`hazard` is a hazard's id or "sound"; `mechanism` is what happens, `care` what may go wrong on the bench."""

    hazard: str
    mechanism: str = Field(min_length=1)
    title: str = Field(min_length=1)
    needs: tuple[str, ...] = Field(min_length=1)
    steps: tuple[str, ...] = Field(min_length=1)
    shows: str = Field(min_length=1)
    care: str = Field(min_length=1)
    source: str


@lru_cache(maxsize=1)
def load_demonstrations() -> dict[str, Demonstration]:
    """By hazard. Raises ValueError where a hazard has none or two, or a source is unknown."""
    text = files("bot.brief").joinpath("demonstrations.toml").read_text("utf-8")
    rows = [Demonstration.model_validate(row) for row in tomli.loads(text)["demonstration"]]
    found = {row.hazard: row for row in rows}
    wanted = {hazard.value for hazard in Hazard} | {SOUND}
    if len(found) != len(rows) or set(found) != wanted:
        raise ValueError(f"demonstrations.toml: one row a hazard, please: {sorted(wanted ^ set(found))}")
    if unknown := {row.source for row in rows} - set(load_sources()):
        raise ValueError(f"demonstrations.toml: unknown sources {sorted(unknown)}")
    return found
