"""Fifteen recipes from spoons to verdict, each with the hand calculation beside it.

The hand figures use US spoons and the densities of the test shelf; water activity, pH and settling were
worked out once apart from this code. Tolerances: 0.5 % of the whole for shares, else the stated error bars.
"""

from __future__ import annotations

import pytest

from rules.chemistry.chemistry import Mixing, Preserved, analyse
from rules.chemistry.composition import compose
from rules.recipe import Circumstance
from tests.rules.chemistry.shelf import SHELF, analysed, composed, recipe

TSP, TBSP, CUP = 4.92892, 14.78676, 236.58824


def test_1_rose_water_mist_with_lavender_is_called_unpreserved_and_separating():
    # rose water 236.59 * 1.0 = 236.59 g; glycerin 14.787 * 1.261 = 18.65 g; oil 10 * 0.03 * 0.885 = 0.27 g
    # total 255.5; glycerin 7.3 %, oil 0.104 %, water 0.998 * 92.6 = 92.4 %
    lines = ((1, "cup", "rose_water"), (1, "tbsp", "glycerin"), (10, "drop", "lavender_essential_oil"))
    mix, chemistry = composed(*lines), analysed(*lines)

    assert mix.total is not None
    assert mix.total.best == pytest.approx(255.5, abs=0.3)
    assert mix.parts["glycerin"].best == pytest.approx(7.3, abs=0.1)
    assert mix.parts["lavender_essential_oil"].low == pytest.approx(0.07, abs=0.01)
    assert mix.parts["lavender_essential_oil"].high == pytest.approx(0.17, abs=0.02)
    # Xw = (92.4/18.015)/(92.4/18.015 + 7.3/92.094) = 0.9848; aw = 0.9848 * exp(-0.875 * 0.0152^2) = 0.985
    assert chemistry.water_activity is not None
    assert chemistry.water_activity.best == pytest.approx(0.985, abs=0.002)
    assert chemistry.ph is not None
    assert (chemistry.ph.low, chemistry.ph.high) == (4.0, 6.0)
    assert chemistry.preservation.status is Preserved.NONE
    assert chemistry.emulsion.mixing is Mixing.SEPARATES


def test_2_mica_mist_stops_pseudomonas_on_paper_yet_is_unpreserved_and_settles():
    # water 44.36 * 0.998 = 44.27; glycerin 18.65; mica 4.929 * 0.5 = 2.46; total 65.4: 67.7, 28.5, 3.8 %
    lines = ((3, "tbsp", "water"), (1, "tbsp", "glycerin"), (1, "tsp", "mica"))
    mix, chemistry = composed(*lines), analysed(*lines, circumstances=frozenset({Circumstance.SPRAYED}))

    assert mix.parts["water"].best == pytest.approx(67.8, abs=0.5)
    assert mix.parts["glycerin"].best == pytest.approx(28.5, abs=0.5)
    assert mix.parts["mica"].low == pytest.approx(2.3, abs=0.5)
    # 29.6 % glycerin of the liquid: Xw = 0.924, aw = 0.924 * exp(-0.875 * 0.076^2) = 0.919
    assert chemistry.water_activity is not None
    assert chemistry.water_activity.best == pytest.approx(0.92, abs=0.01)
    assert chemistry.preservation.status is Preserved.NONE
    # 20 um sphere: 5.43 min in 30 % glycerol by fluids; as a tumbling plate 69 min
    assert chemistry.settling.minutes is not None
    assert 5.4 <= chemistry.settling.minutes.best <= 70


def test_3_witch_hazel_and_aloe_has_too_little_alcohol_to_preserve():
    # witch hazel 118.29 * 0.985 = 116.5 (11.3 % ethanol = 13.2); aloe 118.9; glycerin 6.2; total 241.6:
    # ethanol 5.4 %
    lines = ((0.5, "cup", "witch_hazel"), (0.5, "cup", "aloe_vera_juice"), (1, "tsp", "glycerin"))
    chemistry = analysed(*lines)

    assert chemistry.ethanol_percent.best == pytest.approx(5.4, abs=0.1)
    assert chemistry.water_percent.best == pytest.approx(91.5, abs=0.5)
    assert chemistry.water_activity is not None
    assert chemistry.water_activity.best == pytest.approx(0.97, abs=0.01)
    assert chemistry.preservation.status is Preserved.NONE
    assert chemistry.preservation.reason == "alcohol_too_weak"
    # flash about 60 degrees C: 5.6 % of the alcohol-water phase, table row 5 % = 62
    assert chemistry.vapour.flash_point_celsius is not None
    assert chemistry.vapour.flash_point_celsius.best == pytest.approx(60, abs=4)


