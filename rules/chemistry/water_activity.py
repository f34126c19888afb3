"""Water activity of the water phase at 25 degrees C."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache

from rules.chemistry.tables import Row, read_table
from rules.interval import Interval

WATER = "water"
WATER_MOLAR_MASS = 18.015
LEAST_WATER_PERCENT = 0.05  # below this there is no water phase to speak of
ALCOHOLS = ("ethanol", "isopropanol")
ALCOHOL_IDEAL_SHARE = 0.10  # w/w of water + alcohol up to which the ideal law is within 0.01 of UNIFAC
SUGARS = frozenset({"sucrose", "glucose", "fructose", "maltose", "lactose"})


class SoluteRow(Row):
    """molar_mass g/mol; norrish_k in natural-log form; a, b, c of a salt; limit = solubility in g per g of
    water."""

    molar_mass: float
    norrish_k: float | None = None
    particles: int
    a: float | None = None
    b: float | None = None
    c: float | None = None
    limit_grams_per_gram: float | None = None
    glycol: bool = False


@dataclass(frozen=True, slots=True)
class Activity:
    value: Interval | None
    statements: tuple[str, ...]


@lru_cache(maxsize=1)
def solutes() -> dict[str, SoluteRow]:
    return read_table("solutes", SoluteRow)


def norrish(water: float, dissolved: Iterable[tuple[float, float]]) -> float:
    """aw of water (mol) with solutes (mol of particles, K).

    Multi-solute Norrish: ln aw = ln Xw - [sum s_i sqrt|K_i| X_i]^2 over K >= 0; a negative K (urea, lactic
    acid) stands outside the square as + |K| X^2. One solute gives Norrish, J. Food Technol. 1 (1966) 25, in
    ln form. Valid to about 70 % w/w of a polyol; RMS 0.005 against Drying Technology 40 (2022) 2404 for 5
    to 70 % glycerol.
    """
    pairs = tuple(dissolved)
    total = water + sum(moles for moles, _ in pairs)
    square = outside = 0.0
    for moles, k in pairs:
        share = moles / total
        if k >= 0:
            square += math.sqrt(k) * share
        else:
            outside -= k * share * share
    return min(1.0, water / total * math.exp(outside - square * square))


def salt_factor(molality: float, a: float, b: float, c: float) -> float:
    """Share of aw that a salt leaves: 1 - m (a + b m + c m^2), m in mol per kg of water.

    Sodium chloride 0 to 6 m and magnesium sulfate 0 to 3 m, RMS 0.0006 against PHREEQC with Pitzer
    parameters.
    """
    return max(0.0, 1 - molality * (a + molality * (b + c * molality)))


def activity_of(grams: Mapping[str, float]) -> float:
    """aw of exact masses (any one unit) of water and solutes by id; ids without a row are taken as
    undissolved."""
    water = grams.get(WATER, 0.0)
    if water <= 0:
        raise ValueError("water activity needs water")
    factor = 1.0
    pairs = []
    for part, mass in grams.items():
        row = solutes().get(part)
        if row is None or mass <= 0:
            continue
        held = _dissolved(part, row, mass, grams)
        if row.a is not None and row.b is not None and row.c is not None:
            factor *= salt_factor(1000 * held / row.molar_mass / water, row.a, row.b, row.c)
        else:
            pairs.append((row.particles * held / row.molar_mass, row.norrish_k or 0.0))
    return factor * norrish(water / WATER_MOLAR_MASS, pairs)


def _dissolved(part: str, row: SoluteRow, mass: float, grams: Mapping[str, float]) -> float:
    """What dissolves of `mass`; sugars share one limit, so honey leaves little room for table sugar."""
    if row.limit_grams_per_gram is None:
        return mass
    room = row.limit_grams_per_gram * grams[WATER]
    if part in SUGARS:
        room -= sum(grams.get(other, 0.0) for other in SUGARS if other != part)
    return min(mass, max(0.0, room))


def error_of(activity: float, *, glycols: bool) -> float:
    """Half width of the error bar: 0.01 above 0.85, 0.02 to 0.75, 0.04 below; glycols 0.03; less when dilute.

    The dilute limit is Raoult's law, exact as aw goes to 1, so the bar shrinks with 1 - aw.
    """
    bar = 0.01 if activity > 0.85 else 0.02 if activity > 0.75 else 0.04
    if glycols:
        bar = max(bar, 0.03)
    return min(bar, 0.002 + 0.3 * (1 - activity))


def water_activity(parts: Mapping[str, Interval]) -> Activity:
    """aw of the water phase from w/w % by substance; None without water. Fats, waxes and pigments stay
    outside.

    The bounds are the driest and the wettest mixture that the amounts allow, and the error bar of the model.
    """
    water = parts.get(WATER)
    if water is None or water.best < LEAST_WATER_PERCENT:
        return Activity(None, ())
    known = {part: share for part, share in parts.items() if part in solutes()}
    low = _extreme(known, water.low, high_solutes=True)
    best = activity_of({WATER: water.best, **{part: share.best for part, share in known.items()}})
    high = _extreme(known, water.high, high_solutes=False)
    said: list[str] = []
    alcohol = sum(known[a].best for a in ALCOHOLS if a in known)
    if alcohol > ALCOHOL_IDEAL_SHARE * (alcohol + water.best):
        # The ideal law is up to 0.15 too low here: a low bound. Without the alcohol: a high bound.
        said.append("alcohol_beyond_water_activity")
        dry = {part: share for part, share in known.items() if part not in ALCOHOLS}
        high = _extreme(dry, water.high, high_solutes=False)
        best = (best + activity_of({WATER: water.best, **{p: s.best for p, s in dry.items()}})) / 2
    if any(_is_saturated(part, share, water) for part, share in known.items()):
        said.append("saturated")
    glycols = any(solutes()[part].glycol and share.best > 0.05 * water.best for part, share in known.items())
    low = min(low, best)
    high = max(high, best)
    bounds = (low - error_of(low, glycols=glycols), best, high + error_of(high, glycols=glycols))
    return Activity(Interval(*bounds).clamped(0, 1), tuple(said))


def _extreme(known: Mapping[str, Interval], water: float, *, high_solutes: bool) -> float:
    if water <= 0:
        return 0.0
    return activity_of({WATER: water, **{p: s.high if high_solutes else s.low for p, s in known.items()}})


def _is_saturated(part: str, share: Interval, water: Interval) -> bool:
    limit = solutes()[part].limit_grams_per_gram
    return limit is not None and share.best > limit * water.best
