"""Takes juices, solutions and finished products apart into what they hold."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from rules.catalogue import Catalogue, Phase, Substance
from rules.chemistry.tables import Row, read_table
from rules.interval import Interval

WATER = "water"
# Mass share of water that a material holds without letting it go: flour and petals 10 to 15 %, brown sugar
# 1.5 %.
BOUND_WATER_SHARE = {Phase.POWDER: 0.2, Phase.SOLID: 0.2, Phase.SOLUTE: 0.06}
ASSUMED_WATER = {Phase.WATER: 0.95, Phase.EMULSION: 0.65}  # common practice, no source
DEEPEST = 6  # products within products; a table that points at itself stops here


class HydrateRow(Row):
    """grams of the crystal that dissolve in 1 g of water at about 20 degrees C."""

    grams_per_gram_water: float


@lru_cache(maxsize=1)
def hydrates() -> dict[str, float]:
    """Crystals whose water is set free only by dissolving."""
    return {key: row.grams_per_gram_water for key, row in read_table("hydrates", HydrateRow).items()}


def holds_water_fast(substance: Substance) -> bool:
    """Flour, oats, dried petals: their own few percent of water is not free."""
    return 0 < substance.contains.get(WATER, 0.0) <= BOUND_WATER_SHARE.get(substance.phase, 0.0)


def assumed_water(substance: Substance) -> float:
    """Mass share of water in a watery thing whose row names no contents: it never counts as dry."""
    if substance.contains or substance.id == WATER:
        return 0.0
    return ASSUMED_WATER.get(substance.phase, 0.0)


def _leaves(substance: Substance, catalogue: Catalogue, depth: int = 0) -> Iterable[tuple[str, float]]:
    """(id, mass share) of everything in it; what the tables do not name stays as the substance itself."""
    if not substance.contains or depth >= DEEPEST:
        water = assumed_water(substance)
        if water:
            yield WATER, water
        yield substance.id, 1.0 - water
        return
    dry = holds_water_fast(substance)
    named = 0.0
    for part, share in substance.contains.items():
        if (dry and part == WATER) or share <= 0:
            continue
        inner = catalogue.get(part)
        named += share
        if inner is None or part in hydrates():
            yield part, share
        else:
            for leaf, inside in _leaves(inner, catalogue, depth + 1):
                yield leaf, share * inside
    if named < 1 - 1e-9:
        yield substance.id, 1 - named


def break_down(shares: Iterable[tuple[Substance, Interval]], catalogue: Catalogue) -> dict[str, Interval]:
    """w/w % by substance id. Hydrates (Epsom salt) give up their water only as far as other water dissolves
    them."""
    parts: dict[str, Interval] = {}
    for substance, percent in shares:
        leaves = ((substance.id, 1.0),) if substance.id in hydrates() else _leaves(substance, catalogue)
        for leaf, inside in leaves:
            piece = percent.scaled(inside) if inside != 1.0 else percent
            held = parts.get(leaf)
            parts[leaf] = piece if held is None else held + piece
    for crystal in hydrates().keys() & parts.keys():
        _dissolve(crystal, parts, catalogue)
    return {part: share.clamped(0, 100) for part, share in parts.items()}


def _dissolve(crystal: str, parts: dict[str, Interval], catalogue: Catalogue) -> None:
    substance = catalogue.get(crystal)
    whole = parts[crystal]
    if substance is None or not substance.contains or whole.best <= 0:
        return
    water = parts.get(WATER, Interval.exact(0.0)).best
    dissolved = min(1.0, water * hydrates()[crystal] / whole.best)
    if dissolved < 1:
        parts[crystal] = whole.scaled(1 - dissolved)
    else:
        del parts[crystal]
    for part, share in substance.contains.items():
        piece = whole.scaled(dissolved * share)
        parts[part] = parts[part] + piece if part in parts else piece
