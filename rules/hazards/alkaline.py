"""Too alkaline for the place: bicarbonate left on, soap on face or hair, free lye."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case, Ingredient
from rules.catalogue import Role, Shelf
from rules.chemistry.saponification import LYES, lye_in, most_lye, used_up
from rules.hazards.evidence import finding, for_fragile, step_up
from rules.hazards.limits import cause_of
from rules.interval import Interval
from rules.recipe import Circumstance, Contact, Site

LEAVE_ON_CEILING = 8.5
SODA_PERCENT = 10.0  # bicarbonate left on skin, common practice
HAIR_SODA_PERCENT = 3.0  # a spoon in a cup of water is at pH 8 all the same
SOAP_PERCENT = 3.0
SOAP_PH = Interval(8.5, 9.5, 10.5)
DELICATE = frozenset({Site.FACE, Site.HAIR, Site.EYE_AREA})
HARSH = ("sodium_carbonate",)
FREE_LYE = 0.02  # w/w % of NaOH that nothing uses up: 5 mmol in a litre, pH 11.7 (computed)
ADJUSTER_PERCENT = 0.2  # of lye that is dosed drop by drop to a pH: common practice
TABLE_SPREAD = 0.02  # saponification values of one fat differ by about so much


def _alkaline(
    cause: Ingredient | None,
    severity: Severity,
    reason: str,
    instead: str,
    *,
    value: Interval,
    limit: float | None = None,
    unit: str = "pH",
    computed: bool = False,
    **facts: Any,
) -> Finding:
    return finding(
        Hazard.PH_TOO_HIGH,
        severity,
        reason,
        instead,
        Basis.COMPUTED if computed else Basis.COMMON_PRACTICE,
        "computed" if computed else "skin_ph",
        cause=cause,
        value=value,
        limit=limit,
        unit=unit,
        **facts,
    )


def _largest(case: Case, *substances: str) -> Ingredient | None:
    found = [i for i in case.ingredients if i.substance.id in substances]
    return max(found, key=lambda i: i.percent.best, default=None)


def _soda(case: Case) -> Iterator[Finding]:
    soda = _largest(case, "sodium_bicarbonate", "baking_powder")
    acid = case.composition.with_role(Role.ACID, case.catalogue)
    if soda is None or (case.at(Site.BATH, Site.MOUTH) and not case.left_on):
        return
    if acid.best > 0.4 * soda.percent.best:
        return  # the acid uses it up; the reactive rule speaks of that
    ceiling = SODA_PERCENT if case.left_on or not case.at(Site.HAIR) else HAIR_SODA_PERCENT
    much = soda.percent.best > ceiling
    skin = case.on_skin or case.at(Site.HAIR)
    if case.dry and set(case.sites) == {Site.FEET}:
        severity = for_fragile(case, Severity.NOTE)  # dusted in socks and shoes, dry
    elif case.left_on and skin:
        severity = for_fragile(case, Severity.FIX) if much else Severity.NOTE
    elif case.at(Site.FACE, Site.HAIR, Site.EYE_AREA) and much:
        severity = Severity.FIX
    else:
        severity = Severity.NOTE
    yield _alkaline(
        soda,
        severity,
        "soda_left_on" if case.left_on else "soda_on_face_or_hair",
        "less_soda",
        value=soda.percent,
        limit=ceiling,
        unit="percent",
    )


def _soap(case: Case) -> Iterator[Finding]:
    soap = case.composition.with_role(Role.SOAP, case.catalogue)
    if soap.best < SOAP_PERCENT or case.at(Site.BATH):
        return
    cause = max(case.with_role(Role.SOAP), key=lambda i: i.percent.best, default=None)
    delicate = case.left_on or not DELICATE.isdisjoint(case.sites[:1]) or case.at(Site.EYE_AREA)
    delicate = delicate and not case.made_as("shaving_cream")  # what lathers a beard is soap, and is rinsed at once
    severity = Severity.FIX if delicate else Severity.NOTE
    yield _alkaline(cause, severity, "soap_is_alkaline", "mild_surfactant", value=SOAP_PH, limit=LEAVE_ON_CEILING)


def _adjusts(lye: Interval, capacity: Interval) -> bool:
    """A trace of lye beside an acid or a carbomer sets the pH, most often as a solution: to be measured, not left."""
    return capacity.best > 0 and lye.high <= ADJUSTER_PERCENT


def _free(case: Case, lye: Interval, soap: bool, *, generous: bool = False) -> float:
    """Lye that is left, w/w % NaOH; below zero where fat is left instead."""
    capacity = used_up(case.composition, case.catalogue, soap, generous=generous)
    return lye.best - capacity.best * (1 + TABLE_SPREAD if soap else 1)


def _gravity(case: Case, lye: Interval, soap: bool) -> Severity:
    """The strongest verdict only where no remembered figure of a fat decides it, nor a drop dosed to a pH."""
    adjusts = _adjusts(lye, used_up(case.composition, case.catalogue, soap))
    remembered = _free(case, lye, soap, generous=True) <= FREE_LYE
    return Severity.FIX if adjusts or remembered else Severity.AVOID


def _less_lye(case: Case, lye: Interval, soap: bool, most: dict[str, float]) -> str:
    """In soap, the most that its fats take; a trace that sets a pH is measured; else lye is left out."""
    if soap:
        return "less_lye" if most.get("grams") else "lye_calculator"
    return "lower_ph" if _adjusts(lye, used_up(case.composition, case.catalogue, soap)) else "leave_it_out"


def _lye(case: Case) -> Iterator[Finding]:
    """Lye that neither acids nor, in soap making, the fats use up: superfat below zero is free lye."""
    lye = lye_in(case.composition)
    if lye.best <= 0:
        return
    soap = case.soap_making
    free = _free(case, lye, soap)
    cause = cause_of(case, max(LYES, key=lambda part: case.composition.percent_of(part).best))
    measured = cause is not None and cause.line.amount is not None
    most = most_lye(case.composition, case.catalogue) if soap else {}
    if free > FREE_LYE and (measured or not soap):
        yield _alkaline(
            cause,
            _gravity(case, lye, soap) if measured else Severity.NOTE,
            "free_lye",
            _less_lye(case, lye, soap, most),
            value=Interval.exact(round(free, 2)),
            computed=True,
            unit="percent",
            **most,
        )
    elif soap:
        yield _alkaline(
            cause, Severity.NOTE, "lye_in_soap_making", "lye_calculator", value=lye, computed=True, unit="percent"
        )


def _lye_soap_on_intimate_skin(case: Case) -> Iterator[Finding]:
    """Cured soap without free lye is alkaline all the same."""
    if case.soap_making and case.when(Circumstance.INTIMATE):
        yield _alkaline(None, Severity.FIX, "soap_on_intimate_skin", "mild_surfactant_bought", value=SOAP_PH)


def _harsh(case: Case) -> Iterator[Finding]:
    harsh = _largest(case, *HARSH)
    if harsh is not None and harsh.percent.best > 1 and not case.at(Site.BATH):
        yield _alkaline(
            harsh,
            Severity.FIX,
            "washing_soda_on_skin",
            "leave_it_out",
            value=harsh.percent,
            unit="percent",
        )


def _never_to_be_soured(case: Case) -> Ingredient | None:
    """Bleach gives off chlorine with acid, and what cleans ovens boils: nobody is told to add citric acid to those."""
    found = [i for i in case.ingredients if i.substance.shelf is Shelf.HOUSEHOLD or i.has(Role.OXIDISER)]
    return max(found, key=lambda i: i.percent.best, default=None)


def _by_ph(case: Case) -> Iterator[Finding]:
    ph = case.chemistry.ph
    if ph is None or case.contact is Contact.RINSE_OFF or case.dry or not case.left_on:
        return
    if ph.best > LEAVE_ON_CEILING:
        severity = Severity.FIX if ph.low > LEAVE_ON_CEILING else Severity.NOTE
        severity = step_up(severity) if ph.low > 11 else severity
        cause = _never_to_be_soured(case)
        yield _alkaline(
            cause,
            severity,
            "too_alkaline_left_on",
            "lower_ph" if cause is None else "leave_it_out",
            value=ph,
            limit=LEAVE_ON_CEILING,
            computed=True,
        )


def check(case: Case) -> Iterator[Finding]:
    found = [*_soda(case), *_soap(case), *_lye(case), *_lye_soap_on_intimate_skin(case), *_harsh(case)]
    yield from found
    lye = lye_in(case.composition)
    # Fatty acids and carbomer take lye up and are no part of the computed pH.
    taken_up = lye.best > 0 and used_up(case.composition, case.catalogue, soap=False).best >= lye.best
    if not found and not taken_up:
        yield from _by_ph(case)
