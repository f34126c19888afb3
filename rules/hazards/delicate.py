"""Infants, pregnancy, broken and intimate skin: what is ordinary elsewhere and is not there."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case
from rules.catalogue import Role
from rules.hazards.evidence import finding
from rules.recipe import Circumstance, Site

SCRAPE_PERCENT = 0.5  # of all essential oils together on scraped skin: common practice
RETINOIDS = frozenset({"retinol", "retinyl_palmitate", "retinyl_acetate", "retinal", "tretinoin", "adapalene"})
# Rich in camphor, menthol or cineole, which can tighten a small child's airway: from memory, no source read.
BREATH_TIGHTENING = frozenset(
    {
        "cajeput_essential_oil", "camphor", "camphor_essential_oil", "cornmint_essential_oil",
        "eucalyptus_essential_oil", "menthol", "niaouli_essential_oil", "peppermint_essential_oil",
        "ravintsara_essential_oil", "rosemary_essential_oil", "vapour_rub_product", "wintergreen_essential_oil",
    }
)  # fmt: skip
CHILD_PERCENT, CHILD_BATH_PERCENT = 0.5, 0.15  # of such oils: common practice


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
    oils = case.with_role(Role.ESSENTIAL_OIL)
    scent = sum(i.percent.low if i.line.amount is None else i.percent.best for i in oils)
    return Severity.NOTE if scent <= SCRAPE_PERCENT and not case.when(Circumstance.INTIMATE) else Severity.FIX


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


def _on_child(case: Case) -> Iterator[Finding]:
    bath = case.at(Site.BATH)
    oils = [i for i in case.ingredients if i.substance.id in BREATH_TIGHTENING]
    most = CHILD_BATH_PERCENT if bath else CHILD_PERCENT
    if (bath or case.left_on) and sum(i.percent.best for i in oils) > most:
        yield finding(
            Hazard.SENSITISER,
            Severity.FIX,
            "tightens_child_breath",
            "leave_it_out",
            Basis.COMMON_PRACTICE,
            "common_practice",
            cause=max(oils, key=lambda i: i.percent.best),
        )


def _steam(case: Case) -> Iterator[Finding]:
    """Whatever floats in the water: the steam itself scalds."""
    if case.made_as("intimate_steam"):
        yield finding(
            Hazard.SENSITISER,
            Severity.FIX,
            "steam_scalds_there",
            "ask_a_professional",
            Basis.COMMON_PRACTICE,
            "common_practice",
        )


def check(case: Case) -> Iterator[Finding]:
    yield from _steam(case)
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
    elif case.when(Circumstance.CHILD):
        yield from _on_child(case)
    if case.when(Circumstance.INTIMATE, Circumstance.BROKEN_SKIN):
        yield from _note(case, Role.ESSENTIAL_OIL, _on_raw_skin(case), "oils_on_raw_skin", "leave_scent_out")
    if case.when(Circumstance.PREGNANCY):
        yield from _retinoids(case)
        yield from _note(case, Role.ESSENTIAL_OIL, Severity.NOTE, "oils_in_pregnancy", "ask_a_professional")
