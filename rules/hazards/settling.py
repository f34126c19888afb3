"""Powder or glitter that sinks in a thin liquid, or blocks a spray head."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case
from rules.hazards.evidence import finding
from rules.hazards.limits import cause_of
from rules.recipe import Circumstance

MINUTES_PER_DAY = 1440.0


def _steeped(case: Case, substance: str) -> bool:
    """Leaves and flowers are brewed and taken out again."""
    plant = case.catalogue.family(substance) in ("herbs_botanicals", "teas_coffee")
    return plant and "powder" not in substance


def check(case: Case) -> Iterator[Finding]:
    settling = case.chemistry.settling
    if case.dry or settling.substance is None or _steeped(case, settling.substance):
        return
    sinks = settling.minutes is not None and settling.minutes.best < MINUTES_PER_DAY
    clogs = case.sprayed and settling.clogs is not False
    if not sinks and not clogs:
        return
    severity = Severity.FIX if case.sprayed else Severity.NOTE
    cause = cause_of(case, settling.substance)
    if case.when(Circumstance.STRAINED) and not clogs:
        return
    yield finding(
        Hazard.SETTLES_OR_CLOGS,
        severity,
        "grains_block_the_spray" if case.sprayed else "grains_sink",
        "thicken_or_pump" if case.sprayed else "shake_or_thicken",
        Basis.COMPUTED,
        "stokes_law",
        cause=cause,
        value=settling.minutes,
        unit="minutes",
        path=settling.path_mm,
        substance=settling.substance,
    )
