"""What no recipe makes safe at home: needles, eye drops, dissolving skin, medicines."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case
from rules.catalogue import Role
from rules.hazards.evidence import finding
from rules.recipe import Circumstance, Site

STERILE = ("eye_drops", "lens_solution", "nose_ear_product")
GROWTHS = ("mole_remover",)
# Medicines that are also ordinary on skin; named, but no fault of the recipe.
MILD = frozenset(
    {
        "aluminum_chlorohydrate", "antacid", "bismuth_subsalicylate", "burn_cream", "calamine", "charcoal_tablet",
        "chlorhexidine", "medicated_powder", "milk_of_magnesia", "selenium_sulfide", "sodium_fluoride", "sulfur",
        "vapour_rub_product", "vitamin_c_tablet", "zinc_oxide_cream", "zinc_pyrithione",
    }
)  # fmt: skip
# Depilatories and waving salts are sold for it and have limits of their own.
WITH_LIMITS = frozenset({"thioglycolic_acid", "ammonium_thioglycolate", "potassium_thioglycolate", "resorcinol"})


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
            Basis.OPINION,
            "fda_saline",
            "iso_17516",
        )


def _dissolves(case: Case) -> Iterator[Finding]:
    if case.made_as(*GROWTHS):
        yield finding(
            Hazard.PROHIBITED, Severity.AVOID, "mole_at_home", "ask_a_professional", Basis.OPINION, "fda_moles"
        )
        return
    for strong in case.with_role(Role.DISSOLVES_SKIN):
        if strong.has(Role.ALKALI) or strong.percent.best < 1:
            continue  # the alkaline rule and the table of strong chemicals speak of those
        limited = strong.substance.id in WITH_LIMITS
        yield finding(
            Hazard.PROHIBITED,
            Severity.FIX if limited else Severity.AVOID,
            "eats_skin",
            "ask_a_professional",
            Basis.OPINION,
            "fda_peels",
            cause=strong,
        )


def _medicines(case: Case) -> Iterator[Finding]:
    for drug in case.with_role(Role.DRUG):
        if drug.has(Role.DISSOLVES_SKIN):
            continue
        mild = drug.substance.id in MILD and not case.at(Site.EYE_AREA)
        yield finding(
            Hazard.PROHIBITED,
            Severity.NOTE if mild else Severity.FIX,
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
    yield from _medicines(case)
