"""A cup, a spoon and a drop against published weights. Every dose in a verdict hangs on these."""

from __future__ import annotations

import pytest

from rules.catalogue import load_catalogue
from rules.chemistry.measuring import Spoons, grams_of, volume_of_one
from rules.interval import Interval
from rules.recipe import Amount, Unit

USDA = "USDA Standard Reference WEIGHT file (public copy, commit 7f5ef9c)"

# substance, grams a US cup, NDB number in the USDA file
CUPS = [
    ("olive_oil", 216, "04053"),
    ("coconut_oil", 218, "04047"),
    ("sweet_almond_oil", 218, "04529"),
    ("apricot_kernel_oil", 218, "04530"),
    ("sunflower_oil", 218, "04506"),
    ("grapeseed_oil", 218, "04517"),
    ("avocado_oil", 218, "04581"),
    ("canola_oil", 218, "04582"),
    ("sesame_oil", 218, "04058"),
    ("soybean_oil", 218, "04044"),
    ("safflower_oil", 218, "04510"),
    ("hazelnut_oil", 218, "04532"),
    ("walnut_oil", 218, "04528"),
    ("wheat_germ_oil", 218, "04038"),
    ("palm_oil", 216, "04055"),
    ("peanut_oil", 216, "04042"),
    ("flaxseed_oil", 218, "42231"),
    ("cocoa_butter", 218, "04501"),
    ("butter", 227, "01145"),
    ("honey", 339, "19296"),
    ("molasses", 337, "19304"),
    ("maple_syrup", 315, "19353"),
    ("corn_syrup", 341, "19350"),
    ("lemon_juice", 244, "09152"),
    ("lime_juice", 242, "09160"),
    ("water", 237, "14411"),
    ("milk", 244, "01077"),
    ("yogurt", 245, "01116"),
    ("egg_white", 243, "01124"),
    ("egg_yolk", 243, "01125"),
    ("mayonnaise", 220, "04025"),
    ("coconut_milk", 226, "12118"),
    ("coconut_water", 240, "12119"),
]
# granules and powders settle in the cup: 8 %
LOOSE = [
    ("sucrose", 200, "19335"),
    ("sodium_chloride", 292, "02047"),
    ("sodium_bicarbonate", 221, "18372"),
    ("cornstarch", 128, "20027"),
    ("arrowroot", 128, "20003"),
    ("rice_flour", 158, "20061"),
    ("wheat_flour", 125, "20081"),
    ("oat_flour", 104, "20132"),
    ("rolled_oats", 81, "08120"),
    ("cocoa_powder", 86, "19165"),
]
# substance, grams a US teaspoon, NDB number
TEASPOONS = [
    ("sodium_bicarbonate", 4.6, "18372"),
    ("sodium_chloride", 6.0, "02047"),
    ("honey", 7.06, "19296"),
    ("vanilla_extract", 4.2, "02050"),
    ("potassium_bitartrate", 3.0, "18373"),
]


def _weigh(substance: str, quantity: float, unit: Unit) -> Interval:
    amount = Amount(quantity=Interval.exact(quantity), unit=unit, written=(quantity, quantity))
    grams = grams_of(amount, load_catalogue()[substance])
    assert grams is not None
    return grams


# 5 %: USDA rounds to whole grams and whole spoons; the interval that the reader sees must hold the
# published figure
@pytest.mark.parametrize(
    ("substance", "published", "number", "share"),
    [*((*row, 0.05) for row in CUPS), *((*row, 0.08) for row in LOOSE)],
)
def test_a_cup_weighs_what_the_food_tables_say(substance, published, number, share):
    grams = _weigh(substance, 1, Unit.CUP)

    assert grams.low * 0.97 <= published <= grams.high * 1.03, (USDA, number)
    assert grams.best == pytest.approx(published, rel=share), (USDA, number)


@pytest.mark.parametrize(("substance", "published", "number"), TEASPOONS)
def test_a_teaspoon_weighs_what_the_food_tables_say(substance, published, number):
    assert _weigh(substance, 1, Unit.TSP).best == pytest.approx(published, rel=0.08), (USDA, number)


@pytest.mark.parametrize(("substance", "published", "number"), [("egg_white", 33, "01124"), ("egg_yolk", 17, "01125")])
def test_one_piece_weighs_what_the_food_tables_say(substance, published, number):
    grams = _weigh(substance, 1, Unit.PIECE)

    assert grams.low <= published <= grams.high, (USDA, number)


@pytest.mark.parametrize(
    ("unit", "millilitres"),
    # US customary measures derive from the gallon of 231 cubic inches (NIST Handbook 44, appendix C; from
    # memory)
    [
        (Unit.TSP, 4.92892159375),
        (Unit.TBSP, 14.78676478125),
        (Unit.CUP, 236.5882365),
        (Unit.FLOZ, 29.5735295625),
    ],
)
def test_us_spoons_are_exact(unit, millilitres):
    gallon = 231 * 2.54**3
    shares = {Unit.TSP: 768, Unit.TBSP: 256, Unit.CUP: 16, Unit.FLOZ: 128}
    volume = volume_of_one(unit, None)

    assert volume == Interval.exact(millilitres)
    assert volume.best == pytest.approx(gallon / shares[unit], rel=1e-12)


@pytest.mark.parametrize(
    ("spoons", "unit", "millilitres"),
    # from memory: metric cup 250 ml, Australian tablespoon 20 ml
    [(Spoons.METRIC, Unit.CUP, 250), (Spoons.METRIC, Unit.TBSP, 15), (Spoons.AUSTRALIAN, Unit.TBSP, 20)],
)
def test_spoons_of_other_countries_are_known(spoons, unit, millilitres):
    assert volume_of_one(unit, None, spoons) == Interval.exact(millilitres)


def test_a_drop_of_water_weighs_what_the_pharmacopoeia_says():
    # USP 32 general chapter 1101: 45 to 55 mg of water a drop
    drop = _weigh("water", 1, Unit.DROP)

    assert drop.low <= 0.045
    assert drop.high >= 0.055
    assert drop.best == pytest.approx(0.05, abs=0.006)


@pytest.mark.parametrize("drops", [20, 40])
def test_a_millilitre_of_essential_oil_is_20_to_40_drops(drops):
    # common practice: several pages read agree
    volume = volume_of_one(Unit.DROP, load_catalogue()["lavender_essential_oil"])

    assert volume is not None
    assert volume.low * drops <= 1 <= volume.high * drops


@pytest.mark.parametrize(
    ("unit", "grams"), [(Unit.OZ, 28.349523125), (Unit.LB, 453.59237), (Unit.KG, 1000), (Unit.MG, 0.001)]
)
def test_weights_follow_the_international_pound(unit, grams):
    # international avoirdupois pound of 1959, 0.45359237 kg by definition
    amount = Amount(quantity=Interval.exact(1), unit=unit, written=(1, 1))

    assert grams_of(amount, load_catalogue()["beeswax"]) == Interval.exact(grams)
