"""Single numbers that decide, each with its source."""

from __future__ import annotations

from functools import lru_cache

from rules.chemistry.tables import Row, read_table


class ThresholdRow(Row):
    value: float


@lru_cache(maxsize=1)
def _rows() -> dict[str, ThresholdRow]:
    return read_table("thresholds", ThresholdRow)


def threshold(name: str) -> float:
    """KeyError for a name that no row has: a fault of the caller, not of the data."""
    return _rows()[name].value


def source_of(name: str) -> str:
    return _rows()[name].source
