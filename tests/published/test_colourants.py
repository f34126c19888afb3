"""Which colour may go where in the United States, against 21 CFR parts 73 and 74.

Rows marked "memory" hold the listing as remembered; the section text was not opened. Of D&C Red 6, 7, 22, 27, 28 and
FD&C Green 3 the eye column was read (only four certified dyes are listed there), the other two are remembered.
"""

from __future__ import annotations

import pytest

from rules.assessment import Jurisdiction
from rules.law import load_law, place
from rules.recipe import Site

# substance, eye area, lips, external use, section, how we know it
US = [
    ("aluminum_powder", "yes", "no", "yes", "73.2645", "read"),
    ("annatto", "yes", "yes", "yes", "73.2030", "read"),
    ("beta_carotene", "yes", "yes", "yes", "73.2095", "read"),
    ("bismuth_citrate", "no", "no", "limited", "73.2110", "read"),
    ("bismuth_oxychloride", "yes", "yes", "yes", "73.2162", "read"),
    ("bronze_powder", "yes", "yes", "yes", "73.2646", "read"),
    ("caramel_colour", "yes", "yes", "yes", "73.2085", "read"),
    ("carbon_black", "limited", "limited", "limited", "74.2052", "read"),
    ("carmine", "yes", "yes", "yes", "73.2087", "read"),
    ("chlorophyllin", "no", "limited", "no", "73.2125", "read"),
    ("chromium_oxide_green", "yes", "no", "yes", "73.2327", "read"),
    ("copper_powder", "yes", "yes", "yes", "73.2647", "read"),
    ("d_c_black_3", "limited", "no", "limited", "74.2053", "read"),
    ("d_c_blue_4", "no", "no", "yes", "74.2104", "memory"),
    ("d_c_brown_1", "no", "no", "yes", "74.2151", "memory"),
    ("d_c_green_5", "yes", "yes", "yes", "74.2205", "read"),
    ("d_c_green_6", "no", "no", "yes", "74.2206", "read"),
    ("d_c_green_8", "no", "no", "limited", "74.2208", "memory"),
    ("d_c_orange_10", "no", "no", "yes", "74.2260", "memory"),
    ("d_c_orange_11", "no", "no", "yes", "74.2261", "read"),
    ("d_c_orange_4", "no", "no", "yes", "74.2254", "read"),
    ("d_c_orange_5", "no", "limited", "yes", "74.2255; 82.1255", "read"),
    ("d_c_red_17", "no", "no", "yes", "74.2317", "memory"),
    ("d_c_red_21", "no", "yes", "yes", "74.2321", "read"),
    ("d_c_red_22", "no", "yes", "yes", "74.2322", "read"),
    ("d_c_red_27", "no", "yes", "yes", "74.2327", "read"),
    ("d_c_red_28", "no", "yes", "yes", "74.2328", "read"),
    ("d_c_red_30", "no", "yes", "yes", "74.2330", "read"),
    ("d_c_red_31", "no", "no", "yes", "74.2331", "read"),
    ("d_c_red_33", "no", "limited", "yes", "74.2333", "read"),
    ("d_c_red_34", "no", "no", "yes", "74.2334", "memory"),
    ("d_c_red_36", "no", "limited", "yes", "74.2336", "read"),
    ("d_c_red_6", "no", "yes", "yes", "74.2306", "read"),
    ("d_c_red_7", "no", "yes", "yes", "74.2307", "read"),
    ("d_c_violet_2", "no", "no", "yes", "74.2602", "memory"),
    ("d_c_yellow_10", "no", "yes", "yes", "74.2710", "read"),
    ("d_c_yellow_11", "no", "no", "yes", "74.2711", "memory"),
    ("d_c_yellow_7", "no", "no", "yes", "74.2707", "read"),
    ("d_c_yellow_8", "no", "no", "yes", "74.2708", "memory"),
    ("dihydroxyacetone", "no", "no", "limited", "73.2150", "read"),
    ("disodium_edta_copper", "no", "no", "limited", "73.2120", "read"),
    ("ext_d_c_violet_2", "no", "no", "yes", "74.2602a", "read"),
    ("ext_d_c_yellow_7", "no", "no", "yes", "74.2707a", "memory"),
    ("fd_c_blue_1", "yes", "yes", "yes", "74.2101", "read"),
    ("fd_c_blue_2", "no", "no", "no", "none", "read"),
    ("fd_c_green_3", "no", "yes", "yes", "74.2203", "read"),
    ("fd_c_red_3", "no", "no", "no", "none", "read"),
    ("fd_c_red_4", "no", "no", "yes", "74.2304; 82.304", "read"),
    ("fd_c_red_40", "yes", "yes", "yes", "74.2340", "read"),
    ("fd_c_yellow_5", "yes", "yes", "yes", "74.2705", "read"),
    ("fd_c_yellow_6", "no", "yes", "yes", "74.2706", "read"),
    ("ferric_ammonium_ferrocyanide", "yes", "no", "yes", "73.2298", "read"),
    ("ferric_ferrocyanide", "yes", "no", "yes", "73.2299", "read"),
    ("guaiazulene", "no", "no", "yes", "73.2180", "read"),
    ("guanine", "yes", "yes", "yes", "73.2329", "memory"),
    ("henna", "no", "no", "limited", "73.2190", "read"),
    ("hydrated_chromium_oxide", "yes", "no", "yes", "73.2326", "read"),
    ("iron_oxide_black", "yes", "yes", "yes", "73.2250", "read"),
    ("iron_oxide_brown", "yes", "yes", "yes", "73.2250", "read"),
    ("iron_oxide_orange", "yes", "yes", "yes", "73.2250", "read"),
    ("iron_oxide_red", "yes", "yes", "yes", "73.2250", "read"),
    ("iron_oxide_yellow", "yes", "yes", "yes", "73.2250", "read"),
    ("iron_oxides", "yes", "yes", "yes", "73.2250", "read"),
    ("lead_acetate", "no", "no", "no", "73.2396 (listing ended)", "read"),
    ("luminescent_zinc_sulfide", "no", "no", "limited", "73.2995", "read"),
    ("manganese_violet", "yes", "yes", "yes", "73.2775", "memory"),
    ("mica", "yes", "yes", "yes", "73.2496", "read"),
    ("pyrophyllite", "no", "no", "yes", "73.2400", "read"),
    ("silver_nitrate", "limited", "no", "no", "73.2550", "read"),
    ("silver_pigment", "no", "no", "limited", "73.2500", "read"),
    ("titanium_dioxide", "yes", "yes", "yes", "73.2575", "read"),
    ("ultramarine_blue", "yes", "no", "yes", "73.2725", "read"),
    ("ultramarine_violet", "yes", "no", "yes", "73.2725", "read"),
    ("zinc_oxide", "yes", "yes", "yes", "73.2991", "read"),
]