def test_4_isopropanol_gel_preserves_itself_and_burns():
    # 2/3 cup 157.7 * 0.81 = 127.8 (88.2 % = 112.7 g); gel 78.86 * 1.02 = 80.4; total 208.2: isopropanol 54 %
    chemistry = analysed((2 / 3, "cup", "rubbing_alcohol_91"), (1 / 3, "cup", "aloe_vera_gel"))

    assert chemistry.vapour.alcohol_percent.best == pytest.approx(54.5, abs=1)
    assert chemistry.preservation.status is Preserved.NOT_NEEDED
    assert chemistry.preservation.reason == "alcohol"
    assert chemistry.vapour.flash_point_celsius is not None
    assert chemistry.vapour.flash_point_celsius.best == pytest.approx(20, abs=4)


def test_5_a_body_butter_needs_no_preservative_while_it_is_dry():
    # shea 100 g; coconut 118.3 * 0.921 = 108.9; almond 59.1 * 0.921 = 54.5; oil 10 drops 0.27: total 263.7
    lines = ((100, "g", "shea_butter"), (0.5, "cup", "coconut_oil"), (0.25, "cup", "sweet_almond_oil"),
             (10, "drop", "lavender_essential_oil"))  # fmt: skip
    mix, chemistry = composed(*lines), analysed(*lines)

    assert mix.parts["lavender_essential_oil"].best == pytest.approx(0.10, abs=0.01)
    assert chemistry.oil_percent.best == pytest.approx(100, abs=0.01)
    assert chemistry.water_activity is None
    assert chemistry.ph is None
    assert (chemistry.preservation.status, chemistry.preservation.reason) == (
        Preserved.NOT_NEEDED,
        "no_water",
    )


def test_6_a_sugar_scrub_is_dry_enough_until_wet_fingers_come():
    # sugar 236.6 * 0.845 = 199.9; coconut 108.9; honey 14.787 * 1.433 = 21.2: total 330; sugar 60.6, oil
    # 33, honey 6.4
    lines = ((1, "cup", "sucrose"), (0.5, "cup", "coconut_oil"), (1, "tbsp", "honey"))
    mix, chemistry = composed(*lines), analysed(*lines)

    assert mix.parts["sucrose"].best == pytest.approx(60.6, abs=0.5)
    assert mix.parts["coconut_oil"].best == pytest.approx(33.0, abs=0.5)
    assert mix.parts["water"].best == pytest.approx(1.1, abs=0.1)
    assert chemistry.water_activity is not None
    assert chemistry.water_activity.best == pytest.approx(0.55, abs=0.03)
    assert chemistry.preservation.status is Preserved.NOT_NEEDED


def test_7_lemon_does_not_make_a_baking_soda_paste_neutral():
    # soda 29.57 * 0.933 = 27.6 g = 328 mmol; juice 15.25 g with 0.81 g citric = 4.2 mmol = 12.6 meq: 4 %
    # of the soda
    # gas 12.6 mmol * 24.465 = 0.31 l; what dissolves of the soda holds the pH at 8.1
    lines = ((2, "tbsp", "sodium_bicarbonate"), (1, "tbsp", "lemon_juice"))
    mix, chemistry = composed(*lines), analysed(*lines)

    assert mix.parts["sodium_bicarbonate"].best == pytest.approx(64, abs=1)
    assert chemistry.ph is not None
    assert chemistry.ph.best == pytest.approx(8.1, abs=0.3)
    assert chemistry.vapour.gas_litres is not None
    assert chemistry.vapour.gas_litres.best == pytest.approx(0.326, abs=0.033)  # ideal gas, +-10 %
    assert chemistry.water_activity is not None
    assert chemistry.water_activity.best == pytest.approx(0.96, abs=0.015)


