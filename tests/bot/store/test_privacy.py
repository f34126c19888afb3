"""What is kept of people goes when it should, off the disk as well, and never before it was answered."""

from __future__ import annotations

import random
from collections.abc import AsyncIterator
from pathlib import Path

import pytest

from bot.desk import Desk
from bot.inbox import Inbox
from bot.outbox import Outbox
from bot.people import People
from bot.queue.rulings import Ruling, reaches
from bot.scrub import scrub
from bot.store import Database, open_database
from bot.store.cases import Case, CaseState
from bot.store.privacy import DAY, PrivacyTable
from bot.worker import Worker
from nlp.reading import Kind, Reading
from rules.assessment import Verdict
from tests.bot.made import WHEN, judge, line, reading, recipe, tag

SENT = int(WHEN.timestamp() * 1000)
LATER = SENT + 1


class HerbReader:
    """Reads every text as a face mist with a herb of that name, which no table knows."""

    def read(self, text: str) -> Reading:
        made = recipe(line("water", 60), line("glycerin", 20), line(None, 20, text.split()[-1]))
        return reading(text, Kind.RECIPE, made)


class Town:
    def __init__(self, database: Database) -> None:
        self.database = database
        self.people = People(b"s" * 32)
        self.inbox, self.outbox = Inbox(database, self.people), Outbox(database, lambda: SENT)
        self.worker = Worker(database, self.inbox, self.outbox, HerbReader(), judge=judge, clock=lambda: SENT)
        self.privacy, self.desk = PrivacyTable(database, scrub), Desk(database)

    async def asks(self, number: int, herb: str, author: str = "tidewick") -> None:
        assert await self.inbox.accept(tag(number, f"is it good with {herb}", author))
        await self.worker.step()

    async def send(self) -> None:
        async for outgoing in self.outbox.pending():
            await self.outbox.sent(outgoing.id, f"p{outgoing.id}")

    async def case(self, number: int) -> Case:
        return await self.desk.show(number)

    async def count(self, sql: str) -> int:
        return int((await self.database.rows(sql))[0][0])


@pytest.fixture
async def town(tmp_path: Path) -> AsyncIterator[Town]:
    async with open_database(tmp_path / "w.db") as database:
        yield Town(database)


def on_disk(folder: Path, words: str) -> bool:
    """Whether they stand in any file, in a page in use or not; files are read as bytes."""
    kept = [path.read_bytes().lower() for path in folder.iterdir() if path.name.startswith("w.db")]
    assert any(kept)
    return any(words.lower().encode() in content for content in kept)


async def test_a_message_older_than_the_retention_that_was_not_read_yet_is_still_answered(town: Town) -> None:
    await town.inbox.accept(tag(1, "is it good with moonwort"))
    assert await town.privacy.purge(LATER) == 0
    step = await town.worker.step()
    assert step is not None
    assert step.triage is not None
    assert "moonwort" in step.triage.items[0].recipe.lines[2].name


async def test_an_answer_older_than_the_retention_that_was_not_sent_yet_is_still_sent_whole(town: Town) -> None:
    await town.asks(1, "moonwort")
    before = [outgoing async for outgoing in town.outbox.pending()]
    await town.privacy.purge(LATER)
    assert [outgoing async for outgoing in town.outbox.pending()] == before
    assert before[0].text
    assert await town.count("SELECT COUNT(*) FROM inbox WHERE text <> ''") == 1
    await town.send()
    while await town.privacy.purge(LATER):
        pass
    assert await town.count("SELECT COUNT(*) FROM inbox WHERE text <> ''") == 0
    assert await town.count("SELECT COUNT(*) FROM outbox WHERE text <> '' OR more IS NOT NULL") == 0
    assert await town.count("SELECT COUNT(*) FROM outbox WHERE state = 'sent'") == 1


async def test_words_of_a_message_that_was_set_aside_go_after_their_time_and_its_reason_too(town: Town) -> None:
    await town.inbox.accept(tag(1, "is it good with moonwort"))
    message = await town.inbox.table.claim()
    assert message is not None
    async with town.database.transaction() as transaction:
        await town.inbox.table.put_aside(transaction, message.message_id, "Fault: moonwort")
    assert await town.privacy.purge(SENT) == 0
    assert await town.privacy.purge(LATER) == 1
    assert await town.inbox.set_aside() == []
    assert await town.count("SELECT COUNT(*) FROM inbox WHERE error IS NOT NULL OR text <> ''") == 0


@pytest.mark.parametrize(("state", "gone"), [(s, s in (CaseState.SEEN, CaseState.DROPPED)) for s in CaseState])
async def test_a_closed_case_loses_its_wording_after_its_time_and_an_open_one_does_not(
    town: Town, state: CaseState, gone: bool
) -> None:
    await town.asks(1, "moonwort")
    await town.send()
    async with town.database.transaction() as transaction:
        await town.desk.cases.set_state(transaction, 1, state)
    while await town.privacy.purge(LATER):
        pass
    case = await town.case(1)
    assert case.recipe is not None
    assert (case.state, "moonwort" not in case.model_dump_json()) == (state, gone)
    assert [row.amount.quantity.best for row in case.recipe.lines if row.amount] == [60, 20, 20]


