"""Expressed citrus oils left on skin, and citrus juice, before sun. The limits of several oils add up."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case, Ingredient
from rules.catalogue import Role
from rules.hazards.evidence import finding, step_down
from rules.interval import Interval
from rules.recipe import Circumstance, Quality, Site

SAFE_FORMS = frozenset({Quality.FURANOCOUMARIN_FREE, Quality.DISTILLED})
# Sweet orange and its kin are not phototoxic by the handbook; celery and the like much less so in juice.
STRONG_JUICES = ("lemon", "lime", "grapefruit")
# Percent below which a squeeze of juice is only mentioned, left on and rinsed off: common practice.
JUICE_TRACE, JUICE_TRACE_RINSED = 0.5, 5.0


def _oils(case: Case) -> list[tuple[Ingredient, float]]:
    """Phototoxic oils with their limits, w/w % of a leave-on product."""
    rows = case.law.oils
    found = []
    for oil in case.ingredients:
        row = rows.get(oil.substance.id)
        if row is not None and row.phototoxic is not None and SAFE_FORMS.isdisjoint(oil.line.qualities):
            found.append((oil, row.phototoxic))
    return found


def _from_oils(case: Case) -> Iterator[Finding]:
    oils = _oils(case)
    if not oils or not case.left_on or not (case.on_skin or case.at(Site.HAIR)):
        return
    parts = Interval.total(oil.percent.scaled(1 / limit) for oil, limit in oils)
    sun = case.when(Circumstance.SUN_AFTER)
    if parts.low > 1:
        severity, reason = (Severity.AVOID if sun else Severity.FIX), "citrus_oil_over_limit"
    elif parts.best > 1:
        severity, reason = (Severity.FIX if sun else Severity.NOTE), "citrus_oil_near_limit"
    else:
        severity, reason = (Severity.FIX if sun else Severity.NOTE), "citrus_oil_within_limit"
    if not case.on_skin and not sun:
        severity = step_down(severity)
    worst, limit = max(oils, key=lambda pair: pair[0].percent.best / pair[1])
    yield finding(
        Hazard.PHOTOTOXIC,
        severity,
        reason,
        "citrus_oil_without_furanocoumarins",
        Basis.COMPUTED if len(oils) > 1 else Basis.OPINION,
        "handbook_phototoxic",
        "cir_citrus",
        cause=worst,
        value=parts if len(oils) > 1 else worst.percent,
        limit=1.0 if len(oils) > 1 else limit,
        unit="parts of the limit" if len(oils) > 1 else "percent",
    )


def _from_juice(case: Case, juice: Ingredient) -> Finding | None:
    peel = juice.substance.id.endswith("_peel") and not case.left_on
    weak = peel or not juice.substance.id.startswith(STRONG_JUICES) or Quality.DRIED in juice.line.qualities
    if weak and not case.left_on and not peel:
        return None
    sun = case.when(Circumstance.SUN_AFTER)
    exposed = case.on_skin or case.at(Site.NAILS) or (case.at(Site.HAIR) and case.left_on)
    if case.at(Site.BATH) or (case.at(Site.MOUTH) and not exposed):
        return None
    only_nails = set(case.sites) == {Site.NAILS} and not case.left_on
    if weak or only_nails or case.made_as("sugaring"):
        severity = Severity.FIX if sun else Severity.NOTE
    elif sun:
        severity = Severity.AVOID
    elif exposed and juice.percent.best >= (JUICE_TRACE if case.left_on else JUICE_TRACE_RINSED):
        severity = Severity.FIX
    else:
        severity = Severity.NOTE
    return finding(
        Hazard.PHOTOTOXIC,
        severity,
        "citrus_juice_and_sun" if sun else "citrus_juice_on_skin",
        "leave_juice_out",
        Basis.OPINION,
        "lemon_burns",
        cause=juice,
        value=juice.percent,
        unit="percent",
    )


def check(case: Case) -> Iterator[Finding]:
    yield from _from_oils(case)
    for juice in case.with_role(Role.PHOTOTOXIC_JUICE):
        found = _from_juice(case, juice)
        if found is not None:
            yield found
