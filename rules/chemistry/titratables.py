"""What takes up or gives off protons: a table for the common ones, the catalogue's pKa for the rest."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache

from pydantic import field_validator

from rules.catalogue import Catalogue, Role, Substance
from rules.chemistry.charge_balance import Weak, fractions
from rules.chemistry.tables import Row, read_table
from rules.interval import Interval

BICARBONATE_PKA = 6.35  # an acid group weaker than this does not drive carbon dioxide out


class TitratableRow(Row):
    """Of one mole: acid molecules set free (borax 4), charge of the inert ions, protons that bicarbonate
    takes.

    molar_mass g/mol; top_charge: charge of the most protonated form; limit: solubility, g in a g of water.
    """

    molar_mass: float
    units: int
    pkas: tuple[float, ...] = ()
    top_charge: int
    strong_charge: int
    protons: int
    limit_grams_per_gram: float | None = None

    @field_validator("pkas", mode="before")
    @classmethod
    def _split(cls, value: object) -> object:
        return tuple(value.split("/")) if isinstance(value, str) else value


@dataclass(frozen=True, slots=True)
class Titratable:
    """One titratable part of a recipe. `share` is w/w % of the whole."""

    share: Interval
    molar_mass: float
    units: int
    pkas: tuple[float, ...]
    top_charge: int
    strong_charge: int
    protons: int
    limit: float | None

    def molality(self, percent: float, water: float, *, eaten: float = 0.0) -> float:
        """mol per kg of water, both in w/w %; no more than dissolves and what a reaction eats (mol/kg)."""
        whole = 1000 * percent / self.molar_mass / water
        return whole if self.limit is None else min(whole, 1000 * self.limit / self.molar_mass + eaten)


@lru_cache(maxsize=1)
def titratable_rows() -> dict[str, TitratableRow]:
    return read_table("titratables", TitratableRow)


def titratables_in(parts: Mapping[str, Interval], catalogue: Catalogue) -> dict[str, Titratable]:
    """All titratable parts by id."""
    found = {}
    for part, share in parts.items():
        row = titratable_rows().get(part)
        if row is not None:
            found[part] = Titratable(
                share, row.molar_mass, row.units, row.pkas, row.top_charge, row.strong_charge, row.protons,
                row.limit_grams_per_gram,
            )  # fmt: skip
            continue
        substance = catalogue.get(part)
        if substance is not None and substance.pka and substance.molar_mass is not None:
            guess = _from_catalogue(substance, share, substance.molar_mass)
            if guess is not None:
                found[part] = guess
    return found


def _from_catalogue(substance: Substance, share: Interval, molar_mass: float) -> Titratable | None:
    """An acid or an amine by its catalogue row; salts need a row of their own, for their inert ion."""
    if Role.ACID in substance.roles:
        protons = sum(1 for pka in substance.pka if pka < BICARBONATE_PKA)
        return Titratable(share, molar_mass, 1, substance.pka, 0, 0, protons, None)
    if Role.ALKALI in substance.roles and len(substance.pka) == 1:
        return Titratable(share, molar_mass, 1, substance.pka, 1, 0, 0, None)
    return None


def inert_charge(ph: float, weak: Iterable[Weak]) -> float:
    """Cations, mol/kg of water, that hold these acids at this pH: the potassium of a juice. Never below 0."""
    negative = 10 ** (ph - 14) - 10**-ph
    for acid in weak:
        shares = fractions(ph, acid.pkas, acid.top_charge, 0.0)
        negative -= acid.molality * sum((acid.top_charge - lost) * share for lost, share in enumerate(shares))
    return max(0.0, negative)
