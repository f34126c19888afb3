"""One's own data, quiet, cool-down, help, languages: what a person may expect of a polite bot."""

from __future__ import annotations

from tests.bot.platform.stage import BALM, CRAYON, MIST, URGENT, Stage


async def test_help_is_short_and_has_an_example_to_copy(stage: Stage) -> None:
    asked = stage.fan().uses(stage.square, "help")
    await stage.until(lambda: asked.shown)
    assert len(asked.text) <= 600
    assert "> <@" in asked.text
    assert "Lip balm" in asked.text


async def test_my_data_says_what_is_kept_for_how_long_and_where_the_policy_is(quiet_stage: Stage) -> None:
    quiet_stage.extra = {"policy_url": "https://lantern-quay.example/privacy"}
    await quiet_stage.start()
    fan = quiet_stage.fan()
    nothing = fan.uses(quiet_stage.square, "my-data")
    await quiet_stage.until(lambda: nothing.shown)
    assert "nothing of yours" in nothing.text
    await quiet_stage.reply(fan.asks(quiet_stage.square, BALM))
    some = fan.uses(quiet_stage.square, "my-data")
    await quiet_stage.until(lambda: some.shown)
    assert "1 messages" in some.text
    assert "30 days" in some.text
    assert "lantern-quay.example/privacy" in some.text
    assert all(message.flags & 64 for message in some.shown)


async def test_forget_me_deletes_words_answers_and_the_link_to_the_person(stage: Stage) -> None:
    fan = stage.fan()
    post = fan.asks(stage.square, "Lip balm with zanzibarine: 1 tbsp zanzibarine, 2 tbsp coconut oil, 1 crayon")
    await stage.reply(post)
    await stage.card()
    asked = fan.uses(stage.square, "forget-me")
    await stage.until(lambda: asked.shown)
    assert "1 messages" in asked.text
    again = fan.uses(stage.square, "my-data")
    await stage.until(lambda: again.shown)
    assert "nothing of yours" in again.text
    await stage.restart()
    await stage.stop()
    for table in ("inbox", "outbox", "tags", "cases"):
        assert "zanzibarine" not in str(await stage.rows(f"SELECT * FROM {table}")).lower(), table
    assert await stage.rows("SELECT DISTINCT author_key FROM inbox") == [("",)]
    assert len(stage.replies(post)) == 1


async def test_no_name_and_no_raw_id_of_a_fan_is_on_disk(stage: Stage) -> None:
    fan = stage.fan("glim-otter")
    await stage.reply(fan.asks(stage.square, BALM))
    await stage.stop()
    for (table,) in await stage.rows("SELECT name FROM sqlite_master WHERE type = 'table'"):
        kept = str(await stage.rows(f"SELECT * FROM {table}"))
        assert str(fan.id) not in kept, table
        assert "glim-otter" not in kept, table


async def test_quiet_keeps_the_bot_off_ones_posts_also_for_others(stage: Stage) -> None:
    fan, other = stage.fan(), stage.fan("tin-lantern")
    asked = fan.uses(stage.square, "quiet", state="on")
    await stage.until(lambda: asked.shown)
    await stage.restart()
    post = fan.asks(stage.square, BALM)
    clicked = other.right_clicks(post, "Check this recipe")
    await stage.until(lambda: clicked.shown)
    assert "leave their posts alone" in clicked.text
    await stage.reply(other.asks(stage.square, BALM))
    assert stage.replies(post) == []
    ended = fan.uses(stage.square, "quiet", state="off")
    await stage.until(lambda: ended.shown)
    await stage.reply(fan.asks(stage.square, BALM))


async def test_the_cool_down_is_told_once_and_an_emergency_never_waits(quiet_stage: Stage) -> None:
    quiet_stage.extra = {"cooldown_tags": 2}
    await quiet_stage.start()
    stage, fan = quiet_stage, quiet_stage.fan()
    posts = [fan.asks(stage.square, text) for text in (BALM, MIST, CRAYON, BALM)]
    hurt = fan.asks(stage.square, URGENT)
    assert "poison advice" in (await stage.reply(hurt)).content
    assert "You are quick!" in (await stage.reply(posts[2])).content
    await stage.reply(stage.fan("tin-lantern").asks(stage.square, BALM))
    assert stage.replies(posts[3]) == []
    pressed = fan.uses(stage.square, "check", recipe=BALM)
    await stage.until(lambda: pressed.shown)
    assert "You are quick!" in pressed.text


async def test_words_go_after_their_time(quiet_stage: Stage) -> None:
    quiet_stage.extra = {"retention_days": 1}
    stage = quiet_stage
    await stage.start()
    await stage.reply(stage.fan().asks(stage.square, BALM, seconds_ago=3 * 86_400))
    await stage.restart()
    await stage.until_local_rows("SELECT COUNT(*) FROM inbox WHERE text <> ''", 0)
    await stage.until_local_rows("SELECT COUNT(*) FROM tags WHERE recipe IS NOT NULL", 0)


async def test_command_names_are_shown_in_ones_own_language_and_english_elsewhere(stage: Stage) -> None:
    commands = {row["name"]: row for row in stage.platform.world.commands}
    assert commands["help"]["name_localizations"]["de"] == "hilfe"
    assert commands["Check this recipe"]["name_localizations"]["fr"] == "Vérifier cette recette"
    assert "ja" not in commands["help"]["name_localizations"]
    assert commands["desk"]["default_member_permissions"] in ("0", 0)


async def test_commands_are_registered_once_and_not_at_every_start(stage: Stage) -> None:
    await stage.restart()
    await stage.reply(stage.fan().asks(stage.square, BALM))
    assert stage.platform.registry.syncs == 1
