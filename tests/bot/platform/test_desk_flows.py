"""The creator's evening on the platform: cards, take, correct, rule, drop, undo, pages, rights, rebuilding."""

from __future__ import annotations

import io
import threading

import pytest
from matplotlib import image

from tests.bot.platform.stage import BALM, CRAYON, MIST, Stage
from tests.loopback.faults import Fault
from tests.loopback.permissions import Allow

ACTS = ("take", "correct", "rule", "drop", "undo")


async def queued(stage: Stage, text: str = CRAYON) -> int:
    """Puts one case on the desk; returns its number."""
    await stage.reply(stage.fan().asks(stage.square, text))
    card = await stage.card()
    return int(card.content.split()[1])


async def test_a_card_holds_the_numbers_the_reason_and_how_many_asked(stage: Stage) -> None:
    await queued(stage)
    card = await stage.card()
    assert "Leave this one." in card.content
    assert "One person asked" in card.content
    assert "Why it is here" in card.content
    body = card.embeds[0]["description"]
    assert "%" in body
    assert "Source:" in body


async def test_a_second_person_raises_the_count_on_the_same_card(stage: Stage) -> None:
    await queued(stage)
    await stage.reply(stage.fan("tin-lantern").asks(stage.side, CRAYON))
    await stage.card("2 people asked")
    assert len(stage.bot_posts(stage.desk)) == 1


async def test_one_tap_takes_a_case_and_another_takes_it_back(stage: Stage) -> None:
    number = await queued(stage)
    taken = stage.creator.presses(await stage.card(), "take")
    await stage.until(lambda: taken.shown)
    card = await stage.card("taken for an episode")
    undone = stage.creator.presses(card, "undo")
    await stage.until(lambda: undone.shown)
    await stage.card("waiting")
    await stage.stop()
    trail = await stage.rows("SELECT who, action, case_id FROM audit ORDER BY id")
    assert trail == [(str(stage.creator.id), act, number) for act in ("take", "undo")]


async def test_a_corrected_amount_gives_new_numbers_at_once_and_can_be_undone(stage: Stage) -> None:
    await queued(stage)
    card = await stage.card()
    form = stage.creator.presses(card, "correct")
    await stage.until(lambda: form.modal)
    sent = stage.creator.fills_in(form, lines="2 tbsp coconut oil\n1 tbsp beeswax\n1 tsp red iron oxide")
    await stage.until(lambda: sent.shown)
    assert "Fine as it is." in sent.text
    card = await stage.card("Fine as it is.")
    assert "rayon" not in card.embeds[0]["description"]
    undone = stage.creator.presses(card, "undo")
    await stage.until(lambda: undone.shown)
    await stage.card("Leave this one.")


async def test_a_correction_without_a_recipe_changes_nothing(stage: Stage) -> None:
    await queued(stage)
    form = stage.creator.presses(await stage.card(), "correct")
    await stage.until(lambda: form.modal)
    sent = stage.creator.fills_in(form, lines="the weather was fine")
    await stage.until(lambda: sent.shown)
    assert "changed nothing" in sent.text


async def test_her_ruling_is_said_in_her_words_from_the_next_tag_on(stage: Stage) -> None:
    await queued(stage)
    form = stage.creator.presses(await stage.card(), "rule")
    await stage.until(lambda: form.modal)
    sent = stage.creator.fills_in(form, verdict="leave", words="Crayons belong on paper, @everyone.")
    await stage.until(lambda: sent.shown)
    later = await stage.reply(stage.fan("tin-lantern").asks(stage.side, CRAYON))
    assert later.content.startswith("Leave this one, says the chemist. Crayons belong on paper")
    assert not stage.platform.messages.everyone_pings()
    card = await stage.card("Ruled by the creator")
    undone = stage.creator.presses(card, "undo")
    await stage.until(lambda: undone.shown)
    after = await stage.reply(stage.fan("reed-warbler").asks(stage.side, CRAYON))
    assert "says the chemist" not in after.content


@pytest.mark.parametrize(("verdict", "words"), [("purple", "No."), ("fix", "   ")])
async def test_a_ruling_that_is_not_understood_changes_nothing(stage: Stage, verdict: str, words: str) -> None:
    await queued(stage)
    form = stage.creator.presses(await stage.card(), "rule")
    await stage.until(lambda: form.modal)
    sent = stage.creator.fills_in(form, verdict=verdict, words=words)
    await stage.until(lambda: sent.shown)
    await stage.stop()
    assert await stage.rows("SELECT * FROM rulings") == []


