"""Killed at random instants under load, the program loses no tag, answers none twice, and keeps every decision."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.faults.chaos import chaos


async def test_twenty_kills_lose_no_tag_and_answer_none_twice(tmp_path: Path) -> None:
    found = await chaos(tmp_path, kills=20, seed=20, rate=15)
    assert found.faults == []
    assert found.posts > 100


@pytest.mark.long
async def test_three_hundred_kills_lose_no_tag_and_answer_none_twice(tmp_path: Path) -> None:
    found = await chaos(tmp_path, kills=300, seed=300, rate=15)
    assert found.faults == []
