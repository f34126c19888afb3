"""What becomes of a bought product's preservative, and what published floors say of the rest."""

from __future__ import annotations

import pytest

from rules.chemistry.chemistry import Preserved
from rules.chemistry.preservatives import in_water_phase
from tests.rules.chemistry.shelf import analysed, composed

# dilution, percent left of 1.0, 0.7 and 0.4 %: mass balance C2 = C1 / D
LEFT = [(1.1, 0.91, 0.64, 0.36), (1.5, 0.67, 0.47, 0.27), (2, 0.50, 0.35, 0.20), (3, 0.33, 0.23, 0.13), (5,
0.20, 0.14, 0.08)]  # fmt: skip


@pytest.mark.parametrize(("dilution", "of_one", "of_seven", "of_four"), LEFT)
def test_thinning_a_product_thins_its_preservative(dilution, of_one, of_seven, of_four):
    # the test lotion has 0.9 %: scaled to the label values of the table, half a unit of its last digit
    left = composed((100, "g", "lotion"), (100 * (dilution - 1), "g", "water")).parts["phenoxyethanol"].best

    for label, published in ((1.0, of_one), (0.7, of_seven), (0.4, of_four)):
        assert left / 0.9 * label == pytest.approx(published, abs=0.0051)


@pytest.mark.parametrize(
    ("added", "status"),
    # thresholds 1.1 and 1.5: common practice, no source
    [
        (0, Preserved.EFFECTIVE),
        (8, Preserved.EFFECTIVE),
        (25, Preserved.TOO_WEAK),
        (60, Preserved.TOO_WEAK),
        (200, Preserved.TOO_WEAK),
    ],
)
def test_a_top_up_passes_and_a_thinned_lotion_does_not(added, status):
    lines = [(100, "g", "lotion")] + ([(added, "g", "water")] if added else [])

    assert analysed(*lines).preservation.status is status


def test_a_lone_phenoxyethanol_meets_the_measured_minimum_at_one_percent():
    # J. Soc. Cosmet. Chem. 26 (1975), library.scconline.org/v026n02/34: 1.0 % alone was the least in four
    # lotions
    lotion = [(70, "g", "water"), (20, "g", "olive_oil"), (9, "g", "emulsifying_wax")]

    assert analysed(*lotion, (1.0, "g", "phenoxyethanol")).preservation.status is Preserved.EFFECTIVE
    assert analysed(*lotion, (0.1, "g", "phenoxyethanol")).preservation.status is Preserved.TOO_WEAK
    assert analysed(*lotion, (0.3, "g", "phenoxyethanol")).preservation.status is Preserved.TOO_WEAK


def test_half_a_percent_is_enough_only_beside_a_booster():
    # common practice, no source
    base = [(95, "g", "water"), (0.55, "g", "phenoxyethanol")]

    assert analysed(*base).preservation.status is Preserved.TOO_WEAK
    assert analysed(*base, (0.3, "g", "ethylhexylglycerin")).preservation.status is Preserved.EFFECTIVE


SCC_1965 = "J. Soc. Cosmet. Chem. 16 (1965) table II, library.scconline.org/v016n01/16 (OCR)"
# overall %, partition coefficient, oil:water ratio, % in the water
PARTITIONED = [
    (0.4, 0.067, 0.2, 0.474),
    (0.4, 0.067, 1.0, 0.750),
    (0.4, 0.067, 2.5, 1.199),
    (0.4, 0.067, 5.0, 1.799),
    (0.4, 0.067, 10.0, 2.636),
    (1.0, 1.0, 0.2, 1.000),
    (1.0, 1.0, 10.0, 1.000),
    (4.0, 116.7, 0.2, 0.197),
    (4.0, 116.7, 1.0, 0.068),
    (4.0, 116.7, 2.5, 0.048),
    (4.0, 116.7, 5.0, 0.0411),
    (4.0, 116.7, 10.0, 0.038),
]


