"""What a fan meets: mention, right-click, slash command, form, buttons."""

from __future__ import annotations

from tests.bot.platform.stage import MIST, Stage


async def test_a_mention_is_answered_with_the_verdict_first_and_pings_only_the_asker(stage: Stage) -> None:
    fan = stage.fan()
    post = fan.asks(stage.square, MIST)
    reply = await stage.reply(post)
    print(reply)
    assert reply.content.startswith(("Fix it first.", "Leave this one."))
    assert reply.pinged == [fan.member.user]
