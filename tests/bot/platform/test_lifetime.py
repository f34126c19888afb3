"""Nothing is lost and nothing is said twice: gaps, dropped links, crashes, outages, rate limits, restarts."""

from __future__ import annotations

import sqlite3
import time
from contextlib import closing

import pytest

from bot.settings import SettingsError
from tests.bot.platform.stage import BALM, CRAYON, MIST, URGENT, SlowReader, Stage
from tests.loopback.faults import Fault
from tests.loopback.permissions import Allow

SENDS = r"^POST /channels/\d+/messages$"


async def test_what_was_tagged_while_it_was_away_is_answered_once(stage: Stage) -> None:
    fan = stage.fan()
    await stage.reply(fan.asks(stage.square, BALM))
    await stage.stop()
    missed = [fan.asks(stage.square, MIST), fan.asks(stage.side, CRAYON)]
    fan.says(stage.side, "nobody asked you")
    await stage.start()
    for post in missed:
        await stage.reply(post)
    await stage.restart()
    last = fan.asks(stage.square, BALM)
    await stage.reply(last)
    assert [len(stage.replies(post)) for post in missed] == [1, 1]


async def test_at_the_very_first_start_nothing_old_is_answered(quiet_stage: Stage) -> None:
    old = quiet_stage.fan().asks(quiet_stage.square, BALM)
    await quiet_stage.start()
    await quiet_stage.reply(quiet_stage.fan().asks(quiet_stage.side, BALM))
    assert quiet_stage.replies(old) == []


@pytest.mark.parametrize("end", ["abort", "reconnect", "code"])
async def test_a_dropped_link_is_resumed_and_what_came_meanwhile_is_answered(stage: Stage, end: str) -> None:
    gateway, fan = stage.platform.gateway, stage.fan()
    if end == "abort":
        gateway.abort()
    elif end == "reconnect":
        await gateway.ask_to_reconnect()
    else:
        await gateway.close(4000)
    post = fan.asks(stage.square, BALM)
    await stage.reply(post)
    await stage.until(lambda: gateway.resumes)
    assert len(gateway.identifies) == 1
    assert len(stage.replies(post)) == 1


async def test_a_session_that_was_lost_is_begun_anew_and_the_gap_is_read(stage: Stage) -> None:
    gateway, fan = stage.platform.gateway, stage.fan()
    await stage.reply(fan.asks(stage.square, BALM))
    gateway.forget_sessions()
    gateway.abort()
    post = fan.asks(stage.square, MIST)
    await stage.reply(post)
    assert len(gateway.identifies) == 2
    assert len(stage.replies(post)) == 1


async def test_an_event_that_comes_twice_is_answered_once(stage: Stage) -> None:
    post = stage.fan().asks(stage.square, BALM)
    stage.platform.messages.tell("MESSAGE_CREATE", stage.square, post)
    await stage.reply(post)
    stage.platform.messages.tell("MESSAGE_CREATE", stage.square, post)
    await stage.reply(stage.fan().asks(stage.square, MIST))
    assert len(stage.replies(post)) == 1


async def test_an_answer_that_went_through_but_looked_failed_is_not_said_twice(stage: Stage) -> None:
    stage.platform.faults.add(Fault(SENDS, 502, after=True))
    post = stage.fan().asks(stage.square, BALM)
    await stage.reply(post)
    await stage.until(lambda: stage.platform.messages.enforced == 1)
    assert len(stage.replies(post)) == 1


async def test_a_crash_between_sending_and_noting_it_is_repaired_beyond_the_nonce_too(stage: Stage) -> None:
    hung = stage.platform.faults.hold_answer(SENDS)
    post = stage.fan().asks(stage.square, BALM)
    await stage.reply(post)
    await stage.crash()
    hung.set()
    stage.platform.messages.nonces.clear()
    await stage.start()
    await stage.reply(stage.fan("tin-lantern").asks(stage.square, MIST))
    assert len(stage.replies(post)) == 1


async def test_a_crash_before_reading_loses_nothing(quiet_stage: Stage) -> None:
    slow = SlowReader()
    quiet_stage.reader = slow
    await quiet_stage.start()
    post = quiet_stage.fan().asks(quiet_stage.square, BALM)
    await quiet_stage.until_local(lambda: slow.texts)
    await quiet_stage.crash(slow.gate)
    await quiet_stage.start()
    await quiet_stage.reply(post)
    assert len(quiet_stage.replies(post)) == 1


