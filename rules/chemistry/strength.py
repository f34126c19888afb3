"""A material at the strength that its bottle tells, where that is not the strength of the catalogue's row."""

from __future__ import annotations

from rules.catalogue import Catalogue, Phase, Role, Substance
from rules.chemistry.breakdown import WATER

LIQUID_PURE_DENSITY = {"ethanol": 0.789, "isopropanol": 0.785}  # g/ml at 20 degrees C, CRC Handbook, from memory
SAME = 0.05  # relative; the row and the bottle tell the same strength
TWICE = 0.2  # relative; a percentage this near to a pure thing's own share of the whole is that share, written twice
DISSOLVED = frozenset({Role.ACID, Role.ALKALI, Role.OXIDISER, Role.DISSOLVES_SKIN})


def at_strength(substance: Substance, strength: float, percent: float, catalogue: Catalogue) -> Substance:
    """The substance holding `strength` (0-1) of what its name says, the rest water; unchanged where that tells nothing.

    Pure solutes and alcohols, and rows that are one dissolved thing in water (vinegar, peroxide, spirits), are sold as
    solutions; creams, juices, powders and oils keep the row's contents. Alcohols are told by volume:
    w/w = s * rho / (s * rho + 1 - s), which neglects contraction and is up to 0.03 too high. `percent`: w/w % of the
    line in the whole.
    """
    dissolves = substance.phase is Phase.SOLUTE and not substance.contains
    if dissolves and abs(percent - 100 * strength) <= TWICE * 100 * strength:
        return substance
    active = _active(substance, catalogue)
    if active is None:
        return substance
    rho = LIQUID_PURE_DENSITY.get(active)
    share = strength if rho is None else strength * rho / (strength * rho + 1 - strength)
    told = substance.contains.get(active, 1.0) if active != substance.id else 1.0
    if abs(share - told) <= SAME * told:
        return substance
    contains = {WATER: 1 - share} if active == substance.id else {active: share, WATER: 1 - share}
    return substance.model_copy(update={"contains": contains})


def _active(substance: Substance, catalogue: Catalogue) -> str | None:
    """Id of what the strength tells of; None where the material is no solution, or of several things."""
    if not substance.contains:
        return substance.id if _is_dissolved(substance) else None
    held = [part for part in substance.contains if part != WATER]
    inner = catalogue.get(held[0]) if len(held) == 1 and WATER in substance.contains else None
    if inner is None:
        return None
    return inner.id if substance.phase is Phase.ALCOHOL or inner.roles & DISSOLVED else None


def _is_dissolved(substance: Substance) -> bool:
    """A preservative's few percent are its share of the batch; what is neither acid nor lye is taken at its word."""
    if substance.phase is Phase.ALCOHOL:
        return True
    return substance.phase is Phase.SOLUTE and (
        bool(substance.roles & DISSOLVED) or Role.PRESERVATIVE not in substance.roles
    )
