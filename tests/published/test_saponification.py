"""The lye that a fat takes up, against soap makers' charts, and what a remembered figure may decide."""

from __future__ import annotations

import pytest

from rules.assess import assess
from rules.assessment import Jurisdiction, Severity
from rules.chemistry.saponification import ORDINARY_FAT, saponification_rows
from rules.chemistry.tables import Standing
from tests.scenario import recipe_of

# g of NaOH for 1 g, both read: lye maker's chart (docslib.org/doc/6989942) and herb school's chart
# (herbalbear.com/sapvalues.html)
CHARTS = [
    ("sweet_almond_oil", 0.1367, 0.136),
    ("apricot_kernel_oil", 0.1378, 0.135),
    ("avocado_oil", 0.1337, 0.133),
    ("babassu_oil", 0.1749, 0.175),
    ("beeswax", 0.0689, 0.069),
    ("borage_oil", 0.1339, 0.136),
    ("castor_oil", 0.1286, 0.128),
    ("cocoa_butter", 0.1378, 0.137),
    ("corn_oil", 0.1368, 0.136),
    ("cottonseed_oil", 0.1387, 0.138),
    ("flaxseed_oil", 0.1358, 0.135),
    ("hemp_seed_oil", 0.1359, 0.137),
    ("jojoba_oil", 0.0695, 0.069),
    ("hazelnut_oil", 0.1369, 0.136),
]


@pytest.mark.parametrize(("fat", "one", "other"), CHARTS, ids=[row[0] for row in CHARTS])
def test_a_fat_takes_up_what_the_charts_say(fat: str, one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert low * 0.985 <= saponification_rows()[fat].naoh <= high * 1.015


# An oil trader's sheet of coconut oil, read: 248 to 265 mg KOH/g; 40.00 / 56.11 g NaOH for 1 g KOH.
def test_coconut_oil_stays_within_the_range_of_its_trade_sheet() -> None:
    assert 0.248 * 40.00 / 56.11 <= saponification_rows()["coconut_oil"].naoh <= 0.265 * 40.00 / 56.11


# Herb school's chart, read: olive 0.134, sunflower 0.134, soybean 0.134, walnut 0.136, tallow 0.140, mustard 0.124.
def test_an_oil_that_no_chart_has_counts_within_what_ordinary_oils_take() -> None:
    assert 0.124 <= ORDINARY_FAT <= 0.141


def gravest(*lines: str) -> set[Severity]:
    result = assess(recipe_of({"of": "soap", "lines": list(lines)}), Jurisdiction.US)
    return {f.severity for f in result.findings if f.reason == "free_lye"}


def test_lye_that_read_figures_leave_free_is_the_strongest_verdict() -> None:
    assert gravest("100 g olive_oil", "30 g water", "20 g sodium_hydroxide") == {Severity.AVOID}


def test_lye_that_only_a_remembered_figure_leaves_free_is_to_be_mended_not_damned() -> None:
    """Palm kernel oil's 0.176 is from memory: 18.5 g for 100 g is over it, and under the most that a fat takes up."""
    assert saponification_rows()["palm_kernel_oil"].basis is Standing.MEMORY
    assert gravest("100 g palm_kernel_oil", "30 g water", "18.5 g sodium_hydroxide") == {Severity.FIX}
    assert gravest("100 g palm_kernel_oil", "30 g water", "24 g sodium_hydroxide") == {Severity.AVOID}


def test_a_soap_with_fat_to_spare_is_not_called_caustic() -> None:
    assert gravest("70 g olive_oil", "30 g coconut_oil", "33 g water", "14.2 g sodium_hydroxide") == set()
