"""Washed off or left on decides which limits hold: read wrongly, a sound mask is scolded or a burn is called fine.

Every message is invented. What counts as rinse-off: a product that is meant to be removed after it was put on
(Regulation (EC) No 1223/2009, preamble to Annexes II to VI, from memory)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rules.recipe import Contact
from tests.nlp.readers import read

WASHED = [
    "harbour paste: 3 tbsp rhassoul, 2 tbsp rose water. on the cheeks for ten minutes, rinse lukewarm",
    "zit dab: 1 tsp sulfur, 1 tsp aloe gel. eight minutes, rinse with cool water",
    "3 tbsp castor oil, 1 tbsp olive oil, warm it, massage the scalp, towel for an hour, shampoo it out",
    "face cream of the fair: 20 g shea, 10 g jojoba oil. leave on 15 minutes then wipe off",
    "1 cup mouthwash, 1 cup vinegar, warm water in a basin. feet in for a quarter of an hour, scrub, rinse, moisturize",
    "hair oil: 4 tbsp coconut oil. an hour before shampooing",
    "1 tbsp mustard powder, 2 tbsp yogurt on the scalp, do not rinse for 10 minutes",
]
LEFT = [
    "face mask for windy quays: 1 tbsp aloe gel, 1 tsp glycerin. no need to rinse",
    "conditioner: 2 tbsp aloe gel, 1 tsp argan oil, leave in",
    "body lotion: 50 g water, 10 g shea, 3 g emulsifying wax. let it absorb. rinse the whisk and the bowl",
    "lotion: 70 g water, 20 g almond oil, 5 g emulsifying wax. wash your hands and rinse the jars first",
    "rice toner: half a cup of rice, rinsed, 2 cups of water. soak overnight, strain, dab on the face",
    "toner: 60 ml witch hazel, 40 ml rose water. if it gets in your eyes rinse with water",
    "wart paste: 1 tsp baking soda, 1 tsp castor oil. leave on overnight and rinse in the morning",
    "hair gel: 1 cup flaxseed tea, 1 tsp aloe gel. washes out easily",
    "curl mist for after rinsing: 1 cup water, 1 tsp argan oil, 3 drops of rosemary, spray in and style",
]


@pytest.mark.parametrize("text", WASHED)
def test_what_is_told_to_be_washed_off_is_not_judged_as_left_on(text: str) -> None:
    assert [recipe.contact for recipe in read(text).recipes] == [Contact.RINSE_OFF]


@pytest.mark.parametrize("text", LEFT)
def test_what_stays_on_is_not_excused_by_a_rinsed_tool_or_a_warning(text: str) -> None:
    assert [recipe.contact for recipe in read(text).recipes] == [Contact.LEAVE_ON]


def test_the_last_instruction_holds() -> None:
    paste = "2 tbsp kaolin, 1 tbsp aloe gel for the face. "
    assert read(paste + "Leave on 10 minutes. Rinse off.").recipes[0].contact is Contact.RINSE_OFF
    assert read(paste + "Rinse off the first layer, then a thin one more, no need to rinse.").recipes[0].contact is (
        Contact.LEAVE_ON
    )


@pytest.mark.parametrize(
    ("text", "contact"),
    [
        ("mascarilla: 2 cucharadas de arcilla, 1 cucharada de miel. sin enjuagar", Contact.LEAVE_ON),
        ("crema facial: 20 g de karité, 10 g de jojoba. 10 minutos y enjuagar", Contact.RINSE_OFF),
        ("creme facial: 20 g de manteiga de karité. 10 minutos e enxaguar", Contact.RINSE_OFF),
        ("crème visage : 20 g de karité, 10 g de jojoba. 10 minutes puis rincer", Contact.RINSE_OFF),
    ],
)
def test_washing_is_read_in_every_language(text: str, contact: Contact) -> None:
    assert read(text).recipes[0].contact is contact


TELLING = ["rinse", "wash", "off", "leave on", "overnight", "10 minutes", "don't", "if", "hands", ".", ","]


@given(st.lists(st.sampled_from(TELLING)))
def test_no_order_of_words_breaks_the_reading(words: list[str]) -> None:
    for recipe in read("lotion: 50 g water, 10 g shea. " + " ".join(words)).recipes:
        assert recipe.contact in set(Contact)
