"""Essential oils: each against its published dermal maximum, and all of them together."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case, Ingredient
from rules.catalogue import Role
from rules.hazards.evidence import finding, for_fragile
from rules.interval import Interval
from rules.law import OilRow
from rules.recipe import Circumstance, Contact, Site

# Ceilings for all scent together in a leave-on product, w/w %: common practice, no published figure.
FACE_CEILING = 1.0
BODY_CEILING = 3.0
NAIL_CEILING = 5.0
PERFUME_CEILING = 30.0
RINSE_CEILING = 5.0
RUB_CEILING = 10.0
PERFUMES = ("perfume", "solid_perfume")
RUBS = ("muscle_rub", "chest_rub")
BEARDS = ("beard_oil", "beard_balm", "moustache_wax", "beard_wash")
SEVERAL_TIMES = 3.0
FACIAL = frozenset({Site.FACE, Site.LIPS, Site.EYE_AREA, Site.MOUTH})


def _of_oil(case: Case, oil: Ingredient, row: OilRow) -> Finding | None:
    limit = row.lips if row.lips is not None and case.at(Site.LIPS) else row.leave_on
    if limit is None or not case.left_on:
        return None
    if oil.percent.low > limit:
        severity, reason = for_fragile(case, Severity.FIX), "oil_over_maximum"
        if row.carries_avoid and oil.percent.low > SEVERAL_TIMES * limit and case.at(Site.FACE, Site.LIPS):
            severity = Severity.AVOID
    elif oil.percent.best > limit:
        severity, reason = Severity.NOTE, "oil_over_maximum_perhaps"
    else:
        return None
    return finding(
        Hazard.OVER_LIMIT,
        severity,
        reason,
        "use_fewer_drops" if limit > 0 else "leave_scent_out",
        row.basis,
        row.source,
        cause=oil,
        value=oil.percent,
        limit=limit,
        unit="percent",
        constituent=row.constituent,
    )


def _meant(case: Case) -> tuple[Site, ...]:
    """Where the message puts it; of the places that a kind of product merely may go to, the main one."""
    by_kind = case.product is not None and case.sites == case.product.sites
    return case.sites[:1] if by_kind else case.sites


def ceiling(case: Case) -> float:
    """The usual ceiling for all scent together in this kind of product, w/w %."""
    if case.made_as(*PERFUMES):
        return PERFUME_CEILING
    if case.made_as(*RUBS):
        return RUB_CEILING
    if case.contact is Contact.RINSE_OFF:
        return RINSE_CEILING
    if case.made_as(*BEARDS):
        return BODY_CEILING
    if not FACIAL.isdisjoint(_meant(case)):
        return FACE_CEILING
    return NAIL_CEILING if case.sites and set(case.sites) <= {Site.NAILS, Site.FEET} else BODY_CEILING


def _total(case: Case, oils: tuple[Ingredient, ...]) -> Finding | None:
    if case.when(Circumstance.INFANT):
        return None  # the rule for infants speaks of every drop
    total = Interval.total(i.percent for i in oils).clamped(0, 100)
    limit = ceiling(case)
    if total.best <= limit or (case.made_as(*PERFUMES) and total.low <= limit):
        return None
    over = total.low > limit
    return finding(
        Hazard.OVER_LIMIT,
        for_fragile(case, Severity.FIX) if over else Severity.NOTE,
        "scent_over_ceiling" if over else "scent_over_ceiling_perhaps",
        "use_fewer_drops",
        Basis.COMMON_PRACTICE,
        "common_practice",
        cause=max(oils, key=lambda i: i.percent.best),
        value=total,
        limit=limit,
        unit="percent",
    )


def _many_times(case: Case, oils: tuple[Ingredient, ...]) -> Finding | None:
    """So much scent that it is no matter of a ceiling any more: it irritates whoever wears it."""
    total = Interval.total(i.percent for i in oils)
    if total.low <= SEVERAL_TIMES * ceiling(case) or case.made_as(*PERFUMES):
        return None
    return finding(
        Hazard.SENSITISER,
        Severity.NOTE,
        "natural_can_irritate",
        "use_fewer_drops",
        Basis.COMMON_PRACTICE,
        "common_practice",
        cause=max(oils, key=lambda i: i.percent.best),
        limit=ceiling(case),
    )


def _eye(case: Case, oils: tuple[Ingredient, ...]) -> Finding | None:
    if not case.at(Site.EYE_AREA):
        return None
    return finding(
        Hazard.SENSITISER,
        Severity.FIX if case.left_on and case.sites[0] is Site.EYE_AREA else Severity.NOTE,
        "scent_at_eye",
        "leave_scent_out",
        Basis.COMMON_PRACTICE,
        "common_practice",
        cause=oils[0],
    )


def check(case: Case) -> Iterator[Finding]:
    rows = case.law.oils
    scents = case.with_role(Role.ESSENTIAL_OIL)
    if not scents:
        return
    for oil in scents:
        row = rows.get(oil.substance.id)
        single = None if row is None else _of_oil(case, oil, row)
        if single is not None:
            yield single
    for found in (_total(case, scents), _many_times(case, scents), _eye(case, scents)):
        if found is not None:
            yield found