async def test_an_outage_of_the_platform_is_waited_out(stage: Stage) -> None:
    fan = stage.fan()
    with stage.platform.outage():
        post = fan.asks(stage.square, BALM)
        await stage.until(lambda: not stage.platform.gateway.connections)
    await stage.reply(post)
    assert len(stage.replies(post)) == 1


async def test_rate_limits_are_obeyed_and_the_order_in_a_channel_is_kept(stage: Stage) -> None:
    stage.platform.limits.sends = (5, 0.4)
    fans = [stage.fan(f"gull-{number}") for number in range(18)]
    posts = [fan.asks(stage.square, BALM) for fan in fans]
    await stage.until(lambda: len(stage.bot_posts(stage.square)) == len(posts))
    answered = [int(reply.reference["message_id"]) for reply in stage.bot_posts(stage.square)]
    assert answered == [post.id for post in posts]
    assert stage.platform.limits.refused == 0


async def test_a_refusal_for_too_many_requests_is_waited_for(stage: Stage) -> None:
    stage.platform.faults.too_many(SENDS, 0.2, times=2, everywhere=True)
    post = stage.fan().asks(stage.square, BALM)
    await stage.reply(post)
    tries = stage.platform.sent("/messages")
    assert [r.status for r in tries] == [429, 429, 200]
    assert tries[1].at - tries[0].at >= 0.2


async def test_a_channel_without_permission_is_paused_told_once_and_others_go_on(stage: Stage) -> None:
    world, fan = stage.platform.world, stage.fan()
    world.deny_bot(stage.square, Allow.SEND_MESSAGES)
    stage.platform.channels.tell(stage.square)
    first, second = fan.asks(stage.square, BALM), fan.asks(stage.square, MIST)
    await stage.reply(fan.asks(stage.side, BALM))
    told = await stage.until(lambda: [p for p in stage.bot_posts(stage.desk) if "I may not answer" in p.content])
    assert "Send Messages" in told[0].content
    assert not [r for r in stage.platform.requests if r.status == 403]
    stage.square.overwrites.clear()
    stage.platform.channels.tell(stage.square)
    await stage.reply(first)
    await stage.reply(second)
    assert len([p for p in stage.bot_posts(stage.desk) if "I may not answer" in p.content]) == 1


async def test_a_permission_that_went_unnoticed_costs_one_refusal(stage: Stage) -> None:
    stage.platform.world.deny_bot(stage.square, Allow.SEND_MESSAGES)
    fan = stage.fan()
    for text in (BALM, MIST, CRAYON):
        fan.asks(stage.square, text)
    await stage.reply(fan.asks(stage.side, BALM))
    await stage.until(lambda: [p for p in stage.bot_posts(stage.desk) if "I may not answer" in p.content])
    assert len([r for r in stage.platform.requests if r.status == 403]) == 1


async def test_a_desk_that_may_not_be_written_is_told_and_stops_nothing(stage: Stage) -> None:
    stage.platform.world.deny_bot(stage.desk, Allow.SEND_MESSAGES)
    fan = stage.fan()
    await stage.reply(fan.asks(stage.square, CRAYON))
    await stage.until(lambda: stage.platform.sent(f"/channels/{stage.desk.id}/messages"))
    await stage.reply(fan.asks(stage.square, BALM))
    stage.desk.overwrites.clear()
    await stage.card("Leave this one.")


async def test_a_post_deleted_before_the_answer_is_no_trouble(quiet_stage: Stage) -> None:
    slow = SlowReader()
    quiet_stage.reader = slow
    await quiet_stage.start()
    fan = quiet_stage.fan()
    gone = fan.asks(quiet_stage.square, BALM)
    await quiet_stage.until_local(lambda: slow.texts)
    fan.deletes(gone)
    slow.gate.set()
    await quiet_stage.reply(fan.asks(quiet_stage.square, MIST))
    assert quiet_stage.replies(gone) == []


