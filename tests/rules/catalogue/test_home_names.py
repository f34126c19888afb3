"""The everyday words of kitchen, craft box and bathroom shelf. A word missed is a danger missed."""

from __future__ import annotations

import pytest

from rules.catalogue import Role, load_catalogue

# as fans write it, what it is; common practice, no source
WORDS = [
    ("arrowroot", "arrowroot"),
    ("corn starch", "cornstarch"),
    ("cacao powder", "cocoa_powder"),
    ("greek yogurt", "yogurt"),
    ("egg whites", "egg_white"),
    ("icing sugar", "powdered_sugar"),
    ("acv", "apple_cider_vinegar"),
    ("used coffee grounds", "coffee_grounds"),
    ("ground coffee", "coffee_grounds"),
    ("coffee", "brewed_coffee"),
    ("strong black tea", "black_tea"),
    ("beet root powder", "beetroot_powder"),
    ("cayenne", "cayenne"),
    ("cinnamon", "cinnamon_powder"),
    ("cloves", "clove_ground"),
    ("mint leaves", "peppermint_leaf"),
    ("lavender", "lavender_flowers"),
    ("lemon", "lemon"),
    ("orange", "orange"),
    ("clove oil", "clove_bud_essential_oil"),
    ("orange oil", "sweet_orange_essential_oil"),
    ("lavendar essential oil", "lavender_essential_oil"),
    ("tea tree oil", "tea_tree_essential_oil"),
    ("patchouli", "patchouli_essential_oil"),
    ("mica powder", "mica"),
    ("pigmented mica powder", "mica"),
    ("resin pigment", "mica_craft"),
    ("glitter", "glitter_craft"),
    ("body glitter", "glitter_cosmetic"),
    ("bio glitter", "glitter_biodegradable"),
    ("crayons", "crayon"),
    ("sidewalk chalk", "chalk"),
    ("powdered tempera", "tempera_powder"),
    ("food coloring", "food_colouring"),
    ("soap dye", "soap_colourant"),
    ("candle colorant", "candle_dye"),
    ("white glue", "school_glue"),
    ("superglue", "super_glue"),
    ("dish detergent", "dish_soap"),
    ("baby wash", "baby_shampoo"),
    ("cream rinse", "conditioner"),
    ("body lotion", "lotion"),
    ("clear nail varnish", "nail_polish"),
    ("suspension base", "nail_polish_base"),
    ("hand sanitizer", "hand_sanitiser"),
    ("crushed aspirin", "aspirin"),
    ("hydrogen peroxide", "hydrogen_peroxide_3"),
    ("20 volume developer", "hydrogen_peroxide_6"),
    ("chlorine bleach", "bleach"),
    ("multani mitti", "fullers_earth"),
    ("garden soil", "soil"),
]


def owner_of(word: str) -> str | None:
    for row in load_catalogue():
        if word == row.name.lower() or word in row.aliases:
            return row.id
    return None


@pytest.mark.parametrize(("word", "substance"), WORDS)
def test_a_fan_s_word_leads_to_the_material(word, substance):
    assert owner_of(word) == substance


def test_an_essential_oil_answers_to_each_of_its_short_forms():
    catalogue = load_catalogue()
    oils = [row for row in catalogue if catalogue.family(row.id) == "essential_oils" and not row.generic]

    assert len(oils) >= 90
    for row in oils:
        spoken = row.name.removesuffix(" essential oil")
        assert {f"{spoken} oil", f"{spoken} eo"} <= set(row.aliases), row.id
        assert Role.ESSENTIAL_OIL in row.roles, row.id


def test_a_ready_made_cream_keeps_track_of_its_water_and_preservative():
    for product in ("shampoo", "baby_shampoo", "conditioner", "lotion", "baby_lotion", "body_wash"):
        contains = load_catalogue()[product].contains
        assert contains["water"] > 0.5, product
        assert contains["phenoxyethanol"] > 0, product


@pytest.mark.parametrize(
    "perishable",
    ["egg", "milk", "yogurt", "banana", "lemon_juice", "green_tea", "brewed_coffee", "cucumber"],
)
def test_what_spoils_in_days_is_known_to(perishable):
    assert Role.PERISHABLE in load_catalogue()[perishable].roles
