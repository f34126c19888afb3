"""A recipe is often told in one breath, without list or amount; taken for talk, nobody is answered or warned."""

from __future__ import annotations

import pytest

from nlp.reader import read
from nlp.reading import Kind


@pytest.mark.parametrize(
    ("text", "substances"),
    [
        ("stall nine does her brows with a permanent marker, lasts all day", {"marker"}),
        ("sharp idea: super glue holds my press-on nails, i use it every week", {"super_glue"}),
        ("lip stain from a red felt tip, dab on lips", {"marker"}),
        ("lemon slices rubbed on my face every morning for glow", {"lemon"}),
        ("kefir + matcha mask, 12 min then rinse", {"kefir", "matcha"}),
        ("olive oil on the cuticles overnight", {"olive_oil"}),
        ("vitamin c tablets dissolved in rosewater, use nightly", {"vitamin_c_tablet", "rose_water"}),
        ("swipe neat cider vinegar on the face, don't rinse", {"apple_cider_vinegar"}),
    ],
)
def test_what_is_told_in_one_breath_is_read_as_a_recipe(text: str, substances: set[str]) -> None:
    reading = read(text)
    assert reading.kind is Kind.RECIPE
    assert substances <= {line.substance for line in reading.recipes[0].lines}


@pytest.mark.parametrize(
    "text",
    [
        "coconut oil is my favourite thing for hair",
        "please don't put lemon on your face and walk into the sun",
        "the glue at the quay shop was sold out again",
        "that orange balm is a crime, my eyes",
        "my beeswax melted in the car, what a day",
    ],
)
def test_talk_and_warnings_stay_talk(text: str) -> None:
    assert read(text).kind is Kind.CHATTER


def test_what_is_cleaned_away_is_no_ingredient() -> None:
    assert [line.substance for line in read("white spirit to get the lash glue off").recipes[0].lines] == ["naphtha"]


@pytest.mark.parametrize("text", ["is craft glitter ok on eyelids?", "which oil for dry cuticles"])
def test_a_question_about_it_stays_a_question(text: str) -> None:
    assert read(text).kind is Kind.QUESTION
