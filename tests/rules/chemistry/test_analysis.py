"""Cases between the modules: what a wrong turn in the joining would cost."""

from __future__ import annotations

import pytest

from rules.chemistry.chemistry import Mixing, Preserved
from rules.recipe import Circumstance
from tests.rules.chemistry.shelf import analysed


def test_a_bath_bomb_with_a_spoon_of_water_is_dry():
    chemistry = analysed(
        (120, "g", "citric_acid"),
        (220, "g", "sodium_bicarbonate"),
        (60, "g", "kaolin"),
        (30, "g", "coconut_oil"),
        (2, "tsp", "water"),
    )

    assert chemistry.preservation.status is Preserved.NOT_NEEDED
    assert chemistry.emulsion.mixing is Mixing.NOT_TWO_PHASES
    assert chemistry.vapour.gas_litres is not None


def test_a_sugar_scrub_with_aloe_is_wet():
    chemistry = analysed((60, "g", "sucrose"), (25, "g", "olive_oil"), (15, "g", "aloe_vera_gel"))

    assert chemistry.preservation.status is Preserved.NONE


def test_a_dry_alkaline_paste_has_a_ph_once_it_is_wet():
    chemistry = analysed((30, "g", "sodium_bicarbonate"), (70, "g", "coconut_oil"))

    assert chemistry.ph is None
    assert chemistry.wet_ph is not None
    # baking soda in water 8.0 to 8.4: miamisci.org/ph/hhoh.html, read
    assert 8.0 <= chemistry.wet_ph.best <= 8.4


def test_an_oil_without_water_has_neither_ph_nor_water_activity():
    chemistry = analysed((30, "g", "olive_oil"), (70, "g", "beeswax"))

    assert (chemistry.ph, chemistry.wet_ph, chemistry.water_activity) == (None, None, None)


def test_thin_soap_does_not_hold_fat_oil():
    chemistry = analysed((0.5, "cup", "castile_soap"), (0.5, "cup", "rose_water"), (1, "tsp", "olive_oil"))

    assert chemistry.emulsion.mixing is Mixing.SHAKE


def test_soap_keeps_its_alkaline_range_until_acid_comes():
    plain = analysed((50, "g", "castile_soap"), (50, "g", "water"))
    sour = analysed((50, "g", "castile_soap"), (200, "g", "cider_vinegar"))

    assert plain.ph is not None
    assert (plain.ph.low, plain.ph.high) == (8.5, 10.5)
    assert sour.ph is not None
    assert sour.ph.high < 7


def test_a_mix_of_natural_waters_has_the_range_of_all_of_them():
    chemistry = analysed((50, "g", "rose_water"), (50, "g", "milk"))

    assert chemistry.ph is not None
    assert (chemistry.ph.low, chemistry.ph.high) == (4.0, 6.7)


def test_a_preservative_without_a_dose_is_not_called_too_weak():
    chemistry = analysed((95, "g", "water"), (5, "g", "glycerin"), (None, None, "phenoxyethanol"))

    assert chemistry.preservation.status is Preserved.CANNOT_TELL
    assert chemistry.preservation.reason == "amount_unsure"


def test_grains_in_wax_or_gum_are_not_timed():
    in_gum = analysed((97, "g", "water"), (1, "g", "xanthan_gum"), (2, "g", "mica"))
    in_wax = analysed((80, "g", "water"), (10, "g", "beeswax"), (2, "g", "mica"))

    assert in_gum.settling.substance == "mica"
    assert in_gum.settling.minutes is None
    assert in_wax.settling.minutes is None


def test_glitter_in_a_spray_blocks_the_nozzle():
    chemistry = analysed((97, "g", "water"), (2, "g", "glitter"), circumstances=frozenset({Circumstance.SPRAYED}))

    assert chemistry.settling.clogs is True


@pytest.mark.parametrize(
    ("lines", "most"),
    # common practice: 3 to 7 days chilled for an unpreserved water-based mix, months for a dry one
    [
        ([(1, "cup", "water"), (1, "tbsp", "glycerin")], 7),
        ([(100, "g", "lotion"), (25, "g", "water")], 14),
        ([(50, "g", "olive_oil"), (50, "g", "beeswax")], 365),
    ],
)
def test_keeping_time_follows_the_verdict(lines, most):
    keeps = analysed(*lines).preservation.keeps_days

    assert keeps is not None
    assert keeps.high == most


def test_honey_thins_soap_as_water_does():
    assert analysed((100, "g", "castile_soap")).preservation.reason == "soap_alkaline"
    thinned = analysed((60, "g", "castile_soap"), (40, "g", "honey"))
    assert thinned.preservation.status is Preserved.NONE


def test_fresh_juice_is_not_called_keeping_because_it_is_sour():
    fresh = analysed((70, "g", "squeezed_lemon"), (30, "g", "water"))
    bottled = analysed((90, "g", "water"), (10, "g", "citric_acid"))

    assert fresh.preservation.status is Preserved.NONE
    assert bottled.preservation.reason == "ph_low"


def test_vinegar_on_clay_may_be_pulled_up_to_the_clay():
    chemistry = analysed((30, "g", "bentonite"), (100, "g", "cider_vinegar"))

    assert chemistry.ph is not None
    assert chemistry.ph.high >= 10.5


def test_a_thick_clay_paste_is_not_said_to_settle():
    assert analysed((40, "g", "kaolin"), (60, "g", "water")).settling.substance is None