async def test_emergencies_go_before_everything_else(quiet_stage: Stage) -> None:
    slow = SlowReader()
    quiet_stage.reader = slow
    await quiet_stage.start()
    for number in range(8):
        quiet_stage.fan(f"gull-{number}").asks(quiet_stage.square, BALM)
    await quiet_stage.until_local(lambda: slow.texts)
    hurt = quiet_stage.fan("tin-lantern").asks(quiet_stage.square, URGENT)
    await quiet_stage.until_local_rows("SELECT COUNT(*) FROM inbox", 9)
    slow.gate.set()
    await quiet_stage.until(lambda: len(quiet_stage.bot_posts(quiet_stage.square)) == 9)
    order = [int(reply.reference["message_id"]) for reply in quiet_stage.bot_posts(quiet_stage.square)]
    assert order.index(hurt.id) <= 1


async def test_a_slow_reading_shows_typing_within_three_seconds(quiet_stage: Stage) -> None:
    slow = SlowReader()
    quiet_stage.reader = slow
    await quiet_stage.start()
    began = time.monotonic()
    post = quiet_stage.fan().asks(quiet_stage.square, BALM)
    await quiet_stage.until(lambda: quiet_stage.platform.sent("/typing"))
    assert quiet_stage.platform.sent("/typing")[0].at - began < 4.0  # three, and one for a busy machine
    slow.gate.set()
    await quiet_stage.reply(post)


async def test_a_tag_that_could_not_be_stored_is_read_again(stage: Stage, caplog: pytest.LogCaptureFixture) -> None:
    await stage.reply(stage.fan().asks(stage.side, MIST))
    with closing(sqlite3.connect(stage.folder / "stage.db", isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        post = stage.fan("tin-lantern").asks(stage.square, BALM)
        await stage.until_local(lambda: "accept: the database" in caplog.text, 25)
        other.execute("ROLLBACK")
    await stage.reply(post)
    assert len(stage.replies(post)) == 1


async def test_slow_times_are_said_once(quiet_stage: Stage) -> None:
    slow = SlowReader()
    quiet_stage.reader = slow
    await quiet_stage.start()
    fan = quiet_stage.fan()
    posts = [fan.asks(quiet_stage.square, BALM, seconds_ago=30 - number) for number in range(2)]
    said = await quiet_stage.until(lambda: quiet_stage.bot_posts(quiet_stage.square))
    assert "I answer each of them" in said[0].content
    slow.gate.set()
    for post in posts:
        await quiet_stage.reply(post)
    assert len(quiet_stage.bot_posts(quiet_stage.square)) == 3


async def test_a_command_is_acknowledged_at_once_however_slow_the_reading_is(quiet_stage: Stage) -> None:
    slow = SlowReader()
    quiet_stage.reader = slow
    await quiet_stage.start()
    asked = quiet_stage.fan().uses(quiet_stage.square, "check", recipe=BALM)
    await quiet_stage.until(lambda: asked.acknowledged_after is not None)
    assert asked.acknowledged_after < 3.0
    assert not asked.shown
    slow.gate.set()
    await quiet_stage.until(lambda: asked.shown)


async def test_a_command_is_answered_after_a_restart(quiet_stage: Stage) -> None:
    slow = SlowReader()
    quiet_stage.reader = slow
    await quiet_stage.start()
    asked = quiet_stage.fan().uses(quiet_stage.square, "check", recipe=BALM)
    await quiet_stage.until_local(lambda: slow.texts)
    await quiet_stage.crash(slow.gate)
    await quiet_stage.start()
    await quiet_stage.until(lambda: asked.shown)
    assert asked.text.startswith("Fine as it is.")


async def test_a_revoked_token_ends_it_with_one_clear_sentence(stage: Stage) -> None:
    stage.platform.gateway.token = stage.platform.token = "another"
    await stage.platform.gateway.close(4004)
    with pytest.raises(SettingsError, match="refused the token"):
        await stage.ended()


async def test_a_wrong_token_is_refused_before_a_session_is_started(quiet_stage: Stage) -> None:
    quiet_stage.extra = {"token": "wrong"}
    with pytest.raises(SettingsError, match="refused the token"):
        await quiet_stage.start()
    assert quiet_stage.platform.gateway.identifies == []
