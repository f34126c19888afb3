"""What a fan meets: mention, right-click, slash command, form, buttons, edits and deletions."""

from __future__ import annotations

from tests.bot.platform.stage import BALM, CRAYON, MIST, Stage
from tests.loopback.limits import walk

MENU = "Check this recipe"


async def test_a_mention_is_answered_verdict_first_and_needs_no_privilege(stage: Stage) -> None:
    fan = stage.fan()
    post = fan.asks(stage.square, CRAYON)
    reply = await stage.reply(post)
    assert reply.content.startswith("Leave this one.")
    assert len(reply.content) <= 500
    assert reply.pinged == [fan.member.user]
    assert stage.platform.gateway.identifies[0]["intents"] == (1 << 0) | (1 << 9)


async def test_a_right_click_on_anybodys_post_gives_the_same_verdict_to_the_presser_alone(
    stage: Stage,
) -> None:
    author, other = stage.fan("tin-lantern"), stage.fan("salt-heron")
    post = author.says(stage.square, CRAYON)
    asked = other.right_clicks(post, MENU)
    await stage.until(lambda: asked.shown)
    tagged = await stage.reply(author.asks(stage.square, CRAYON))
    assert asked.text.split(".")[0] == tagged.content.split(".")[0]
    assert stage.bot_posts(stage.square) == [tagged]


async def test_a_pasted_recipe_is_checked_by_the_slash_command(stage: Stage) -> None:
    asked = stage.fan().uses(stage.square, "check", recipe=MIST)
    await stage.until(lambda: asked.shown)
    assert asked.text.startswith("Fix it first.")


async def test_a_long_paste_goes_into_a_form_and_is_answered(stage: Stage) -> None:
    fan = stage.fan()
    asked = fan.uses(stage.square, "check")
    await stage.until(lambda: asked.modal)
    answered = fan.fills_in(asked, recipe=BALM)
    await stage.until(lambda: answered.shown)
    assert answered.text.startswith("Fine as it is.")


async def test_a_form_left_open_over_a_restart_is_still_taken(stage: Stage) -> None:
    fan = stage.fan()
    asked = fan.uses(stage.square, "check")
    await stage.until(lambda: asked.modal)
    await stage.restart()
    answered = fan.fills_in(asked, recipe=BALM)
    await stage.until(lambda: answered.shown)
    assert answered.text.startswith("Fine as it is.")


async def test_the_numbers_and_sources_are_seen_by_the_presser_only(stage: Stage) -> None:
    reply = await stage.reply(stage.fan().asks(stage.square, MIST))
    pressed = stage.fan("brass-plover").presses(reply, "numbers")
    await stage.until(lambda: pressed.shown)
    assert all(message.flags & 64 for message in pressed.shown)
    assert "Source:" in pressed.text
    assert "%" in pressed.text


async def test_the_place_can_be_chosen_where_the_verdict_asks_for_it(stage: Stage) -> None:
    fan = stage.fan()
    post = fan.asks(stage.square, "is ultramarine blue safe?")
    reply = await stage.reply(post)
    assert "where it goes" in reply.content
    stranger = stage.fan("reed-warbler").chooses(reply, "lips")
    await stage.until(lambda: stranger.shown)
    chosen = fan.chooses(reply, "lips")
    await stage.until(lambda: chosen.answered)
    await stage.until(lambda: reply.content.startswith("No:"))
    assert stage.replies(post) == [reply]


async def test_the_reply_follows_an_edit_and_ignores_a_link_preview(stage: Stage) -> None:
    fan = stage.fan()
    post = fan.asks(stage.square, MIST)
    reply = await stage.reply(post)
    assert reply.content.startswith("Fix it first.")
    before = len(stage.platform.requests)
    fan.edits(post, post.content)
    fan.edits(post, f"{stage.platform.world.bot.mention} {BALM}")
    await stage.until(lambda: reply.content.startswith("Fine as it is."))
    assert stage.replies(post) == [reply]
    assert [r.method for r in stage.platform.requests[before:]] == ["PATCH"]


