"""Gas that cannot get out: a fizzing or fermenting mix in something closed."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case
from rules.catalogue import Role
from rules.hazards.evidence import finding
from rules.recipe import Circumstance

# Gas set free per litre of mix that a bottle, one fifth empty, turns into about one bar (ideal gas).
LITRES_PER_LITRE = 0.25
BURST_LITRES_PER_LITRE = 1.5  # about six bar in the same bottle; thin spray bottles are not made for it


def check(case: Case) -> Iterator[Finding]:
    if case.dry:
        return
    shut = case.when(Circumstance.CLOSED_CONTAINER)
    closed = shut or (case.kept and case.chemistry.water_percent.best > 20)
    gas = case.chemistry.vapour.gas_litres
    total = case.composition.total
    if gas is not None and total is not None and total.best > 0 and closed:
        each = gas.best / (total.best / 1000)
        low = gas.low / (total.high / 1000) if total.high > 0 else 0.0
        if low > LITRES_PER_LITRE:
            yield finding(
                Hazard.PRESSURE,
                Severity.AVOID if shut and low > BURST_LITRES_PER_LITRE else Severity.FIX,
                "gas_in_closed_bottle",
                "leave_it_open",
                Basis.COMPUTED,
                "computed",
                value=gas,
                unit="litres of gas",
                each=round(each, 1),
            )
    for ferment in case.with_role(Role.FERMENT)[:1]:
        if case.kept:
            yield finding(
                Hazard.PRESSURE,
                Severity.FIX,
                "ferment_in_closed_jar",
                "make_one_use",
                Basis.COMMON_PRACTICE,
                "common_practice",
                cause=ferment,
            )
