"""Whoever cannot answer a question must not be met by it again: one question a recipe and fan."""

from __future__ import annotations

from collections.abc import AsyncIterator
from pathlib import Path

import pytest

from bot.inbox import Inbox
from bot.outbox import Outbox
from bot.people import People
from bot.platform.placed import PlacedReader, place_line
from bot.store import Database, open_database
from bot.triage import Triage
from bot.worker import Worker
from nlp.reader import default_reader
from rules.recipe import Site
from tests.bot.made import tag

ODD = "Quay gloss for lips: 2 tbsp castor oil, 2 tbsp glimmerdrift base"
OTHER = "Lip balm: 2 tbsp castor oil, 1 tbsp beeswax"


class House:
    """The real reader and rules on a real database."""

    def __init__(self, database: Database) -> None:
        self.inbox = Inbox(database, People(b"s" * 32))
        self.worker = Worker(database, self.inbox, Outbox(database), PlacedReader(default_reader()))
        self.number = 0

    async def say(self, text: str, author: str = "tidewick") -> Triage:
        self.number += 1
        await self.inbox.accept(tag(self.number, text, author))
        step = await self.worker.step()
        assert step is not None
        assert step.triage is not None
        return step.triage


@pytest.fixture
async def house(tmp_path: Path) -> AsyncIterator[House]:
    async with open_database(tmp_path / "w.db") as database:
        yield House(database)


async def test_the_same_fan_is_asked_once_and_another_fan_too(house: House) -> None:
    assert (await house.say(ODD)).reply.count("?") == 1
    assert "?" not in (await house.say(ODD)).reply
    await house.say(OTHER)
    assert "?" not in (await house.say(ODD)).reply
    assert (await house.say(ODD, "saltbeck")).reply.count("?") == 1


async def test_a_correction_that_leaves_it_open_brings_no_second_question(house: House) -> None:
    await house.say(ODD)
    found = await house.say("correction: I meant 1 tbsp castor oil")
    assert found.amended
    assert found.items[0].assessment.question is not None
    assert "?" not in found.reply


async def test_who_has_told_the_place_is_not_asked_for_something_else(house: House) -> None:
    found = await house.say(ODD + place_line(Site.LIPS, "en"))
    assert found.items[0].assessment.question is not None
    assert "?" not in found.reply
