"""Pairs that should not meet, and pairs that only undo each other."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from importlib.resources import files

import tomli

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case, Ingredient
from rules.catalogue import Role
from rules.hazards.evidence import finding
from rules.recipe import Circumstance, Frozen


class Pair(Frozen):
    """What a result of the dangerous-pair table weighs: used at once, kept, and in a dry mix."""

    result: str
    fresh: Severity
    kept: Severity
    hazard: Hazard = Hazard.REACTIVE
    instead: str
    basis: Basis
    source: str


@lru_cache(maxsize=1)
def load_pairs() -> dict[str, Pair]:
    """Weights by result key. Raises pydantic.ValidationError for a faulty row."""
    rows = tomli.loads(files("rules.hazards").joinpath("pairs.toml").read_text("utf-8"))["pair"]
    return {row["result"]: Pair.model_validate(row) for row in rows}


def _cause(case: Case, *substances: str) -> Ingredient | None:
    for ingredient in case.ingredients:
        if ingredient.substance.id in substances or not set(substances).isdisjoint(ingredient.substance.contains):
            return ingredient
    return None


def _pairs(case: Case) -> Iterator[Finding]:
    known = load_pairs()
    said: set[str] = set()
    for first, second, result in case.chemistry.vapour.dangerous_pairs:
        pair = known.get(result)
        if pair is None or result in said or case.dry:
            continue
        said.add(result)
        kept = case.kept or case.when(Circumstance.CLOSED_CONTAINER)
        yield finding(
            pair.hazard,
            pair.kept if kept else pair.fresh,
            f"pair_{result}",
            pair.instead,
            pair.basis,
            pair.source,
            cause=_cause(case, first) or _cause(case, second),
            first=first,
            second=second,
        )


def _oxidiser_with_food(case: Case) -> Iterator[Finding]:
    """Peroxide kept with tea, juice, honey: it gives off oxygen in the bottle and loses its strength."""
    oxidiser = _cause(case, "hydrogen_peroxide")
    organics = case.with_role(Role.PERISHABLE, Role.FOOD)
    if oxidiser is None or not organics or case.dry:
        return
    kept = case.kept or case.when(Circumstance.CLOSED_CONTAINER, Circumstance.SPRAYED)
    yield finding(
        Hazard.REACTIVE,
        Severity.FIX if kept else Severity.NOTE,
        "peroxide_with_food",
        "mix_peroxide_at_use",
        Basis.COMMON_PRACTICE,
        "common_practice",
        cause=oxidiser,
        second=organics[0].substance.id,
    )


def check(case: Case) -> Iterator[Finding]:
    yield from _pairs(case)
    yield from _oxidiser_with_food(case)
