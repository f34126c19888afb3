"""One message through the whole house on a real database: case, answer, demand, rulings, corrections."""

from __future__ import annotations

from collections.abc import AsyncIterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from bot.desk import Desk, NoSuchCaseError
from bot.inbox import Inbox
from bot.outbox import Outbox
from bot.people import People
from bot.store import Database, open_database
from bot.store.cases import Case, CaseState, Order
from bot.triage import Triage
from bot.worker import Worker
from rules.assessment import Verdict
from rules.recipe import Recipe, Site
from tests.bot.made import BALM, MIST, ScriptedReader, judge, line, recipe, tag

CRAYON = recipe(line("coconut_oil", 15), line("crayon", 5), sites=(Site.LIPS,))
ODD = recipe(line("coconut_oil", 15), line(None, 5, "moon <@99> dust"), sites=(Site.LIPS,))


class Evening:
    """One database, messages numbered as they come."""

    def __init__(self, database: Database, **recipes: Recipe) -> None:
        self.database = database
        self.desk = Desk(database)
        self.inbox = Inbox(database, People(b"s" * 32))
        self.outbox = Outbox(database)
        self.reader = ScriptedReader(crayon=CRAYON, odd=ODD, **recipes)
        self.worker = Worker(database, self.inbox, self.outbox, self.reader, judge=judge)
        self.number = 0

    async def say(self, text: str, author: str = "tidewick") -> Triage:
        self.number += 1
        await self.inbox.accept(tag(self.number, text, author))
        step = await self.worker.step()
        assert step is not None
        assert step.triage is not None
        return step.triage

    async def cases(self, state: CaseState | None = None) -> list[Case]:
        return [await self.desk.show(row.id) for row in await self.desk.cases.page(state, Order.SCORE)]


@pytest.fixture
async def evening(tmp_path: Path) -> AsyncIterator[Evening]:
    async with open_database(tmp_path / "w.db") as database:
        yield Evening(database)


async def test_verdict_case_and_answer_are_on_disk_after_one_step(evening: Evening) -> None:
    found = await evening.say("crayon tint")
    (case,) = await evening.cases()
    assert (case.verdict, case.people, case.state) == (Verdict.AVOID, 1, CaseState.QUEUED)
    assert case.recipe == CRAYON
    assert case.assessment == found.items[0].assessment
    assert [o.text async for o in evening.outbox.pending()] == [found.reply]
    assert found.reply.startswith("Leave this one.")


async def test_demand_counts_people_and_not_messages(evening: Evening) -> None:
    for author in ("tidewick", "tidewick", "cobblewren", "saltpansy"):
        await evening.say("crayon", author)
    (case,) = await evening.cases()
    assert case.people == 3
    assert any("asked by 3 people" in why for why in case.why)


async def test_a_recipe_that_more_people_ask_for_climbs(evening: Evening) -> None:
    scores = [(await evening.say("mist", f"fan{n}")).interest.score for n in range(6)]
    assert scores == sorted(scores)
    assert scores[0] < scores[-1]
    (case,) = await evening.cases()
    assert case.state is CaseState.QUEUED


async def test_a_scaled_copy_is_the_same_case_and_another_verdict_is_not(tmp_path: Path) -> None:
    double = recipe(line("glycerin", 20), line("water", 180))
    kept = recipe(line("water", 90), line("glycerin", 10), line("phenoxyethanol", 1))
    async with open_database(tmp_path / "w.db") as database:
        evening = Evening(database, double=double, kept=kept)
        await evening.say("mist", "a")
        await evening.say("double", "b")
        await evening.say("kept", "c")
        cases = sorted(await evening.cases(), key=lambda case: case.id)
    assert [(case.verdict, case.people) for case in cases] == [(Verdict.FIX, 2), (Verdict.FINE, 1)]
    assert any("the same as number 1 (fix), but with" in why for why in cases[1].why)


async def test_what_was_seen_before_a_restart_is_known_after_it(tmp_path: Path) -> None:
    for author in ("a", "b"):
        async with open_database(tmp_path / "w.db") as database:
            evening = Evening(database)
            evening.number = ord(author)
            await evening.say("mist", author)
            (case,) = await evening.cases()
    assert case.people == 2


async def test_a_ruling_speaks_from_the_next_tag_on_and_undo_takes_it_back(evening: Evening) -> None:
    await evening.say("mist", "a")
    await evening.desk.rule(1, Verdict.AVOID, "We tried it on camera: mould in four days.", "creator")
    ruled = await evening.say("mist", "b")
    assert ruled.reply.startswith("Leave this one, says the chemist. We tried it on camera: mould in four days.")
    assert "Ruled by the chemist" in ruled.more
    assert "Fix it first." in ruled.more
    entry = await evening.desk.undo("creator")
    assert entry is not None
    assert (await evening.say("mist", "c")).reply.startswith("Fix it first.")


