"""Whether something can grow in it, and whether what is in it stops that."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from rules.catalogue import Catalogue, Phase, Role
from rules.chemistry.composition import Composition, Portion
from rules.chemistry.low_risk import Decision, alcohol_of_water_phase, grows_at, low_risk
from rules.chemistry.phases import Phases
from rules.chemistry.preservatives import active_percent, row_of, score_of
from rules.chemistry.results import Preservation, Preserved
from rules.chemistry.tables import Row, read_table
from rules.chemistry.thresholds import source_of, threshold
from rules.interval import Interval

# pH of watery mixtures that nothing titratable rules. Common practice, no source.
TYPICAL_PH = Interval(5.0, 5.5, 6.5)
SOME_ALCOHOL_PERCENT = 2.0  # from here on the reader may think that the spirit preserves
GUESSED_BULK_PERCENT = 10.0
SURE_ENOUGH = 0.6  # of the needed strength at the low end of the interval
MOSTLY_PRODUCT_PERCENT = 60.0
PRODUCT_PHASES = frozenset({Phase.EMULSION, Phase.SURFACTANT, Phase.WATER})
THRESHOLD_BY_REASON = {
    "alcohol": "low_risk_alcohol_percent",
    "alcohol_too_weak": "low_risk_alcohol_percent",
    "ph_low": "low_risk_ph_low",
    "ph_high": "low_risk_ph_high",
    "soap_alkaline": "self_preserving_soap_percent",
    "oxidiser": "self_preserving_peroxide_percent",
    "little_water": "little_water_percent",
    "diluted": "dilution_lost",
    "dilution_not_assured": "dilution_safe",
}


class KeepingRow(Row):
    """Days; id: a reason, a status, or "perishable"."""

    low: float
    best: float
    high: float


@lru_cache(maxsize=1)
def keeping_times() -> dict[str, KeepingRow]:
    return read_table("keeping", KeepingRow)


def preservation(
    composition: Composition,
    phases: Phases,
    water_activity: Interval | None,
    ph: Interval | None,
    catalogue: Catalogue,
) -> Preservation:
    """The verdict with the number that decided it: low-risk criteria first, then what preserves."""
    found = _with_role(composition, Role.PRESERVATIVE, catalogue)
    lookalikes = tuple(_with_role(composition, Role.LOOKS_LIKE_PRESERVATIVE, catalogue))
    decision = low_risk(composition, phases, water_activity, ph)
    if found and (decision is None or decision.reason == "ph_low"):
        works = _preserved(composition, phases, ph, found, catalogue)
        # Acids of the preservative itself make it sour: what preserves it then is the preservative.
        decision = works if decision is None or works.status is Preserved.EFFECTIVE else decision
    if decision is None:
        decision = _unpreserved(composition, phases, water_activity, catalogue)
    working = [active_percent(part, share, ph or TYPICAL_PH) for part, share in found.items()]
    named = source_of(THRESHOLD_BY_REASON.get(decision.reason, "low_risk_water_activity"))
    return Preservation(
        status=decision.status,
        reason=decision.reason,
        value=decision.value,
        limit=decision.limit,
        unit=decision.unit,
        preservatives=tuple(found),
        lookalikes=lookalikes,
        sources=tuple(dict.fromkeys((named, *(row_of(part).source for part in found)))),
        active_percent=Interval.total(working) if working else None,
        keeps_days=_keeps(decision, composition),
        grows=grows_at(water_activity.best) if water_activity is not None else (),
    )


def _keeps(decision: Decision, composition: Composition) -> Interval | None:
    """Days in a clean jar, chilled where nothing preserves it; common practice, no source."""
    fresh = any(p.substance is not None and Role.PERISHABLE in p.substance.roles for p in composition.portions)
    key = decision.status.value
    if fresh and decision.status is not Preserved.EFFECTIVE:
        key = "perishable"
    elif decision.reason in keeping_times():
        key = decision.reason
    row = keeping_times().get(key)
    return None if row is None else Interval(row.low, row.best, row.high)


def _with_role(composition: Composition, role: Role, catalogue: Catalogue) -> dict[str, Interval]:
    parts = sorted(composition.parts.items())
    return {part: share for part, share in parts if part in catalogue and role in catalogue[part].roles}


def _unpreserved(
    composition: Composition, phases: Phases, water_activity: Interval | None, catalogue: Catalogue
) -> Decision:
    limit = threshold("low_risk_water_activity")
    if water_activity is not None and water_activity.best < limit:
        reason = "water_activity_near_limit"
        return Decision(Preserved.CANNOT_TELL, reason, water_activity, limit, "water_activity")
    spirit = alcohol_of_water_phase(phases)
    if spirit.best >= SOME_ALCOHOL_PERCENT:
        limit = threshold("low_risk_alcohol_percent")
        return Decision(Preserved.NONE, "alcohol_too_weak", spirit, limit, "percent")
    booster = composition.with_role(Role.BOOSTER, catalogue)
    if booster.best >= threshold("booster_percent"):
        limit = threshold("booster_percent")
        return Decision(Preserved.TOO_WEAK, "booster_only", booster, limit, "percent")
    lookalike = _with_role(composition, Role.LOOKS_LIKE_PRESERVATIVE, catalogue)
    reason = "lookalike_only" if lookalike else "nothing_preserves"
    return Decision(Preserved.NONE, reason, water_activity, limit, "water_activity")


def _preserved(
    composition: Composition,
    phases: Phases,
    ph: Interval | None,
    found: Mapping[str, Interval],
    catalogue: Catalogue,
) -> Decision:
    bought = [p for p in composition.portions if _brings_preservative(p, catalogue)]
    if bought and not any(_is_preservative(p) for p in composition.portions):
        return _diluted(phases, bought)
    booster = composition.with_role(Role.BOOSTER, catalogue).best
    boosted = len(found) > 1 or booster >= threshold("booster_percent")
    score = score_of(found, phases, ph or TYPICAL_PH, boosted=boosted)
    acids = any(row_of(part).pka is not None for part in found)
    if score.best < 1 <= score.high and _is_guess(composition):
        return Decision(Preserved.CANNOT_TELL, "amount_unsure", score, 1, "share_of_floor")
    if score.best >= 1 and score.low >= SURE_ENOUGH:
        return Decision(Preserved.EFFECTIVE, "preserved", score, 1, "share_of_floor")
    if score.best >= 1 or (acids and ph is None and score.high >= 1):
        reason = "ph_decides" if acids else "amount_unsure"
        return Decision(Preserved.CANNOT_TELL, reason, score, 1, "share_of_floor")
    highest = max(row_of(part).highest_ph for part in found)
    if acids and ph is not None and ph.best > highest:
        return Decision(Preserved.TOO_WEAK, "ph_switches_off", ph, highest, "ph")
    return Decision(Preserved.TOO_WEAK, "below_floor", score, 1, "share_of_floor")


def _is_preservative(portion: Portion) -> bool:
    return portion.substance is not None and Role.PRESERVATIVE in portion.substance.roles


def _is_guess(composition: Composition) -> bool:
    """Whether the dose hangs on an amount that is not given: its own, or that of a bulk ingredient."""
    return any(
        p.estimated and (p.percent.best >= GUESSED_BULK_PERCENT or _is_preservative(p)) for p in composition.portions
    )


def _brings_preservative(portion: Portion, catalogue: Catalogue) -> bool:
    """A bought product with a preservative of its own."""
    substance = portion.substance
    if substance is None or substance.phase not in PRODUCT_PHASES or _is_preservative(portion):
        return False
    inside = (catalogue.get(part) for part in substance.contains)
    return any(part is not None and Role.PRESERVATIVE in part.roles for part in inside)


def _diluted(phases: Phases, bought: list[Portion]) -> Decision:
    """A bought product with things added: D = (product + watery additions) / product.

    Below 1.1 it passes, from 1.5 on it counts as not preserved: common practice, no source. The label tells
    which preservative is in it, never how much.
    """
    product = Interval.total(p.percent for p in bought)
    known = ((p.substance, p.percent.best) for p in bought if p.substance is not None)
    own = sum(percent * substance.contains.get("water", 0.0) for substance, percent in known)
    added = max(0.0, phases.water.best - own)
    if product.best < 0.1:
        return Decision(Preserved.CANNOT_TELL, "amount_unsure")
    factor = 1 + added / product.best
    value = Interval(1 + added / product.high, factor, 1 + added / max(product.low, 0.1))
    lost = threshold("dilution_lost")
    if factor < threshold("dilution_safe") and product.best > MOSTLY_PRODUCT_PERCENT:
        return Decision(Preserved.EFFECTIVE, "as_sold", value, lost, "dilution")
    reason = "diluted" if factor >= lost else "dilution_not_assured"
    return Decision(Preserved.TOO_WEAK, reason, value, lost, "dilution")
