"""Another server of the same protocol can be put there: few words, other paths, no packing, other addresses."""

from __future__ import annotations

import pytest

from bot.platform.library import ShortBackoff
from bot.platform.starts import wait_before
from tests.bot.platform.stage import BALM, CRAYON, MIST, Stage

MENU = "Check this recipe"


@pytest.fixture
async def sparse_stage(quiet_stage: Stage) -> Stage:
    """READY without an address to resume at, servers without roles, posts and presses with the least that says who
    and what, an application without an owner, and no answer to an answer."""
    quiet_stage.platform.gateway.few_words = True
    await quiet_stage.start()
    return quiet_stage


async def test_a_server_of_few_words_is_enough_for_a_mention_an_edit_and_a_button(sparse_stage: Stage) -> None:
    stage, fan = sparse_stage, sparse_stage.fan()
    post = fan.asks(stage.square, MIST)
    reply = await stage.reply(post)
    assert reply.content.startswith("Fix it first.")
    pressed = fan.presses(reply, "numbers")
    await stage.until(lambda: pressed.shown)
    assert "Source:" in pressed.text
    fan.edits(post, f"{stage.platform.world.bot.mention} {BALM}")
    await stage.until(lambda: reply.content.startswith("Fine as it is."))
    fan.deletes(post)
    await stage.until(lambda: reply.id not in stage.square.messages)


async def test_a_server_of_few_words_is_enough_for_commands_and_the_desk(sparse_stage: Stage) -> None:
    stage, fan = sparse_stage, sparse_stage.fan()
    clicked = fan.right_clicks(stage.fan("tin-lantern").says(stage.square, CRAYON), MENU)
    form = fan.uses(stage.square, "check")
    await stage.until(lambda: clicked.shown and form.modal)
    filled = fan.fills_in(form, recipe=BALM)
    await stage.until(lambda: filled.shown)
    assert clicked.text.startswith("Leave this one.")
    assert filled.text.startswith("Fine as it is.")
    taken = stage.creator.presses(await stage.card(), "take")
    await stage.until(lambda: taken.shown)
    await stage.card("taken for an episode")
    refused = stage.owner.uses(stage.square, "status")
    await stage.until(lambda: refused.shown)
    assert "for the owner" in refused.text


async def test_a_session_without_an_address_to_resume_at_is_resumed_and_history_is_read(sparse_stage: Stage) -> None:
    stage, fan, gateway = sparse_stage, sparse_stage.fan(), sparse_stage.platform.gateway
    gateway.abort()
    post = fan.asks(stage.square, BALM)
    await stage.reply(post)
    assert gateway.resumes
    await stage.stop()
    missed = fan.asks(stage.side, MIST)
    await stage.start()
    await stage.reply(missed)


async def test_a_session_that_names_an_address_elsewhere_stays_with_the_one_that_is_set(quiet_stage: Stage) -> None:
    quiet_stage.platform.gateway.address = "wss://gateway.lantern-quay.example"
    await quiet_stage.start()
    quiet_stage.platform.gateway.abort()
    await quiet_stage.reply(quiet_stage.fan().asks(quiet_stage.square, BALM))
    assert quiet_stage.platform.gateway.resumes


@pytest.mark.parametrize("path", ["/gw", ""])
async def test_the_address_of_the_gateway_may_end_as_it_likes(quiet_stage: Stage, path: str) -> None:
    quiet_stage.extra = {
        "gateway_url": f"ws://127.0.0.1:{quiet_stage.platform.port}{path}",
        "api_url": quiet_stage.platform.api_url + "/",
    }
    await quiet_stage.start()
    await quiet_stage.reply(quiet_stage.fan().asks(quiet_stage.square, BALM))


async def test_an_event_that_cannot_be_parsed_costs_itself_and_no_session(stage: Stage) -> None:
    stage.platform.gateway.dispatch("MESSAGE_CREATE", {"id": "1"})
    stage.platform.gateway.dispatch("MESSAGE_UPDATE", {"content": None, "channel_id": "x"})
    stage.platform.gateway.dispatch("INTERACTION_CREATE", {"id": "2", "type": 3})
    stage.platform.gateway.dispatch("TIDE_TURNED", {"height": 3})
    await stage.reply(stage.fan().asks(stage.square, BALM))
    assert len(stage.platform.gateway.identifies) == 1
    assert not stage.platform.gateway.resumes


async def test_a_post_in_a_channel_that_was_never_announced_is_answered(stage: Stage) -> None:
    await stage.reply(stage.fan().asks(stage.platform.world.channel("new-jetty"), BALM))


def test_after_an_outage_of_any_length_the_link_is_tried_again_within_two_minutes() -> None:
    backoff = ShortBackoff()
    assert max(backoff.delay() for _ in range(500)) <= 120


async def test_the_library_uses_the_short_pauses(stage: Stage, caplog: pytest.LogCaptureFixture) -> None:
    with stage.platform.outage():
        await stage.until_local(lambda: "Attempting a reconnect" in caplog.text)
    await stage.reply(stage.fan().asks(stage.square, BALM))
    module = __import__("discord.client", fromlist=["ExponentialBackoff"])
    assert module.ExponentialBackoff is ShortBackoff


def test_a_crash_loop_of_a_whole_day_leaves_the_platform_its_thousand_starts() -> None:
    """The platform resets the token of a bot that starts a thousand sessions in a day (its documentation)."""
    now, starts, count = 0.0, list[float](), 0
    while now < 86_400:
        now += wait_before(starts, now)
        starts = [start for start in starts if now - 3600 < start] + [now]
        now += 0.1
        count += 1
    assert count < 900
