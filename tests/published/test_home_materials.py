"""Kitchen materials against published weights, pH and grain. A wrong one moves the dose or the danger."""

from __future__ import annotations

import pytest

from rules.catalogue import Edge, Shelf, load_catalogue
from rules.chemistry.measuring import grams_of
from rules.interval import Interval
from rules.recipe import Amount, Unit

USDA = "USDA Standard Reference WEIGHT file (public copy, commit 7f5ef9c)"
CRC = "CRC Handbook, Typical pH Values of Biological Materials and Foods (copy read)"
IDAHO = "University of Idaho food preservation module 2h"

# substance, quantity, unit, grams, NDB number in the USDA file
WEIGHTS = [
    ("clove_ground", 1, Unit.TSP, 2.1, "02011"),
    ("cinnamon_powder", 1, Unit.TBSP, 7.8, "02010"),
    ("turmeric_powder", 1, Unit.TBSP, 9.4, "02043"),
    ("ginger_ground", 1, Unit.TBSP, 7.0, "02025"),
    ("paprika_powder", 1, Unit.TBSP, 6.8, "02028"),
    ("cayenne", 1, Unit.TSP, 1.8, "02031"),
    ("chili_powder", 1, Unit.TSP, 2.7, "02009"),
    ("black_pepper", 1, Unit.TSP, 2.3, "02030"),
    ("mustard_powder", 1, Unit.TSP, 2.0, "02024"),
    ("allspice_ground", 1, Unit.TSP, 1.9, "02001"),
    ("cardamom_ground", 1, Unit.TSP, 2.0, "02006"),
    ("fennel_seed", 1, Unit.TSP, 2.0, "02018"),
    ("fenugreek", 1, Unit.TSP, 3.7, "02019"),
    ("poppy_seeds", 1, Unit.TSP, 2.8, "02033"),
    ("garlic_powder", 1, Unit.TSP, 3.1, "02020"),
    ("baking_powder", 1, Unit.TSP, 4.6, "18369"),
    ("vinegar", 1, Unit.TBSP, 14.9, "02053"),
    ("apple_cider_vinegar", 1, Unit.CUP, 239, "02048"),
    ("orange_juice", 1, Unit.CUP, 248, "09206"),
    ("pineapple_juice", 1, Unit.CUP, 250, "09273"),
    ("pomegranate_juice", 1, Unit.CUP, 249, "09442"),
    ("tomato_juice", 1, Unit.CUP, 243, "11886"),
    ("brewed_coffee", 1, Unit.CUP, 237, "14209"),
    ("red_wine", 1, Unit.FLOZ, 29.4, "14096"),
    ("cream", 1, Unit.CUP, 238, "01053"),
    ("sour_cream", 1, Unit.CUP, 230, "01178"),
    ("mustard", 1, Unit.CUP, 249, "02046"),
    ("coconut_cream", 1, Unit.TBSP, 15.0, "12115"),
    ("avocado", 1, Unit.CUP, 230, "09037"),
    ("banana", 1, Unit.CUP, 225, "09040"),
    ("papaya", 1, Unit.CUP, 230, "09226"),
    ("strawberry", 1, Unit.CUP, 232, "09316"),
    ("almond_meal", 1, Unit.CUP, 95, "12061"),
    ("sesame_seeds", 1, Unit.TBSP, 9.0, "12023"),
    ("flax_seeds", 1, Unit.TBSP, 10.3, "12220"),
    ("oat_bran", 1, Unit.CUP, 94, "20033"),
    ("powdered_sugar", 1, Unit.CUP, 120, "19336"),
    ("powdered_sugar", 1, Unit.CUP, 100, "19336, sifted"),
    ("vegetable_shortening", 1, Unit.CUP, 205, "04615"),
    ("lard", 1, Unit.TBSP, 12.8, "04002"),
]
# substance, grams of one, NDB number
PIECES = [
    ("lemon_juice", 48, "09152, lemon yields"),
    ("lime_juice", 44, "09160, lime yields"),
    ("orange_juice", 86, "09206, fruit yields"),
    ("orange", 131, "09200, fruit 2-5/8 in"),
    ("orange", 96, "09200, small fruit"),
    ("apple", 157, "09413, medium Fuji-sized fruit"),
    ("peach", 150, "09236, medium"),
    ("strawberry", 12, "09316, medium"),
    ("butter", 113, "01145, stick"),
]
# substance, published low and high, source
ACIDITY = [
    ("lemon_juice", 2.2, 2.4, CRC),
    ("lime_juice", 1.8, 2.0, CRC),
    ("vinegar", 2.4, 3.4, CRC),
    ("apple_cider_vinegar", 2.4, 3.4, CRC),
    ("grapefruit_juice", 3.0, 3.3, CRC),
    ("orange", 3.0, 4.0, CRC),
    ("apple", 2.9, 3.3, CRC),
    ("strawberry", 3.0, 3.5, CRC),
    ("tomato", 4.0, 4.4, CRC),
    ("banana", 4.5, 4.7, CRC),
    ("carrot", 4.9, 5.3, CRC),
    ("beetroot", 4.9, 5.5, CRC),
    ("pumpkin", 4.8, 5.2, CRC),
    ("papaya", 5.2, 5.7, IDAHO),
    ("cucumber", 5.1, 5.7, IDAHO),
    ("buttermilk", 4.4, 4.6, IDAHO),
    ("egg_white", 7.6, 8.0, CRC),
    ("egg_yolk", 6.4, 6.4, IDAHO),
    ("milk", 6.3, 6.6, CRC),
    ("mayonnaise", 4.2, 4.5, IDAHO),
    ("beer", 4.0, 5.0, CRC),
    ("red_wine", 2.8, 3.8, CRC),
]
# substance, water %, source
WATER = [
    ("honey", 17.1, "USDA, NDB 19296"),
    ("milk", 88.1, "USDA, NDB 01077; from memory"),
    ("yogurt", 87.9, "USDA, NDB 01116; from memory"),
    ("egg", 76.2, "USDA, NDB 01123; from memory"),
    ("egg_white", 87.6, "USDA, NDB 01124; from memory"),
    ("egg_yolk", 52.3, "USDA, NDB 01125; from memory"),
    ("banana", 74.9, "USDA, NDB 09040; from memory"),
    ("avocado", 73.2, "USDA, NDB 09037; from memory"),
    ("cucumber", 95.2, "USDA, NDB 11205; from memory"),
    ("coconut_water", 95.0, "USDA, NDB 12119; from memory"),
    ("maple_syrup", 32.15, "USDA Standard Reference ABBREV file (public copy, commit 2d36b4e), NDB 19911"),
    ("agave_syrup", 22.94, "USDA Standard Reference ABBREV file (public copy, commit 2d36b4e), NDB 19912"),
    ("lemon_juice", 92.3, "USDA, NDB 09152; from memory"),
]


