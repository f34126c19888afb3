"""Reads and validates the substance tables; every fault is reported at once, with file and id."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from importlib.resources import files

import tomli
from pydantic import ValidationError

from rules.catalogue.substance import Substance


class CatalogueError(ValueError):
    """The tables do not hold together. `faults` has one line a fault."""

    def __init__(self, faults: list[str]) -> None:
        self.faults = faults
        super().__init__("the substance tables have faults:\n" + "\n".join(faults))


class Catalogue:
    """All substances by id, and the families (file names) that they come from."""

    def __init__(self, substances: Mapping[str, Substance], families: Mapping[str, str]) -> None:
        self._substances = dict(substances)
        self._families = dict(families)

    def __getitem__(self, substance_id: str) -> Substance:
        return self._substances[substance_id]

    def __contains__(self, substance_id: object) -> bool:
        return substance_id in self._substances

    def __iter__(self) -> Iterator[Substance]:
        return iter(self._substances.values())

    def __len__(self) -> int:
        return len(self._substances)

    def get(self, substance_id: str | None) -> Substance | None:
        return None if substance_id is None else self._substances.get(substance_id)

    def family(self, substance_id: str) -> str:
        """The table that holds it: `oils`, `preservatives`, `craft` ..."""
        return self._families[substance_id]


def alias_faults(substances: Mapping[str, Substance]) -> list[str]:
    """Names that would lead to two substances. `name` and `aliases` share one name space.

    An INCI name may be shared ("Aqua" is tap water and thermal water): whoever lists it as an alias owns it.
    """
    owner: dict[str, str] = {}
    faults = []
    for row in substances.values():
        for alias in row.aliases:
            if alias != alias.lower().strip():
                faults.append(f"{row.id}: alias {alias!r} is not lower case and trimmed")
        for alias in sorted({row.name.lower(), *row.aliases}):
            if owner.setdefault(alias, row.id) != row.id:
                faults.append(f"{row.id}: alias {alias!r} already names {owner[alias]}")
    return faults


def _reference_faults(substances: Mapping[str, Substance]) -> list[str]:
    faults = []
    for row in substances.values():
        for part in row.contains:
            if part not in substances:
                faults.append(f"{row.id}: contains {part!r}, which is in no table")
        if row.id in row.contains:
            faults.append(f"{row.id}: contains itself")
        if sum(row.contains.values()) > 1.0001:
            faults.append(f"{row.id}: contains more than the whole")
        for name in ("density", "piece_grams"):
            bounds = getattr(row, name)
            if bounds is not None and not 0 < bounds[0] <= bounds[1] <= bounds[2]:
                faults.append(f"{row.id}: {name} must be low <= best <= high, above zero")
    return faults


def read_tables(tables: Iterable[tuple[str, str]]) -> Catalogue:
    """The catalogue in (family, TOML text) tables. Raises CatalogueError naming every fault of all tables."""
    substances: dict[str, Substance] = {}
    families: dict[str, str] = {}
    faults: list[str] = []
    for family, text in tables:
        try:
            rows = tomli.loads(text).get("substance", ())
        except tomli.TOMLDecodeError as error:
            faults.append(f"{family}.toml: {error}")
            continue
        for row in rows:
            label = f"{family}.toml: {row.get('id', '?')}"
            try:
                substance = Substance.model_validate(row)
            except ValidationError as error:
                faults += [f"{label}: {'.'.join(map(str, e['loc']))}: {e['msg']}" for e in error.errors()]
                continue
            if substance.id in substances:
                faults.append(f"{label}: the id is taken in {families[substance.id]}.toml")
                continue
            substances[substance.id] = substance
            families[substance.id] = family
    faults += alias_faults(substances) + _reference_faults(substances)
    if faults:
        raise CatalogueError(faults)
    return Catalogue(substances, families)


@lru_cache(maxsize=1)
def load_catalogue() -> Catalogue:
    """The tables of this package, in alphabetical order. Raises CatalogueError."""
    tables = (entry for entry in files(__package__).iterdir() if entry.name.endswith(".toml"))
    by_name = sorted(tables, key=lambda table: table.name)
    return read_tables((table.name.removesuffix(".toml"), table.read_text("utf-8")) for table in by_name)
