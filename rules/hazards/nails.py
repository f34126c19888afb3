"""Nail monomers, instant glues and what else bonds or cures on a person."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case
from rules.catalogue import Role
from rules.hazards.evidence import finding
from rules.recipe import Site

INSTANT = frozenset({"super_glue", "nail_glue", "lash_glue", "cyanoacrylate"})


def check(case: Case) -> Iterator[Finding]:
    for monomer in case.with_role(Role.NAIL_MONOMER):
        methyl = "methyl_methacrylate" in (monomer.substance.id, *monomer.substance.contains)
        yield finding(
            Hazard.PROHIBITED if methyl else Hazard.SENSITISER,
            Severity.AVOID,
            "nail_monomer",
            "finished_nail_product",
            Basis.OPINION,
            *(("fda_mma",) if methyl else ("nail_primer_report", "nail_acrylates_recall")),
            cause=monomer,
        )
    for glue in case.with_role(Role.GLUE):
        if glue.substance.id not in INSTANT:
            continue
        place = {"nail_glue": Site.NAILS, "lash_glue": Site.EYE_AREA}.get(glue.substance.id)
        made_for_it = place is not None and case.at(place)
        yield finding(
            Hazard.SENSITISER,
            Severity.NOTE if made_for_it else Severity.AVOID,
            "instant_glue",
            "finished_nail_product",
            Basis.OPINION,
            "glue_cases",
            cause=glue,
        )
