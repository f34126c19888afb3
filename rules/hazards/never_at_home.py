"""What no recipe makes safe at home: needles, eye drops, dissolving skin, drugs."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case
from rules.catalogue import Role
from rules.hazards.evidence import finding
from rules.recipe import Circumstance, Site

STERILE = ("eye_drops", "lens_solution", "nose_ear_product")
EATS_SKIN = ("mole_remover",)


def _needles(case: Case) -> Iterator[Finding]:
    if case.when(Circumstance.NEEDLE) or case.made_as("injectable"):
        yield finding(
            Hazard.PROHIBITED,
            Severity.AVOID,
            "under_the_skin",
            "ask_a_professional",
            Basis.OPINION,
            "fda_fillers",
        )


def _sterile(case: Case) -> Iterator[Finding]:
    if case.made_as(*STERILE):
        yield finding(
            Hazard.NEEDS_PRESERVATIVE,
            Severity.AVOID,
            "must_be_sterile",
            "buy_sterile",
            Basis.STANDARD,
            "iso_17516",
            "mascara_keratitis",
        )


def _dissolves(case: Case) -> Iterator[Finding]:
    found = case.with_role(Role.DISSOLVES_SKIN)
    if not found and not case.made_as(*EATS_SKIN):
        return
    grave = case.left_on or case.at_mucosa or case.made_as(*EATS_SKIN)
    yield finding(
        Hazard.PROHIBITED,
        Severity.AVOID if grave else Severity.FIX,
        "eats_skin",
        "ask_a_professional",
        Basis.OPINION if not found else Basis.COMMON_PRACTICE,
        "cir_aha" if not found else "common_practice",
        cause=found[0] if found else None,
    )


def _drugs(case: Case) -> Iterator[Finding]:
    for drug in case.with_role(Role.DRUG):
        yield finding(
            Hazard.PROHIBITED,
            Severity.FIX if case.left_on or case.at(Site.FACE) else Severity.NOTE,
            "medicine_in_cosmetic",
            "ask_a_professional",
            Basis.LAW,
            "us_drug_recall",
            cause=drug,
            region=case.jurisdiction,
        )


def check(case: Case) -> Iterator[Finding]:
    yield from _needles(case)
    yield from _sterile(case)
    yield from _dissolves(case)
    yield from _drugs(case)
