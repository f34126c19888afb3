"""Dermal maxima of essential oils against the handbook (2nd ed. 2014) as quoted on the web."""

from __future__ import annotations

import pytest

from rules.law import load_law
from rules.sources import Checked

# Phototoxic maxima in leave-on products, w/w %: read on a page that quotes the handbook.
PHOTOTOXIC = [
    ("bergamot_essential_oil", 0.4),
    ("lemon_essential_oil", 2.0),
    ("lime_essential_oil", 0.7),
    ("grapefruit_essential_oil", 4.0),
    ("orange_bitter_essential_oil", 1.25),
    ("angelica_root_essential_oil", 0.8),
    ("cumin_essential_oil", 0.4),
    ("tagetes_essential_oil", 0.01),
]

# Dermal maxima, w/w %: read on a feed copy of an article that quotes the same handbook.
READ = [
    ("star_anise_essential_oil", 1.75),
    ("basil_essential_oil", 0.1),
    ("cassia_essential_oil", 0.05),
    ("cinnamon_bark_essential_oil", 0.07),
    ("cinnamon_leaf_essential_oil", 0.6),
    ("clove_bud_essential_oil", 0.5),
    ("clove_leaf_essential_oil", 0.6),
    ("fennel_essential_oil", 2.5),
    ("jasmine_essential_oil", 0.7),
    ("bay_laurel_essential_oil", 0.5),
    ("lemongrass_essential_oil", 0.7),
    ("litsea_cubeba_essential_oil", 0.8),
    ("lemon_balm_essential_oil", 0.9),
    ("myrtle_essential_oil", 1.9),
]

# The same handbook, remembered and not re-read.
REMEMBERED = [
    ("oregano_essential_oil", 1.1),
    ("thyme_essential_oil", 1.3),
    ("ylang_ylang_essential_oil", 0.8),
    ("peppermint_essential_oil", 5.4),
    ("tea_tree_essential_oil", 15.0),
    ("citronella_essential_oil", 18.2),
    ("rose_otto_essential_oil", 0.6),
    ("nutmeg_essential_oil", 0.8),
    ("allspice_essential_oil", 0.15),
    ("lemon_myrtle_essential_oil", 0.7),
    ("oakmoss_essential_oil", 0.1),
    ("holy_basil_essential_oil", 1.0),
    ("eucalyptus_essential_oil", 20.0),
    ("rosemary_essential_oil", 16.5),
]

# Named as not phototoxic by the same page, read.
NOT_PHOTOTOXIC = [
    "sweet_orange_essential_oil",
    "tangerine_essential_oil",
    "mandarin_essential_oil",
    "yuzu_essential_oil",
    "bergamot_fcf_essential_oil",
    "lemon_distilled_essential_oil",
    "lime_distilled_essential_oil",
]


@pytest.mark.parametrize(("oil", "percent"), PHOTOTOXIC)
def test_a_pressed_citrus_oil_keeps_its_sun_limit(oil: str, percent: float) -> None:
    row = load_law().oils[oil]
    assert row.phototoxic == percent
    assert row.checked is Checked.READ


@pytest.mark.parametrize(("oil", "percent"), READ)
def test_an_oil_keeps_its_published_maximum(oil: str, percent: float) -> None:
    row = load_law().oils[oil]
    assert row.leave_on == percent
    assert row.checked is Checked.READ


@pytest.mark.parametrize(("oil", "percent"), REMEMBERED)
def test_a_remembered_maximum_is_marked_so(oil: str, percent: float) -> None:
    row = load_law().oils[oil]
    assert row.leave_on == percent
    assert row.checked is Checked.MEMORY
    assert not row.carries_avoid


@pytest.mark.parametrize("oil", NOT_PHOTOTOXIC)
def test_an_oil_that_is_not_phototoxic_is_not_called_so(oil: str) -> None:
    row = load_law().oils.get(oil)
    assert row is None or row.phototoxic is None


def test_the_bergamot_limit_agrees_with_the_furanocoumarin_review() -> None:
    """CIR 2016: at most 15 ppm 5-MOP in a leave-on product; bergamot oil holds about 0.35 % of it."""
    row = load_law().oils["bergamot_essential_oil"]
    assert row.phototoxic is not None
    assert row.phototoxic / 100 * 0.35 / 100 * 1e6 == pytest.approx(15, abs=1.5)
