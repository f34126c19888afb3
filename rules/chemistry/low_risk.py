"""What needs no preservative: the criteria of ISO 29621, and what grows at a given water activity."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from rules.catalogue import Role
from rules.chemistry.composition import Composition
from rules.chemistry.phases import Phases
from rules.chemistry.results import Preserved
from rules.chemistry.tables import Row, read_table
from rules.chemistry.thresholds import threshold
from rules.interval import Interval

NEARLY = 0.8  # of a limit: an interval whose low end is below this does not count as meeting it
NO_WATER_PERCENT = 0.05
FRESH_FOOD_PERCENT = 5.0


class GrowthRow(Row):
    """matters: an organism of cosmetics rather than of dried food."""

    lowest_water_activity: float
    matters: bool = False


@dataclass(frozen=True, slots=True)
class Decision:
    """A status with the number that decided it and what that is held against, both in `unit`."""

    status: Preserved
    reason: str
    value: Interval | None = None
    limit: float | None = None
    unit: str | None = None


@lru_cache(maxsize=1)
def growth_minima() -> dict[str, GrowthRow]:
    return read_table("growth", GrowthRow)


def grows_at(water_activity: float) -> tuple[str, ...]:
    """Organisms that matter and whose lowest water activity is passed, the hardiest last."""
    rows = growth_minima().items()
    return tuple(key for key, row in rows if row.matters and water_activity >= row.lowest_water_activity)


def low_risk(
    composition: Composition, phases: Phases, water_activity: Interval | None, ph: Interval | None
) -> Decision | None:
    """NOT_NEEDED by the first criterion that the interval meets; None where growth is possible.

    ISO 29621 as listed by a laboratory FAQ: no water, alcohol > 20 %, water activity < 0.75, pH < 3 or > 10,
    oxidising; and soap about as concentrated as it is sold (common practice).
    """
    little = phases.little_water
    if phases.water.best < little:
        if phases.unknown.best > little:
            return Decision(Preserved.CANNOT_TELL, "unknown_may_hold_water", phases.unknown, little, "percent")
        reason = "no_water" if phases.water.best < NO_WATER_PERCENT else "little_water"
        return Decision(Preserved.NOT_NEEDED, reason, phases.water, little, "percent")
    by_share = next(_by_share(composition, phases), None)
    if by_share is not None:
        return by_share
    if water_activity is not None and water_activity.high < threshold("low_risk_water_activity"):
        limit = threshold("low_risk_water_activity")
        return Decision(Preserved.NOT_NEEDED, "water_activity_low", water_activity, limit, "water_activity")
    return None if _is_fresh_food(composition) else next(_by_ph(ph), None)


def _is_fresh_food(composition: Composition) -> bool:
    """Juice and fruit mould at any sourness: the criterion was made for clean ingredients."""
    known = ((p.substance, p.percent.best) for p in composition.portions if p.substance is not None)
    fresh = sum(percent for substance, percent in known if Role.PERISHABLE in substance.roles)
    return fresh >= FRESH_FOOD_PERCENT


def _by_ph(ph: Interval | None) -> Iterator[Decision]:
    low, high = threshold("low_risk_ph_low"), threshold("low_risk_ph_high")
    if ph is not None and ph.high < low:
        yield Decision(Preserved.NOT_NEEDED, "ph_low", ph, low, "ph")
    if ph is not None and ph.low > high:
        yield Decision(Preserved.NOT_NEEDED, "ph_high", ph, high, "ph")


def _by_share(composition: Composition, phases: Phases) -> Iterator[Decision]:
    shares = (
        ("alcohol", phases.alcohol, threshold("low_risk_alcohol_percent")),
        (
            "oxidiser",
            composition.parts.get("hydrogen_peroxide"),
            threshold("self_preserving_peroxide_percent"),
        ),
    )
    for reason, part, limit in shares:
        value = percent_of_water_phase(part, phases)
        if value.best >= limit and value.low >= NEARLY * limit:
            yield Decision(Preserved.NOT_NEEDED, reason, value, limit, "percent")
    soap = composition.parts.get("soap_salt")
    if soap is not None and phases.all_oil.best < 100:
        # Against all that is not oil: honey and glycerin thin the soap as water does.
        value = soap.scaled(100 / (100 - phases.all_oil.best)).clamped(0, 100)
        limit = threshold("self_preserving_soap_percent")
        if value.best >= limit and value.low >= NEARLY * limit:
            yield Decision(Preserved.NOT_NEEDED, "soap_alkaline", value, limit, "percent")


def alcohol_of_water_phase(phases: Phases) -> Interval:
    """Ethanol and isopropanol, w/w % of alcohol + water; 20 % w/w is 24 % by volume, the stricter reading."""
    return percent_of_water_phase(phases.alcohol, phases)


def percent_of_water_phase(part: Interval | None, phases: Phases) -> Interval:
    """100 * part / (part + water)."""
    if part is None or part.best <= 0:
        return Interval.exact(0.0)
    water = phases.water
    bounds = ((part.low, water.high), (part.best, water.best), (part.high, water.low))
    return Interval(*(100 * p / (p + w) if p + w > 0 else 0.0 for p, w in bounds))
