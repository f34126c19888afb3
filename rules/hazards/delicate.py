"""Infants, pregnancy, broken and intimate skin: what is ordinary elsewhere and is not there."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case
from rules.catalogue import Role
from rules.hazards.evidence import finding
from rules.recipe import Circumstance, Site

SCRAPE_PERCENT = 0.5  # of all essential oils together on scraped skin: common practice


def _note(case: Case, role: Role, severity: Severity, reason: str, instead: str) -> Iterator[Finding]:
    found = case.with_role(role)
    if found:
        cause = max(found, key=lambda i: i.percent.best)
        yield finding(
            Hazard.SENSITISER,
            severity,
            reason,
            instead,
            Basis.COMMON_PRACTICE,
            "common_practice",
            cause=cause,
            value=cause.percent,
            unit="percent",
        )


def _on_raw_skin(case: Case) -> Severity:
    """A salve for scrapes with a few drops in it is ordinary; anything intimate is not."""
    scent = sum(i.percent.best for i in case.with_role(Role.ESSENTIAL_OIL))
    return Severity.NOTE if scent <= SCRAPE_PERCENT and not case.when(Circumstance.INTIMATE) else Severity.FIX


RETINOIDS = frozenset({"retinol", "retinyl_palmitate", "retinyl_acetate", "retinal", "tretinoin", "adapalene"})


def _retinoids(case: Case) -> Iterator[Finding]:
    for retinoid in (i for i in case.ingredients if i.substance.id in RETINOIDS):
        yield finding(
            Hazard.SENSITISER,
            Severity.FIX,
            "retinoid_in_pregnancy",
            "leave_it_out",
            Basis.COMMON_PRACTICE,
            "common_practice",
            cause=retinoid,
        )


def check(case: Case) -> Iterator[Finding]:
    if case.when(Circumstance.INFANT):
        yield from _note(case, Role.ESSENTIAL_OIL, Severity.FIX, "oils_on_infant", "leave_scent_out")
        if case.at(Site.MOUTH, Site.LIPS):
            for honey in (i for i in case.ingredients if i.substance.id.startswith("honey")):
                yield finding(
                    Hazard.FOOD_SPOILAGE,
                    Severity.FIX,
                    "honey_and_infant_mouth",
                    "leave_it_out",
                    Basis.COMMON_PRACTICE,
                    "common_practice",
                    cause=honey,
                )
    if case.when(Circumstance.INTIMATE, Circumstance.BROKEN_SKIN):
        yield from _note(case, Role.ESSENTIAL_OIL, _on_raw_skin(case), "oils_on_raw_skin", "leave_scent_out")
    if case.when(Circumstance.PREGNANCY):
        yield from _retinoids(case)
        yield from _note(case, Role.ESSENTIAL_OIL, Severity.NOTE, "oils_in_pregnancy", "ask_a_professional")
