"""The computed chemistry of one recipe, as the hazards read it."""

from __future__ import annotations

from dataclasses import dataclass

from rules.catalogue import Catalogue
from rules.chemistry.acidity import acidity
from rules.chemistry.composition import Composition
from rules.chemistry.emulsion import emulsion
from rules.chemistry.phases import gather
from rules.chemistry.preservation import preservation
from rules.chemistry.results import Emulsion, Mixing, Preservation, Preserved, Settling, Vapour
from rules.chemistry.settling import settling
from rules.chemistry.vapour import vapour
from rules.chemistry.water_activity import water_activity
from rules.interval import Interval
from rules.recipe import Recipe

__all__ = [
    "Chemistry",
    "Emulsion",
    "Mixing",
    "Preservation",
    "Preserved",
    "Settling",
    "Vapour",
    "analyse",
]


@dataclass(frozen=True, slots=True)
class Chemistry:
    """Everything computed; a field is None where the recipe gives nothing to compute it from."""

    water_percent: Interval
    ethanol_percent: Interval
    oil_percent: Interval
    water_activity: Interval | None
    ph: Interval | None
    preservation: Preservation
    emulsion: Emulsion
    settling: Settling
    vapour: Vapour
    statements: tuple[str, ...]
    wet_ph: Interval | None = None  # of a dry mix once it meets ten times its weight of water


def analyse(recipe: Recipe, composition: Composition, catalogue: Catalogue) -> Chemistry:
    """All of the chemistry of one composition."""
    phases = gather(composition, catalogue)
    activity = water_activity(composition.parts)
    acid = acidity(composition, phases, catalogue)
    return Chemistry(
        water_percent=phases.water,
        ethanol_percent=phases.ethanol,
        oil_percent=phases.all_oil.clamped(0, 100),
        water_activity=activity.value,
        ph=acid.ph,
        preservation=preservation(composition, phases, activity.value, acid.ph, catalogue),
        emulsion=emulsion(composition, phases, recipe, acid),
        settling=settling(composition, phases, recipe, catalogue),
        vapour=vapour(composition, phases, acid, catalogue),
        wet_ph=acid.wet_ph,
        statements=tuple(dict.fromkeys((*composition.statements, *activity.statements, *acid.statements))),
    )
