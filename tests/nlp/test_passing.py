"""A product met in passing must not be taken for what is made: place and contact, and so the verdict, hang on it.

Every message is invented."""

from __future__ import annotations

import pytest

from rules.recipe import Contact, Site
from tests.nlp.readers import read

PASSING = [
    "whip like cream",
    "wear a mask, the powder flies",
    "peppermint to mask the smell of the spirit",
    "cream the butter into the sugar",
    "keep it in the ice cream tub",
    "then a thick cream",
    "if it gets in the eyes rinse at once",
]


@pytest.mark.parametrize("words", PASSING)
def test_a_word_in_passing_is_not_what_is_made(words: str) -> None:
    recipe = read(f"1 cup epsom salt, 1/2 cup sugar, 2 tbsp shea butter, 5 drops peppermint oil. {words}").recipes[0]
    assert recipe.guessed


def test_an_item_of_the_list_is_not_what_is_made() -> None:
    text = "For bigger lips:\n- 1 tsp shea butter\n- 2 drops peppermint oil\n- hand cream (optional)"
    assert read(text).recipes[0].sites[0] is Site.LIPS


def test_a_balm_for_the_heels_is_no_lip_balm() -> None:
    recipe = read("ferry walkers balm: beeswax 10 g, shea 30 g, rub on the heels before boots").recipes[0]
    assert Site.FEET in recipe.sites
    assert recipe.contact is Contact.LEAVE_ON


@pytest.mark.parametrize("text", ["pour into lip balm tubes", "Lip balm!", "this is my lip balm"])
def test_what_is_made_is_still_told_at_the_end(text: str) -> None:
    assert read(f"2 tbsp beeswax, 3 tbsp jojoba oil. {text}").recipes[0].product == "lip_balm"