@pytest.mark.parametrize(("overall", "partition", "ratio", "published"), PARTITIONED)
def test_oil_shares_a_preservative_with_the_water_as_published(overall, partition, ratio, published):
    # 1 %: rounding of the table, and one unit of its last digit
    assert in_water_phase(overall, ratio, partition) == pytest.approx(published, rel=0.01, abs=0.001), SCC_1965


def test_a_large_oil_phase_takes_preservative_from_the_water():
    # partition coefficients from memory; the direction is what counts
    watery = analysed(
        (80, "g", "water"), (15, "g", "olive_oil"), (4, "g", "emulsifying_wax"), (1, "g", "phenoxyethanol")
    )
    oily = analysed((15, "g", "water"), (80, "g", "olive_oil"), (4, "g", "emulsifying_wax"), (1, "g", "phenoxyethanol"))

    assert watery.preservation.value is not None
    assert oily.preservation.value is not None
    assert oily.preservation.value.best < watery.preservation.value.best


@pytest.mark.parametrize(
    ("grams", "status"),
    [(0, Preserved.NONE), (10, Preserved.NONE), (30, Preserved.NOT_NEEDED), (60, Preserved.NOT_NEEDED)],
)
def test_spirit_preserves_above_a_fifth_of_the_water_phase(grams, status):
    # ISO 29621 criterion: alcohol above 20 %, as listed by a laboratory FAQ, read
    lines = [(100 - grams, "g", "water")] + ([(grams, "g", "ethanol")] if grams else [])

    assert analysed(*lines).preservation.status is status


def test_vodka_stretched_to_half_strength_no_longer_counts():
    # 33.6 % by weight halved is 17 %: below 20 % by weight, 20 % by volume at best
    assert analysed((1, "cup", "vodka"), (1, "cup", "water")).preservation.status is Preserved.NONE


@pytest.mark.parametrize(
    ("lines", "reason"),
    # ISO 29621 low-risk criteria as listed by a laboratory FAQ, read: no water, aw < 0.75, pH < 3, pH > 10
    [
        ([(50, "g", "olive_oil"), (50, "g", "beeswax")], "no_water"),
        ([(30, "g", "water"), (70, "g", "glycerin")], "water_activity_low"),
        ([(90, "g", "water"), (10, "g", "citric_acid")], "ph_low"),
        ([(100, "g", "castile_soap")], "soap_alkaline"),
        ([(100, "g", "peroxide_3")], "oxidiser"),
    ],
)
def test_what_nothing_grows_in_needs_no_preservative(lines, reason):
    preservation = analysed(*lines).preservation

    assert (preservation.status, preservation.reason) == (Preserved.NOT_NEEDED, reason)


def test_a_booster_alone_is_too_weak():
    # ethylhexylglycerin is sold as a booster, not as a preservative: common practice
    preservation = analysed((95, "g", "water"), (0.5, "g", "ethylhexylglycerin")).preservation

    assert (preservation.status, preservation.reason) == (Preserved.TOO_WEAK, "booster_only")


def test_vitamin_e_is_named_as_a_lookalike_and_does_not_count():
    preservation = analysed((95, "g", "water"), (1, "g", "tocopherol")).preservation

    assert preservation.status is Preserved.NONE
    assert preservation.lookalikes == ("tocopherol",)


@pytest.mark.parametrize(
    ("water_activity_lines", "stopped", "growing"),
    # abstract with table 3.3 of a handbook chapter on self-preserving formulas, read
    [
        ([(70, "g", "water"), (30, "g", "glycerin")], "escherichia_coli", "staphylococcus_aureus"),
        ([(52, "g", "water"), (48, "g", "glycerin")], "staphylococcus_aureus", "most_moulds"),
    ],
)
def test_the_organisms_that_still_grow_are_named(water_activity_lines, stopped, growing):
    grows = analysed(*water_activity_lines).preservation.grows

    assert stopped not in grows
    assert growing in grows
