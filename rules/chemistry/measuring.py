"""One amount as people write it to grams: spoons, drops, pinches, pieces, ounces."""

from __future__ import annotations

import math
from enum import StrEnum
from functools import lru_cache

from rules.catalogue import Phase, Role, Substance
from rules.chemistry.tables import Row, read_table
from rules.interval import Interval
from rules.recipe import Amount, Unit

# Home measures that say no size; the mass they lead to is an estimate.
ROUGH_UNITS = frozenset({Unit.PINCH, Unit.HANDFUL, Unit.SPLASH, Unit.SQUIRT, Unit.SPOONFUL})
POURED_PHASES = frozenset({Phase.WATER, Phase.OIL, Phase.ALCOHOL, Phase.EMULSION, Phase.SURFACTANT, Phase.SOLVENT})
ROOM_CELSIUS = 25.0
LARGEST_QUANTITY = 1e12  # in any unit; more is a slip of the keyboard, or infinite


class Spoons(StrEnum):
    """Whose spoons and cups. A recipe that does not say is read as US customary."""

    US = "us"
    METRIC = "metric"
    AUSTRALIAN = "australian"


class VolumeRow(Row):
    low_ml: float
    best_ml: float
    high_ml: float


class MassRow(Row):
    grams: float


class DensityRow(Row):
    low: float
    best: float
    high: float


@lru_cache(maxsize=1)
def volumes() -> dict[str, Interval]:
    """Millilitres by "standard.unit" and "drop.kind"."""
    rows = read_table("volumes", VolumeRow)
    return {key: Interval(row.low_ml, row.best_ml, row.high_ml) for key, row in rows.items()}


@lru_cache(maxsize=1)
def masses() -> dict[str, float]:
    """Grams by unit."""
    return {key: row.grams for key, row in read_table("masses", MassRow).items()}


@lru_cache(maxsize=1)
def densities() -> dict[str, Interval]:
    """Grams per ml as poured, by phase, for substances of which the catalogue gives none."""
    rows = read_table("densities", DensityRow)
    return {key: Interval(row.low, row.best, row.high) for key, row in rows.items()}


def density_of(substance: Substance | None) -> Interval:
    """Grams per ml as poured into a spoon."""
    if substance is None:
        return densities()["unknown"]
    if substance.density is not None:
        return Interval(*substance.density)
    return densities()[substance.phase.value]


def is_poured(substance: Substance | None) -> bool:
    """Whether "an ounce" of it may be a fluid ounce: a liquid at room temperature, or something unknown."""
    if substance is None:
        return True
    if substance.melts_celsius is not None and substance.melts_celsius > ROOM_CELSIUS:
        return False
    return substance.phase in POURED_PHASES or Role.HUMECTANT in substance.roles


def drop_kind(substance: Substance | None) -> str:
    if substance is None:
        return "essential_oil"
    if Role.ESSENTIAL_OIL in substance.roles or Role.FRAGRANCE in substance.roles:
        return "essential_oil"
    if substance.phase is Phase.OIL:
        return "oil"
    if substance.phase in (Phase.ALCOHOL, Phase.SOLVENT):
        return "alcohol"
    if substance.phase is Phase.SOLUTE and density_of(substance).best > 1.1:
        return "viscous"
    return "watery"


def volume_of_one(unit: Unit, substance: Substance | None, spoons: Spoons = Spoons.US) -> Interval | None:
    """Millilitres of one unit; None where the unit is no volume."""
    table = volumes()
    if unit is Unit.DROP:
        return table[f"drop.{drop_kind(substance)}"]
    return table.get(f"any.{unit.value}") or table.get(f"{spoons.value}.{unit.value}")


def _grams_of_one(unit: Unit, substance: Substance | None, spoons: Spoons, *, by_weight: bool) -> Interval | None:
    if unit is Unit.OZ and is_poured(substance):
        fluid = volumes()[f"{spoons.value}.floz"].times(density_of(substance))
        weighed = Interval.exact(masses()["oz"])
        return weighed.hull(fluid) if by_weight else fluid.hull(weighed)
    if unit.value in masses():
        return Interval.exact(masses()[unit.value])
    if unit is Unit.PIECE:
        return None if substance is None or substance.piece_grams is None else Interval(*substance.piece_grams)
    volume = volume_of_one(unit, substance, spoons)
    return None if volume is None else volume.times(density_of(substance))


def grams_of(
    amount: Amount,
    substance: Substance | None,
    *,
    spoons: Spoons = Spoons.US,
    by_weight: bool = False,
) -> Interval | None:
    """Mass in g; None where the unit gives no mass (parts, percent, pieces of unknown weight, nonsense).

    An ounce of a liquid may be weighed or poured: the interval spans both, `by_weight` (the recipe weighs
    its other ingredients) decides which is the best value. Mass = volume * density as poured (g/ml at room
    temperature).
    """
    quantity = amount.quantity
    if quantity.high > LARGEST_QUANTITY or quantity.best <= 0:
        return None
    one = _grams_of_one(amount.unit or Unit.PIECE, substance, spoons, by_weight=by_weight)
    return None if one is None else quantity.clamped(0, math.inf).times(one)


def is_rough(amount: Amount) -> bool:
    """Whether the mass is a guess at a home measure rather than a reading of it."""
    return amount.estimated or amount.unit in ROUGH_UNITS
