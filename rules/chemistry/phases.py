"""What of a composition is water, alcohol, fat, powder: w/w % of the whole, gathered once for all of the
chemistry."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from rules.catalogue import Catalogue, Phase, Role, Shelf, Substance
from rules.chemistry.breakdown import hydrates
from rules.chemistry.composition import Composition, Portion
from rules.chemistry.thresholds import threshold
from rules.chemistry.water_activity import solutes
from rules.interval import Interval

NOTHING = Interval.exact(0.0)
EMULSIFYING_ROLES = frozenset({Role.EMULSIFIER, Role.SOLUBILISER, Role.SURFACTANT, Role.SOAP})
GUM_HOLDS_PERCENT = 0.15  # common practice, no source
WAX_CELSIUS, WAX_HOLDS_PERCENT = 45.0, 3.0  # common practice, no source
DRY_PHASES = frozenset({Phase.POWDER, Phase.SOLID})
ALCOHOL_IDS = ("ethanol", "isopropanol")


@dataclass(frozen=True, slots=True)
class Phases:
    """All w/w % of the whole.

    oil: without emulsifiers, and without what sits inside a bought emulsion (oil_inside). undissolved:
    powders and what salts and sugars the water does not take up. emulsions: bought ones as they come.
    """

    water: Interval
    ethanol: Interval
    alcohol: Interval
    oil: Interval
    oil_inside: Interval
    powder: Interval
    undissolved: Interval
    emulsions: Interval
    unknown: Interval
    thickened: bool
    oils: tuple[tuple[Substance, Interval], ...]
    emulsifiers: tuple[tuple[Substance, Interval], ...]

    @property
    def is_dry_mix(self) -> bool:
        """Bath salts, a bath bomb, a tooth powder: a little water goes into crystals, none is left free."""
        little = self.water.best < threshold("dry_mix_water_percent")
        return little and self.undissolved.best >= threshold("dry_mix_solids_percent")

    @property
    def little_water(self) -> float:
        """w/w % of water up to which there is no water phase to speak of."""
        return threshold("dry_mix_water_percent" if self.is_dry_mix else "little_water_percent")

    @property
    def all_oil(self) -> Interval:
        return self.oil + self.oil_inside


def is_bought_emulsion(portion: Portion) -> bool:
    """A lotion, an egg, mayonnaise: it has an emulsifier of its own. Milk has none to spare."""
    substance = portion.substance
    if substance is None or substance.phase is not Phase.EMULSION:
        return False
    return substance.shelf is Shelf.COSMETIC or bool(substance.roles & EMULSIFYING_ROLES)


def gather(composition: Composition, catalogue: Catalogue) -> Phases:
    """Sums the parts by phase. Parts that the catalogue does not hold are left out."""
    parts, portions = composition.parts, composition.portions
    inside = _inside_emulsions(composition)
    known = [(s, share) for part, share in parts.items() if (s := catalogue.get(part)) is not None]
    emulsifiers = tuple((s, share) for s, share in known if s.roles & EMULSIFYING_ROLES)
    fats = [(s, share) for s, share in known if s.phase is Phase.OIL and not s.roles & EMULSIFYING_ROLES]
    free = ((s, _less(share, inside[s.id]) if s.id in inside else share) for s, share in fats)
    oils = tuple((s, share) for s, share in free if share.best > 0)
    powder = [share for s, share in known if s.phase in DRY_PHASES and not s.roles & EMULSIFYING_ROLES]
    return Phases(
        water=parts.get("water", NOTHING),
        ethanol=parts.get("ethanol", NOTHING),
        alcohol=_sum(parts[a] for a in ALCOHOL_IDS if a in parts),
        oil=_sum(share for _, share in oils),
        oil_inside=_sum(inside[s.id] for s, _ in fats if s.id in inside),
        powder=_sum(powder),
        undissolved=_sum((*powder, *_crystals(parts))),
        emulsions=_sum(p.percent for p in portions if is_bought_emulsion(p)),
        unknown=_sum(p.percent for p in portions if p.substance is None),
        thickened=_is_thickened(composition, oils, catalogue),
        oils=oils,
        emulsifiers=emulsifiers,
    )


def _sum(shares: Iterable[Interval]) -> Interval:
    return Interval.total(shares).clamped(0, 100)


def _is_thickened(composition: Composition, oils: Iterable[tuple[Substance, Interval]], catalogue: Catalogue) -> bool:
    """A gum, or wax that sets: a yield stress that holds up grains and droplets."""
    wax = sum(share.best for oil, share in oils if (oil.melts_celsius or 0) > WAX_CELSIUS)
    gum = composition.with_role(Role.THICKENER, catalogue).best
    return gum >= GUM_HOLDS_PERCENT or wax >= WAX_HOLDS_PERCENT


def _crystals(parts: Mapping[str, Interval]) -> Iterator[Interval]:
    """Salts and sugars beyond what the water dissolves, and hydrates that kept their shape."""
    water = parts.get("water", NOTHING).best
    for part, share in parts.items():
        row = solutes().get(part)
        if part in hydrates():
            yield share
        elif row is not None and row.limit_grams_per_gram is not None and share.best > 0:
            left = max(0.0, 1 - row.limit_grams_per_gram * water / share.best)
            yield share.scaled(left)


def _inside_emulsions(composition: Composition) -> dict[str, Interval]:
    """What bought emulsions bring, one level deep: it is dispersed already."""
    inside: dict[str, Interval] = {}
    for portion in composition.portions:
        if portion.substance is not None and is_bought_emulsion(portion):
            for part, share in portion.substance.contains.items():
                piece = portion.percent.scaled(share)
                inside[part] = inside[part] + piece if part in inside else piece
    return inside


def _less(whole: Interval, part: Interval) -> Interval:
    low, best = max(0.0, whole.low - part.low), max(0.0, whole.best - part.best)
    return Interval(
        min(low, best),
        best if best > 1e-9 else min(low, best),
        max(whole.high - part.high, best, 0.0),
    )
