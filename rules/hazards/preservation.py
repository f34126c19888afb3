"""Water that is meant to be kept and that nothing, or too little, preserves."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case
from rules.chemistry.chemistry import Preserved
from rules.hazards.evidence import finding
from rules.recipe import Circumstance, Site

SOAP_BARS = ("soap", "bar_soap", "soap_bar", "cold_process_soap", "melt_and_pour_soap")


def _grave(case: Case) -> bool:
    """An infection there is grave: a kept leave-on product at the eye, or an infant's eyes or mouth."""
    if case.at(Site.EYE_AREA) and case.left_on:
        return True
    return case.when(Circumstance.INFANT) and case.at(Site.EYE_AREA, Site.MOUTH)


def check(case: Case) -> Iterator[Finding]:
    found = case.chemistry.preservation
    if not case.kept or case.dry or case.made_as(*SOAP_BARS):
        return
    if found.status is Preserved.CANNOT_TELL:
        yield finding(
            Hazard.NEEDS_PRESERVATIVE,
            Severity.NOTE,
            "preservative_strength_unknown",
            "preserve_at_full_dose",
            Basis.COMMON_PRACTICE,
            "common_practice",
        )
    if found.status not in (Preserved.NONE, Preserved.TOO_WEAK):
        return
    grave = _grave(case)
    if found.status is Preserved.TOO_WEAK:
        reason = "preservative_too_weak"
    elif grave:
        reason = "eye_water_unpreserved"
    else:
        reason = "lookalike_is_no_preservative" if found.lookalikes else "water_unpreserved"
    activity = case.chemistry.water_activity
    own = found.status is Preserved.TOO_WEAK
    sources = ("iso_29621", "mascara_keratitis") if grave else ("iso_29621",)
    lookalikes = ", ".join(case.catalogue[s].name for s in found.lookalikes)
    preservatives = ", ".join(case.catalogue[s].name for s in found.preservatives)
    yield finding(
        Hazard.NEEDS_PRESERVATIVE,
        Severity.AVOID if grave else Severity.FIX,
        reason,
        "eye_make_it_dry" if grave else "use_up_or_preserve",
        Basis.COMPUTED,
        *sources,
        value=found.value if own else activity,
        limit=found.limit if own else 0.75,
        unit=found.unit if own else "water activity",
        water=round(case.chemistry.water_percent.best),
        lookalikes=lookalikes,
        preservatives=preservatives,
    )
