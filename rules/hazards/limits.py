"""Percent ceilings of the restricted and preservative tables, counted as the law counts them."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Jurisdiction, Severity
from rules.case import Case, Ingredient
from rules.catalogue import Role
from rules.hazards.evidence import finding, for_fragile
from rules.hazards.prohibited import OTHERS
from rules.interval import Interval
from rules.law import LimitRow
from rules.recipe import Site

SEVERAL_TIMES = 3.0
SCALE = 1.03  # what a kitchen scale and a rounded batch can be off by: common practice
STRICTER = frozenset({Site.FACE, Site.LIPS, Site.EYE_AREA, Site.MOUTH})
FOLLOWS = {Jurisdiction.UK: (Jurisdiction.UK, Jurisdiction.EU)}  # retained law, as the law tables have it


def cause_of(case: Case, substance: str) -> Ingredient | None:
    """The line that brings the substance in: itself, or the product that contains most of it."""
    for ingredient in case.ingredients:
        if ingredient.substance.id == substance:
            return ingredient
    carrying = [i for i in case.ingredients if substance in i.substance.contains]
    carrying.sort(key=lambda i: -i.percent.best * i.substance.contains[substance])
    return carrying[0] if carrying else None


def share_of(case: Case, substance: str) -> Interval:
    """w/w % of a substance, whether it stands as a line or inside a finished product."""
    if substance in case.composition.parts:
        return case.composition.percent_of(substance)
    whole = [i.percent for i in case.ingredients if i.substance.id == substance]
    return Interval.total(whole).clamped(0, 100)


def _rows(case: Case, substance: str, region: Jurisdiction) -> list[LimitRow]:
    product = None if case.product is None else case.product.id
    return case.law.limits(substance, region, _places(case), case.contact, product)


def _places(case: Case) -> tuple[Site, ...]:
    """The main place, and those that are stricter than it; a face serum that says "skin" is no body lotion."""
    return case.sites[:1] + tuple(s for s in case.sites[1:] if s in STRICTER)


def _severity(case: Case, row: LimitRow, counted: Interval) -> Severity | None:
    if counted.low <= SCALE * row.percent:
        return Severity.NOTE if counted.best > row.percent else None
    several = row.percent > 0 and counted.low > SEVERAL_TIMES * row.percent
    if several and row.carries_avoid and (case.at_mucosa or (case.left_on and case.on_skin)):
        return Severity.AVOID
    return for_fragile(case, Severity.FIX) if row.carries_avoid else Severity.FIX


def _over(case: Case, substance: str, row: LimitRow) -> Finding | None:
    counted = share_of(case, substance).scaled(row.factor)
    severity = _severity(case, row, counted)
    if severity is None:
        return None
    if row.region not in FOLLOWS.get(case.jurisdiction, (case.jurisdiction,)):
        far = row.percent > 0 and counted.low > SEVERAL_TIMES * row.percent and row.basis is Basis.LAW
        severity = Severity.FIX if far else Severity.NOTE
        reason = "over_limit_elsewhere"
    else:
        reason = "over_limit_perhaps" if counted.low <= SCALE * row.percent else "over_limit"
        if row.basis is Basis.COMMON_PRACTICE:
            reason = "over_usual_ceiling"
    return finding(
        Hazard.OVER_LIMIT,
        severity,
        reason,
        "use_less" if row.percent > 0 else "leave_it_out",
        row.basis,
        row.source,
        cause=cause_of(case, substance),
        value=counted,
        limit=row.percent,
        unit="percent",
        region=row.region,
        locator=row.locator,
        as_what=row.as_what or case.catalogue[substance].name,
    )


def _made_into_something_else(case: Case, substance: str) -> bool:
    """Lye in soap making is used up by the fat; the alkaline rule looks after it."""
    soap = case.soap_making or case.composition.with_role(Role.SOAP, case.catalogue).best > 1
    return soap and Role.ALKALI in case.catalogue[substance].roles


def check(case: Case) -> Iterator[Finding]:
    own = {i.substance.id for i in case.ingredients}
    for substance in sorted(own | set(case.composition.parts)):
        if _made_into_something_else(case, substance):
            continue
        rows = _rows(case, substance, case.jurisdiction)
        if not rows and case.jurisdiction is Jurisdiction.US:
            rows = _rows(case, substance, OTHERS[case.jurisdiction])
        for row in rows[:1]:
            over = _over(case, substance, row)
            if over is not None:
                yield over