async def test_a_dropped_case_does_not_come_back_by_another_tag(stage: Stage) -> None:
    await queued(stage)
    dropped = stage.creator.presses(await stage.card(), "drop")
    await stage.until(lambda: dropped.shown)
    await stage.card("dropped")
    await stage.reply(stage.fan("tin-lantern").asks(stage.side, CRAYON))
    listed = stage.creator.uses(stage.desk, "desk")
    await stage.until(lambda: listed.shown)
    assert "Nothing waits" in listed.text


@pytest.mark.parametrize("act", ACTS)
async def test_nobody_but_the_set_roles_may_touch_a_case(stage: Stage, act: str) -> None:
    await queued(stage)
    stranger = stage.fan("reed-warbler")
    refused = stranger.presses(await stage.card(), act)
    await stage.until(lambda: refused.shown)
    assert "creator's team" in refused.text
    forged = stranger.presses_id(await stage.card(), "wg:desk_ruled:1")
    await stage.until(lambda: forged.shown)
    await stage.stop()
    assert await stage.rows("SELECT * FROM audit") == []


async def test_with_no_role_set_nobody_may_and_the_operator_is_told_what_to_set(quiet_stage: Stage) -> None:
    quiet_stage.extra = {"creator_roles": ()}
    await quiet_stage.start()
    refused = quiet_stage.owner.uses(quiet_stage.desk, "desk")
    await quiet_stage.until(lambda: refused.shown)
    assert "WATCHGLASS_CREATOR_ROLES" in refused.text


async def test_the_queue_is_paged_and_sorted(stage: Stage) -> None:
    crafts = (
        "crayon",
        "craft glitter",
        "chalk",
        "acrylic paint",
        "neon pigment",
        "candle dye",
        "poster paint",
        "slime",
        "glue stick",
        "food colouring",
        "sidewalk chalk",
        "wall paint",
    )
    for number, craft in enumerate(crafts):
        stage.fan(f"gull-{number}").asks(stage.square, f"Lip balm: {number + 1} tbsp coconut oil, 3 tsp {craft}")
    await stage.until(lambda: len(stage.bot_posts(stage.square)) == len(crafts))
    listed = stage.creator.uses(stage.desk, "desk")
    await stage.until(lambda: listed.shown)
    first = listed.shown[0]
    assert "page 1 of" in first.content
    sorted_ = stage.creator.chooses(first, "severity")
    await stage.until(lambda: sorted_.answered and "severity" in first.content)
    if "page 1 of 2" in first.content:
        turned = stage.creator.presses(first, "next")
        await stage.until(lambda: turned.answered and "page 2 of 2" in first.content)
    opened = stage.creator.chooses(first, first.components[1]["components"][0]["options"][0]["value"])
    await stage.until(lambda: opened.shown)
    assert opened.shown[0].embeds


async def test_the_desk_can_be_rebuilt_from_the_database(stage: Stage) -> None:
    await queued(stage)
    lost = await stage.card()
    stage.platform.messages.remove(stage.desk, lost)
    rebuilt = stage.creator.uses(stage.desk, "rebuild-desk")
    await stage.until(lambda: rebuilt.shown)
    assert (await stage.card()).id != lost.id


async def test_old_buttons_work_after_a_restart(stage: Stage) -> None:
    reply = await stage.reply(stage.fan().asks(stage.square, CRAYON))
    card = await stage.card()
    await stage.restart()
    numbers = stage.fan("tin-lantern").presses(reply, "numbers")
    taken = stage.creator.presses(card, "take")
    await stage.until(lambda: numbers.shown and taken.shown)
    assert "Source:" in numbers.text
    await stage.card("taken for an episode")
    assert len(stage.bot_posts(stage.desk)) == 1


async def test_a_forum_serves_as_a_desk_too(quiet_stage: Stage) -> None:
    quiet_stage.extra = {"desk_channel": quiet_stage.forum.id}
    await quiet_stage.start()
    await quiet_stage.reply(quiet_stage.fan().asks(quiet_stage.square, CRAYON))
    world = quiet_stage.platform.world
    thread = await quiet_stage.until(
        lambda: next((c for c in world.channels.values() if c.parent_id == quiet_stage.forum.id), None)
    )
    card = next(iter(thread.messages.values()))
    taken = quiet_stage.creator.presses(card, "take")
    await quiet_stage.until(lambda: taken.shown and "taken for an episode" in card.content)


