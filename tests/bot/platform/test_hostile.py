"""Odd and hostile input: never a ping, never over a limit, never a stop."""

from __future__ import annotations

import pytest

from tests.bot.platform.stage import BALM, CRAYON, FaultyReader, Stage

ODD = (
    "Lip balm: 2 tbsp @everyone, 1 tbsp @here, 1 tsp <@&123456789012345678>",
    "Lip balm: 2 tbsp [free oil](https://lantern-quay.example), 1 tbsp **wax** `x` ||hidden||",
    "Lip balm: 2 tbsp \u202ereversed\u202c oil, 1 tbsp zero\u200bwidth wax",
    "1/0 cup water and 999999999 kg salt for the face",
    "\x00\x01\x02 2 tbsp oil \ufeff",
    "%s %d {0} {name} ${jndi} '; DROP TABLE inbox; -- 1 tbsp oil",
)


@pytest.mark.parametrize("text", ODD)
async def test_odd_names_ping_nobody_and_carry_no_markup(stage: Stage, text: str) -> None:
    fan = stage.fan()
    reply = await stage.reply(fan.asks(stage.square, text))
    assert {user.id for user in reply.pinged} <= {fan.id}
    assert reply.allowed_mentions == {"parse": [], "replied_user": True}
    assert not stage.platform.messages.everyone_pings()
    assert "https://" not in reply.content
    assert "\u202e" not in reply.content


async def test_a_long_recipe_is_answered_within_the_limits_everywhere(stage: Stage) -> None:
    lines = ", ".join(f"{number} tbsp curious root number {number} from the far market" for number in range(1, 130))
    text = f"Face cream: 1 crayon, {lines}"[:6000]
    reply = await stage.reply(stage.fan().asks(stage.square, text))
    assert len(reply.content) <= 2000
    pressed = stage.fan("tin-lantern").presses(reply, "numbers")
    await stage.until(lambda: pressed.shown)
    await stage.card()
    assert not [r for r in stage.platform.requests if r.status == 400]


async def test_buttons_that_are_not_ours_or_long_gone_are_answered(stage: Stage) -> None:
    fan = stage.fan()
    reply = await stage.reply(fan.asks(stage.square, BALM))
    ids = ("wg:more:999", "wg:nonsense:1", "other:thing", "wg:remove:12", "wg:place:abc", "wg:desk_take:x", "")
    for custom_id in ids:
        pressed = fan.presses_id(reply, custom_id)
        await stage.until(lambda pressed=pressed: pressed.shown)
    by_team = stage.creator.presses_id(reply, "wg:desk_take:99999999999999999999")
    await stage.until(lambda: by_team.shown)
    assert "no case" in by_team.text or "another time" in by_team.text


async def test_a_press_that_comes_too_late_stops_nothing(stage: Stage) -> None:
    fan = stage.fan()
    reply = await stage.reply(fan.asks(stage.square, CRAYON))
    stage.platform.interactions.deadline = -1.0
    fan.presses(reply, "numbers")
    fan.uses(stage.square, "check", recipe=BALM)
    stage.creator.uses(stage.desk, "desk")
    await stage.until(lambda: len([r for r in stage.platform.requests if r.status == 404]) >= 3)
    stage.platform.interactions.deadline = 3.0
    await stage.reply(fan.asks(stage.square, BALM))


async def test_a_message_that_always_fails_is_set_aside_told_and_stops_nothing(quiet_stage: Stage) -> None:
    quiet_stage.reader = FaultyReader()
    await quiet_stage.start()
    stage = quiet_stage
    bad = stage.fan().asks(stage.square, "an unspeakable balm: 1 tbsp oil")
    good = stage.fan("tin-lantern").asks(stage.square, BALM)
    await stage.reply(good)
    assert "set it aside" in (await stage.reply(bad)).content
    told = await stage.until(lambda: [p for p in stage.bot_posts(stage.desk) if "set aside" in p.content])
    assert "RuntimeError" in told[0].content
    assert "unspeakable" not in told[0].content


async def test_bots_and_announcements_are_not_answered(stage: Stage) -> None:
    robot = stage.fan("clockwork-crab", bot=True)
    post = robot.asks(stage.square, BALM)
    shout = stage.fan("tin-lantern").says(stage.square, f"@everyone {BALM}")
    await stage.reply(stage.fan().asks(stage.square, BALM))
    assert stage.replies(post) == []
    assert stage.replies(shout) == []


async def test_an_empty_mention_is_told_what_to_send(stage: Stage) -> None:
    reply = await stage.reply(stage.fan().asks(stage.square, ""))
    assert "what goes in" in reply.content
