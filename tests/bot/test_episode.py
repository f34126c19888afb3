"""From the queue to an episode, on a real database."""

from __future__ import annotations

import random
from collections.abc import AsyncIterator
from contextlib import AsyncExitStack
from pathlib import Path

import pytest

from bot.desk import Desk, NoSuchCaseError
from bot.episode import EpisodeError, Studio, checked_address
from bot.episode_order import suggested
from bot.inbox import Inbox
from bot.outbox import Outbox
from bot.people import People
from bot.scrub import scrub
from bot.store import Database, open_database
from bot.store.cases import Case, CaseState
from bot.store.privacy import PrivacyTable
from bot.worker import Worker
from rules.assessment import Verdict
from rules.recipe import Site
from tests.bot.made import ScriptedReader, judge, line, recipe, tag

ADDRESS = "https://lantern-quay.example/episodes/1"


class Town:
    """A town with its bot: fans tag, the creator plans."""

    def __init__(self, database: Database) -> None:
        self.database = database
        reader = ScriptedReader(
            tint=recipe(line("crayon", 5), line("coconut_oil", 20), sites=(Site.LIPS,)),
            rub=recipe(line("water", 50), line("sea_salt", 5), sites=(Site.BODY,)),
        )
        self.inbox, self.outbox = Inbox(database, People(b"s" * 32)), Outbox(database)
        self.worker = Worker(database, self.inbox, self.outbox, reader, judge=judge)
        self.studio, self.desk = Studio(database, lambda: 1000), Desk(database, lambda: 1000)
        self._count = 0

    async def says(self, text: str, author: str = "tidewick") -> str:
        """One message in; what was said to it."""
        self._count += 1
        await self.inbox.accept(tag(self._count, text, author))
        await self.worker.step()
        return (await self.outbox.answers(f"m{self._count}"))[0].text

    @property
    def last(self) -> str:
        return f"m{self._count}"

    async def told(self) -> list[str]:
        return [outgoing.message_id async for outgoing in self.outbox.pending() if outgoing.news]


@pytest.fixture
async def town(tmp_path: Path) -> AsyncIterator[Town]:
    async with AsyncExitStack() as stack:
        yield Town(await stack.enter_async_context(open_database(tmp_path / "w.db")))


async def published(town: Town) -> int:
    number = await town.studio.new("Fog and wax")
    await town.studio.add(number, 1, "chemist")
    await town.studio.publish(number, ADDRESS)
    return number


async def test_a_case_that_is_added_leaves_the_queue(town: Town) -> None:
    await town.says("mist")
    number = await town.studio.new("Fog and wax")
    assert await town.studio.add(number, 1, "chemist")
    assert not await town.studio.add(number, 1, "chemist")
    assert (await town.desk.show(1)).state is CaseState.TAKEN
    assert [planned.segment.case_id for planned in (await town.studio.plan(number)).segments] == [1]


async def test_order_notes_and_times_stay(town: Town) -> None:
    for word in ("mist", "balm", "tint"):
        await town.says(word)
    number = await town.studio.new("Fog and wax")
    for case in (1, 2, 3):
        await town.studio.add(number, case, "chemist")
    await town.studio.note(number, 2, "show the jar", 150)
    plan = await town.studio.order(number, [3, 1, 2])
    assert [p.segment.case_id for p in plan.segments] == [3, 1, 2]
    assert (plan.segments[2].segment.note, plan.segments[2].segment.seconds) == ("show the jar", 150)
    with pytest.raises(EpisodeError, match="each place from 1 to 3 once"):
        await town.studio.order(number, [1, 1, 2])


async def test_the_suggested_order_ends_on_something_sound(town: Town) -> None:
    for word in ("balm", "mist", "rub", "tint"):
        await town.says(word)
    number = await town.studio.new("Fog and wax")
    for case in (1, 2, 3, 4):
        await town.studio.add(number, case, "chemist")
    plan = await town.studio.order(number, [])
    verdicts = [planned.case.verdict for planned in plan.segments if planned.case]
    assert verdicts[-1] is Verdict.FINE
    assert sorted(p.segment.case_id or 0 for p in plan.segments) == [1, 2, 3, 4]


async def test_a_thread_is_kept_together(town: Town) -> None:
    """Two misses of a preservative stand beside each other, whatever lies between them in score."""
    for word in ("mist", "tint", "rub"):
        await town.says(word)
    cases = [await town.desk.show(number) for number in (1, 2, 3)]
    order = suggested(cases)
    assert abs(order.index(0) - order.index(2)) == 1


