"""Highest preservative levels against Regulation (EC) 1223/2009 annex V.

"read": in the annex, or in the list of the directive before it as France wrote it into law, whose entry numbers and
figures the annex took over. "memory": the figure came later and its text was not opened.
"""

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
    ("dehydroacetic_acid", LEAVE, 0.6, "13", "read"),
    ("sodium_dehydroacetate", LEAVE, 0.6, "13", "read"),
    ("formic_acid", LEAVE, 0.5, "14", "read"),
    ("bronopol", LEAVE, 0.1, "21", "read"),
    ("dichlorobenzyl_alcohol", LEAVE, 0.15, "22", "read"),
    ("triclosan", RINSE, 0.3, "25", "read"),
    ("imidazolidinyl_urea", LEAVE, 0.6, "27", "read"),
    ("phenoxyethanol", LEAVE, 1.0, "29", "read"),
    ("phenoxyethanol", RINSE, 1.0, "29", "read"),
    ("methenamine", LEAVE, 0.15, "30", "read"),
    ("dmdm_hydantoin", LEAVE, 0.6, "33", "read"),
    ("benzyl_alcohol", LEAVE, 1.0, "34", "read"),
    ("o_cymen_5_ol", LEAVE, 0.1, "38", "read"),
    ("mci_mi", RINSE, 0.0015, "39", "read"),
    ("mci_mi", LEAVE, 0.0, "39", "memory"),
    ("chlorhexidine", LEAVE, 0.3, "42", "read"),
    ("diazolidinyl_urea", LEAVE, 0.5, "46", "read"),
    ("hexamidine_diisethionate", LEAVE, 0.1, "47", "read"),
    ("chlorphenesin", LEAVE, 0.3, "50", "read"),
    ("sodium_hydroxymethylglycinate", LEAVE, 0.5, "51", "read"),
    ("benzethonium_chloride", LEAVE, 0.1, "53", "read"),
    ("benzalkonium_chloride", LEAVE, 0.1, "54", "read"),
    ("iodopropynyl_butylcarbamate", LEAVE, 0.01, "56", "read"),
    ("iodopropynyl_butylcarbamate", RINSE, 0.02, "56", "read"),
    ("piroctone_olamine", LEAVE, 0.5, "35", "read"),
    ("piroctone_olamine", RINSE, 1.0, "35", "read"),
    ("undecylenic_acid", LEAVE, 0.2, "18", "read"),
    ("chloroxylenol", LEAVE, 0.5, "26", "read"),
    ("p_chloro_m_cresol", RINSE, 0.2, "24", "read"),
    ("phenoxyisopropanol", RINSE, 1.0, "43", "read"),
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


# Entry 56, read: not in lip products; its ceiling elsewhere must not let it through there.
def test_a_preservative_that_is_barred_from_lips_has_no_room_there() -> None:
    rows = load_law().limits("iodopropynyl_butylcarbamate", Jurisdiction.EU, (Site.LIPS,), LEAVE, None)
    assert [row.percent for row in rows] == [0.0]