async def test_a_mention_that_is_added_later_counts(stage: Stage) -> None:
    fan = stage.fan()
    post = fan.says(stage.square, BALM)
    fan.edits(post, f"{stage.platform.world.bot.mention} {BALM}")
    assert (await stage.reply(post)).content.startswith("Fine as it is.")


async def test_the_reply_goes_with_the_post_and_its_words_are_purged(stage: Stage) -> None:
    fan = stage.fan()
    post = fan.asks(stage.square, "Lip balm with zanzibarine: 1 tbsp zanzibarine, 2 tbsp coconut oil")
    reply = await stage.reply(post)
    fan.deletes(post)
    await stage.until(lambda: reply.id not in stage.square.messages)
    await stage.stop()
    for table in ("inbox", "outbox", "tags", "cases"):
        assert "zanzibarine" not in str(await stage.rows(f"SELECT * FROM {table}")).lower(), table


async def test_the_asker_can_remove_the_reply_and_nobody_else_but_staff(stage: Stage) -> None:
    fan, stranger = stage.fan(), stage.fan("reed-warbler")
    post = fan.asks(stage.square, BALM)
    reply = await stage.reply(post)
    refused = stranger.presses(reply, "remove")
    await stage.until(lambda: refused.shown)
    assert reply.id in stage.square.messages
    allowed = fan.presses(reply, "remove")
    await stage.until(lambda: allowed.shown and reply.id not in stage.square.messages)
    second = await stage.reply(fan.asks(stage.square, BALM))
    by_staff = stage.creator.presses(second, "remove")
    await stage.until(lambda: by_staff.shown and second.id not in stage.square.messages)


async def test_a_removed_reply_stays_away_when_the_post_is_edited(stage: Stage) -> None:
    fan = stage.fan()
    post = fan.asks(stage.square, BALM)
    reply = await stage.reply(post)
    pressed = fan.presses(reply, "remove")
    await stage.until(lambda: pressed.shown and reply.id not in stage.square.messages)
    fan.edits(post, f"{stage.platform.world.bot.mention} {MIST}")
    later = fan.asks(stage.square, BALM)
    await stage.reply(later)
    assert stage.replies(post) == []


async def test_a_correction_by_answering_the_bot_amends_the_recipe(stage: Stage) -> None:
    fan = stage.fan()
    post = fan.asks(stage.square, BALM)
    reply = await stage.reply(post)
    fixed = fan.says(stage.square, "sorry, I meant 3 tbsp beeswax", reply_to=reply)
    assert "correction" in (await stage.reply(fixed)).content.lower()


async def test_a_question_under_a_hidden_post_is_told_what_to_do(stage: Stage) -> None:
    hidden = stage.fan("tin-lantern").says(stage.square, CRAYON)
    asked = stage.fan().says(stage.square, f"{stage.platform.world.bot.mention} is this ok?", reply_to=hidden)
    assert "Apps → Check this recipe" in (await stage.reply(asked)).content


async def test_ordinary_talk_is_left_alone(stage: Stage) -> None:
    fans = [stage.fan(f"gull-{number}") for number in range(10)]
    for number in range(1000):
        fans[number % 10].says(stage.square, f"the ferry was late again, day {number}")
    stage.fan("tin-lantern", bot=True).asks(stage.square, BALM)
    last = stage.fan().asks(stage.side, BALM)
    await stage.reply(last)
    assert stage.bot_posts(stage.square) == []
    assert len(stage.platform.sent("/messages")) == 1


async def test_an_unknown_ingredient_is_named_and_nothing_is_called_fine(stage: Stage) -> None:
    post = stage.fan().asks(stage.square, "Lip balm: 2 tbsp coconut oil, 1 tbsp moonpetal")
    reply = await stage.reply(post)
    assert "moonpetal" in reply.content
    assert not reply.content.startswith("Fine")


async def test_every_button_has_a_word_and_no_meaning_hangs_on_colour(stage: Stage) -> None:
    reply = await stage.reply(stage.fan().asks(stage.square, CRAYON))
    card = await stage.card()
    for item in [*walk(reply.components), *walk(card.components)]:
        assert item["type"] != 2 or item["label"].strip()
    for embed in card.embeds:
        assert not embed.get("color")
        assert not embed.get("image")