def weigh(substance: str, quantity: float, unit: Unit) -> Interval:
    amount = Amount(quantity=Interval.exact(quantity), unit=unit, written=(quantity, quantity))
    grams = grams_of(amount, load_catalogue()[substance])
    assert grams is not None
    return grams


# USDA rounds a teaspoon to 0.1 g, and its spoons and cups disagree with each other by up to 8 %
@pytest.mark.parametrize(("substance", "quantity", "unit", "published", "number"), WEIGHTS)
def test_a_spoon_of_pantry_weighs_what_the_food_tables_say(substance, quantity, unit, published, number):
    grams = weigh(substance, quantity, unit)

    assert grams.low * 0.97 <= published <= grams.high * 1.03, (USDA, number)


@pytest.mark.parametrize(("substance", "published", "number"), PIECES)
def test_one_fruit_or_its_juice_weighs_what_the_food_tables_say(substance, published, number):
    grams = weigh(substance, 1, Unit.PIECE)

    assert grams.low <= published <= grams.high, (USDA, number)


@pytest.mark.parametrize(("substance", "low", "high", "source"), ACIDITY)
def test_a_food_is_as_acid_as_the_handbook_says(substance, low, high, source):
    ours = load_catalogue()[substance].ph

    assert ours is not None
    assert ours[0] <= high, source
    assert low <= ours[1], source


@pytest.mark.parametrize(("substance", "percent", "source"), WATER)
def test_the_water_hidden_in_a_food_is_counted(substance, percent, source):
    assert load_catalogue()[substance].contains["water"] * 100 == pytest.approx(percent, abs=1.5), source


@pytest.mark.parametrize("substance", ["sucrose", "coffee_grounds", "walnut_shell", "glitter_craft", "pumice"])
def test_grit_is_known_as_sharp_and_coarse(substance):
    """Common practice, no source: scrub grains over 200 micrometres with an edge do not belong at an eye."""
    particle = load_catalogue()[substance].particle

    assert particle is not None
    assert particle.edge is Edge.SHARP
    assert particle.micrometres[1] >= 200


@pytest.mark.parametrize("substance", ["crayon", "chalk", "oil_pastel", "tempera_paint", "candle_dye", "glitter_craft"])
def test_art_material_is_never_taken_for_a_cosmetic_ingredient(substance):
    row = load_catalogue()[substance]

    assert row.shelf is Shelf.CRAFT
    assert row.inci is None
