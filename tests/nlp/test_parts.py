"""Two recipes in one message: each is judged by itself. Expected values: read by hand."""

from __future__ import annotations

import pytest

from tests.nlp.readers import read


@pytest.mark.parametrize(
    "text",
    [
        "Lip balm: 1 tbsp beeswax, 3 tbsp coconut oil. Foot scrub: 1 cup sugar, 3 tbsp olive oil.",
        "two of mine: lip balm = 1 tbsp beeswax, 3 tbsp coconut oil; body scrub = 1 cup sugar, 3 tbsp olive oil",
        "TONER 1 cup rose water + 1 tbsp vinegar. MASK 2 tbsp clay + 1 tbsp honey",
        "mask: 2 tbsp clay, 1 tbsp honey and the other one: 1 cup sugar, 2 tbsp olive oil",
        "Recette 1 : 50 g de karité et 10 g de jojoba. Recette 2 : 100 g de sel, 20 g d'huile d'olive",
    ],
)
def test_a_second_recipe_is_not_lost_in_the_first(text: str) -> None:
    assert [len(recipe.lines) for recipe in read(text).recipes] == [2, 2]


@pytest.mark.parametrize(
    "text",
    [
        "Hair mask: 2 tbsp honey, 1 tbsp olive oil. Conditioner 2 tbsp, 1 tsp argan oil.",
        "face mask: 2 tbsp clay, 1 tbsp honey (with 1 tsp lotion and 2 tsp water if it dries)",
    ],
)
def test_a_product_in_a_list_begins_no_second_recipe(text: str) -> None:
    assert len(read(text).recipes) == 1
