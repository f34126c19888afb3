"""Loads the law tables; every fault of every table is reported at once, with file and line."""

from __future__ import annotations

import csv
from collections.abc import Iterable
from importlib.resources import files
from typing import Any, Protocol, TypeVar

from pydantic import BaseModel, ValidationError

from rules.catalogue import Catalogue
from rules.sources import Source


class LawError(ValueError):
    """The law tables do not hold together. `faults` has one line a fault."""

    def __init__(self, faults: list[str]) -> None:
        self.faults = faults
        super().__init__("the law tables have faults:\n" + "\n".join(faults))


class Keyed(Protocol):
    @property
    def substance(self) -> str: ...

    @property
    def source(self) -> str: ...

    @property
    def key(self) -> tuple[str, ...]: ...


RowType = TypeVar("RowType", bound=BaseModel)


def read_text(name: str) -> str:
    return files("rules.law").joinpath(f"{name}.csv").read_text("utf-8")


def parse(name: str, text: str, model: type[RowType]) -> tuple[list[RowType], list[str]]:
    """Rows of one CSV table and its faults; an empty cell takes the field's default."""
    rows: list[RowType] = []
    faults: list[str] = []
    for number, cells in enumerate(csv.DictReader(text.splitlines()), start=2):
        known: dict[str, Any] = {key: cell for key, cell in cells.items() if cell}
        try:
            rows.append(model.model_validate(known))
        except ValidationError as error:
            faults += [f"{name}.csv line {number}: {'.'.join(map(str, e['loc']))}: {e['msg']}" for e in error.errors()]
    return rows, faults


def cross_check(name: str, rows: Iterable[Keyed], catalogue: Catalogue, sources: dict[str, Source]) -> list[str]:
    """Unknown substances and sources, repeated keys, unsorted rows."""
    faults = []
    last: tuple[str, ...] = ()
    for row in rows:
        label = f"{name}.csv {'/'.join(row.key)}"
        if row.substance not in catalogue:
            faults.append(f"{label}: the substance is in no catalogue table")
        if row.source not in sources:
            faults.append(f"{label}: the source {row.source!r} is not in sources.toml")
        if row.key == last:
            faults.append(f"{label}: stands twice")
        elif row.key < last:
            faults.append(f"{label}: rows must be sorted; it stands after {'/'.join(last)}")
        last = row.key
    return faults