PLACES = (Site.EYE_AREA, Site.LIPS, Site.BODY)
CELLS = [
    pytest.param(row[0], site, row[1 + index], id=f"{row[0]}-{site.value}")
    for row in US
    for index, site in enumerate(PLACES)
]


@pytest.mark.parametrize(("substance", "site", "listing"), CELLS)
def test_a_colour_is_allowed_exactly_where_the_us_listing_says(substance: str, site: Site, listing: str) -> None:
    row = load_law().colour(substance, Jurisdiction.US)
    assert row is not None
    assert getattr(row, place(site)).value == listing


@pytest.mark.parametrize("row", US, ids=[row[0] for row in US])
def test_a_colour_listing_that_was_not_read_says_so(row: tuple[str, ...]) -> None:
    """Only a read listing may carry the strongest verdict."""
    ours = load_law().colour(row[0], Jurisdiction.US)
    assert ours is not None
    if row[5] == "memory":
        assert ours.checked.value == "memory"


# 21 CFR 74.2255 (5 %), 74.2333 and 74.2336 (3 %), read: ceilings in lip products, w/w %.
@pytest.mark.parametrize(("substance", "percent"), [("d_c_orange_5", 5.0), ("d_c_red_33", 3.0), ("d_c_red_36", 3.0)])
def test_a_dye_with_a_lip_ceiling_keeps_its_number(substance: str, percent: float) -> None:
    row = load_law().colour(substance, Jurisdiction.US)
    assert row is not None
    assert row.lips_percent == percent


# The four certified organic dyes of the eye area: handbook chapter, read.
EYE_DYES = {"fd_c_blue_1", "fd_c_red_40", "fd_c_yellow_5", "d_c_green_5"}


def test_no_other_certified_dye_is_let_near_the_eye() -> None:
    allowed = set(load_law().colours_allowed(Site.EYE_AREA, Jurisdiction.US))
    dyes = {s for s in allowed if s.startswith(("fd_c_", "d_c_", "ext_d_c_"))}
    assert dyes == EYE_DYES


# 21 CFR 81.1, read: lakes listed provisionally are not for the eye area.
@pytest.mark.parametrize("lake", ["blue_1_lake", "yellow_5_lake", "yellow_6_lake"])
def test_a_provisional_lake_is_kept_from_the_eye(lake: str) -> None:
    row = load_law().colour(lake, Jurisdiction.US)
    assert row is not None
    assert row.eye_area.value == "no"


# EU annex IV, remembered: ultramarine is allowed in all products there, lips too; the US says no.
def test_the_two_regions_are_not_copied_from_each_other() -> None:
    law = load_law()
    american = law.colour("ultramarine_blue", Jurisdiction.US)
    european = law.colour("ultramarine_blue", Jurisdiction.EU)
    assert american is not None
    assert european is not None
    assert (american.lips.value, european.lips.value) == ("no", "yes")


def test_the_united_kingdom_follows_the_eu_rows_it_has_not_changed() -> None:
    row = load_law().colour("ultramarine_blue", Jurisdiction.UK)
    assert row is not None
    assert row.region is Jurisdiction.EU


# Annex IV of regulation 1223/2009 as the chemicals agency lists it, by E number, read: all cosmetic products.
@pytest.mark.parametrize(
    "substance",
    [
        "beta_carotene", "caramel_colour", "carmine", "chlorophyllin", "curcumin", "d_c_red_6", "d_c_red_7",
        "fd_c_red_3", "fd_c_yellow_5", "fd_c_yellow_6", "ponceau_4r",
    ],
)  # fmt: skip
def test_a_colour_of_the_eu_list_is_allowed_in_all_products(substance: str) -> None:
    row = load_law().colour(substance, Jurisdiction.EU)
    assert row is not None
    assert (row.eye_area.value, row.lips.value, row.external.value) == ("yes", "yes", "yes")
    assert row.checked.value == "read"


# The FDA's table runs by the alphabet; its part from A to G was read and has none of these.
@pytest.mark.parametrize("substance", ["anthocyanins", "betanin", "gardenia_colour", "gold_pigment"])
def test_a_kitchen_colour_that_the_us_table_lacks_is_not_called_allowed(substance: str) -> None:
    row = load_law().colour(substance, Jurisdiction.US)
    assert row is not None
    assert {row.eye_area.value, row.lips.value, row.external.value} == {"no"}
