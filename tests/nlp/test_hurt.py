"""What tells harm and what takes it back; a fan in pain writes in haste, and a careful one writes of pain too."""

from __future__ import annotations

import pytest

from nlp.hurt import mended
from nlp.reading import Emergency, Kind
from nlp.told import told
from tests.nlp.readers import read


def _clean(text: str) -> set[str]:
    norm = mended(text.split(), "en")
    return {one.label for one in told(norm, [0] * len(norm), "en") if not one.taken}


@pytest.mark.parametrize("word", ["burnign", "blisterd", "bleech", "headach"])
def test_a_slip_of_a_frightened_hand_is_read(word: str) -> None:
    assert mended([word], "en") != [word]


@pytest.mark.parametrize("word", ["flour", "pepper", "stall", "butter", "selling", "father"])
def test_a_word_of_a_recipe_is_no_slip_of_a_harm(word: str) -> None:
    assert mended([word], "en") == [word]


@pytest.mark.parametrize(
    "text",
    [
        "if it burns my skin",
        "a balm for burning feet",
        "no blister at all",
        "don't get it in your eye",
        "year ago i burned my hand",
    ],
)
def test_harm_that_is_supposed_denied_or_long_past_does_not_count(text: str) -> None:
    assert not {label for label in _clean(text) if label.startswith(("sign.", "into."))}


@pytest.mark.parametrize(
    ("text", "emergency"),
    [
        ("IT WONT COME OFF AND ITS BURNING WHAT TAKES IT OFF", Emergency.BURN),
        ("is it normal that my lips are twice their size since the gloss", Emergency.REACTION),
        ("our kitten licked the wintergreen off the floor and she is staggering", Emergency.SWALLOWED),
        ("um so the tonic ran down my forehead into my eyes and i cant open them", Emergency.EYE),
        ("she put the balm on and now her throat is getting tight lol", Emergency.BREATHING),
        ("gran collapsed in the mustard bath and wont wake up", Emergency.OTHER),
        ("tengo la lengua hinchada y no puedo respirar desde el bálsamo", Emergency.BREATHING),
        ("minha filha engoliu o sabonete agora", Emergency.SWALLOWED),
        ("mon fils a reçu du savon dans les yeux et il pleure", Emergency.EYE),
    ],
)
def test_somebody_hurt_gets_first_aid_however_it_is_said(text: str, emergency: Emergency) -> None:
    reading = read(text)
    assert (reading.kind, reading.emergency) == (Kind.URGENT, emergency)


@pytest.mark.parametrize(
    "text",
    [
        "tonic against burn on a shaved chin: 60 ml witch hazel, 20 ml aloe juice",
        "balm for babies: 50 g shea butter, 10 g beeswax",
        "bubble bath: 1 cup baby shampoo, 1/2 cup water, a spoonful of glycerin",
        "what should i do if lye ever gets on my skin? i want to be ready before my first batch",
        "i had a rash from a deodorant years ago, all healed",
        "burning question: can i swap shea for cocoa butter?",
    ],
)
def test_talk_of_harm_gets_its_answer_and_no_first_aid(text: str) -> None:
    assert read(text).kind is not Kind.URGENT
