"""From amounts as people write them to mass and w/w %."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from rules.catalogue import Catalogue, Phase, Role, Substance
from rules.chemistry.balance import Balanced, Kind, Weighing, balance
from rules.chemistry.breakdown import break_down
from rules.chemistry.measuring import LARGEST_QUANTITY, Spoons, density_of, grams_of, is_rough
from rules.chemistry.strength import at_strength
from rules.interval import Interval
from rules.recipe import Circumstance, Line, Quality, Recipe, Unit

NOTHING = Interval.exact(0.0)
HUGE_GRAMS = 1e6  # a tonne: said, and computed all the same
WEIGHED_UNITS = frozenset({Unit.G, Unit.MG, Unit.KG})
STEEPED_ROLES = frozenset({Role.FOOD, Role.PERISHABLE, Role.FEEDS_MICROBES})


@dataclass(frozen=True, slots=True)
class Portion:
    """One ingredient line that counts. `grams` is None where only parts or percents were given."""

    line: int
    substance: Substance | None
    grams: Interval | None
    percent: Interval
    estimated: bool


@dataclass(frozen=True, slots=True)
class Composition:
    """The recipe by mass.

    portions: counted lines (an alternative does not count; an optional line counts only when asked for).
    parts: w/w % of the whole by substance id after finished products, juices and solutions are taken apart.
    total: grams; None where only parts or percents were given.
    statements: keys of what must be said: "over_100_percent", "no_amounts", "evaporates", ...
    strained: lines that are steeped and taken out again; they are no portion.
    """

    portions: tuple[Portion, ...]
    parts: Mapping[str, Interval]
    total: Interval | None
    statements: tuple[str, ...]
    strained: tuple[int, ...] = ()

    def percent_of(self, *substances: str) -> Interval:
        """Sum of the named substances, w/w % of the whole."""
        return Interval.total(self.parts[s] for s in substances if s in self.parts).clamped(0, 100)

    def with_role(self, role: Role, catalogue: Catalogue) -> Interval:
        """Sum of all parts with this role, w/w % of the whole."""
        found = (share for part, share in self.parts.items() if part in catalogue and role in catalogue[part].roles)
        return Interval.total(found).clamped(0, 100)


def compose(
    recipe: Recipe, catalogue: Catalogue, *, with_optional: bool = False, spoons: Spoons = Spoons.US
) -> Composition:
    """Mass balance of the recipe; every amount an interval.

    Mass = volume * density as poured; percent_i = 100 m_i / sum(m). Lines without an amount take a typical
    share and are marked as estimated. Never raises for a bad amount: it says so in `statements`.
    """
    said: list[str] = []
    counted = [
        (index, line)
        for index, line in enumerate(recipe.lines)
        if line.alternative_of is None and (with_optional or not line.optional)
    ]
    strained = tuple(index for index, line in counted if _is_strained_off(line, recipe, catalogue))
    if strained:
        said.append("strained_off")
        counted = [(index, line) for index, line in counted if index not in strained]
    if not counted:
        return Composition((), {}, None, (*said, "nothing_to_weigh"), strained)
    by_weight = any(line.amount is not None and line.amount.unit in WEIGHED_UNITS for _, line in counted)
    weighings = [_weigh(line, catalogue.get(line.substance), spoons, by_weight, said) for _, line in counted]
    balanced, more = balance(weighings)
    portions = tuple(
        Portion(index, _as_bottled(line, weighing, share, catalogue), share.grams, share.percent, share.estimated)
        for (index, line), weighing, share in zip(counted, weighings, balanced, strict=True)
    )
    parts = break_down(((p.substance, p.percent) for p in portions if p.substance is not None), catalogue)
    masses = [p.grams for p in portions if p.grams is not None]
    total = Interval.total(masses) if masses else None
    said += [*more, *_remarks(portions, parts, total, catalogue)]
    return Composition(portions, parts, total, tuple(dict.fromkeys(said)), strained)


def _as_bottled(line: Line, weighing: Weighing, share: Balanced, catalogue: Catalogue) -> Substance | None:
    """What the line brings in, at the strength that the message tells."""
    if weighing.substance is None or line.strength is None:
        return weighing.substance
    return at_strength(weighing.substance, line.strength, share.percent.best, catalogue)


def _is_strained_off(line: Line, recipe: Recipe, catalogue: Catalogue) -> bool:
    """Leaves, bags and grounds that are steeped in a liquid of the recipe and taken out."""
    substance = catalogue.get(line.substance)
    if substance is None or Circumstance.STRAINED not in recipe.circumstances:
        return False
    dry = substance.phase in (Phase.POWDER, Phase.SOLID) or Quality.DRIED in line.qualities
    return dry and (bool(substance.roles & STEEPED_ROLES) or Quality.DRIED in line.qualities)


def _weigh(line: Line, substance: Substance | None, spoons: Spoons, by_weight: bool, said: list[str]) -> Weighing:
    amount = line.amount
    if amount is None:
        return Weighing(substance, Kind.OPEN, NOTHING)
    quantity = amount.quantity
    if quantity.best <= 0 or quantity.high > LARGEST_QUANTITY:
        said.append("amount_not_positive" if quantity.best <= 0 else "amount_impossible")
        return Weighing(substance, Kind.OPEN, NOTHING)
    quantity = quantity.clamped(0, math.inf)
    if amount.unit is Unit.PERCENT:
        return Weighing(substance, Kind.PERCENT, quantity, amount.estimated)
    if amount.unit is Unit.PART:
        return Weighing(
            substance,
            Kind.PART,
            _part(quantity, density_of(substance), by_weight),
            amount.estimated,
        )
    grams = grams_of(amount, substance, spoons=spoons, by_weight=by_weight)
    if grams is None or grams.best <= 0:
        said.append("unit_unknown" if amount.unit is None else "piece_weight_unknown")
        return Weighing(substance, Kind.OPEN, NOTHING)
    return Weighing(substance, Kind.MASS, grams, is_rough(amount))


def _part(quantity: Interval, density: Interval, by_weight: bool) -> Interval:
    """Parts are poured unless the recipe weighs; the interval spans both readings."""
    poured = quantity.times(density)
    return quantity.hull(poured) if by_weight else poured.hull(quantity)


def _remarks(
    portions: Iterable[Portion],
    parts: Mapping[str, Interval],
    total: Interval | None,
    catalogue: Catalogue,
) -> Iterable[str]:
    portions = tuple(portions)
    unknown = sum(portion.percent.best for portion in portions if portion.substance is None)
    if len(portions) == 1:
        yield "one_ingredient"
    if all(portion.substance is None for portion in portions):
        yield "unknown_only"
    elif unknown > 0:
        yield "unknown_share"
    if total is not None and total.best > HUGE_GRAMS:
        yield "amount_huge"
    spirits = sum(
        share.best
        for part, share in parts.items()
        if part in catalogue and catalogue[part].phase in (Phase.ALCOHOL, Phase.SOLVENT)
    )
    if spirits >= 5:
        yield "evaporates"
