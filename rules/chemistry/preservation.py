"""Whether something can grow in it, and whether what is in it stops that."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from rules.catalogue import Catalogue, Phase, Role
from rules.chemistry.composition import Composition, Portion
from rules.chemistry.phases import Phases
from rules.chemistry.results import Preservation, Preserved
from rules.chemistry.tables import Row, read_table
from rules.chemistry.thresholds import source_of, threshold
from rules.interval import Interval

# pH of watery mixtures that nothing titratable rules: most skin and hair products. Common practice, no
# source.
TYPICAL_PH = Interval(5.0, 5.5, 6.5)
BOOSTED_COVER = 1.25  # a booster evens out the weak side of a preservative: common practice, no source
PRODUCT_PHASES = frozenset({Phase.EMULSION, Phase.SURFACTANT, Phase.WATER})


class PreservativeRow(Row):
    """floor: working w/w % alone; floor_boosted: beside a booster or a second preservative. For acids (pka
    given) both count the undissociated acid. bacteria, fungi: how much of the floor counts against each.
    acid_share: grams of acid in a gram of the salt."""

    floor: float
    floor_boosted: float
    bacteria: float
    fungi: float
    acid: str | None = None
    acid_share: float = 1.0
    pka: float | None = None
    highest_ph: float


class GrowthRow(Row):
    lowest_water_activity: float
    matters: bool = False


@lru_cache(maxsize=1)
def preservatives() -> dict[str, PreservativeRow]:
    return read_table("preservatives", PreservativeRow)


@lru_cache(maxsize=1)
def growth_minima() -> dict[str, GrowthRow]:
    return read_table("growth", GrowthRow)


def undissociated(ph: float, pka: float) -> float:
    """Fraction of a weak acid that is not split at this pH: 1 / (1 + 10^(pH - pKa)), 0 <= pH <= 14, no
    activity term."""
    return 1 / (1 + 10 ** (ph - pka))


def grows_at(water_activity: float) -> tuple[str, ...]:
    """Organisms that matter and whose lowest water activity is passed, the hardiest last."""
    return tuple(
        k for k, row in growth_minima().items() if row.matters and water_activity >= row.lowest_water_activity
    )


def preservation(
    composition: Composition,
    phases: Phases,
    water_activity: Interval | None,
    ph: Interval | None,
    catalogue: Catalogue,
) -> Preservation:
    """The verdict with the number that decided it; criteria of ISO 29621 first, then what preserves."""
    found = _with_role(composition, Role.PRESERVATIVE, catalogue)
    lookalikes = tuple(_with_role(composition, Role.LOOKS_LIKE_PRESERVATIVE, catalogue))
    low_risk = _low_risk(composition, phases, water_activity, ph)
    if low_risk is not None:
        status, reason, value, limit, unit = low_risk
    elif found:
        status, reason, value, limit, unit = _strength(composition, phases, ph, found, catalogue)
    else:
        status, reason, value, limit, unit = _unpreserved(phases, water_activity, bool(lookalikes))
    return Preservation(
        status,
        reason,
        value,
        limit,
        unit,
        tuple(found),
        lookalikes,
        _sources(reason, found),
        Interval.total(active_percent(p, s, ph or TYPICAL_PH) for p, s in found.items()) if found else None,
        grows_at(water_activity.best) if water_activity is not None else (),
    )


Decision = tuple[Preserved, str, Interval | None, float | None, str | None]


def _with_role(composition: Composition, role: Role, catalogue: Catalogue) -> dict[str, Interval]:
    return {
        p: s for p, s in sorted(composition.parts.items()) if p in catalogue and role in catalogue[p].roles
    }


def _low_risk(
    composition: Composition, phases: Phases, water_activity: Interval | None, ph: Interval | None
) -> Decision | None:
    """NOT_NEEDED with its reason, where one criterion is met with the whole interval."""
    little = phases.little_water
    if phases.water.best < little and phases.water.low <= phases.water.best:
        if phases.unknown.best > little:
            return (
                Preserved.CANNOT_TELL,
                "unknown_may_hold_water",
                phases.unknown,
                little,
                "percent",
            )
        reason = "no_water" if phases.water.best < 0.05 else "little_water"
        return Preserved.NOT_NEEDED, reason, phases.water, little, "percent"
    checks: list[tuple[bool, str, Interval | None, float, str]] = []
    spirit = alcohol_of_water_phase(phases)
    limit = threshold("low_risk_alcohol_percent")
    checks.append((spirit.best >= limit and spirit.low >= 0.8 * limit, "alcohol", spirit, limit, "percent"))
    limit = threshold("low_risk_water_activity")
    dry = water_activity is not None and water_activity.high < limit
    checks.append((dry, "water_activity_low", water_activity, limit, "water_activity"))
    low, high = threshold("low_risk_ph_low"), threshold("low_risk_ph_high")
    checks.append((ph is not None and ph.high < low, "ph_low", ph, low, "ph"))
    checks.append((ph is not None and ph.low > high, "ph_high", ph, high, "ph"))
    soap = _share_of_water(composition.parts.get("soap_salt"), phases)
    limit = threshold("self_preserving_soap_share")
    met = soap.best >= limit and soap.low >= 0.8 * limit
    checks.append((met, "soap_alkaline", soap.scaled(100), 100 * limit, "percent"))
    peroxide = _share_of_water(composition.parts.get("hydrogen_peroxide"), phases).scaled(100)
    limit = threshold("self_preserving_peroxide_percent")
    checks.append((peroxide.best >= limit, "oxidiser", peroxide, limit, "percent"))
    for met, reason, value, bound, unit in checks:
        if met:
            return Preserved.NOT_NEEDED, reason, value, bound, unit
    return None


def alcohol_of_water_phase(phases: Phases) -> Interval:
    """Ethanol and isopropanol, w/w % of alcohol + water. 20 % w/w is about 24 % by volume: the stricter
    reading."""
    return _share_of_water(phases.alcohol, phases).scaled(100)


def _share_of_water(part: Interval | None, phases: Phases) -> Interval:
    """part / (part + water), 0 to 1."""
    if part is None or part.best <= 0:
        return Interval.exact(0.0)
    water = phases.water
    bounds = ((part.low, water.high), (part.best, water.best), (part.high, water.low))
    return Interval(*(p / (p + w) if p + w > 0 else 0.0 for p, w in bounds))


def _unpreserved(phases: Phases, water_activity: Interval | None, lookalike: bool) -> Decision:
    limit = threshold("low_risk_water_activity")
    if water_activity is not None and water_activity.low < limit:
        return (
            Preserved.CANNOT_TELL,
            "water_activity_near_limit",
            water_activity,
            limit,
            "water_activity",
        )
    spirit = alcohol_of_water_phase(phases)
    if spirit.best >= 2:
        return (
            Preserved.NONE,
            "alcohol_too_weak",
            spirit,
            threshold("low_risk_alcohol_percent"),
            "percent",
        )
    reason = "lookalike_only" if lookalike else "nothing_preserves"
    return Preserved.NONE, reason, water_activity, limit, "water_activity"


def _strength(
    composition: Composition,
    phases: Phases,
    ph: Interval | None,
    found: Mapping[str, Interval],
    catalogue: Catalogue,
) -> Decision:
    bought = [p for p in composition.portions if _brings_preservative(p, catalogue)]
    added = any(
        p.substance is not None and Role.PRESERVATIVE in p.substance.roles for p in composition.portions
    )
    if bought and not added:
        return _diluted(phases, bought)
    boosted = len(found) > 1 or _booster(composition, catalogue) >= threshold("booster_percent")
    score = score_of(found, phases, ph or TYPICAL_PH, boosted=boosted)
    acids = any(_row(p).pka is not None for p in found)
    if score.best >= 1:
        if score.low >= 0.6:
            return Preserved.EFFECTIVE, "preserved", score, 1, "share_of_floor"
        reason = "ph_decides" if acids and score.high >= 1 else "amount_unsure"
        return Preserved.CANNOT_TELL, reason, score, 1, "share_of_floor"
    if acids and ph is None and score.high >= 1:
        return Preserved.CANNOT_TELL, "ph_decides", score, 1, "share_of_floor"
    if acids and ph is not None and ph.best > max(_row(p).highest_ph for p in found):
        return (
            Preserved.TOO_WEAK,
            "ph_switches_off",
            ph,
            max(_row(p).highest_ph for p in found),
            "ph",
        )
    return Preserved.TOO_WEAK, "below_floor", score, 1, "share_of_floor"


def score_of(found: Mapping[str, Interval], phases: Phases, ph: Interval, *, boosted: bool) -> Interval:
    """Strength against the weaker side of bacteria and fungi; 1 = just enough.

    sum over preservatives of (active % / floor) * cover, active % = share * acid fraction * undissociated
    fraction, less what oil beyond an ordinary lotion takes: / [(1 - o + K o) / (1 - o0 + K o0)], o = oil
    share. Preservatives of one kind of cover add up; that is common practice, not a law.
    """
    held = _oil_takes(phases)
    bacteria, fungi = [], []
    for preservative, share in found.items():
        row = _row(preservative)
        floor = row.floor_boosted if boosted else row.floor
        active = active_percent(preservative, share, ph)
        strength = Interval(active.low / held / floor, active.best / held / floor, active.high / held / floor)
        lift = BOOSTED_COVER if boosted else 1.0
        bacteria.append(strength.scaled(min(1.0, row.bacteria * lift)))
        fungi.append(strength.scaled(min(1.0, row.fungi * lift)))
    against_bacteria, against_fungi = Interval.total(bacteria), Interval.total(fungi)
    return against_bacteria if against_bacteria.best <= against_fungi.best else against_fungi


def active_percent(preservative: str, share: Interval, ph: Interval) -> Interval:
    """w/w % of the form that works: the undissociated acid, or the whole of a preservative that does not
    split."""
    row = _row(preservative)
    if row.pka is None:
        return share
    acid = share.scaled(row.acid_share)
    bounds = (
        undissociated(ph.high, row.pka),
        undissociated(ph.best, row.pka),
        undissociated(ph.low, row.pka),
    )
    return acid.times(Interval(*bounds))


def _oil_takes(phases: Phases) -> float:
    k, reference = threshold("oil_partition"), threshold("reference_oil_share")
    share = min(1.0, phases.all_oil.best / 100)
    return max(1.0, (1 - share + k * share) / (1 - reference + k * reference))


def _row(preservative: str) -> PreservativeRow:
    return preservatives().get(preservative) or preservatives()["other"]


def _booster(composition: Composition, catalogue: Catalogue) -> float:
    return composition.with_role(Role.BOOSTER, catalogue).best


def _brings_preservative(portion: Portion, catalogue: Catalogue) -> bool:
    substance = portion.substance
    if substance is None or substance.phase not in PRODUCT_PHASES:
        return False
    return any(
        part in catalogue and Role.PRESERVATIVE in catalogue[part].roles for part in substance.contains
    )


def _diluted(phases: Phases, bought: list[Portion]) -> Decision:
    """A bought product with things added: D = (product + watery additions) / product. dilution.md table."""
    product = Interval.total(p.percent for p in bought)
    own_water = sum(
        p.percent.best * (p.substance.contains.get("water", 0.0) if p.substance else 0.0) for p in bought
    )
    added_water = max(0.0, phases.water.best - own_water)
    if product.best <= 0.1:
        return Preserved.CANNOT_TELL, "amount_unsure", None, None, None
    factor = 1 + added_water / product.best
    value = Interval(1 + added_water / product.high, factor, 1 + added_water / max(product.low, 0.1))
    lost = threshold("dilution_lost")
    if factor < threshold("dilution_safe") and product.best > 60:
        return Preserved.EFFECTIVE, "as_sold", value, lost, "dilution"
    reason = "diluted" if factor >= lost else "dilution_not_assured"
    return Preserved.TOO_WEAK, reason, value, lost, "dilution"


def _sources(reason: str, found: Mapping[str, Interval]) -> tuple[str, ...]:
    by_reason = {
        "alcohol": "low_risk_alcohol_percent",
        "alcohol_too_weak": "low_risk_alcohol_percent",
        "ph_low": "low_risk_ph_low",
        "ph_high": "low_risk_ph_high",
        "soap_alkaline": "self_preserving_soap_share",
        "oxidiser": "self_preserving_peroxide_percent",
        "little_water": "little_water_percent",
        "diluted": "dilution_lost",
        "dilution_not_assured": "dilution_safe",
    }
    named = by_reason.get(reason, "low_risk_water_activity")
    return tuple(dict.fromkeys((source_of(named), *(_row(p).source for p in found))))
