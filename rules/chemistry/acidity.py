"""pH of the water phase, neutralisation, and what soap does with acid."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from pydantic import field_validator

from rules.catalogue import Catalogue, Phase
from rules.chemistry.charge_balance import Weak, solve
from rules.chemistry.composition import Composition
from rules.chemistry.phases import Phases
from rules.chemistry.tables import Row, read_table
from rules.chemistry.thresholds import threshold
from rules.interval import Interval

LEAST_WATER_PERCENT = 0.5  # below this a pH says nothing
LEAST_MOLALITY = 2e-4  # below this the air's carbon dioxide and the tap's hardness rule
SOAP_MOLAR_MASS = 310.0  # sodium and potassium salts of C12 to C18 acids, 222 to 320 g/mol; from memory
SOAP_PH = Interval(8.5, 9.5, 10.5)  # look-up, from memory; natural soap is never computed
CURDLED_SOAP_PH = Interval(6.0, 7.5, 9.0)
TAP_ALKALINITY = 0.002  # mol/kg, worked example 8
WEIGHED_ERROR, NATURAL_ERROR, BEYOND_DAVIES_ERROR = 0.2, 0.7, 0.4
WATERY = frozenset({Phase.WATER, Phase.EMULSION, Phase.SURFACTANT})


class TitratableRow(Row):
    """units: acid groups' molecules set free a mole (borax 4); protons: acid equivalents against bicarbonate."""

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


class NaturalRow(Row):
    strong_charge_molal: float


@dataclass(frozen=True, slots=True)
class Acidity:
    """ph of the water phase; wet_ph of a dry mix once it meets ten times its weight of water.

    carbon_dioxide: mol a 100 g of recipe. soap_ratio: acid equivalents against soap, None without soap.
    """

    ph: Interval | None
    wet_ph: Interval | None
    carbon_dioxide: Interval
    soap_ratio: float | None
    soap_curdles: bool
    statements: tuple[str, ...]


@lru_cache(maxsize=1)
def titratables() -> dict[str, TitratableRow]:
    return read_table("titratables", TitratableRow)


@lru_cache(maxsize=1)
def natural_waters() -> dict[str, NaturalRow]:
    return read_table("natural_waters", NaturalRow)


def acidity(composition: Composition, phases: Phases, catalogue: Catalogue) -> Acidity:
    """Computed only where something titratable is in it; else the range of the ingredients, else None."""
    found = {part: share for part, share in composition.parts.items() if part in titratables()}
    gas = carbon_dioxide(found)
    ratio = _soap_ratio(composition, found)
    curdles = ratio is not None and ratio > threshold("soap_curdles")
    if phases.water.best < LEAST_WATER_PERCENT:
        wet = _solved(composition, found, Interval.exact(1000), natural=False)[0] if found else None
        return Acidity(None, wet, gas, ratio, False, ())
    if ratio is not None and ratio <= 1:
        ph = CURDLED_SOAP_PH if ratio > threshold("soap_cloudy") else SOAP_PH
        return Acidity(ph, None, gas, ratio, curdles, ("ph_of_soap_looked_up",))
    if _molality(found, phases.water) >= LEAST_MOLALITY:
        solved, said = _solved(
            composition, found, phases.water, natural=_is_natural(composition, phases, catalogue)
        )
        return Acidity(solved, None, gas, ratio, curdles, said)
    return Acidity(natural_range(composition), None, gas, ratio, curdles, ())


def _molality(found: Mapping[str, Interval], water: Interval) -> float:
    """Sum of titratables, mol per kg of water."""
    rows = titratables()
    return sum(1000 * share.best / rows[part].molar_mass for part, share in found.items()) / max(
        water.best, 1e-9
    )


