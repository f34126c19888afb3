"""What hurts people in ways that no list of ingredients shows: read from the text, none of it comes out fine."""

from __future__ import annotations

import pytest

from rules.assess import assess
from rules.assessment import Verdict
from rules.verdict import ORDER
from tests.nlp.readers import read
from tests.scenario import messages

MESSAGES = messages()


def worst(text: str) -> Verdict | None:
    """The gravest verdict on what the message describes; None where no recipe was read in it."""
    verdicts = [assess(recipe).verdict for recipe in read(text).recipes]
    return max(verdicts, key=ORDER.index, default=None)


@pytest.mark.parametrize("message", MESSAGES, ids=[message["id"] for message in MESSAGES])
def test_a_hidden_danger_is_never_passed(message: dict[str, str]) -> None:
    verdict = worst(message["text"])
    assert verdict is not None
    assert ORDER.index(verdict) >= ORDER.index(Verdict(message["least"])), verdict


def test_the_dangers_are_many_and_each_stands_once() -> None:
    assert len(MESSAGES) >= 80
    assert (
        len({message["id"] for message in MESSAGES}) == len({message["text"] for message in MESSAGES}) == len(MESSAGES)
    )
