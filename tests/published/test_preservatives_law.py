"""Highest preservative levels against Regulation (EC) 1223/2009 annex V."""

from __future__ import annotations

import pytest

from rules.assessment import Basis, Jurisdiction
from rules.law import load_law
from rules.recipe import Contact, Site
from rules.sources import Checked

LEAVE, RINSE = Contact.LEAVE_ON, Contact.RINSE_OFF

# substance, contact, percent as the annex counts it, entry, read or memory
ANNEX_V = [
    ("benzoic_acid", LEAVE, 0.5, "1", "read"),
    ("benzoic_acid", RINSE, 2.5, "1", "read"),
    ("sodium_benzoate", LEAVE, 0.5, "1", "read"),
    ("sodium_benzoate", RINSE, 2.5, "1", "read"),
    ("sorbic_acid", LEAVE, 0.6, "4", "read"),
    ("potassium_sorbate", LEAVE, 0.6, "4", "read"),
    ("potassium_sorbate", RINSE, 0.6, "4", "read"),
    ("propionic_acid", LEAVE, 2.0, "2", "read"),
    ("methylparaben", LEAVE, 0.4, "12", "read"),
    ("ethylparaben", LEAVE, 0.4, "12", "read"),
    ("propylparaben", LEAVE, 0.14, "12a", "read"),
    ("butylparaben", LEAVE, 0.14, "12a", "read"),
    ("bronidox", RINSE, 0.1, "20", "read"),
    ("polyaminopropyl_biguanide", LEAVE, 0.1, "28", "read"),
    ("methylisothiazolinone", RINSE, 0.0015, "57", "read"),
    ("methylisothiazolinone", LEAVE, 0.0, "57", "read"),
    ("o_phenylphenol", RINSE, 0.2, "7", "read"),
    ("dehydroacetic_acid", LEAVE, 0.6, "13", "memory"),
    ("sodium_dehydroacetate", LEAVE, 0.6, "13", "memory"),
    ("formic_acid", LEAVE, 0.5, "14", "memory"),
    ("bronopol", LEAVE, 0.1, "21", "memory"),
    ("dichlorobenzyl_alcohol", LEAVE, 0.15, "22", "memory"),
    ("triclosan", RINSE, 0.3, "25", "memory"),
    ("imidazolidinyl_urea", LEAVE, 0.6, "27", "memory"),
    ("phenoxyethanol", LEAVE, 1.0, "29", "memory"),
    ("phenoxyethanol", RINSE, 1.0, "29", "memory"),
    ("methenamine", LEAVE, 0.15, "30", "memory"),
    ("dmdm_hydantoin", LEAVE, 0.6, "33", "memory"),
    ("benzyl_alcohol", LEAVE, 1.0, "34", "memory"),
    ("o_cymen_5_ol", LEAVE, 0.1, "38", "memory"),
    ("mci_mi", RINSE, 0.0015, "39", "memory"),
    ("mci_mi", LEAVE, 0.0, "39", "memory"),
    ("chlorhexidine", LEAVE, 0.3, "42", "memory"),
    ("diazolidinyl_urea", LEAVE, 0.5, "46", "memory"),
    ("hexamidine_diisethionate", LEAVE, 0.1, "47", "memory"),
    ("chlorphenesin", LEAVE, 0.3, "50", "memory"),
    ("sodium_hydroxymethylglycinate", LEAVE, 0.5, "51", "memory"),
    ("benzethonium_chloride", LEAVE, 0.1, "53", "memory"),
    ("benzalkonium_chloride", LEAVE, 0.1, "54", "memory"),
    ("iodopropynyl_butylcarbamate", LEAVE, 0.01, "56", "memory"),
    ("iodopropynyl_butylcarbamate", RINSE, 0.02, "56", "memory"),
    ("ethyl_lauroyl_arginate_hcl", LEAVE, 0.4, "58", "memory"),
]
IDS = [f"{row[0]}-{row[1].value}" for row in ANNEX_V]


@pytest.mark.parametrize(("substance", "contact", "percent", "entry", "checked"), ANNEX_V, ids=IDS)
def test_a_preservative_keeps_the_annex_figure(
    substance: str, contact: Contact, percent: float, entry: str, checked: str
) -> None:
    rows = load_law().limits(substance, Jurisdiction.EU, (Site.BODY,), contact, None)
    assert [(row.percent, row.basis, row.checked.value) for row in rows] == [(percent, Basis.LAW, checked)], entry


@pytest.mark.parametrize(("substance", "contact", "percent", "entry", "checked"), ANNEX_V, ids=IDS)
def test_the_us_has_no_such_law_and_our_row_there_says_opinion(
    substance: str, contact: Contact, percent: float, entry: str, checked: str
) -> None:
    rows = load_law().limits(substance, Jurisdiction.US, (Site.BODY,), contact, None)
    figures = [row for row in rows if row.locator.startswith("EU annex V")]
    assert figures
    assert {row.basis for row in figures} == {Basis.OPINION}


def test_a_remembered_row_never_carries_the_strongest_verdict() -> None:
    law = load_law()
    for substance, contact, _, _, checked in ANNEX_V:
        for row in law.limits(substance, Jurisdiction.EU, (Site.BODY,), contact, None):
            assert row.carries_avoid == (checked == Checked.READ.value)
