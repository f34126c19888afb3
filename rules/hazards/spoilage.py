"""Fresh food: egg, dairy, juice, fruit, brewed tea. Days at most, whatever else is in it."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case, Ingredient
from rules.catalogue import Role
from rules.chemistry.chemistry import Preserved
from rules.hazards.evidence import finding
from rules.recipe import Circumstance, Quality, Site

TRACE_PERCENT = 1.0


def _saponified(case: Case) -> bool:
    """Milk that lye has been at is soap with the fat, and no food any more."""
    return case.soap_making


def _fresh(ingredient: Ingredient) -> bool:
    return ingredient.has(Role.PERISHABLE) and Quality.DRIED not in ingredient.line.qualities


def _unmeasured(ingredient: Ingredient) -> bool:
    """No amount read: the small share that it was given is our guess."""
    return ingredient.line.amount is None


def _perishable(case: Case, food: Ingredient) -> Finding:
    raw = not food.substance.allergens.isdisjoint({"egg", "milk", "fish"})
    preserved = case.chemistry.preservation.status is Preserved.EFFECTIVE
    kept = case.kept and not case.dry
    severity = Severity.FIX if kept and (raw or not preserved) else Severity.NOTE
    if severity is Severity.NOTE and raw and case.when(Circumstance.INFANT, Circumstance.BROKEN_SKIN):
        severity = Severity.FIX
    reason = "food_kept" if kept else "food_fresh_once"
    return finding(
        Hazard.FOOD_SPOILAGE,
        severity,
        reason,
        "make_one_use",
        Basis.COMMON_PRACTICE,
        "fridge_life",
        cause=food,
        value=food.percent,
        unit="percent",
    )


def _feeds(case: Case) -> Finding | None:
    """Sugar, starch or protein in unpreserved water: no fault when used up, said all the same."""
    if case.chemistry.preservation.status not in (Preserved.NONE, Preserved.TOO_WEAK) or case.dry:
        return None
    feed = case.with_role(Role.FEEDS_MICROBES, Role.FOOD)
    feed = tuple(i for i in feed if i.percent.best >= TRACE_PERCENT)
    if not feed:
        return None
    return finding(
        Hazard.FOOD_SPOILAGE,
        Severity.NOTE,
        "feeds_microbes",
        "make_one_use",
        Basis.COMMON_PRACTICE,
        "fridge_life",
        cause=feed[0],
    )


def _raw_egg_near_mouth(case: Case) -> Iterator[Finding]:
    for egg in case.ingredients:
        if "egg" in egg.substance.allergens and case.at(Site.EYE_AREA, Site.LIPS, Site.MOUTH, Site.FACE):
            yield finding(
                Hazard.FOOD_SPOILAGE,
                Severity.NOTE,
                "raw_egg",
                "pasteurised_egg",
                Basis.COMMON_PRACTICE,
                "common_practice",
                cause=egg,
            )


def check(case: Case) -> Iterator[Finding]:
    if _saponified(case):
        return
    fresh = [i for i in case.ingredients if _fresh(i) and (i.percent.high > TRACE_PERCENT or _unmeasured(i))]
    for food in fresh:
        yield _perishable(case, food)
    if not fresh:
        feeding = _feeds(case)
        if feeding is not None:
            yield feeding
    yield from _raw_egg_near_mouth(case)
