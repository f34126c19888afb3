"""What the computed chemistry of one recipe consists of, part by part."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from rules.interval import Interval


class Preserved(StrEnum):
    NOT_NEEDED = "not_needed"  # no free water, or nothing grows in it
    EFFECTIVE = "effective"
    TOO_WEAK = "too_weak"  # there is one, below its working range after dilution or at this pH
    NONE = "none"
    CANNOT_TELL = "cannot_tell"


class Mixing(StrEnum):
    NOT_TWO_PHASES = "not_two_phases"
    HOLDS = "holds"
    SHAKE = "shake"  # separates, shaking before each use is enough
    SEPARATES = "separates"
    CANNOT_TELL = "cannot_tell"


@dataclass(frozen=True, slots=True)
class Preservation:
    """status and the number that decided it, as a phrase key with facts (`water_activity`, 0.98 ...).

    active_percent: w/w % of all that preserves in its working form (acids: undissociated). grows:
    organisms that the
    water activity allows, the hardiest last.
    """

    status: Preserved
    reason: str
    value: Interval | None
    limit: float | None
    unit: str | None
    preservatives: tuple[str, ...]  # substance ids found
    lookalikes: tuple[str, ...]  # substance ids that only look like one
    sources: tuple[str, ...]
    active_percent: Interval | None = None
    grows: tuple[str, ...] = ()
    keeps_days: Interval | None = None  # common practice, in a clean jar; chilled where nothing preserves


@dataclass(frozen=True, slots=True)
class Emulsion:
    mixing: Mixing
    oil_percent: Interval
    water_percent: Interval
    emulsifier_percent: Interval
    required_hlb: Interval | None
    hlb: Interval | None
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Settling:
    """minutes to fall `path_mm` in the water phase; None where nothing falls or a thickener holds it."""

    substance: str | None
    minutes: Interval | None
    path_mm: float
    clogs: bool | None  # grain against a spray nozzle; None = cannot tell
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Vapour:
    flash_point_celsius: Interval | None
    alcohol_percent: Interval  # ethanol + isopropanol, w/w of the whole
    gas_litres: Interval | None  # CO2 or O2 set free, at 25 degrees C and 1 atm, for the batch as written
    dangerous_pairs: tuple[tuple[str, str, str], ...]  # id, id, key of the result in the pairs table
    sources: tuple[str, ...]
    bottle_atm: Interval | None = None  # gauge, of the gas in a closed bottle four fifths full
