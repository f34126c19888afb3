"""pH of the water phase, neutralisation, and what soap does with acid."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from rules.catalogue import Catalogue, Phase, Substance
from rules.chemistry.charge_balance import Weak, solve
from rules.chemistry.composition import Composition, Portion
from rules.chemistry.phases import Phases
from rules.chemistry.thresholds import threshold
from rules.chemistry.titratables import Titratable, inert_charge, titratables_in
from rules.interval import Interval

LEAST_WATER_PERCENT = 0.5  # below this a pH says nothing
LEAST_MOLALITY = 5e-4  # below this the air's carbon dioxide and the tap's hardness rule
SOAP_MOLAR_MASS = 310.0  # sodium and potassium salts of C12 to C18 acids, 222 to 320 g/mol; from memory
SOAP_PH = Interval(8.5, 9.5, 10.5)  # look-up, from memory; the pH of soap is never computed
CURDLED_SOAP_PH = Interval(6.0, 7.5, 9.0)
CARBONIC = (6.352, 10.329)
DISSOLVED_CO2 = 0.034  # mol/kg that water holds at 25 degrees C and 1 atm, 10^-1.468; from memory
TAP_ALKALINITY = 0.002  # mol/kg, bicarbonate of hard tap water; from memory
WEIGHED_ERROR, NATURAL_ERROR, BEYOND_DAVIES_ERROR = 0.2, 0.7, 0.4  # pH
NATURAL_SHARE = 0.1  # of the water: from here on an unknown buffer counts
SLURRY_SHARE = 0.05  # powder against water from which its own pH shows
WETTING = 10.0  # grams of water on a gram of a dry mix that gets wet
WATERY = frozenset({Phase.WATER, Phase.EMULSION, Phase.SURFACTANT})
LEAST_GAS_MOL = 1e-4  # a 100 g: below this nobody sees a bubble


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


@dataclass(frozen=True, slots=True)
class Natural:
    """Cations that juices and vinegars bring, mol a 100 g of recipe, over their pH ranges."""

    low: float
    best: float
    high: float

    def plus(self, cations: float) -> Natural:
        return Natural(self.low + cations, self.best + cations, self.high + cations)


def acidity(composition: Composition, phases: Phases, catalogue: Catalogue) -> Acidity:
    """Computed only where something titratable is in it; else the range of the ingredients, else None."""
    found = titratables_in(composition.parts, catalogue)
    gas = carbon_dioxide(found)
    ratio = _soap_ratio(composition, found)
    curdles = ratio is not None and ratio > threshold("soap_curdles")
    if phases.water.best < LEAST_WATER_PERCENT:
        return Acidity(None, _wet_ph(composition, found), gas, ratio, False, ())
    if ratio is not None and ratio <= 1:
        ph = CURDLED_SOAP_PH if ratio > threshold("soap_cloudy") else SOAP_PH
        return Acidity(ph, None, gas, ratio, curdles, ("ph_of_soap_looked_up",))
    if _molality(found, phases.water) >= LEAST_MOLALITY:
        juices = natural_cations(composition, catalogue)
        if ratio is not None:  # acid in excess of the soap: what the soap gave stays as cations
            juices = juices.plus(composition.parts["soap_salt"].best / SOAP_MOLAR_MASS)
        error = NATURAL_ERROR if _has_unknown_buffer(composition, phases, catalogue) else WEIGHED_ERROR
        ph, said = _solved(found, phases.water, juices, error)
        ph = _pulled(ph, composition, phases)
        return Acidity(ph, None, gas, ratio, curdles, said)
    return Acidity(natural_range(composition, phases), None, gas, ratio, curdles, ())


def _molality(found: Mapping[str, Titratable], water: Interval) -> float:
    return sum(t.molality(t.share.best, water.best) for t in found.values())


def _wet_ph(composition: Composition, found: Mapping[str, Titratable]) -> Interval | None:
    if composition.parts.get("soap_salt") is not None:
        return SOAP_PH
    water = Interval.exact(100 * WETTING)
    if _molality(found, water) < LEAST_MOLALITY:
        return None
    return _solved(found, water, Natural(0, 0, 0), WEIGHED_ERROR)[0]


def _solved(
    found: Mapping[str, Titratable], water: Interval, juices: Natural, error: float
) -> tuple[Interval, tuple[str, ...]]:
    """pH as written, and at the most acid and most alkaline mixture allowed plus the error bar."""
    best, inside = _ph(((t, t.share.best) for t in found.values()), water.best, juices.best)
    sour = ((t, t.share.high if t.protons else t.share.low) for t in found.values())
    acid_end, _ = _ph(sour, max(water.low, 0.05), juices.low)
    mild = ((t, t.share.low if t.protons else t.share.high) for t in found.values())
    base_end, _ = _ph(mild, water.high, juices.high, tap=TAP_ALKALINITY)
    said: tuple[str, ...] = ()
    if not inside:
        error, said = max(error, BEYOND_DAVIES_ERROR), ("ph_beyond_activity_model",)
    bounds = (min(acid_end, base_end, best) - error, best, max(acid_end, base_end, best) + error)
    return Interval(*bounds).clamped(-1, 15), said


def _ph(
    amounts: Iterable[tuple[Titratable, float]], water: float, inert: float, tap: float = 0.0
) -> tuple[float, bool]:
    """pH of exact shares in `water` (both w/w %), and whether Davies is within its range."""
    strong = tap + 1000 * inert / water
    weak = [Weak(tap, CARBONIC)] if tap else []
    present = list(amounts)
    sour = sum(t.protons * t.molality(share, water) for t, share in present)
    escaping = max(0.0, sour - DISSOLVED_CO2)
    for titratable, share in present:
        # A solid base goes on dissolving while acid eats it, and the gas of a carbonate leaves an open bowl.
        molality = titratable.molality(share, water, eaten=0.0 if titratable.protons else sour)
        strong += titratable.strong_charge * molality
        kept = molality
        if titratable.pkas == CARBONIC:
            kept = max(0.0, molality - escaping)
            escaping -= molality - kept
        if titratable.pkas and kept > 0:
            weak.append(Weak(titratable.units * kept, titratable.pkas, titratable.top_charge))
    solved = solve(strong, weak)
    return solved.ph, solved.within_davies


def natural_cations(composition: Composition, catalogue: Catalogue) -> Natural:
    """What potassium the juices and vinegars bring, from the published pH of each and the acid in it.

    Solved backwards: the inert charge that holds the juice's own acid at the low end, middle and high end
    of its pH.
    """
    low = best = high = 0.0
    for portion in composition.portions:
        substance = portion.substance
        if substance is None or substance.ph is None or not substance.contains or substance.phase not in WATERY:
            continue
        water = substance.contains.get("water", 0.0)
        acids = _acids_of(substance, water, catalogue)
        if not acids:
            continue
        scale = portion.percent.best * water / 1000
        floor, ceiling = substance.ph
        low += scale * inert_charge(floor, acids)
        best += scale * inert_charge((floor + ceiling) / 2, acids)
        high += scale * inert_charge(ceiling, acids)
    return Natural(low, best, high)


def _acids_of(substance: Substance, water: float, catalogue: Catalogue) -> list[Weak]:
    if water <= 0:
        return []
    shares = {part: Interval.exact(100 * share) for part, share in substance.contains.items() if part != "water"}
    found = titratables_in(shares, catalogue).values()
    return [Weak(t.units * t.molality(t.share.best, 100 * water), t.pkas, t.top_charge) for t in found if t.pkas]


def _has_unknown_buffer(composition: Composition, phases: Phases, catalogue: Catalogue) -> bool:
    """Whether plants, milk or a product bring a buffer of their own worth a tenth of the water."""
    brought = sum(p.percent.best for p in composition.portions if _buffers_unknown(p, catalogue))
    return brought > NATURAL_SHARE * phases.water.best


def _buffers_unknown(portion: Portion, catalogue: Catalogue) -> bool:
    substance = portion.substance
    if substance is None:
        return True
    if substance.id == "water" or substance.phase not in WATERY:
        return False
    return not titratables_in({part: Interval.exact(1.0) for part in substance.contains}, catalogue)


def _pulled(ph: Interval, composition: Composition, phases: Phases) -> Interval:
    """Widened as far as clays, whose buffer is unknown, could pull it: to their own range."""
    for portion in composition.portions:
        substance = portion.substance
        if substance is None or substance.ph is None or substance.phase is not Phase.POWDER:
            continue
        if _colours_ph(portion, phases):
            low, high = substance.ph
            ph = Interval(min(ph.low, low), ph.best, max(ph.high, high))
    return ph


def natural_range(composition: Composition, phases: Phases) -> Interval | None:
    """Between the ingredients' own ranges: their buffers are unknown."""
    rows = [
        (p.substance.ph, p.percent.best)
        for p in composition.portions
        if p.substance is not None and p.substance.ph is not None and _colours_ph(p, phases)
    ]
    total = sum(weight for _, weight in rows)
    if total <= 0:
        return None
    low, high = min(r[0] for r, _ in rows), max(r[1] for r, _ in rows)
    best = sum((r[0] + r[1]) / 2 * weight for r, weight in rows) / total
    return Interval(low, min(max(best, low), high), high)


