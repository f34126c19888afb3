"""What was said and is no longer right does not stay: after a fan's correction, and after the creator's ruling."""

from __future__ import annotations

from bot.store import open_database
from bot.store.inbox import InboxTable
from tests.bot.platform.stage import BALM, CRAYON, MIST, SlowReader, Stage
from tests.loopback.interactions import Interaction

DAY = 86_400


async def ruled(stage: Stage, verdict: str, words: str) -> Interaction:
    form = stage.creator.presses(await stage.card(), "rule")
    await stage.until(lambda: form.modal)
    sent = stage.creator.fills_in(form, verdict=verdict, words=words)
    await stage.until(lambda: sent.shown)
    return sent


async def test_a_correction_is_answered_anew_and_the_first_answer_says_the_same(stage: Stage) -> None:
    fan = stage.fan()
    post = fan.asks(stage.square, BALM)
    reply = await stage.reply(post)
    assert reply.content.startswith("Fine as it is.")
    added = fan.says(stage.square, "sorry, I forgot: I meant also 1 crayon", reply_to=reply)
    anew = await stage.reply(added)
    await stage.until(lambda: reply.content == anew.content)
    assert "Leave this one." in reply.content
    assert len(stage.replies(post)) == 1
    numbers = fan.presses(reply, "Numbers")
    await stage.until(lambda: numbers.shown)
    assert "rayon" in numbers.text


async def test_corrections_in_a_row_leave_no_answer_behind_and_the_fan_counts_once(stage: Stage) -> None:
    fan, other = stage.fan(), stage.fan("tin-lantern")
    first = await stage.reply(fan.asks(stage.square, CRAYON))
    elsewhere = await stage.reply(other.asks(stage.square, MIST))
    second = await stage.reply(fan.says(stage.square, "correction: 3 tbsp beeswax", reply_to=first))
    third = await stage.reply(fan.says(stage.square, "no, I meant 4 tbsp beeswax", reply_to=second))
    await stage.until(lambda: first.content == second.content == third.content)
    assert elsewhere.content.startswith("Fix it first.")
    await stage.stop()
    counted = await stage.rows("SELECT SUM(people) FROM cases WHERE title LIKE '%beeswax%'")
    assert counted == [(1,)]


async def test_a_correction_changes_nothing_of_an_answer_that_was_removed_or_whispered(stage: Stage) -> None:
    fan = stage.fan()
    post = fan.asks(stage.square, BALM)
    reply = await stage.reply(post)
    removed = fan.presses(reply, "remove")
    await stage.until(lambda: removed.shown and reply.id not in stage.square.messages)
    whispered = fan.uses(stage.square, "check", recipe=MIST)
    await stage.until(lambda: whispered.shown)
    said = whispered.text
    fixed = fan.asks(stage.square, "I meant 2 tbsp aloe vera juice")
    await stage.reply(fixed)
    last = stage.fan("tin-lantern").asks(stage.square, BALM)
    await stage.reply(last)
    assert whispered.text == said
    assert stage.replies(post) == []


async def test_a_ruling_that_says_otherwise_changes_the_answers_that_stand_and_its_undoing_changes_them_back(
    stage: Stage,
) -> None:
    fan, other = stage.fan(), stage.fan("tin-lantern")
    replies = [await stage.reply(person.asks(stage.square, CRAYON)) for person in (fan, other)]
    asked = stage.fan("brass-plover").uses(stage.side, "check", recipe=CRAYON)
    await stage.until(lambda: asked.shown)
    old = await stage.reply(stage.fan("salt-heron").asks(stage.side, CRAYON, seconds_ago=8 * DAY))
    sent = await ruled(stage, "fix", "A crayon for lips is sold too; take that.")
    assert "Answers of the last week" in sent.text
    await stage.until(lambda: all(reply.content.startswith("Fix it first, says the chemist.") for reply in replies))
    assert asked.text.startswith("Leave this one.")
    assert old.content.startswith("Leave this one.")
    undone = stage.creator.presses(await stage.card(), "undo")
    await stage.until(lambda: undone.shown)
    await stage.until(lambda: all(reply.content.startswith("Leave this one.") for reply in replies))
    assert len(stage.bot_posts(stage.square)) == 2
    await stage.card("4 people asked")


async def test_a_ruling_with_the_same_verdict_leaves_the_answers_alone(stage: Stage) -> None:
    reply = await stage.reply(stage.fan().asks(stage.square, CRAYON))
    await ruled(stage, "avoid", "Crayons belong on paper.")
    later = await stage.reply(stage.fan("tin-lantern").asks(stage.square, CRAYON))
    assert later.content.startswith("Leave this one, says the chemist.")
    assert reply.content.startswith("Leave this one. ")


async def test_what_is_read_again_days_later_is_not_said_to_be_late(quiet_stage: Stage) -> None:
    slow = SlowReader()
    slow.gate.set()
    quiet_stage.reader = slow
    await quiet_stage.start()
    stage, fan = quiet_stage, quiet_stage.fan()
    post = fan.asks(stage.square, BALM, seconds_ago=DAY)
    reply = await stage.reply(post)
    slow.gate.clear()
    fan.edits(post, f"{stage.platform.world.bot.mention} {MIST}")
    await stage.until_local(lambda: len(slow.texts) == 2)
    async with open_database(stage.folder / "stage.db") as database:
        table = InboxTable(database)
        assert await table.waiting() == 1
        assert await table.waiting_by_channel() == []
        assert await table.oldest_waiting() is None
    slow.gate.set()
    await stage.until(lambda: reply.content.startswith("Fix it first."))
