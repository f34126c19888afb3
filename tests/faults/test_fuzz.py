"""The short form of the fuzzing of every door; `python -m tests.faults.fuzz` is the long one, a million cases."""

from __future__ import annotations

import pytest

from bot.episode import EpisodeError, checked_address
from bot.platform.forms import filled
from bot.triage import Context, triage
from nlp.reader import default_reader
from rules.assessment import Jurisdiction
from tests.faults.fuzz import DOORS, fuzz


@pytest.mark.parametrize(("door", "cases"), [(door, round(700 * share)) for door, (_, share) in DOORS.items()])
def test_no_door_breaks_on_hostile_input(door: str, cases: int) -> None:
    assert fuzz(door, cases, seed=3) == []


@pytest.mark.parametrize(
    "text", ["wh&at$(x)'s the best day for the parade?", "what,,,,'s th parade?", "'s", "{a.b}'s 1/0 ½'s"]
)
def test_a_text_that_fuzzing_once_broke_the_reader_with_is_answered(text: str) -> None:
    assert triage(text, Context(), reader=default_reader(), jurisdiction=Jurisdiction.US).reply


@pytest.mark.parametrize("address", ["https://[x/", "https://x]/", "https://[::1"])
def test_an_address_that_fuzzing_once_broke_the_check_with_is_refused_in_words(address: str) -> None:
    with pytest.raises(EpisodeError):
        checked_address(address)


def test_a_form_that_fuzzing_once_broke_the_reading_of_is_read_as_empty() -> None:
    assert filled({"components": [None, "x", {"component": 7}, {"components": None}]}) == {}
