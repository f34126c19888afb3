"""Shares of the whole from a mix of masses, parts, percents and lines that give no amount."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from rules.catalogue import Phase, Role, Substance
from rules.chemistry.tables import Row, read_table
from rules.interval import Interval

# One part of a recipe that mixes parts with grams or drops: a teaspoon to half a cup. Common practice, no
# source.
PART_GRAMS = Interval(5, 20, 120)
# An unmeasured bulk line against the mean of the measured ones, and water that fills a vessel up, against
# all of them. Common practice, no source.
BULK_AGAINST_MEAN = Interval(0.2, 1, 5)
UNKNOWN_AGAINST_MEAN = Interval(0.0, 0.3, 5)  # it may be no ingredient at all
WATER_AGAINST_ALL = Interval(0.5, 3, 10)
PERCENT_SLACK = 0.5
LEAST_REST_PERCENT = 1.0


class Kind(StrEnum):
    MASS = "mass"
    PART = "part"
    PERCENT = "percent"
    OPEN = "open"  # no amount


@dataclass(frozen=True, slots=True)
class Weighing:
    """One line before the balance: grams, parts (already weighted by density) or percent, by `kind`."""

    substance: Substance | None
    kind: Kind
    value: Interval
    estimated: bool = False


@dataclass(frozen=True, slots=True)
class Balanced:
    grams: Interval | None
    percent: Interval
    estimated: bool


class ShareRow(Row):
    low: float
    best: float
    high: float


@lru_cache(maxsize=1)
def typical_shares() -> dict[tuple[Role, Phase | None], Interval]:
    """w/w % of an ingredient without an amount, by "role" or "role.phase"; the first match counts."""
    shares = {}
    for key, row in read_table("typical_shares", ShareRow).items():
        role, _, phase = key.partition(".")
        shares[Role(role), Phase(phase) if phase else None] = Interval(row.low, row.best, row.high)
    return shares


def typical_share(substance: Substance | None) -> Interval | None:
    """None = a bulk ingredient, or unknown."""
    if substance is None:
        return None
    for (role, phase), share in typical_shares().items():
        # Honey is called a preservative, yet it goes in by the spoon.
        by_the_spoon = role is Role.LOOKS_LIKE_PRESERVATIVE and Role.FOOD in substance.roles
        if role in substance.roles and phase in (None, substance.phase) and not by_the_spoon:
            return share
    return None


def ratio(weights: Sequence[Interval], whole: Interval) -> list[Interval]:
    """Each weight's part of `whole`, with exact bounds: low = l_i / (l_i + sum of the other highs)."""
    total = Interval.total(weights)
    if total.best <= 0:
        return [Interval(0.0, 0.0, 0.0) for _ in weights]
    shares = []
    for weight in weights:
        most = weight.low + total.high - weight.high
        least = weight.high + total.low - weight.low
        best = whole.best * weight.best / total.best
        low = whole.low * weight.low / most if most > 0 else 0.0
        high = whole.high * weight.high / least if least > 0 else whole.high
        shares.append(Interval(min(low, best), best, max(high, best)))
    return shares


def balance(lines: Sequence[Weighing]) -> tuple[list[Balanced], list[str]]:
    """Percent of each line (best values sum to 100), grams where any are known, what must be said."""
    said: list[str] = []
    settled = _settle_open_lines(lines, said)
    fixed = [w.value if w.kind is Kind.PERCENT else None for w in settled]
    loose = [w for w in settled if w.kind is not Kind.PERCENT]
    weights = _common_weights(loose, said)
    written = Interval.total(f for f in fixed if f is not None)
    if weights and written.best >= 100:
        # Percents that leave no room for the rest are read as percents of the rest.
        said.append("over_100_percent")
        known = any(w.kind is not Kind.OPEN for w in loose)
        base = Interval.total(weights) if known else Interval.exact(10)
        weights = _interleave(fixed, weights, base)
        fixed, written = [None] * len(settled), Interval.exact(0.0)
    elif not weights and written.best > 0:
        fixed = _normalised(fixed, written, said)
    rest = Interval(max(0.0, 100 - written.high), 100 - written.best, 100 - written.low) if weights else None
    loose_shares = iter(ratio(weights, rest) if rest is not None else ())
    percents = [(share if share is not None else next(loose_shares)).clamped(0, 100) for share in fixed]
    grams = _grams(settled, percents)
    unsure = "part_size_unknown" in said
    return [
        Balanced(g, p, w.estimated or (unsure and w.kind is Kind.MASS))
        for g, p, w in zip(grams, percents, settled, strict=True)
    ], said


