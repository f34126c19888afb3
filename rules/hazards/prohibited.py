"""Substances that the law of the region bans from cosmetics, at all or at this place."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Finding, Hazard, Jurisdiction, Severity
from rules.case import Case, Ingredient
from rules.hazards.evidence import finding
from rules.law import BanRow

OTHERS = {
    Jurisdiction.US: Jurisdiction.EU,
    Jurisdiction.EU: Jurisdiction.US,
    Jurisdiction.UK: Jurisdiction.EU,  # what the EU has banned since the UK left
}


def _applies(case: Case, row: BanRow) -> bool:
    if row.sprayed and not case.sprayed:
        return False
    if case.product is not None and case.product.id in row.exempt:
        return False
    return not row.sites or not set(row.sites).isdisjoint(case.sites)


def _banned(ingredient: Ingredient, row: BanRow, severity: Severity, reason: str) -> Finding:
    return finding(
        Hazard.PROHIBITED,
        severity,
        reason,
        "leave_it_out",
        row.basis,
        row.source,
        cause=ingredient,
        region=row.region,
        locator=row.locator,
        note=row.note,
    )


def check(case: Case) -> Iterator[Finding]:
    law = case.law
    for ingredient in case.ingredients:
        here = [r for r in law.bans_in(ingredient.substance.id, case.jurisdiction) if _applies(case, r)]
        for row in here[:1]:
            severity = Severity.AVOID if row.carries_avoid else Severity.FIX
            yield _banned(ingredient, row, severity, "prohibited_here")
        if here:
            continue
        there = law.bans_in(ingredient.substance.id, OTHERS[case.jurisdiction])
        for row in [r for r in there if _applies(case, r)][:1]:
            yield _banned(ingredient, row, Severity.NOTE, "prohibited_elsewhere")
