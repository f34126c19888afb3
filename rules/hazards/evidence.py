"""How a finding is built, so that the strongest verdict stands on a source that was read or on a number."""

from __future__ import annotations

from rules.assessment import Basis, Finding, Hazard, Jurisdiction, Severity
from rules.case import Case, Ingredient
from rules.interval import Interval
from rules.sources import load_sources

STEPS = (Severity.NOTE, Severity.FIX, Severity.AVOID)


def step_up(severity: Severity) -> Severity:
    return STEPS[min(STEPS.index(severity) + 1, len(STEPS) - 1)]


def step_down(severity: Severity) -> Severity:
    return STEPS[max(STEPS.index(severity) - 1, 0)]


def for_fragile(case: Case, severity: Severity) -> Severity:
    """One step more for infants, pregnancy, broken or intimate skin."""
    return step_up(severity) if case.fragile else severity


def carries_avoid(basis: Basis, sources: tuple[str, ...]) -> bool:
    """A computed number, or at least one source that was read and is more than common practice or a draft."""
    if basis is Basis.COMPUTED:
        return True
    known = load_sources()
    return basis is not Basis.COMMON_PRACTICE and any(name in known and known[name].carries_avoid for name in sources)


def finding(
    hazard: Hazard,
    severity: Severity,
    reason: str,
    instead: str,
    basis: Basis,
    *sources: str,
    cause: Ingredient | None = None,
    value: Interval | None = None,
    limit: float | None = None,
    unit: str | None = None,
    region: Jurisdiction | None = None,
    **facts: str | float,
) -> Finding:
    """A finding; AVOID without a source that carries it is said as FIX."""
    if severity is Severity.AVOID and not carries_avoid(basis, sources):
        severity = Severity.FIX
    if region is not None:
        facts["where"] = region.value.upper()
    return Finding(
        hazard=hazard,
        severity=severity,
        reason=reason,
        instead=instead,
        basis=basis,
        sources=sources,
        substance=cause.substance.id if cause else None,
        line=cause.index if cause else None,
        value=value,
        limit=None if limit is None else Interval.exact(limit),
        unit=unit,
        region=region,
        facts=facts,
    )