async def test_a_sound_recipe_is_not_put_on_the_desk(stage: Stage) -> None:
    await stage.reply(stage.fan().asks(stage.square, BALM))
    await queued(stage)
    assert len(stage.bot_posts(stage.desk)) == 1


async def test_a_note_is_written_once_when_a_recipe_to_avoid_makes_the_rounds(stage: Stage) -> None:
    names = ("tin-lantern", "salt-heron", "brass-plover")
    for name in names:
        await stage.reply(stage.fan(name).asks(stage.square, CRAYON))
    note = (await stage.until(lambda: stage.bot_posts(stage.notes)))[0]
    assert "Leave this one." in note.content
    assert not any(name in note.content for name in names)
    near = "Lip balm: 2 tbsp coconut oil, 1 tbsp beeswax, 1 crayon, 2 drops vitamin E"
    for name in ("gull-1", "gull-2", "gull-3"):
        await stage.reply(stage.fan(name).asks(stage.side, near))
    await stage.restart()
    await stage.reply(stage.fan("gull-4").asks(stage.side, MIST))
    assert stage.bot_posts(stage.notes) == [note]


async def test_a_card_has_a_picture_that_is_said_in_words_too_and_needs_no_colour(stage: Stage) -> None:
    await queued(stage)
    card = await stage.card()
    (picture,) = card.attachments
    assert picture["description"].startswith("What it is made of")
    assert "wax crayon" in picture["description"]
    assert "the part that decides" in picture["description"]
    content = stage.platform.messages.files[picture["filename"]]
    pixels = image.imread(io.BytesIO(content))[:, :, :3]
    assert float(abs(pixels - pixels.mean(axis=2, keepdims=True)).max()) < 0.01
    assert not card.embeds[0].get("image")


async def test_a_picture_is_sent_again_only_when_what_it_shows_has_changed(stage: Stage) -> None:
    await queued(stage)
    card = await stage.card()
    before = list(card.attachments)
    stage.platform.messages.files.clear()
    taken = stage.creator.presses(card, "take")
    await stage.until(lambda: taken.shown)
    await stage.card("taken for an episode")
    assert stage.platform.messages.files == {}
    assert card.attachments == before
    form = stage.creator.presses(card, "correct")
    await stage.until(lambda: form.modal)
    stage.creator.fills_in(form, lines="2 tbsp coconut oil\n1 tbsp beeswax\n1 tsp red iron oxide")
    await stage.card("Fine as it is.")
    assert len(stage.platform.messages.files) == 1
    assert "crayon" not in card.attachments[0]["description"]


async def test_without_the_permission_to_attach_cards_go_up_bare_and_the_owner_is_told_once(stage: Stage) -> None:
    stage.platform.world.deny_bot(stage.desk, Allow.ATTACH_FILES)
    stage.platform.channels.tell(stage.desk)
    await queued(stage)
    await stage.reply(
        stage.fan("tin-lantern").asks(stage.square, "Eye shadow: 1 tbsp shea butter, 2 tsp craft glitter")
    )
    await stage.card("Case 2")
    assert (await stage.card("Case 1")).attachments == []
    assert len([post for post in stage.bot_posts(stage.desk) if "may not attach files" in post.content]) == 1


async def test_pictures_are_drawn_beside_the_loop_and_beside_the_reading(stage: Stage) -> None:
    """A picture takes over a tenth of a second, and nobody may wait for it."""
    await queued(stage)
    assert any(thread.name.startswith("drawing") for thread in threading.enumerate())


async def test_a_card_that_the_platform_refuses_holds_up_no_other(stage: Stage) -> None:
    sends = rf"^POST /channels/{stage.desk.id}/messages$"
    stage.platform.faults.add(Fault(sends, 400, {"code": 50035, "message": "Invalid Form Body"}, times=2))
    await stage.reply(stage.fan().asks(stage.square, CRAYON))
    await stage.until(lambda: stage.platform.sent(f"/channels/{stage.desk.id}/messages"))
    stage.platform.faults.script.clear()
    await stage.reply(stage.fan("tin-lantern").asks(stage.side, "Eye shadow: 1 tbsp shea butter, 2 tsp craft glitter"))
    await stage.card("Case 2")
    await stage.restart()
    await stage.card("Case 1")
