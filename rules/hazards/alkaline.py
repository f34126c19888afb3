"""Too alkaline for the place: bicarbonate left on, soap on face or hair, free lye."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case, Ingredient
from rules.catalogue import Role
from rules.hazards.evidence import finding, for_fragile, step_up
from rules.interval import Interval
from rules.recipe import Contact, Site

LEAVE_ON_CEILING = 8.5
SODA_PERCENT = 10.0  # bicarbonate left on skin, common practice
HAIR_SODA_PERCENT = 3.0  # a spoon in a cup of water is at pH 8 all the same
SOAP_PERCENT = 3.0
SODA_PH = Interval(8.1, 8.3, 8.6)
SOAP_PH = Interval(8.5, 9.5, 10.5)
LYES = ("sodium_hydroxide", "potassium_hydroxide")
HARSH = ("sodium_carbonate",)
# NaOH that fats can take up, g per g of fat: coconut oil, the hungriest common one, takes 0.183 (computed
# from a saponification value of 257 mg KOH/g x 40.00/56.11 / 1000).
FAT_TAKES_UP = 0.183


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
    if case.left_on and skin:
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
    delicate = case.at(Site.FACE, Site.HAIR, Site.EYE_AREA) or case.left_on
    severity = Severity.FIX if delicate else Severity.NOTE
    yield _alkaline(
        cause, severity, "soap_is_alkaline", "mild_surfactant", value=SOAP_PH, limit=LEAVE_ON_CEILING
    )


def _lye(case: Case) -> Iterator[Finding]:
    lye = _largest(case, *LYES)
    if lye is None or lye.percent.best < 0.5:
        return
    fat = case.chemistry.oil_percent
    needed = lye.percent.scaled(1.0 if lye.substance.id == "sodium_hydroxide" else 40.0 / 56.11)
    soap_making = fat.best > 0 and needed.low <= FAT_TAKES_UP * fat.high
    yield _alkaline(
        lye,
        Severity.NOTE if soap_making else Severity.AVOID,
        "lye_in_soap_making" if soap_making else "free_lye",
        "lye_calculator" if soap_making else "leave_it_out",
        value=lye.percent,
        computed=True,
        unit="percent",
    )


def _harsh(case: Case) -> Iterator[Finding]:
    harsh = _largest(case, *HARSH)
    if harsh is not None and harsh.percent.best > 1 and not case.at(Site.BATH):
        yield _alkaline(
            harsh,
            Severity.FIX,
            "washing_soda_on_skin",
            "less_soda",
            value=harsh.percent,
            unit="percent",
        )


def _by_ph(case: Case) -> Iterator[Finding]:
    ph = case.chemistry.ph
    if ph is None or case.contact is Contact.RINSE_OFF or case.dry or not case.left_on:
        return
    if ph.best > LEAVE_ON_CEILING:
        severity = Severity.FIX if ph.low > LEAVE_ON_CEILING else Severity.NOTE
        severity = step_up(severity) if ph.low > 11 else severity
        yield _alkaline(
            None,
            severity,
            "too_alkaline_left_on",
            "lower_ph",
            value=ph,
            limit=LEAVE_ON_CEILING,
            computed=True,
        )


def check(case: Case) -> Iterator[Finding]:
    found = [*_soda(case), *_soap(case), *_lye(case), *_harsh(case)]
    yield from found
    if not found:
        yield from _by_ph(case)
