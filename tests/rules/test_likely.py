"""What an unnamed recipe is taken for. Common practice: the table is ours, the examples too."""

from __future__ import annotations

import pytest

from rules.catalogue import load_catalogue
from rules.chemistry.composition import compose
from rules.likely import likely_product, load_likenesses
from rules.products import load_products
from tests.scenario import recipe_of

EXAMPLES = [
    (("1 cup sodium_bicarbonate", "0.5 cup citric_acid", "0.5 cup cornstarch"), "bath_bomb"),
    (("2 cup epsom_salt", "1 cup sodium_chloride"), "bath_salts"),
    (("0.25 cup sodium_bicarbonate", "0.25 cup arrowroot", "5 tbsp coconut_oil"), "deodorant"),
    (("4 tbsp sodium_bicarbonate", "2 tsp glycerin", "1 tbsp coconut_oil"), "toothpaste"),
    (("1 cup brown_sugar", "0.5 cup olive_oil"), "scrub"),
    (("2 tbsp bentonite", "2 tbsp water"), "clay_mask"),
    (("3 tbsp yogurt", "1 tbsp honey"), "face_mask"),
    (("2 piece egg", "3 tbsp olive_oil"), "hair_mask"),
    (("1 piece crayon", "1 tsp coconut_oil"), "lipstick"),
    (("2 tbsp aloe_vera_gel", "1 tsp beeswax", "1 tsp activated_charcoal"), "mascara"),
    (("5 g beeswax", "5 g jojoba_oil", "4 g iron_oxide_black"), "eyeliner"),
    (("1 tsp mica", "1 tsp arrowroot", "0.5 tsp magnesium_stearate"), "eyeshadow"),
    (("1 tbsp beetroot_powder", "1 tbsp cornstarch"), "blush"),
    (("0.25 cup cornstarch", "0.25 cup cocoa_powder"), "dry_shampoo"),
    (("1 pinch cayenne", "2 tbsp petroleum_jelly"), "lip_plumper"),
    (("0.5 cup liquid_castile_soap", "0.5 cup rose_water"), "cleanser"),
    (("1 cup liquid_castile_soap", "2 tbsp honey"), "shampoo"),
    (("1 cup lemon_juice", "1 cup chamomile_tea"), "hair_lightener"),
    (("70 g water", "20 g olive_oil", "6 g emulsifying_wax"), "lotion"),
    (("1 cup water", "1 tbsp sodium_chloride"), "sea_salt_spray"),
    (("1 cup green_tea", "1 tbsp vinegar"), "toner"),
    (("500 g olive_oil", "65 g sodium_hydroxide", "150 g water"), "soap"),
    (("10 ml nail_polish_base", "1 g mica"), "nail_polish"),
    (("10 g beeswax", "30 g coconut_oil"), "lip_balm"),
    (("100 g shea_butter", "30 g jojoba_oil"), "body_butter"),
    (("10 ml jojoba_oil", "3 drop lavender_essential_oil"), "body_oil"),
]


@pytest.mark.parametrize(("lines", "product"), EXAMPLES, ids=[row[1] for row in EXAMPLES])
def test_an_unnamed_recipe_is_taken_for_what_it_is(lines: tuple[str, ...], product: str) -> None:
    assert likely_product(compose(recipe_of({"lines": list(lines)}), load_catalogue())) == product


def test_a_coloured_balm_of_no_place_is_not_guessed() -> None:
    """Blue may go on a lid and not on a lip: that has to be asked."""
    recipe = recipe_of({"lines": ["10 g beeswax", "30 g castor_oil", "2 g ultramarine_blue"]})
    assert likely_product(compose(recipe, load_catalogue())) is None


def test_the_table_names_only_known_substances_and_products() -> None:
    groups, kinds = load_likenesses()
    catalogue = load_catalogue()
    assert sorted(i for group in groups.values() for i in group.ids if i not in catalogue) == []
    assert sorted(kind.product for kind in kinds if kind.product not in load_products()) == []