def _colours_ph(portion: Portion, phases: Phases) -> bool:
    """Watery things, syrups and clays in a share that shows."""
    substance = portion.substance
    if substance is None or portion.percent.best < SLURRY_SHARE * phases.water.best:
        return False
    return substance.phase in WATERY or substance.phase is Phase.POWDER or "water" in substance.contains


def acid_equivalents(found: Mapping[str, Titratable]) -> Interval:
    """Protons that bicarbonate or soap can take, mol a 100 g."""
    return Interval.total(t.share.scaled(t.protons / t.molar_mass) for t in found.values() if t.protons)


def carbon_dioxide(found: Mapping[str, Titratable]) -> Interval:
    """CO2 that acid sets free from (bi)carbonate, mol a 100 g: the smaller of the two, by stoichiometry."""
    acid = acid_equivalents(found)
    soda = Interval.total(t.share.scaled(t.units / t.molar_mass) for t in found.values() if t.pkas == CARBONIC)
    if min(acid.best, soda.best) < LEAST_GAS_MOL:
        return Interval.exact(0.0)
    return Interval(min(acid.low, soda.low), min(acid.best, soda.best), min(acid.high, soda.high))


def _soap_ratio(composition: Composition, found: Mapping[str, Titratable]) -> float | None:
    soap = composition.parts.get("soap_salt")
    if soap is None or soap.best <= 0:
        return None
    return acid_equivalents(found).best / (soap.best / SOAP_MOLAR_MASS)
