"""Everybody is spoken to in their own language: buttons, notices, forms, commands, and the place that is chosen."""

from __future__ import annotations

from itertools import cycle

import pytest

from bot.platform.placed import PlacedReader, place_line, without_place
from bot.platform.tongue import of_locale
from bot.tongue import of_text
from bot.words.phrases import languages
from nlp.reader import default_reader
from rules.recipe import Site
from tests.bot.platform.stage import Stage
from tests.loopback.limits import walk

BALSAMO = "Bálsamo para los labios: 2 cucharadas de aceite de coco, 1 crayón"
BRUMA = "Bruma facial para guardar: 1 taza de agua de rosas, 1 cucharada de glicerina"


@pytest.mark.parametrize(
    ("locale", "language"),
    [("es-419", "es"), ("pt-BR", "pt"), ("fr", "fr"), ("en-GB", "en"), ("ja", "en"), ("", "en")],
)
def test_a_locale_is_answered_in_the_nearest_language_that_we_have(locale: str, language: str) -> None:
    assert of_locale(locale) == language


@pytest.mark.parametrize(("place", "language"), list(zip(Site, cycle(languages()), strict=False)))
def test_a_chosen_place_is_taken_as_it_is_in_every_language(language: str, place: Site) -> None:
    """Whatever the words before it make the reader think."""
    text = "Balm: 1 tbsp beeswax, 2 tbsp coconut oil" + place_line(place, language)
    assert without_place(text) == ("Balm: 1 tbsp beeswax, 2 tbsp coconut oil", place)
    (recipe,) = PlacedReader(default_reader()).read(text).recipes
    assert recipe.sites == (place,)
    assert len(recipe.lines) == 2


@pytest.mark.parametrize(
    ("text", "language"),
    [
        (BRUMA, "es"),
        ("ok?", None),
        ("the ferry to the quay was late again today", "en"),
        ("渡し船は遅れた", None),
    ],
)
def test_the_language_of_words_is_told_only_where_enough_of_them_say_it(text: str, language: str | None) -> None:
    assert of_text(text) == language


async def test_a_spanish_post_gets_spanish_words_and_buttons(stage: Stage) -> None:
    reply = await stage.reply(stage.fan().asks(stage.square, BALSAMO))
    assert reply.content.startswith("Esta mejor no la uses.")
    labels = [item["label"] for item in walk(reply.components) if item["type"] == 2]
    assert "Cifras y fuentes" in labels
    assert "Quitar" in labels


async def test_a_place_chosen_under_a_spanish_post_leaves_the_answer_spanish(stage: Stage) -> None:
    fan = stage.fan()
    post = fan.asks(stage.square, BRUMA)
    reply = await stage.reply(post)
    data = {"custom_id": f"wg:place:{post.id}", "component_type": 3, "values": ["lips"]}
    stage.platform.interactions.send(3, stage.square, fan.member, data, reply)
    await stage.until(lambda: [r for r in stage.platform.sent(method="PATCH") if str(reply.id) in r.path])
    assert reply.content.startswith("Corrígela primero.")
    await stage.stop()
    assert (await stage.rows("SELECT text FROM inbox")) == [(f"{BRUMA}\nVa en los labios.",)]
    assert (await stage.rows("SELECT language FROM tags")) == [("es",)]


async def test_notices_come_in_the_language_of_the_presser_or_of_the_post(quiet_stage: Stage) -> None:
    quiet_stage.extra = {"cooldown_tags": 1}
    await quiet_stage.start()
    stage = quiet_stage
    fan = stage.fan("reed-warbler", locale="fr")
    reply = await stage.reply(fan.asks(stage.square, BALSAMO))
    pressed = stage.fan("tin-lantern", locale="pt-BR").presses(reply, "Quitar")
    helped, mine = fan.uses(stage.square, "help"), fan.uses(stage.square, "my-data")
    quick = await stage.reply(fan.asks(stage.square, BALSAMO))
    await stage.until(lambda: pressed.shown and helped.shown and mine.shown)
    assert "Só quem perguntou" in pressed.text
    assert "Mentionnez-moi" in helped.text
    assert "Je garde 1 messages" in mine.text
    assert "¡Qué rapidez!" in quick.content


async def test_few_words_are_answered_in_the_language_of_the_server(quiet_stage: Stage) -> None:
    quiet_stage.platform.world.preferred_locale = "pt-BR"
    await quiet_stage.start()
    stage = quiet_stage
    hidden = stage.fan("tin-lantern").says(stage.square, "1 tbsp oil")
    asked = stage.fan().says(stage.square, f"{stage.platform.world.bot.mention} ok?", reply_to=hidden)
    assert "Verificar esta receita" in (await stage.reply(asked)).content


async def test_commands_are_described_in_every_language_that_we_speak(stage: Stage) -> None:
    commands = {row["name"]: row for row in stage.platform.world.commands}
    assert commands["help"]["description_localizations"]["es-ES"] == "Qué hago, con un ejemplo"
    assert commands["check"]["options"][0]["description_localizations"]["fr"].startswith("Ce qu'elle contient")
    assert "de" not in commands["help"]["description_localizations"]
