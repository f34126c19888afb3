"""The picture on a card: what the recipe is made of, and the scale of the number that decides, said in words too."""

from __future__ import annotations

import asyncio
import hashlib
import io
from dataclasses import dataclass
from functools import partial

import discord

from bot.brief.charts import card
from bot.brief.paint import Form, Picture, draw
from bot.platform.house import House
from bot.store.cases import Case
from bot.words.clean import cut
from bot.words.finding import Scene
from bot.words.phrases import Phrases

LONGEST_ALT = 1024
GIVES_WAY, LOOKED_EVERY = 2.0, 0.1  # seconds in which whoever waits for an answer goes first


@dataclass(frozen=True, slots=True)
class CardPicture:
    """`alt` says all that the pictures show, so it also tells whether they changed."""

    pictures: tuple[Picture, ...]
    alt: str

    @property
    def fingerprint(self) -> str:
        return hashlib.sha256(self.alt.encode()).hexdigest()[:16]


def picture_of(case: Case, words: Phrases) -> CardPicture | None:
    """None for a case without a recipe, or without any number to draw."""
    if case.recipe is None or case.assessment is None:
        return None
    pictures = card(Scene.of(case.recipe, case.assessment, words))
    alt = " ".join(f"{picture.title}. {picture.alt}" for picture in pictures)
    return CardPicture(tuple(pictures), alt) if pictures else None


async def drawn(house: House, case: Case, picture: CardPicture) -> discord.File:
    """An attachment and no part of the embed, since only that is read out with its words. Drawn in another thread."""
    for _ in range(round(GIVES_WAY / LOOKED_EVERY)):
        if not await house.inbox.waiting():
            break
        await asyncio.sleep(LOOKED_EVERY)
    loop = asyncio.get_running_loop()
    content = await loop.run_in_executor(house.drawing, partial(draw, picture.pictures, Form.PNG))
    return discord.File(io.BytesIO(content), f"case-{case.id}.png", description=cut(picture.alt, LONGEST_ALT))
