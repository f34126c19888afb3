"""How strong the preservatives of a mixture are at its pH, against published working doses."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from rules.chemistry.phases import Phases
from rules.chemistry.tables import Row, read_table
from rules.chemistry.thresholds import threshold
from rules.interval import Interval

MOST_OIL = 0.99  # share of the whole; there is always a little water where this is asked
BOOSTED_COVER = 1.25  # a booster evens out the weak side of a preservative: common practice, no source


class PreservativeRow(Row):
    """One preservative; for acids (pka given) both floors count the undissociated acid.

    floor: working w/w % alone; floor_boosted: beside a booster or a second preservative. bacteria, fungi:
    how much of the floor counts against each. acid_share: grams of acid in a gram of the salt.
    """

    floor: float
    floor_boosted: float
    bacteria: float
    fungi: float
    acid: str | None = None
    acid_share: float = 1.0
    pka: float | None = None
    highest_ph: float


@lru_cache(maxsize=1)
def preservatives() -> dict[str, PreservativeRow]:
    return read_table("preservatives", PreservativeRow)


def row_of(preservative: str) -> PreservativeRow:
    """Its own row, else that of an unnamed blend."""
    return preservatives().get(preservative) or preservatives()["other"]


def undissociated(ph: float, pka: float) -> float:
    """Fraction of a weak acid that is not split at this pH: 1 / (1 + 10^(pH - pKa)), 0 <= pH <= 14."""
    return 1 / (1 + 10 ** (ph - pka))


def active_percent(preservative: str, share: Interval, ph: Interval) -> Interval:
    """w/w % of the form that works: the undissociated acid, or the whole of what does not split."""
    row = row_of(preservative)
    if row.pka is None:
        return share
    split = (undissociated(bound, row.pka) for bound in (ph.high, ph.best, ph.low))
    return share.scaled(row.acid_share).times(Interval(*split))


def score_of(found: Mapping[str, Interval], phases: Phases, ph: Interval, *, boosted: bool) -> Interval:
    """Strength against the weaker side of bacteria and fungi; 1 = just enough.

    sum over preservatives of (active % / floor) * cover, active % = share * acid fraction * undissociated
    fraction, less what oil beyond an ordinary lotion takes, since the floors were found in lotions. That the
    strengths of several add up is common practice, not a law.
    """
    held = _oil_takes(phases)
    lift = BOOSTED_COVER if boosted else 1.0
    bacteria, fungi = [], []
    for preservative, share in found.items():
        row = row_of(preservative)
        floor = row.floor_boosted if boosted else row.floor
        strength = active_percent(preservative, share, ph).scaled(1 / held / floor)
        bacteria.append(strength.scaled(min(1.0, row.bacteria * lift)))
        fungi.append(strength.scaled(min(1.0, row.fungi * lift)))
    against_bacteria, against_fungi = Interval.total(bacteria), Interval.total(fungi)
    return against_bacteria if against_bacteria.best <= against_fungi.best else against_fungi


def in_water_phase(overall: float, oil_to_water: float, partition: float) -> float:
    """Concentration in the water of an oil-in-water mixture, in the unit of `overall`.

    C_w = C (r + 1) / (K r + 1), r = oil:water, K = oil:water partition coefficient; J. Soc. Cosmet. Chem. 16
    (1965), library.scconline.org/v016n01/16. Emulsifiers, which bind some more, are left out.
    """
    return overall * (oil_to_water + 1) / (partition * oil_to_water + 1)


def _oil_takes(phases: Phases) -> float:
    """How much more than in an ordinary lotion the oil holds back, 1 or more."""
    partition, reference = threshold("oil_partition"), threshold("reference_oil_share")
    share = min(MOST_OIL, phases.all_oil.best / 100)
    usual = in_water_phase(1.0, reference / (1 - reference), partition)
    return max(1.0, usual / in_water_phase(1.0, share / (1 - share), partition))