def _settle_open_lines(lines: Sequence[Weighing], said: list[str]) -> list[Weighing]:
    """Gives every line without an amount a typical share, the remainder, or a weight like its neighbours'."""
    if not any(line.kind is Kind.OPEN for line in lines):
        return list(lines)
    if all(line.kind is Kind.OPEN for line in lines):
        said.append("no_amounts")
    else:
        said.append("amounts_missing")
    bulk_known = [w for w in lines if typical_share(w.substance) is None or w.kind is not Kind.OPEN]
    settled = []
    for line in lines:
        if line.kind is not Kind.OPEN:
            settled.append(line)
            continue
        share = typical_share(line.substance) if bulk_known else None
        if share is not None:
            settled.append(Weighing(line.substance, Kind.PERCENT, share, estimated=True))
        else:
            settled.append(Weighing(line.substance, *_bulk_guess(line, lines), estimated=True))
    return settled


def _bulk_guess(line: Weighing, lines: Sequence[Weighing]) -> tuple[Kind, Interval]:
    like_others = BULK_AGAINST_MEAN if line.substance is not None else UNKNOWN_AGAINST_MEAN
    for kind in (Kind.MASS, Kind.PART):
        known = [w.value for w in lines if w.kind is kind]
        if known:
            total = Interval.total(known)
            if line.substance is not None and line.substance.phase is Phase.WATER:
                return kind, total.times(WATER_AGAINST_ALL)
            return kind, total.times(like_others).scaled(1 / len(known))
    return Kind.OPEN, like_others


def _common_weights(loose: Sequence[Weighing], said: list[str]) -> list[Interval]:
    """One scale for masses, parts and open lines.

    Beside parts a mass counts as parts of unknown size, so that what is unsure is the share of the weighed
    line, never that of the parts among themselves.
    """
    if {Kind.MASS, Kind.PART} <= {w.kind for w in loose}:
        said.append("part_size_unknown")
        return [_in_parts(w.value) if w.kind is Kind.MASS else w.value for w in loose]
    return [w.value for w in loose]


def _in_parts(grams: Interval) -> Interval:
    return Interval(grams.low / PART_GRAMS.high, grams.best / PART_GRAMS.best, grams.high / PART_GRAMS.low)


def _interleave(fixed: list[Interval | None], weights: list[Interval], base: Interval) -> list[Interval]:
    loose = iter(weights)
    return [next(loose) if f is None else f.times(base).scaled(0.01) for f in fixed]


def _normalised(fixed: list[Interval | None], written: Interval, said: list[str]) -> list[Interval | None]:
    """Percents alone, brought to 100; the interval keeps the figure as written."""
    if written.low > 100 + PERCENT_SLACK:
        said.append("over_100_percent")
    elif written.high < 100 - PERCENT_SLACK:
        said.append("under_100_percent")
    factor = 100 / written.best
    return [
        None if f is None else Interval(f.low * min(1, factor), f.best * factor, f.high * max(1, factor)) for f in fixed
    ]


def _grams(settled: Sequence[Weighing], percents: Sequence[Interval]) -> list[Interval | None]:
    """Mass of each line; None where no line has any. A line in percent takes its share of the whole."""
    if not any(w.kind is Kind.MASS for w in settled):
        return [None] * len(settled)
    own = [
        w.value.times(PART_GRAMS) if w.kind is Kind.PART else w.value if w.kind is Kind.MASS else None for w in settled
    ]
    rest = Interval.total(grams for grams in own if grams is not None)
    shared = sum(p.best for p, grams in zip(percents, own, strict=True) if grams is None)
    whole = rest.scaled(100 / max(100 - shared, LEAST_REST_PERCENT))
    return [p.times(whole).scaled(0.01) if g is None else g for g, p in zip(own, percents, strict=True)]
