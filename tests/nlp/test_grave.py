"""One grave thing alone is often told in a sentence without list or amount; taken for talk, nobody is warned."""

from __future__ import annotations

import pytest

from nlp.reader import read
from nlp.reading import Kind


@pytest.mark.parametrize(
    ("text", "substance"),
    [
        ("stall nine does her brows with a permanent marker, lasts all day", "marker"),
        ("sharp idea: super glue holds my press-on nails, i use it every week", "super_glue"),
        ("lip stain from a red felt tip, dab on lips", "marker"),
        ("lemon slices rubbed on my face every morning for glow", "lemon"),
    ],
)
def test_one_grave_thing_on_a_body_is_read_as_a_recipe(text: str, substance: str) -> None:
    reading = read(text)
    assert reading.kind is Kind.RECIPE
    assert substance in {line.substance for line in reading.recipes[0].lines}


@pytest.mark.parametrize(
    "text",
    [
        "coconut oil is my favourite thing for hair",
        "please don't put lemon on your face and walk into the sun",
        "the glue at the quay shop was sold out again",
    ],
)
def test_talk_and_warnings_stay_talk(text: str) -> None:
    assert read(text).kind is Kind.CHATTER


def test_a_question_about_it_stays_a_question() -> None:
    assert read("is craft glitter ok on eyelids?").kind is Kind.QUESTION