@pytest.mark.parametrize("state", CaseState)
async def test_the_wording_goes_with_the_one_who_brought_it_also_where_others_asked(
    town: Town, state: CaseState
) -> None:
    await town.asks(1, "moonwort", "tidewick")
    await town.asks(2, "moonwort", "lampwick")
    async with town.database.transaction() as transaction:
        await town.desk.cases.set_state(transaction, 1, state)
    await town.privacy.forget(town.people.key("tidewick"))
    case = await town.case(1)
    assert (case.state, case.people) == (state, 1)
    assert "moonwort" not in case.model_dump_json()
    await town.privacy.forget(town.people.key("lampwick"))
    assert (await town.case(1)).people == 0


async def test_what_another_person_brought_stays_when_one_who_only_asked_goes(town: Town) -> None:
    await town.asks(1, "moonwort", "tidewick")
    await town.asks(2, "moonwort", "lampwick")
    await town.privacy.forget(town.people.key("lampwick"))
    assert "moonwort" in (await town.case(1)).model_dump_json()


async def test_a_ruling_on_a_withdrawn_unknown_never_reaches_recipes_without_it(town: Town) -> None:
    await town.asks(1, "moonwort")
    whole = (await town.case(1)).sketch
    await town.privacy.withdraw("m1")
    left = (await town.case(1)).sketch
    assert whole is not None
    assert left is not None
    plain = whole.model_copy(update={"shares": {k: v for k, v in whole.shares.items() if not k.startswith("?")}})
    assert not reaches(Ruling(case=1, verdict=Verdict.FINE, words="w"), left, plain)


async def test_what_a_correction_replaced_is_no_hiding_place_for_words(town: Town) -> None:
    await town.asks(1, "moonwort")
    await town.desk.correct(1, "t", recipe(line("water", 1)), judge(recipe(line("water", 1)), "us"), "chemist")
    assert await town.count("SELECT COUNT(*) FROM audit WHERE detail LIKE '%moonwort%'") == 1
    await town.privacy.withdraw("m1")
    assert await town.count("SELECT COUNT(*) FROM audit WHERE detail LIKE '%moonwort%'") == 0
    assert await town.desk.undo("chemist", 1) is None


async def test_forgotten_words_are_off_the_disk_at_once(town: Town, tmp_path: Path) -> None:
    await town.asks(1, "moonwort")
    assert on_disk(tmp_path, "moonwort")
    await town.privacy.forget(town.people.key("tidewick"))
    assert not on_disk(tmp_path, "moonwort")


async def test_the_file_is_written_anew_once_a_day_and_only_where_nobody_waits(town: Town) -> None:
    await town.asks(1, "moonwort", "tidewick")
    assert not await town.privacy.tidy(LATER)
    await town.asks(2, "starwort", "lampwick")
    await town.privacy.withdraw("m1")
    assert not await town.privacy.tidy(LATER)
    await town.send()
    assert await town.privacy.tidy(LATER)
    await town.privacy.withdraw("m2")
    assert not await town.privacy.tidy(LATER + DAY - 1)
    assert await town.privacy.tidy(LATER + DAY)
    assert not await town.privacy.tidy(LATER + 3 * DAY)


async def test_forgotten_words_are_in_no_byte_of_the_files_after_the_daily_rewriting(
    town: Town, tmp_path: Path
) -> None:
    """Deletions between insertions, so that pages are split, joined and reused on the way."""
    dice, kept, gone = random.Random(5), {}, {}
    for number in range(70):
        author, herb = f"fan{number}", f"moonwort{number:03d}zz{'z' * dice.randrange(200)}"
        await town.asks(number, herb, author)
        kept[author] = herb
        if number % 3 == 0:
            author = dice.choice(list(kept))
            gone[author] = kept.pop(author)
            await town.privacy.forget(town.people.key(author))
    await town.send()
    assert await town.privacy.tidy(LATER)
    assert on_disk(tmp_path, next(iter(kept.values())))
    marks = {herb[:13] for herb in gone.values()}
    assert {mark for mark in marks if on_disk(tmp_path, mark)} == set()
    assert all(on_disk(tmp_path, herb[:13]) for herb in kept.values())


async def test_purged_words_are_in_no_byte_of_the_files(town: Town, tmp_path: Path) -> None:
    for number in range(30):
        await town.asks(number, f"moonwort{number:03d}", f"fan{number}")
        await town.desk.drop(number + 1, "chemist")
    await town.send()
    while await town.privacy.purge(LATER):
        pass
    assert await town.privacy.tidy(LATER)
    assert not on_disk(tmp_path, "moonwort")
    assert not on_disk(tmp_path, "is it good")
