"""The hazards, in the order in which they are looked at and said. To add one: add a file and a line here."""

from collections.abc import Callable, Iterator

from rules.assessment import Finding
from rules.case import Case
from rules.hazards import (
    acidic,
    alkaline,
    allergens,
    colourants,
    delicate,
    eye_particles,
    flammable,
    fragrance,
    ineffective,
    labels,
    limits,
    nails,
    never_at_home,
    non_cosmetic,
    phototoxic,
    preservation,
    pressure,
    prohibited,
    reactive,
    sensitisers,
    separation,
    settling,
    spoilage,
    sun,
)

HAZARDS: tuple[Callable[[Case], Iterator[Finding]], ...] = (
    never_at_home.check,
    prohibited.check,
    non_cosmetic.check,
    preservation.check,
    colourants.check,
    eye_particles.check,
    spoilage.check,
    sun.check,
    nails.check,
    sensitisers.check,
    phototoxic.check,
    limits.check,
    fragrance.check,
    acidic.check,
    alkaline.check,
    reactive.check,
    pressure.check,
    flammable.check,
    separation.check,
    settling.check,
    ineffective.check,
    labels.check,
    delicate.check,
    allergens.check,
)
