"""Strong chemicals by a table of usual ceilings, and acids by what is behind them where no pH is computed.

The figures are common practice, the stricter side of it: a row says "change this", never more.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from functools import lru_cache
from importlib.resources import files
from typing import Annotated, Literal

from pydantic import Field

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case, Ingredient
from rules.catalogue import Role, Shelf
from rules.catalogue.substance import Id
from rules.hazards.evidence import finding, for_fragile
from rules.hazards.limits import cause_of, share_of
from rules.interval import Interval
from rules.recipe import Frozen, Site

Percent = Annotated[float, Field(ge=0, le=100)]
# Salts and weak acids that do not bite at any strength that is used.
MILD_ACIDS = frozenset(
    {
        "aluminum_sulfate", "anisic_acid", "aspirin", "boric_acid", "cysteamine_hcl", "hibiscus_powder",
        "monosodium_citrate", "monosodium_phosphate", "potassium_alum", "potassium_bitartrate",
        "salicylic_acid", "sumac", "tannic_acid",
    }
)  # fmt: skip
# w/w % of pure acid. The review of alpha hydroxy acids stops at 10 % for what stays on (cir_aha, read); the figures for
# what is rinsed off, for eyes and lips and for the gentler acids are common practice.
STAYS, RINSES, EYE_LIPS = 10.0, 20.0, 5.0
REVIEWED = frozenset({"glycolic_acid", "lactic_acid", "malic_acid", "mandelic_acid", "tartaric_acid", "citric_acid"})
GENTLER = {"ascorbic_acid": 20.0, "azelaic_acid": 20.0, "gluconolactone": 15.0, "lactobionic_acid": 15.0}
TEETH_PERCENT = 0.5  # of acid that is brushed or held in the mouth


class StrongRow(Frozen):
    """w/w % above which it is too much; `bath`: none of this holds in a bath, which thins it."""

    substance: Id
    leave_on: Percent
    rinse_off: Percent
    eye_lips: Percent
    bath: Literal["yes", "no"]
    hazard: Hazard
    reason: str
    instead: str
    source: str
    basis: Basis


@lru_cache(maxsize=1)
def load_strong() -> dict[str, StrongRow]:
    """Rows by substance. Raises pydantic.ValidationError for a faulty row."""
    text = files("rules.hazards").joinpath("strong.csv").read_text("utf-8")
    rows = (StrongRow.model_validate(cells) for cells in csv.DictReader(text.splitlines()))
    return {row.substance: row for row in rows}


def _ceiling(case: Case, row: StrongRow) -> float:
    if case.at(Site.EYE_AREA, Site.LIPS):
        return row.eye_lips
    return row.leave_on if case.left_on else row.rinse_off


def _instead(case: Case, row: StrongRow, limit: float) -> str:
    """Of what may not be there at all, or is all there is, less is no way out."""
    none = limit == 0 or len(case.composition.portions) == 1
    return "leave_it_out" if none and row.instead == "use_less" else row.instead


def _too_much(case: Case, row: StrongRow) -> Finding | None:
    if row.bath == "yes" and case.at(Site.BATH):
        return None
    share, limit = share_of(case, row.substance), _ceiling(case, row)
    if share.best <= limit or share.best <= 0:
        return None
    return finding(
        row.hazard,
        Severity.FIX,
        row.reason,
        _instead(case, row, limit),
        row.basis,
        row.source,
        cause=cause_of(case, row.substance),
        value=share,
        limit=limit,
        unit="percent",
    )


def _pure_acids(case: Case) -> list[Ingredient]:
    return [
        i
        for i in case.with_role(Role.ACID)
        if i.substance.id not in MILD_ACIDS and i.substance.id not in load_strong()
        and case.catalogue.family(i.substance.id) in ("acids_bases", "actives", "preservatives", "generic")
        and i.substance.shelf is not Shelf.HOUSEHOLD
    ]  # fmt: skip


def _acids(case: Case) -> Iterator[Finding]:
    """What the pH rule does not see: acid in a fat or a powder, or simply very much of it."""
    fizz = case.with_role(Role.CARBONATE)
    if case.at(Site.BATH) or fizz:
        return
    strict = case.at(Site.EYE_AREA, Site.LIPS)
    for acid in _pure_acids(case):
        usual = STAYS if case.left_on else RINSES
        limit = EYE_LIPS if strict and case.left_on else max(usual, GENTLER.get(acid.substance.id, 0.0))
        if acid.percent.best > limit:
            reviewed = acid.substance.id in REVIEWED and limit == STAYS
            yield finding(
                Hazard.PH_TOO_LOW, for_fragile(case, Severity.FIX), "strong_acid", "use_less",
                Basis.OPINION if reviewed else Basis.COMMON_PRACTICE,
                "cir_aha" if reviewed else "common_practice",
                cause=acid, value=acid.percent, limit=limit, unit="percent",
            )  # fmt: skip


def _on_teeth(case: Case) -> Iterator[Finding]:
    """Acid softens enamel, and a paste or powder of it is brushed in."""
    acids = [i for i in case.with_role(Role.ACID) if i.substance.id not in MILD_ACIDS]
    share = Interval.total(
        part
        for name, part in case.composition.parts.items()
        if name in case.catalogue and Role.ACID in case.catalogue[name].roles and name not in MILD_ACIDS
    )
    if case.at(Site.MOUTH) and acids and share.best >= TEETH_PERCENT:
        worst = max(acids, key=lambda i: i.percent.best)
        yield finding(
            Hazard.PH_TOO_LOW, Severity.FIX, "acid_on_teeth", "plain_toothpaste",
            Basis.COMMON_PRACTICE, "common_practice", cause=worst, value=share, unit="percent",
        )  # fmt: skip


def check(case: Case) -> Iterator[Finding]:
    present = {i.substance.id for i in case.ingredients} | set(case.composition.parts)
    for name in sorted(present & set(load_strong())):
        found = _too_much(case, load_strong()[name])
        if found is not None:
            yield found
    yield from _acids(case)
    yield from _on_teeth(case)