async def test_a_deleted_case_leaves_its_place(town: Town) -> None:
    await town.says("mist")
    number = await town.studio.new("Fog and wax")
    await town.studio.add(number, 1, "chemist")
    async with town.database.transaction() as transaction:
        await transaction.run("DELETE FROM cases WHERE id = 1")
    plan = await town.studio.plan(number)
    assert plan.segments[0].case is None
    assert (await town.studio.order(number, [])).segments[0].case is None


async def test_a_later_tag_is_told_where_it_was_covered(town: Town) -> None:
    await town.says("mist")
    before = await town.says("mist", "quaymoth")
    assert ADDRESS not in before
    await published(town)
    assert (await town.says("mist", "lampwick")).endswith(f"Covered here: {ADDRESS}")
    assert ADDRESS not in await town.says("balm", "lampwick")


async def test_who_asked_to_be_told_is_told_once(town: Town) -> None:
    await town.says("mist")
    asked = town.last
    assert await town.studio.followers.ask(asked, 5)
    assert await town.studio.followers.ask(asked, 6)
    await town.says("mist", "quaymoth")
    number = await published(town)
    assert await town.told() == [asked]
    assert await town.studio.publish(number, ADDRESS) == 0
    assert await town.told() == [asked]
    news = (await town.outbox.answers(asked))[-1]
    assert news.news
    assert ADDRESS in news.text


async def test_one_person_who_asked_twice_is_told_once(town: Town) -> None:
    for _ in range(2):
        await town.says("mist")
        await town.studio.followers.ask(town.last, 5)
    await published(town)
    assert len(await town.told()) == 1


async def test_who_took_the_wish_back_or_went_quiet_or_left_is_not_told(town: Town) -> None:
    privacy, people = PrivacyTable(town.database, scrub), People(b"s" * 32)
    for author in ("tidewick", "quaymoth", "lampwick"):
        await town.says("mist", author)
        assert await town.studio.followers.ask(town.last, 5)
    await town.studio.followers.withdraw("m1")
    await privacy.set_quiet(people.key("quaymoth"), True, 5)
    await privacy.forget(people.key("lampwick"))
    await published(town)
    assert await town.told() == []
    assert not await town.studio.followers.ask("m3", 7)
    assert not await town.studio.followers.ask("m99", 7)


@pytest.mark.parametrize(
    "address",
    [
        "",
        "lantern.example",
        "javascript:alert(1)",
        "https://",
        "https://a b",
        "https://x/<b>",
        "https://x/" + "y" * 200,
        "https://x/\u202e",
        "https://x/@everyone",
    ],
)
def test_an_address_that_could_do_harm_in_a_reply_is_refused(address: str) -> None:
    with pytest.raises(EpisodeError):
        checked_address(address)


async def test_what_is_not_there_is_said_in_words(town: Town) -> None:
    with pytest.raises(EpisodeError, match="no episode 7"):
        await town.studio.plan(7)
    number = await town.studio.new("Fog")
    with pytest.raises(EpisodeError, match="covers nothing"):
        await town.studio.publish(number, ADDRESS)
    with pytest.raises(NoSuchCaseError):
        await town.studio.add(number, 5, "chemist")
    with pytest.raises(EpisodeError, match="no place 1"):
        await town.studio.remove(number, 1)
    with pytest.raises(EpisodeError, match="title"):
        await town.studio.new("  ")


async def test_surprise_me_reaches_every_waiting_case(town: Town) -> None:
    assert await town.studio.surprise(random.Random(1)) is None
    for word in ("mist", "tint", "rub"):
        for author in ("tidewick", "quaymoth", "lampwick", "reedling"):
            await town.says(word, author)
    waiting = await town.desk.cases.count(CaseState.QUEUED)
    picks = [await town.studio.surprise(random.Random(seed)) for seed in range(40)]
    assert len({case.id for case in picks if isinstance(case, Case)}) == waiting > 1


async def test_a_hazard_shown_lately_teaches_less(town: Town) -> None:
    await town.says("mist")
    before = (await town.desk.show(1)).why
    await published(town)
    await town.says("rub", "quaymoth")
    again = (await town.desk.show(2)).why
    points = [next(float(w.rsplit("(", 1)[1][:-1]) for w in why if w.startswith("shows ")) for why in (before, again)]
    assert points[1] < points[0]
