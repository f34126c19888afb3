"""How long grains stay up, and whether they pass a spray nozzle."""

from __future__ import annotations

import math

from rules.catalogue import Catalogue, Edge, Particle, Phase
from rules.chemistry.composition import Composition
from rules.chemistry.phases import Phases
from rules.chemistry.results import Settling
from rules.chemistry.thresholds import threshold
from rules.interval import Interval
from rules.recipe import Circumstance, Recipe

GRAVITY = 9.80665
PATH_MM = 50.0
LEAST_WATER_PERCENT = 20.0  # below this it is a paste
NOZZLE_MICROMETRES = (200.0, 300.0, 500.0)  # fine-mist pump insert, from memory
CLOGS_AT_ONCE, CLOGS_IN_TIME = 1 / 3, 1 / 7  # grain against hole: common practice
PLATE_RATIO = 30.0  # diameter against thickness of mica, from memory
# Sugars thicken more than glycerin at the same share: counted alike, the time is a low bound.
SYRUPS = ("glycerin", "sucrose", "glucose", "fructose", "maltose", "sorbitol", "xylitol")
SOURCES = (
    "Stokes law with the drag correction of the fluids library",
    "viscosity of glycerol and water: Ind. Eng. Chem. Res. 47 (2008) 3285",
)


def glycerol_viscosity(mass_share: float, celsius: float = 20.0) -> float:
    """Pa s of glycerol in water, 0 to 1 by mass, 0 to 100 degrees C. Ind. Eng. Chem. Res. 47 (2008) 3285."""
    water = 1.790 * math.exp((-1230 - celsius) * celsius / (36100 + 360 * celsius))
    glycerol = 12100 * math.exp((-1233 + celsius) * celsius / (9900 + 70 * celsius))
    a = 0.705 - 0.0017 * celsius
    b = (4.9 + 0.036 * celsius) * a**2.5
    alpha = 1 - mass_share + a * b * mass_share * (1 - mass_share) / (a * mass_share + b * (1 - mass_share))
    return math.exp(alpha * math.log(water) + (1 - alpha) * math.log(glycerol)) / 1000


def glycerol_density(mass_share: float) -> float:
    """kg/m3 of glycerol in water at 20 degrees C, 0 to 1 by mass; linear, within 0.5 % of Exp. Fluids 59
    (2018) 75."""
    return 998.2 + (1261.0 - 998.2) * mass_share


def sphere_speed(diameter: float, solid: float, liquid: float, viscosity: float) -> float:
    """Terminal speed in m/s of a sphere, sinking or rising; m, kg/m3, Pa s; any Reynolds number."""
    from fluids.drag import (
        v_terminal,
    )  # imported late: it brings numpy, and few recipes hold grains

    excess = abs(solid - liquid)
    if excess < 1:
        return 0.0
    return float(v_terminal(D=diameter, rhop=liquid + excess, rho=liquid, mu=viscosity))


def plate_speed(diameter: float, solid: float, liquid: float, viscosity: float) -> float:
    """m/s of a thin tumbling plate: d_rho g pi D h / (24 mu), creeping flow (Re < 0.1); from memory."""
    thickness = diameter / PLATE_RATIO
    return abs(solid - liquid) * GRAVITY * math.pi * diameter * thickness / (24 * viscosity)


def settling(composition: Composition, phases: Phases, recipe: Recipe, catalogue: Catalogue) -> Settling:
    """The grain that blocks the nozzle, else the one that settles first in the water phase."""
    grains = _grains(composition, catalogue)
    paste = phases.powder.best >= threshold("paste_powder_percent")
    if not grains or paste or phases.water.best < LEAST_WATER_PERCENT:
        return Settling(None, None, PATH_MM, None, ())
    syrup = composition.percent_of(*SYRUPS).best
    share = syrup / (syrup + phases.water.best)
    viscosity, density = glycerol_viscosity(share), glycerol_density(share)
    clogs = None
    substance, particle = max(grains, key=lambda grain: _haste(grain[1], density))
    if Circumstance.SPRAYED in recipe.circumstances:
        coarsest, coarse = max(grains, key=lambda grain: grain[1].micrometres[1])
        clogs = clogs_nozzle(coarse)
        if clogs:
            substance, particle = coarsest, coarse
    minutes = None if phases.thickened else minutes_to_fall(particle, viscosity, density)
    return Settling(substance, minutes, PATH_MM, clogs, SOURCES)


def _grains(composition: Composition, catalogue: Catalogue) -> list[tuple[str, Particle]]:
    """Undissolved solids of known size."""
    known = ((catalogue.get(part), share) for part, share in composition.parts.items())
    return [
        (substance.id, substance.particle)
        for substance, share in known
        if substance is not None
        and substance.particle is not None
        and substance.phase in (Phase.POWDER, Phase.SOLID)
        and share.best > 0
    ]


def _haste(particle: Particle, liquid: float) -> float:
    """Rank by Stokes: density difference times diameter squared."""
    return abs(particle.density * 1000 - liquid) * particle.micrometres[1] ** 2


def minutes_to_fall(particle: Particle, viscosity: float, liquid: float) -> Interval | None:
    """Minutes to sink (or rise) 50 mm in a liquid of Pa s and kg/m3; None where the grain weighs what the
    liquid does.

    The coarsest grain sets the low end, the finest the high end. A plate falls between the speed of a
    sphere and of a tumbling plate of its diameter: the geometric mean is the best value.
    """
    solid = particle.density * 1000
    fine, usual, coarse = (size * 1e-6 for size in particle.micrometres)
    slow, best, fast = (sphere_speed(size, solid, liquid, viscosity) for size in (fine, usual, coarse))
    if particle.edge is Edge.PLATE:
        slow = min(slow, plate_speed(fine, solid, liquid, viscosity))
        best = math.sqrt(best * min(best, plate_speed(usual, solid, liquid, viscosity)))
    if slow <= 0:
        return None
    low, middle, high = sorted(PATH_MM / 1000 / speed / 60 for speed in (fast, best, slow))
    return Interval(low, middle, high)


def clogs_nozzle(particle: Particle) -> bool | None:
    """Grain against the hole of a fine-mist pump; None where it depends on the pump."""
    if particle.micrometres[1] > CLOGS_AT_ONCE * NOZZLE_MICROMETRES[1]:
        return True
    return False if particle.micrometres[2] < CLOGS_IN_TIME * NOZZLE_MICROMETRES[0] else None
