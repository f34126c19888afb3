"""To be told when a recipe is covered, and whether one's own words may be shown: asked by the fan, default no."""

from __future__ import annotations

from bot.brief.compose import compose
from bot.brief.render import html, markdown
from bot.episode import Plan, Studio
from bot.store import open_database
from bot.words.phrases import load_phrases
from rules.assessment import Jurisdiction
from tests.bot.platform.stage import BALM, CRAYON, Stage
from tests.loopback.interactions import Interaction
from tests.loopback.world import Message

ADDRESS = "https://lantern-quay.example/ep7"
TELL, SHOW, NUMBERS = "Tell me when", "May my words", "Numbers"


async def press(stage: Stage, who: object, message: Message, label: str) -> Interaction:
    pressed = who.presses(message, label)
    await stage.until(lambda: pressed.answered)
    return pressed


async def planned(stage: Stage) -> Plan:
    """Case 1 in an episode, as the terminal of the creator does it beside the running bot."""
    async with open_database(stage.folder / "stage.db") as database:
        studio = Studio(database)
        episode = await studio.new("Wax on the quay")
        await studio.add(episode, 1, "creator")
        return await studio.plan(episode)


async def publish(stage: Stage) -> int:
    async with open_database(stage.folder / "stage.db") as database:
        return await Studio(database).publish((await planned(stage)).episode.id, ADDRESS)


async def test_who_asks_to_be_told_is_told_once_and_nobody_sees_that_they_asked(stage: Stage) -> None:
    fan = stage.fan()
    post = fan.asks(stage.square, CRAYON)
    reply = await stage.reply(post)
    asked = await press(stage, fan, reply, TELL)
    assert "answer your post once" in asked.text
    assert all(message.flags & 64 for message in asked.shown)
    assert stage.replies(post) == [reply]
    assert await publish(stage) == 1
    await stage.restart()
    await stage.until(lambda: len(stage.replies(post)) == 2)
    news = stage.replies(post)[1]
    assert ADDRESS in news.content
    assert news.pinged == [fan.member.user]
    assert await publish(stage) == 0
    later = await press(stage, fan, reply, TELL)
    assert ADDRESS in later.text
    await press(stage, fan, news, "Remove")
    await stage.until(lambda: news.id not in stage.square.messages)
    fan.edits(post, f"{stage.platform.world.bot.mention} {BALM}")
    await stage.until(lambda: reply.content.startswith("Fine as it is."))


async def test_a_second_press_takes_the_wish_back(stage: Stage) -> None:
    fan = stage.fan()
    reply = await stage.reply(fan.asks(stage.square, CRAYON))
    await press(stage, fan, reply, TELL)
    await stage.restart()
    taken_back = await press(stage, fan, reply, TELL)
    assert "Taken back" in taken_back.text
    assert await publish(stage) == 0


async def test_only_the_one_who_asked_can_wish_since_nobody_elses_way_back_is_kept(stage: Stage) -> None:
    reply = await stage.reply(stage.fan().asks(stage.square, CRAYON))
    stranger = stage.fan("reed-warbler")
    for custom_id in ("follow", "show", "shown"):
        message_id = reply.reference["message_id"]
        refused = stranger.presses_id(reply, f"wg:{custom_id}:{message_id}")
        await stage.until(lambda refused=refused: refused.shown)
        assert "Tag me with the recipe yourself" in refused.text
    await stage.stop()
    assert await stage.rows("SELECT * FROM followers") == []
    assert await stage.rows("SELECT * FROM consents") == []


async def test_the_answer_to_a_command_offers_no_wish_that_it_could_not_keep(stage: Stage) -> None:
    asked = stage.fan().uses(stage.square, "check", recipe=CRAYON)
    await stage.until(lambda: asked.shown)
    labels = [item.get("label") for row in asked.shown[0].components for item in row["components"]]
    assert labels == ["Numbers and sources"]


async def test_without_a_yes_the_brief_says_to_show_no_words_and_no_name(stage: Stage) -> None:
    fan = stage.fan("glim-otter")
    reply = await stage.reply(fan.asks(stage.square, CRAYON))
    await press(stage, fan, reply, TELL)
    for text in await brief(stage):
        assert "Nobody has said yes" in text
        assert "glim" not in text


async def test_a_yes_with_a_name_reaches_the_brief_and_can_be_taken_back(stage: Stage) -> None:
    fan, other = stage.fan("glim-otter"), stage.fan("tin-lantern")
    reply = await stage.reply(fan.asks(stage.square, CRAYON))
    await stage.reply(other.asks(stage.square, CRAYON))
    offer = (await press(stage, fan, reply, TELL)).shown[0]
    form = await press(stage, fan, offer, SHOW)
    assert form.modal["components"][0]["component"]["required"] is False
    said = fan.fills_in(form, credit="@everyone **Glim** of the quay")
    await stage.until(lambda: said.shown)
    assert "@" not in said.text
    for text in await brief(stage):
        assert "1 of 2 who asked" in text
        assert "Glim" in text
        assert "tin-lantern" not in text
    mine = fan.uses(stage.square, "my-data")
    await stage.until(lambda: mine.shown)
    assert "1 recipes" in mine.text
    none = await press(stage, fan, mine.shown[0], "Take every yes back")
    assert "you are not named" in none.text
    for text in await brief(stage):
        assert "Nobody has said yes" in text


async def test_a_yes_needs_no_name_and_the_same_button_is_the_no(stage: Stage) -> None:
    fan = stage.fan()
    reply = await stage.reply(fan.asks(stage.square, CRAYON))
    offer = (await press(stage, fan, reply, TELL)).shown[0]
    said = fan.fills_in(await press(stage, fan, offer, SHOW))
    await stage.until(lambda: said.shown)
    assert "without a name" in said.text
    assert "without a name" in (await brief(stage))[0]
    assert "not shown" in (await press(stage, fan, offer, SHOW)).text
    assert "Nobody has said yes" in (await brief(stage))[0]


async def test_a_yes_and_a_wish_go_with_the_post_and_with_forget_me(stage: Stage) -> None:
    fan, other = stage.fan(), stage.fan("tin-lantern")
    for person in (fan, other):
        reply = await stage.reply(person.asks(stage.square, CRAYON))
        offer = (await press(stage, person, reply, TELL)).shown[0]
        said = person.fills_in(await press(stage, person, offer, SHOW), credit="Somebody")
        await stage.until(lambda said=said: said.shown)
    first = next(message for message in stage.square.messages.values() if message.author.id == fan.id)
    fan.deletes(first)
    asked = other.uses(stage.square, "forget-me")
    await stage.until(lambda: asked.shown and len(stage.bot_posts(stage.square)) == 1)
    await stage.stop()
    assert await stage.rows("SELECT * FROM followers") == []
    assert await stage.rows("SELECT * FROM consents") == []


async def test_a_sound_recipe_can_be_followed_too(stage: Stage) -> None:
    fan = stage.fan()
    reply = await stage.reply(fan.asks(stage.square, BALM))
    assert "answer your post once" in (await press(stage, fan, reply, TELL)).text


async def brief(stage: Stage) -> list[str]:
    plan = await planned(stage)
    page = compose(plan, {}, Jurisdiction.US, load_phrases())
    return [html(page, load_phrases()), markdown(page, load_phrases())]
