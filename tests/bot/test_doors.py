"""Inbox and outbox: accepted once, offered until settled, urgent first."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from pathlib import Path

import pytest

from bot.inbox import Inbox
from bot.outbox import Outbox
from bot.people import People
from bot.store import Database, open_database
from bot.worker import Done, Worker
from tests.bot.made import ScriptedReader, judge, tag


class House:
    def __init__(self, database: Database) -> None:
        self.database = database
        self.inbox = Inbox(database, People(b"s" * 32))
        self.outbox = Outbox(database)
        self.reader = ScriptedReader()
        self.worker = Worker(database, self.inbox, self.outbox, self.reader, judge=judge)

    async def pending(self) -> list[str]:
        return [outgoing.message_id async for outgoing in self.outbox.pending()]


@pytest.fixture
async def house(tmp_path: Path) -> AsyncIterator[House]:
    async with open_database(tmp_path / "w.db") as database:
        yield House(database)


async def test_a_tag_that_comes_twice_is_answered_once(house: House) -> None:
    assert await house.inbox.accept(tag(1, "balm"))
    assert not await house.inbox.accept(tag(1, "balm"))
    assert await house.worker.step()
    assert not await house.inbox.accept(tag(1, "balm"))
    assert await house.worker.step() is None
    assert await house.pending() == ["m1"]


async def test_the_name_of_an_author_is_never_stored(house: House, tmp_path: Path) -> None:
    await house.inbox.accept(tag(1, "balm", author="wharf_wisteria"))
    await house.worker.step()
    rows = await house.database.rows("SELECT author_key FROM inbox UNION SELECT author_key FROM tags")
    assert len(rows) == 1
    assert not _anywhere(tmp_path, b"wharf_wisteria")


def _anywhere(folder: Path, words: bytes) -> bool:
    return any(words in file.read_bytes() for file in folder.iterdir())


async def test_the_same_person_has_another_key_in_another_house() -> None:
    assert People(b"a" * 32).key("tidewick") != People(b"b" * 32).key("tidewick")


async def test_the_key_file_is_kept_and_private(tmp_path: Path) -> None:
    first = People.beside(tmp_path / "deep" / "w.db").key("tidewick")
    assert People.beside(tmp_path / "deep" / "w.db").key("tidewick") == first
    assert (tmp_path / "deep" / "w.db.key").stat().st_mode & 0o077 == 0


async def test_an_emergency_overtakes_the_line(house: House) -> None:
    await house.inbox.accept(tag(1, "balm"))
    await house.inbox.accept(tag(2, "my eye hurts", urgent=True))
    first = await house.worker.step()
    assert first is not None
    assert first.message_id == "m2"
    await house.worker.step()
    assert await house.pending() == ["m2", "m1"]


async def test_an_emergency_seen_by_a_quick_look_overtakes_the_line(house: House) -> None:
    inbox = Inbox(house.database, People(b"s" * 32), looks_urgent=lambda text: "eye" in text)
    await inbox.accept(tag(1, "balm"))
    await inbox.accept(tag(2, "my eye hurts"))
    step = await house.worker.step()
    assert step is not None
    assert step.message_id == "m2"


async def test_an_emergency_written_while_sending_goes_next(house: House) -> None:
    for number in (1, 2):
        await house.inbox.accept(tag(number, "balm"))
        await house.worker.step()
    seen = []
    async for outgoing in house.outbox.pending():
        seen.append(outgoing.message_id)
        if len(seen) == 1:
            await house.inbox.accept(tag(3, "my eye hurts"))
            await house.worker.step()
        await house.outbox.sent(outgoing.id, "p")
    assert seen == ["m1", "m3", "m2"]


async def test_what_was_not_settled_is_offered_again_but_not_in_the_same_round(house: House) -> None:
    for number in range(5):
        await house.inbox.accept(tag(number, "balm"))
        await house.worker.step()
    assert await house.pending() == [f"m{n}" for n in range(5)]
    assert await house.outbox.sent("m1-0", "p1")
    assert not await house.outbox.sent("m1-0", "p2")
    assert await house.outbox.failed("m2-0", "the channel is gone")
    assert await house.pending() == ["m0", "m3", "m4"]


async def test_one_door_does_not_take_the_answers_of_another(house: House) -> None:
    await house.inbox.accept(tag(1, "balm", channel="quay"))
    await house.inbox.accept(tag(2, "balm", channel="terminal"))
    while await house.worker.step():
        pass
    assert [o.message_id async for o in house.outbox.pending("terminal")] == ["m2"]


async def test_the_nonce_fits_the_platform(house: House) -> None:
    longest = tag(1, "balm").model_copy(update={"message_id": "1" * 20})
    await house.inbox.accept(longest)
    await house.worker.step()
    # 25 characters at most: the platform's documentation, resources/message
    assert [len(o.id) <= 25 async for o in house.outbox.pending()] == [True]


async def test_a_poisoned_message_is_set_aside_with_its_reason_and_a_polite_word(house: House) -> None:
    await house.inbox.accept(tag(1, "boom"))
    await house.inbox.accept(tag(2, "balm"))
    done = []
    while step := await house.worker.step():
        done.append((step.message_id, step.done))
    assert done == [
        ("m1", Done.FAILED),
        ("m1", Done.FAILED),
        ("m1", Done.SET_ASIDE),
        ("m2", Done.ANSWERED),
    ]
    (aside,) = await house.inbox.set_aside()
    assert aside.message_id == "m1"
    assert aside.error == "RuntimeError: cannot read boom"
    answers = [o.text async for o in house.outbox.pending() if o.message_id == "m1"]
    assert answers == [
        "I could not read this one, and I have set it aside for a person to look at."
        " Please don't use the recipe on my word."
    ]


async def test_a_message_that_kills_the_process_is_set_aside_in_the_end(house: House) -> None:
    await house.inbox.accept(tag(1, "balm"))
    for _ in range(10):
        assert await house.inbox.table.claim()  # ... and the process dies here
    step = await house.worker.step()
    assert step is not None
    assert step.done is Done.SET_ASIDE
    assert "ended 10 times" in str(step.error)


async def test_a_message_set_aside_can_be_tried_again_on_demand(house: House) -> None:
    await house.inbox.accept(tag(1, "boom"))
    while await house.worker.step():
        pass
    assert [await house.outbox.sent(o.id, "p") async for o in house.outbox.pending()] == [True]
    house.worker = Worker(house.database, house.inbox, house.outbox, Mended(), judge=judge)
    assert await house.inbox.retry("m1")
    assert not await house.inbox.retry("m1")
    step = await house.worker.step()
    assert step is not None
    assert step.done is Done.ANSWERED
    assert [o.id async for o in house.outbox.pending()] == ["m1-1"]


class Mended(ScriptedReader):
    def read(self, text: str):
        return super().read(text.replace("boom", "balm"))


async def test_the_waiting_ends_when_something_arrives(house: House) -> None:
    arrived = asyncio.create_task(house.inbox.wait())
    written = asyncio.create_task(house.outbox.wait())
    runner = asyncio.create_task(house.worker.run())
    await house.inbox.accept(tag(1, "balm"))
    await asyncio.wait_for(arrived, 30)
    await asyncio.wait_for(written, 30)
    assert await house.pending() == ["m1"]
    runner.cancel()
    with pytest.raises(asyncio.CancelledError):
        await runner