def test_8_a_vinegar_rinse_is_sour_but_not_sour_enough_to_keep():
    # vinegar 29.87 g with 5 % = 1.49 g acetic in 266 g: 0.56 %; 0.094 m acetic acid: pH 2.9, 3.2 with hard
    # tap water
    lines = ((2, "tbsp", "cider_vinegar"), (1, "cup", "water"))
    mix, chemistry = composed(*lines), analysed(*lines)

    assert mix.parts["acetic_acid"].best == pytest.approx(0.56, abs=0.01)
    assert chemistry.ph is not None
    assert chemistry.ph.low <= 2.9 <= chemistry.ph.high
    assert chemistry.ph.low <= 3.2 <= chemistry.ph.high
    assert chemistry.ph.best == pytest.approx(3.05, abs=0.4)  # kitchen spoons and a natural buffer
    assert chemistry.water_activity is not None
    assert chemistry.water_activity.best == pytest.approx(0.998, abs=0.002)
    assert chemistry.preservation.status is Preserved.NONE


def test_9_lotion_thinned_with_water_has_lost_its_preservative():
    # lotion 59.15 * 0.98 = 58.0; water 118.1; D = 176.1 / 58.0 = 3.04; 0.9 % / 3.04 = 0.30 % < 0.5 %
    lines = ((0.25, "cup", "lotion"), (0.5, "cup", "water"))
    mix, chemistry = composed(*lines), analysed(*lines)

    assert mix.portions[0].percent.best == pytest.approx(33, abs=0.5)
    assert mix.parts["phenoxyethanol"].best == pytest.approx(0.30, abs=0.01)
    assert (chemistry.preservation.status, chemistry.preservation.reason) == (Preserved.TOO_WEAK, "diluted")
    assert chemistry.emulsion.mixing in (Mixing.SHAKE, Mixing.SEPARATES)


def test_10_oil_in_shampoo_creams_because_it_matches_the_active_surfactant():
    # shampoo 236.6 * 1.03 = 243.7; oil 29.57 * 0.921 = 27.2: oil 10.0 %, active 0.12 * 90 = 10.8 %, 0.72 %
    # preservative
    lines = ((1, "cup", "shampoo"), (2, "tbsp", "coconut_oil"))
    mix, chemistry = composed(*lines), analysed(*lines)

    assert mix.parts["coconut_oil"].best == pytest.approx(10.0, abs=0.2)
    assert mix.parts["detergent"].best == pytest.approx(10.8, abs=0.2)
    assert mix.parts["phenoxyethanol"].best == pytest.approx(0.72, abs=0.02)
    assert chemistry.emulsion.mixing is Mixing.SHAKE


def test_11_castile_soap_with_vinegar_curdles():
    # soap 59.15 * 1.03 = 60.9 (28 % = 17.06 g, 55 mmol at 310 g/mol); vinegar 29.87 (1.49 g = 24.9 mmol):
    # 0.45 eq
    lines = ((0.25, "cup", "castile_soap"), (2, "tbsp", "cider_vinegar"))
    mix, chemistry = composed(*lines), analysed(*lines)

    assert mix.parts["soap_salt"].best == pytest.approx(18.9, abs=0.5)
    assert mix.parts["acetic_acid"].best == pytest.approx(1.65, abs=0.05)
    assert chemistry.emulsion.mixing is Mixing.SEPARATES
    assert "soap_curdles" in [result for _, _, result in chemistry.vapour.dangerous_pairs]
    assert chemistry.preservation.status is Preserved.NONE


def test_12_a_vitamin_c_serum_is_sour_enough_to_keep_until_soda_goes_in():
    # ascorbic 4.929 * 0.85 = 4.19; water 29.5; glycerin 18.65; total 52.4: 8.0, 56.4, 35.6 %; 0.81 m
    # ascorbic: pH 2.1
    lines = ((1, "tsp", "ascorbic_acid"), (2, "tbsp", "water"), (1, "tbsp", "glycerin"))
    chemistry = analysed(*lines)

    assert chemistry.water_activity is not None
    assert chemistry.water_activity.best == pytest.approx(0.87, abs=0.015)
    assert chemistry.ph is not None
    assert chemistry.ph.best == pytest.approx(2.1, abs=0.2)
    # the same with 1/4 tsp of soda, 1.15 g = 13.7 mmol against 23.8 mmol of acid: pH 4.1
    softened = analysed(*lines, (0.25, "tsp", "sodium_bicarbonate"))
    assert softened.ph is not None
    assert softened.ph.best == pytest.approx(4.1, abs=0.3)
    assert softened.preservation.status is Preserved.NONE