async def test_a_milder_ruling_does_not_clear_what_she_did_not_see(tmp_path: Path) -> None:
    richer = recipe(line("water", 90), line("glycerin", 10), line("honey", 8))
    async with open_database(tmp_path / "w.db") as database:
        evening = Evening(database, richer=richer)
        await evening.say("mist", "a")
        await evening.desk.rule(1, Verdict.FINE, "Fine if frozen.", "creator")
        assert (await evening.say("mist", "b")).reply.startswith("Fine as it is, says the chemist.")
        assert (await evening.say("richer", "c")).reply.startswith("Fix it first.")


async def test_taken_dropped_and_undone_cases_stand_where_she_put_them(evening: Evening) -> None:
    await evening.say("crayon", "a")
    await evening.desk.drop(1, "creator")
    await evening.say("crayon", "b")
    assert [case.state for case in await evening.cases()] == [CaseState.DROPPED]
    await evening.desk.take(1, "creator")
    await evening.desk.undo("creator", 1)
    assert (await evening.desk.show(1)).state is CaseState.DROPPED
    await evening.desk.undo("creator", 1)
    assert (await evening.desk.show(1)).state is CaseState.QUEUED
    assert await evening.desk.undo("creator", 1) is None
    actions = [entry.action for entry in await evening.desk.audit.of_case(1)]
    assert actions == ["drop", "take", "undo", "undo"]


async def test_a_case_that_is_not_there_is_said(evening: Evening) -> None:
    with pytest.raises(NoSuchCaseError, match="there is no case 7"):
        await evening.desk.take(7, "creator")
    with pytest.raises(NoSuchCaseError):
        await evening.desk.rule(7, Verdict.FINE, "x", "creator")
    assert await evening.database.rows("SELECT * FROM rulings") == []


async def test_a_correction_amends_the_same_persons_last_recipe(evening: Evening) -> None:
    await evening.say("mist", "a")
    await evening.say("balm", "b")
    found = await evening.say("I meant 20 g glycerin", "a")
    assert found.amended
    assert found.items[0].recipe.lines[0] == MIST.lines[0]
    assert found.items[0].recipe.lines[1].amount == line("glycerin", 20).amount
    assert found.reply.startswith("Read again with your correction. Fix it first.")


async def test_a_correction_without_a_recipe_asks_for_one(evening: Evening) -> None:
    found = await evening.say("I meant 20 g glycerin", "stranger")
    assert found.reply == "I have no recipe of yours to correct. Send the whole recipe, please."


async def test_a_correction_that_adds_something_makes_it_no_better(evening: Evening) -> None:
    await evening.say("balm", "a")
    found = await evening.say("I meant 20 g glycerin", "a")
    assert [row.substance for row in found.items[0].recipe.lines] == ["beeswax", "coconut_oil", "glycerin"]


async def test_an_emergency_gets_first_aid_and_no_case(evening: Evening) -> None:
    found = await evening.say("my eye hurts from the mist")
    assert found.reply.startswith("Eye first")
    assert await evening.cases() == []


async def test_a_language_that_is_not_read_goes_to_the_creator_with_clean_words(evening: Evening) -> None:
    await evening.say("hola @everyone, agua y glicerina [x](http://e.invalid)")
    (case,) = await evening.cases(CaseState.QUEUED)
    assert case.verdict is None
    assert case.title == "hola everyone, agua y glicerina x http e invalid"


async def test_the_title_of_a_case_carries_no_ping(evening: Evening) -> None:
    await evening.say("odd balm")
    assert all("@" not in case.title and "<" not in case.title for case in await evening.cases())


async def test_reading_apart_from_the_loop_gives_the_same(evening: Evening) -> None:
    here = await evening.say("mist", "a")
    with ThreadPoolExecutor(1) as executor:
        evening.worker = Worker(
            evening.database, evening.inbox, evening.outbox, evening.reader, judge=judge, executor=executor
        )
        there = await evening.say("mist", "a")
    assert there.reply == here.reply


async def test_the_queue_can_be_sorted_and_filtered(evening: Evening) -> None:
    for author in ("a", "b", "c"):
        await evening.say("mist", author)
    await evening.say("crayon", "a")
    await evening.say("odd", "a")
    page = evening.desk.cases.page
    firsts = [(await page(None, order))[0].verdict for order in (Order.SEVERITY, Order.DEMAND, Order.UNCERTAINTY)]
    assert firsts == [Verdict.AVOID, Verdict.FIX, Verdict.UNCLEAR]
    assert [c.title for c in await page(None, Order.NEWEST, verdict=Verdict.FIX)] == ["water, glycerin"]
    assert [c.verdict for c in await page(None, Order.NOVELTY, hazard="non_cosmetic_material")] == [Verdict.AVOID]
    assert len(await page(None, Order.SCORE, limit=2, offset=2)) == 1


async def test_two_recipes_in_one_message_are_two_cases_and_one_answer(evening: Evening) -> None:
    found = await evening.say("mist and balm")
    assert len(found.items) == 2
    assert len(await evening.cases()) == 2
    assert found.reply.startswith("Recipe 1: Fix it first.")
    assert "\nRecipe 2: Fine as it is." in found.reply
    assert len([o async for o in evening.outbox.pending()]) == 1


def test_the_scripted_balm_has_no_water() -> None:
    assert all(row.substance != "water" for row in BALM.lines)
