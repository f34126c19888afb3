"""The short form of the fuzzing of every door; `python -m tests.faults.fuzz` is the long one, a million cases."""

from __future__ import annotations

import pytest

from tests.faults.fuzz import DOORS, fuzz


@pytest.mark.parametrize(("door", "cases"), [(door, round(700 * share)) for door, (_, share) in DOORS.items()])
def test_no_door_breaks_on_hostile_input(door: str, cases: int) -> None:
    assert fuzz(door, cases, seed=3) == []
