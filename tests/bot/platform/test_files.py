"""Attached text files are read like words, from the platform's own host alone; everything else is said to be unread."""

from __future__ import annotations

import pytest

from bot.platform.files import AttachedFiles
from bot.settings import Settings
from tests.bot.platform.stage import BALM, CRAYON, MIST, URGENT, Stage

MENU = "Check this recipe"


async def test_a_recipe_in_a_text_file_is_answered_like_one_in_words(stage: Stage) -> None:
    fan = stage.fan()
    for name in ("recipe.txt", "Recipe.MD"):
        reply = await stage.reply(fan.asks(stage.square, "", files=(fan.file(name, MIST.encode()),)))
        assert reply.content.startswith("Fix it first.")
        assert "can't see" not in reply.content
    assert stage.platform.uploads.signed_in == []


async def test_a_question_and_its_file_are_read_together_and_an_edit_of_either_is_followed(stage: Stage) -> None:
    fan = stage.fan()
    post = fan.asks(
        stage.square, "for my lips", files=(fan.file("a.txt", b"2 tbsp coconut oil, 1 tbsp beeswax, 1 crayon"),)
    )
    reply = await stage.reply(post)
    assert reply.content.startswith("Leave this one.")
    fetched = len(stage.platform.uploads.fetched)
    fan.edits(post, post.content)
    fan.edits(post, f"{stage.platform.world.bot.mention} for the lips, by the way")
    await stage.until(lambda: len(stage.platform.uploads.fetched) > fetched)
    await stage.until(lambda: [r for r in stage.platform.sent(method="PATCH") if str(reply.id) in r.path])
    assert reply.content.startswith("Leave this one.")
    assert len(stage.platform.uploads.fetched) == fetched + 1


async def test_a_file_is_read_by_right_click_and_after_a_time_away_too(stage: Stage) -> None:
    fan, other = stage.fan(), stage.fan("tin-lantern")
    post = fan.says(stage.square, "", files=(fan.file("a.txt", MIST.encode()),))
    clicked = other.right_clicks(post, MENU)
    await stage.until(lambda: clicked.shown)
    assert clicked.text.startswith("Fix it first.")
    await stage.stop()
    missed = fan.asks(stage.square, "", files=(fan.file("b.txt", BALM.encode()),))
    await stage.start()
    assert (await stage.reply(missed)).content.startswith("Fine as it is.")


async def test_a_picture_is_said_to_be_unread_with_words_and_without(stage: Stage) -> None:
    fan = stage.fan()
    picture = fan.file("jar.png", b"\x89PNG")
    with_words = await stage.reply(fan.asks(stage.square, CRAYON, files=(picture,)))
    assert with_words.content.startswith("Leave this one.")
    assert with_words.content.endswith("I can't see pictures or open other files; I read only the text.")
    alone = await stage.reply(fan.asks(stage.square, "", files=(picture,)))
    assert alone.content.count("can't read pictures") == 1
    assert "can't see" not in alone.content
    clicked = fan.right_clicks(fan.says(stage.square, "", files=(picture,)), MENU)
    await stage.until(lambda: clicked.shown)
    assert "can't see pictures" in clicked.text
    assert stage.platform.uploads.fetched == []


async def test_an_emergency_with_a_picture_is_told_first_aid_and_nothing_else(stage: Stage) -> None:
    fan = stage.fan()
    reply = await stage.reply(fan.asks(stage.square, URGENT, files=(fan.file("eye.jpg", b"x"),)))
    assert "pictures" not in reply.content


UNREAD = (
    ("long.txt", b"x" * 65_537, {}, "over 64 kB"),
    ("sly.txt", b"x" * 70_000, {"size": 10}, "over 64 kB"),
    ("latin.txt", "crème".encode("latin-1"), {}, "no plain text"),
    ("zip.txt", b"PK\x03\x04\x00\x00", {}, "no plain text"),
    ("port.txt", b"x", {"url": "http://127.0.0.1:1/attachments/1/2/port.txt"}, "could not fetch"),
    ("far.txt", b"x", {"url": "http://lantern-quay.example/attachments/1/2/far.txt"}, "could not fetch"),
)


async def test_a_file_that_is_not_read_is_said_to_be_and_opened_only_where_that_is_safe(stage: Stage) -> None:
    for name, content, told, says in UNREAD:
        fan = stage.fan(f"gull-{name}")
        reply = await stage.reply(fan.asks(stage.square, BALM, files=(fan.file(name, content, **told),)))
        assert reply.content.startswith("Fine as it is."), name
        assert says in reply.content, name
    opened = [path.rsplit("/", 1)[1] for path in stage.platform.uploads.fetched]
    assert opened == ["sly.txt", "latin.txt", "zip.txt"]


async def test_no_redirect_is_followed_and_no_endless_file_is_read_to_its_end(stage: Stage) -> None:
    fan, uploads = stage.fan(), stage.platform.uploads
    uploads.elsewhere["a.txt"] = f"{stage.platform.api_url}/users/@me"
    uploads.endless.add("b.txt")
    files = (fan.file("a.txt", b"x"), fan.file("b.txt", b"x"))
    reply = await stage.reply(fan.asks(stage.square, BALM, files=files))
    assert "could not fetch" in reply.content
    assert len(uploads.fetched) == 2
    assert len(stage.platform.sent("/users/@me", "GET")) == 1


ADDRESSES = {
    "https://cdn.discordapp.com/attachments/1/2/a.txt?ex=1": True,
    "https://cdn.discordapp.com/ephemeral-attachments/1/2/a.txt": True,
    "http://cdn.discordapp.com/attachments/1/2/a.txt": False,
    "https://cdn.discordapp.com:8443/attachments/1/2/a.txt": False,
    "https://cdn.discordapp.com.lantern-quay.example/attachments/1/2/a.txt": False,
    "https://cdn.discordapp.com@lantern-quay.example/attachments/1/2/a.txt": False,
    "https://user@cdn.discordapp.com/attachments/1/2/a.txt": False,
    "https://cdn.discordapp.com/attachments/../avatars/1/a.txt": False,
    "https://127.0.0.1/attachments/1/2/a.txt": False,
    "file:///etc/hostname": False,
    "//cdn.discordapp.com/attachments/1": False,
    "http://[": False,
    "": False,
}


@pytest.mark.parametrize(("address", "allowed"), ADDRESSES.items())
def test_only_the_platforms_own_files_are_fetched(address: str, allowed: bool) -> None:
    assert AttachedFiles(Settings()).allowed(address) is allowed


def test_another_server_of_the_protocol_keeps_its_files_itself() -> None:
    files = AttachedFiles(Settings(api_url="http://127.0.0.1:8080/api/v10"))
    assert files.allowed("http://127.0.0.1:8080/files/a.txt")
    assert not files.allowed("http://127.0.0.1:8081/files/a.txt")
