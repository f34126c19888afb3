"""Whom to call, by region: a table beside this file with a source on every row."""

from __future__ import annotations

from functools import lru_cache
from importlib.resources import files

import tomli

from rules.assessment import Jurisdiction
from rules.recipe import Frozen


class HelpLine(Frozen):
    """`poison` is empty where the region has no single number."""

    emergency: str
    poison: str
    source: str
    address: str


@lru_cache(maxsize=1)
def load_help_lines() -> dict[Jurisdiction, HelpLine]:
    """Raises pydantic.ValidationError for a faulty row, ValueError where a region has none."""
    rows = tomli.loads(files("bot.words").joinpath("help_lines.toml").read_text("utf-8"))
    lines = {Jurisdiction(region): HelpLine.model_validate(row) for region, row in rows.items()}
    missing = [region.value for region in Jurisdiction if region not in lines]
    if missing:
        raise ValueError(f"help_lines.toml: no row for {', '.join(missing)}")
    return lines
