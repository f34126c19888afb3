"""What hurts people in ways that no list of ingredients shows: read from the text, none of it comes out fine."""

from __future__ import annotations

import pytest

from nlp.reading import Kind
from rules.assess import assess
from rules.assessment import Verdict
from rules.verdict import ORDER
from tests.nlp.readers import read
from tests.scenario import messages

MESSAGES = messages()


@pytest.mark.parametrize("message", MESSAGES, ids=[message["id"] for message in MESSAGES])
def test_a_hidden_danger_is_never_passed(message: dict[str, str]) -> None:
    reading = read(message["text"])
    verdicts = [assess(recipe).verdict for recipe in reading.recipes]
    if reading.kind is Kind.URGENT:
        return  # first aid is said instead of a verdict
    worst = max(verdicts, key=ORDER.index, default=Verdict.FINE)
    assert ORDER.index(worst) >= ORDER.index(Verdict(message["least"])), (worst, reading.kind)


def test_the_dangers_are_many_and_each_stands_once() -> None:
    assert len(MESSAGES) >= 80
    assert (
        len({message["id"] for message in MESSAGES}) == len({message["text"] for message in MESSAGES}) == len(MESSAGES)
    )