def _solved(
    composition: Composition, found: Mapping[str, Interval], water: Interval, *, natural: bool
) -> tuple[Interval, tuple[str, ...]]:
    best, inside = _ph_at({part: share.best for part, share in found.items()}, composition, water.best)
    acid_end, _ = _ph_at(_corner(found, acid=True), composition, max(water.low, 0.05))
    base_end, _ = _ph_at(_corner(found, acid=False), composition, water.high, tap=TAP_ALKALINITY)
    error = NATURAL_ERROR if natural else WEIGHED_ERROR
    said: tuple[str, ...] = ()
    if not inside:
        error, said = max(error, BEYOND_DAVIES_ERROR), ("ph_beyond_activity_model",)
    bounds = (min(acid_end, base_end, best) - error, best, max(acid_end, base_end, best) + error)
    return Interval(*bounds).clamped(-1, 15), said


def _corner(found: Mapping[str, Interval], *, acid: bool) -> dict[str, float]:
    """The most acid or the most alkaline mixture that the amounts allow."""
    rows = titratables()
    return {p: share.high if (rows[p].protons > 0) is acid else share.low for p, share in found.items()}


def _ph_at(
    grams: Mapping[str, float], composition: Composition, water: float, tap: float = 0.0
) -> tuple[float, bool]:
    """pH for exact shares in `water` (both w/w %), and whether Davies is within its range."""
    strong, weak = tap, [Weak(tap, (6.352, 10.329))] if tap else []
    for part, mass in grams.items():
        row = titratables()[part]
        held = mass if row.limit_grams_per_gram is None else min(mass, row.limit_grams_per_gram * water)
        molality = 1000 * held / row.molar_mass / water
        strong += row.strong_charge * molality
        if row.pkas:
            weak.append(Weak(row.units * molality, row.pkas, row.top_charge))
    for portion in composition.portions:
        natural = natural_waters().get(portion.substance.id) if portion.substance is not None else None
        if natural is not None:
            strong += natural.strong_charge_molal * portion.percent.best / water
    solved = solve(strong, weak)
    return solved.ph, solved.within_davies


def _is_natural(composition: Composition, phases: Phases, catalogue: Catalogue) -> bool:
    """Whether plants, milk or a product bring a buffer of their own worth a tenth of the water."""
    brought = sum(
        p.percent.best
        for p in composition.portions
        if p.substance is not None
        and p.substance.phase in WATERY
        and p.substance.id not in ("water", *natural_waters())
        and not any(part in titratables() for part in p.substance.contains)
    )
    return brought > 0.1 * phases.water.best and len(catalogue) > 0


def natural_range(composition: Composition) -> Interval | None:
    """Between the ingredients' own ranges: their buffers are unknown, so the mixture lies anywhere between."""
    rows = [
        (p.substance.ph, p.percent.best)
        for p in composition.portions
        if p.substance is not None and p.substance.phase in WATERY and p.substance.ph is not None
    ]
    total = sum(weight for _, weight in rows)
    if total <= 0:
        return None
    low, high = min(r[0] for r, _ in rows), max(r[1] for r, _ in rows)
    best = sum((r[0] + r[1]) / 2 * weight for r, weight in rows) / total
    return Interval(low, min(max(best, low), high), high)


def acid_equivalents(found: Mapping[str, Interval]) -> Interval:
    """Protons that bicarbonate or soap can take, mol a 100 g."""
    rows = titratables()
    return Interval.total(
        s.scaled(rows[p].protons / rows[p].molar_mass) for p, s in found.items() if rows[p].protons
    )


def carbon_dioxide(found: Mapping[str, Interval]) -> Interval:
    """CO2 that acid sets free from (bi)carbonate, mol a 100 g: the smaller of the two, by stoichiometry."""
    acid = acid_equivalents(found)
    rows = titratables()
    soda = Interval.total(
        found[p].scaled(1 / rows[p].molar_mass)
        for p in ("sodium_bicarbonate", "sodium_carbonate")
        if p in found
    )
    return Interval(min(acid.low, soda.low), min(acid.best, soda.best), min(acid.high, soda.high))


def _soap_ratio(composition: Composition, found: Mapping[str, Interval]) -> float | None:
    soap = composition.parts.get("soap_salt")
    if soap is None or soap.best <= 0:
        return None
    return acid_equivalents(found).best / (soap.best / SOAP_MOLAR_MASS)
