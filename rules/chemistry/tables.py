"""Loads the tables of this package; every row is validated and names its source."""

from __future__ import annotations

import csv
from enum import StrEnum
from importlib.resources import files
from typing import TypeVar

from pydantic import ConfigDict, ValidationError

from rules.recipe import Frozen


class Standing(StrEnum):
    """How well a row is founded. MEMORY and COMMON_PRACTICE never carry the strongest verdict alone."""

    READ = "read"
    MEMORY = "memory"
    COMMON_PRACTICE = "common_practice"
    DEFINITION = "definition"
    COMPUTED = "computed"


class Row(Frozen):
    """What every row of every table has. Its validator is built when a table is first read, not on import."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    id: str
    source: str
    basis: Standing


AnyRow = TypeVar("AnyRow", bound=Row)


class TableError(ValueError):
    """A table does not hold together. `faults` has one line a fault."""

    def __init__(self, table: str, faults: list[str]) -> None:
        self.faults = faults
        super().__init__(f"{table} has faults:\n" + "\n".join(faults))


def read_table(name: str, row_model: type[AnyRow]) -> dict[str, AnyRow]:
    """Rows of `name`.csv beside this file, by id. Raises TableError with all faults."""
    text = files("rules.chemistry").joinpath(f"{name}.csv").read_text("utf-8")
    return parse_table(f"{name}.csv", text, row_model)


def parse_table(name: str, text: str, row_model: type[AnyRow]) -> dict[str, AnyRow]:
    rows: dict[str, AnyRow] = {}
    faults: list[str] = []
    for number, cells in enumerate(csv.DictReader(text.splitlines()), start=2):
        try:
            row = row_model.model_validate({key: cell for key, cell in cells.items() if cell})
        except ValidationError as error:
            faults += [f"line {number}: {'.'.join(map(str, e['loc']))}: {e['msg']}" for e in error.errors()]
            continue
        if row.id in rows:
            faults.append(f"line {number}: the id {row.id!r} stands twice")
        if not row.source.strip():
            faults.append(f"line {number}: no source")
        rows[row.id] = row
    if faults:
        raise TableError(name, faults)
    return rows
