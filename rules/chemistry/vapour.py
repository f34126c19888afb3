"""What leaves it: alcohol vapour that burns, gas that bursts a bottle, fumes of a dangerous pair."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from itertools import pairwise

from rules.catalogue import Catalogue, Role
from rules.chemistry.acidity import Acidity
from rules.chemistry.composition import Composition
from rules.chemistry.phases import Phases
from rules.chemistry.results import Vapour
from rules.chemistry.tables import Row, read_table
from rules.chemistry.thresholds import threshold
from rules.interval import Interval

LITRES_PER_MOL = 24.465  # ideal gas at 25 degrees C and 1 atm
HENRY = 10**-1.468  # mol of carbon dioxide per litre of water and atm; from memory
FLASH_ERROR = 4.0  # degrees C; the tables do not say whether percent is by weight or by volume
LEAST_REACTIVE_PERCENT = 0.05
REACTIVE_ROLES = frozenset({Role.ACID, Role.CARBONATE})


class FlashRow(Row):
    alcohol: str
    percent: float
    basis_of_percent: str
    celsius: float


class PairRow(Row):
    """a, b: ids, "|" for or; "role:acid" stands for every substance with that role."""

    a: str
    b: str
    result: str


@lru_cache(maxsize=1)
def flash_rows() -> dict[str, tuple[tuple[float, float], ...]]:
    """(percent, degrees C) by alcohol, rising percent."""
    rows = read_table("flash_points", FlashRow).values()
    kinds = {row.alcohol for row in rows}
    return {kind: tuple(sorted((r.percent, r.celsius) for r in rows if r.alcohol == kind)) for kind in kinds}


@lru_cache(maxsize=1)
def dangerous_pairs() -> dict[str, PairRow]:
    return read_table("dangerous_pairs", PairRow)


def flash_point(alcohol: str, percent: float) -> float | None:
    """Closed-cup flash point in degrees C of `percent` of alcohol in alcohol + water; None below the table
    (5 %).

    Linear between rows, +-4 K. Valid for alcohol and water alone: oils and sugars move it little.
    """
    rows = flash_rows()[alcohol]
    if percent < rows[0][0]:
        return None
    for (left, left_c), (right, right_c) in pairwise(rows):
        if percent <= right:
            return left_c + (right_c - left_c) * (percent - left) / (right - left)
    return rows[-1][1]


def vapour(composition: Composition, phases: Phases, acidity: Acidity, catalogue: Catalogue) -> Vapour:
    """Flash point of the alcohol-water phase, gas of the batch, pairs that must not meet."""
    pairs = _pairs(composition, acidity, catalogue)
    return Vapour(
        flash_point_celsius=_flash(phases),
        alcohol_percent=phases.alcohol,
        gas_litres=_gas(composition, acidity),
        dangerous_pairs=tuple((a, b, row.result) for a, b, row in pairs),
        sources=tuple(dict.fromkeys(row.source for _, _, row in pairs)),
        bottle_atm=_pressure(acidity),
    )


def _flash(phases: Phases) -> Interval | None:
    alcohol = phases.alcohol
    if alcohol.best < 0.5:
        return None
    kind = "ethanol" if phases.ethanol.best >= alcohol.best / 2 else "isopropanol"
    water = phases.water
    shares = [
        100 * a / (a + w) if a + w > 0 else 0.0
        for a, w in (
            (alcohol.low, water.high),
            (alcohol.best, water.best),
            (alcohol.high, water.low),
        )
    ]
    low, best, high = (flash_point(kind, share) for share in shares)
    if best is None or high is None:
        return None
    return Interval(min(high, best) - FLASH_ERROR, best, (low if low is not None else 100.0) + FLASH_ERROR)


def _gas(composition: Composition, acidity: Acidity) -> Interval | None:
    """Litres of CO2 of the batch, of 100 g where its size is unknown; all set free, ideal gas."""
    if acidity.carbon_dioxide.best <= 0:
        return None
    hundreds = composition.total.scaled(0.01) if composition.total is not None else Interval.exact(1)
    return acidity.carbon_dioxide.times(hundreds).scaled(LITRES_PER_MOL)


def bottle_pressure(moles: float, liquid_litres: float, gas_litres: float) -> float:
    """Gauge pressure in atm of carbon dioxide in a closed bottle at 25 degrees C.

    n = P V_gas / (R T) + P K_H V_liquid, K_H = 10^-1.468 mol/(l atm): ideal gas and Henry's law, +-10 %. An
    upper bound: what stays as bicarbonate above pH 5 is counted as gas.
    """
    return moles / (gas_litres / LITRES_PER_MOL + HENRY * liquid_litres)


def _pressure(acidity: Acidity) -> Interval | None:
    """For 100 g of mix, taken as 0.1 l, in a bottle four fifths full."""
    gas = acidity.carbon_dioxide
    if gas.best <= 0:
        return None
    return Interval(*(bottle_pressure(moles, 0.1, 0.025) for moles in (gas.low, gas.best, gas.high)))


def _pairs(composition: Composition, acidity: Acidity, catalogue: Catalogue) -> list[tuple[str, str, PairRow]]:
    """Pairs of the table that are both in the recipe, each as (id, id, row)."""
    present = _present(composition, catalogue)
    found = []
    for row in dangerous_pairs().values():
        left = _first(row.a, present)
        right = _first(row.b, present, but=left) if left is not None else None
        if left is None or right is None:
            continue
        if row.result == "soap_curdles" and (acidity.soap_ratio or 0) <= threshold("soap_cloudy"):
            continue
        found.append((left, right, row))
    return found


def _present(composition: Composition, catalogue: Catalogue) -> dict[str, str]:
    """What is in it, by id and by "role:acid": the first id that stands for it."""
    present: dict[str, str] = {}
    lines = [(p.substance.id, p.percent.best) for p in composition.portions if p.substance is not None]
    for part, percent in [*lines, *((part, share.best) for part, share in composition.parts.items())]:
        present.setdefault(part, part)
        substance = catalogue.get(part)
        if substance is None or percent < LEAST_REACTIVE_PERCENT:
            continue
        for role in REACTIVE_ROLES & substance.roles:
            present.setdefault(f"role:{role.value}", part)
    return present


def _first(names: str, present: Mapping[str, str], but: str | None = None) -> str | None:
    return next((present[name] for name in names.split("|") if name in present and present[name] != but), None)