@pytest.mark.parametrize(
    ("citric", "ph", "undissociated", "status"),
    [
        (0.1, 4.8, 0.10, {Preserved.TOO_WEAK, Preserved.CANNOT_TELL}),
        (0.2, 4.4, 0.16, {Preserved.EFFECTIVE, Preserved.CANNOT_TELL}),
        (0.3, 4.0, 0.19, {Preserved.EFFECTIVE}),
    ],
)
def test_13_potassium_sorbate_switches_itself_off_without_acid(citric, ph, undissociated, status):
    # 0.3 % sorbate = 0.224 % sorbic acid = 20 mmol/kg; citric 0.1 % = 5.2 mmol/kg. Undissociated share by
    # pKa 4.76.
    written = recipe((100, "g", "water"), (0.3, "g", "potassium_sorbate"), (citric, "g", "citric_acid"))
    chemistry = analyse(written, compose(written, SHELF), SHELF)

    assert chemistry.ph is not None
    assert chemistry.ph.best == pytest.approx(ph, abs=0.2)
    assert chemistry.preservation.status in status
    assert chemistry.preservation.active_percent is not None
    assert chemistry.preservation.active_percent.best == pytest.approx(undissociated, abs=0.02)


def test_13_potassium_sorbate_without_acid_lifts_the_ph_above_where_it_works():
    # worked out apart: pH 6.2 in a hydrosol of pH 5 and 0.008 % undissociated; plain water has no buffer:
    # pH above that
    chemistry = analysed((100, "g", "water"), (0.3, "g", "potassium_sorbate"))

    assert chemistry.ph is not None
    assert chemistry.ph.best >= 6.2
    assert chemistry.preservation.status is Preserved.TOO_WEAK
    assert chemistry.preservation.active_percent is not None
    assert chemistry.preservation.active_percent.best <= 0.008


def test_14_a_salt_spray_is_wet_and_its_oil_floats():
    # water 236.1; Epsom 29.57 * 0.95 = 28.1; salt 6.08; oil 13.6: total 283.9: 83.2 + 0.512 * 9.9 = 88.2 %
    # water
    lines = (
        (1, "cup", "water"),
        (2, "tbsp", "epsom_salt"),
        (1, "tsp", "sodium_chloride"),
        (1, "tbsp", "coconut_oil"),
    )
    mix, chemistry = composed(*lines), analysed(*lines)

    assert mix.portions[0].percent.best == pytest.approx(83.2, abs=0.5)
    assert mix.portions[1].percent.best == pytest.approx(9.9, abs=0.5)
    assert mix.parts["water"].best == pytest.approx(83.2 + 0.512 * 9.9, abs=0.5)
    assert chemistry.water_activity is not None
    assert chemistry.water_activity.best == pytest.approx(0.978, abs=0.005)
    assert chemistry.preservation.status is Preserved.NONE
    assert chemistry.emulsion.mixing is Mixing.SEPARATES


def test_15_glycerin_and_honey_keep_without_a_preservative():
    # glycerin 59.1 * 1.261 = 74.6; honey 29.6 * 1.433 = 42.4; water 14.8: 56.7, 32.2, 11.2 %
    lines = ((4, "tbsp", "glycerin"), (2, "tbsp", "honey"), (1, "tbsp", "water"))
    mix, chemistry = composed(*lines), analysed(*lines)

    assert mix.parts["glycerin"].best == pytest.approx(56.8, abs=0.5)
    assert chemistry.water_activity is not None
    assert chemistry.water_activity.best == pytest.approx(0.44, abs=0.04)
    assert (chemistry.preservation.status, chemistry.preservation.reason) == (
        Preserved.NOT_NEEDED,
        "water_activity_low",
    )
