"""What it is said to do and cannot."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case
from rules.chemistry.chemistry import Preserved
from rules.hazards.evidence import finding
from rules.recipe import Circumstance, Claim, Contact, Site

SANITISER_PERCENT = 52.0  # w/w ethanol in 60 % by volume, the lower end for hand antiseptics (from memory)
CLAIMS = {
    Claim.KILLS_GERMS: ("claim_kills_germs", "buy_tested_antiseptic"),
    Claim.TREATS_DISEASE: ("claim_treats", "ask_a_professional"),
    Claim.LIGHTENS: ("claim_lightens", "ask_a_professional"),
    Claim.GROWS_HAIR: ("claim_grows_hair", "ask_a_professional"),
    Claim.REPELS_INSECTS: ("claim_repels", "buy_tested_repellent"),
}


def _said(severity: Severity, reason: str, instead: str) -> Finding:
    return finding(Hazard.INEFFECTIVE, severity, reason, instead, Basis.COMMON_PRACTICE, "common_practice")


def _claims(case: Case) -> Iterator[Finding]:
    claims = set(case.recipe.claims)
    if case.made_as("insect_repellent"):
        claims.add(Claim.REPELS_INSECTS)
    for claim in CLAIMS:
        if claim is Claim.KILLS_GERMS and case.chemistry.vapour.alcohol_percent.best >= SANITISER_PERCENT:
            continue
        if claim in claims:
            teeth = claim is Claim.LIGHTENS and case.at(Site.MOUTH)
            reason, instead = ("claim_whitens_teeth", "plain_toothpaste") if teeth else CLAIMS[claim]
            infant = claim is Claim.REPELS_INSECTS and case.when(Circumstance.INFANT)
            yield _said(Severity.FIX if infant else Severity.NOTE, reason, instead)
    if Claim.PRESERVES_ITSELF in claims and case.chemistry.preservation.status in (
        Preserved.NONE,
        Preserved.TOO_WEAK,
    ):
        yield _said(Severity.NOTE, "claim_preserves_itself", "use_up_or_preserve")


def _sanitiser(case: Case) -> Iterator[Finding]:
    alcohol = case.chemistry.vapour.alcohol_percent
    # "Alcohol" and no more is counted as the weakest spirit: that it is too weak is then no firm finding.
    guessed = any(i.substance.id == "alcohol" and i.line.strength is None for i in case.ingredients)
    if case.made_as("hand_sanitiser") and alcohol.best < SANITISER_PERCENT:
        yield finding(
            Hazard.INEFFECTIVE,
            Severity.NOTE if guessed else Severity.FIX,
            "sanitiser_too_weak",
            "buy_tested_antiseptic",
            Basis.COMPUTED,
            "computed",
            value=alcohol,
            limit=SANITISER_PERCENT,
            unit="percent",
        )


def _lookalikes(case: Case) -> Iterator[Finding]:
    found = case.chemistry.preservation
    if found.lookalikes and found.status in (Preserved.NONE, Preserved.TOO_WEAK) and case.kept:
        names = ", ".join(case.catalogue[s].name for s in found.lookalikes)
        yield finding(
            Hazard.INEFFECTIVE,
            Severity.NOTE,
            "lookalike_does_not_preserve",
            "use_up_or_preserve",
            Basis.COMMON_PRACTICE,
            "common_practice",
            lookalikes=names,
        )


def check(case: Case) -> Iterator[Finding]:
    yield from _claims(case)
    yield from _sanitiser(case)
    if case.contact is not Contact.RINSE_OFF or case.kept:
        yield from _lookalikes(case)
