"""From a post on the platform to an accepted tag: who may ask, what is read, what is not touched."""

from __future__ import annotations

import logging
import re
import time
from datetime import datetime

import discord

from bot.platform.cooldown import Turn
from bot.platform.house import House
from bot.platform.tongue import of_post
from bot.tag import Tag
from bot.urgency import looks_urgent
from bot.words.phrases import load_phrases

log = logging.getLogger(__name__)
LONGEST = 8000  # characters that are read, twice what the platform takes
MENTION = re.compile(r"<(?:@[!&]?|#)\d{1,20}>|<a?:\w{2,32}:\d{1,20}>")
SPACES = re.compile(r"[ \t]{2,}")
# "is this ok?" under somebody's recipe: too few words to hold a recipe themselves.
POINTING_WORDS = 12
WORDS = re.compile(r"\w+")
FIGURES = re.compile(r"\d|[½¼¾⅓⅔]")


def spoken(content: str) -> str:
    """The words of a post without mentions and custom emoji."""
    return SPACES.sub(" ", MENTION.sub(" ", content)).strip()[:LONGEST]


def points_elsewhere(text: str) -> bool:
    """Whether the words only point at another post, and hold nothing to judge themselves."""
    return len(WORDS.findall(text)) <= POINTING_WORDS and not FIGURES.search(text)


class Intake:
    """Takes posts that ask for a word. Never raises for what a person wrote."""

    def __init__(self, house: House) -> None:
        self._house = house

    def addressed(self, message: discord.Message, me: discord.abc.User) -> bool:
        """A person, by mention or by an answer to us; never a bot, a webhook or an announcement."""
        if message.author.bot or message.webhook_id is not None:
            return False
        if message.type not in (discord.MessageType.default, discord.MessageType.reply):
            return False
        return any(user.id == me.id for user in message.mentions)

    async def heard(self, message: discord.Message, me: discord.abc.User, way: str = "mention") -> bool:
        """A post that may address us; True where it was accepted."""
        if not self.addressed(message, me):
            return False
        author = self._house.people.key(str(message.author.id))
        if author in self._house.quiet:
            self._house.metrics.refused.labels("quiet").inc()
            return False
        text = self._text(message, me)
        if text is None:
            return await self.answer(message, "quoted_hidden")
        urgent = looks_urgent(text)
        if way != "history" and not await self._may_ask(message, author, urgent):
            return False
        return await self.accept(
            str(message.id), message.channel.id, message.author.id, text, message.created_at, way, urgent
        )

    def _text(self, message: discord.Message, me: discord.abc.User) -> str | None:
        """What is to be read; None where only the quoted post has it and the platform hides that one."""
        own = spoken(message.content)
        reference = message.reference
        quoted = reference.resolved if reference is not None else None
        if reference is None or not points_elsewhere(own):
            return own
        if isinstance(quoted, discord.Message):
            if quoted.author.id == me.id:
                return own
            if quoted.author.bot or self._house.people.key(str(quoted.author.id)) in self._house.quiet:
                return None
            if hidden := spoken(quoted.content):
                return f"{hidden}\n{own}".strip()
        return None if not isinstance(quoted, discord.DeletedReferencedMessage) else own

    async def _may_ask(self, message: discord.Message, author: str, urgent: bool) -> bool:
        turn = self.turn(author, urgent)
        if turn is Turn.TOLD:
            await self.answer(message, "cool_down", seconds=self.seconds_left(author))
        return turn is Turn.GO

    def turn(self, author: str, urgent: bool) -> Turn:
        """An emergency never waits."""
        if urgent:
            return Turn.GO
        turn = self._house.cooldown.ask(author, time.monotonic())
        if turn is not Turn.GO:
            self._house.metrics.refused.labels("cool_down").inc()
        return turn

    def seconds_left(self, author: str) -> int:
        return max(1, round(self._house.cooldown.wait(author, time.monotonic())))

    async def accept(
        self, message_id: str, channel: int, author: int, text: str, at: datetime, way: str, urgent: bool
    ) -> bool:
        """On disk before anything else happens. Raises StoreError where it could not be stored."""
        tag = Tag(
            message_id=message_id,
            channel=str(channel),
            author=str(author),
            text=text,
            received_at=at,
            urgent=urgent,
        )
        new = await self._house.inbox.accept(tag)
        if new:
            self._house.metrics.accepted.labels(way).inc()
        return new

    async def answer(self, message: discord.Message, key: str, **facts: object) -> bool:
        """A word of our own without reading: kept and sent like every other answer, so that it is said once."""
        words = load_phrases(of_post(message, spoken(message.content))).say("platform", key, **facts)
        said = await self._house.replies.answer_at_once(
            str(message.id),
            str(message.channel.id),
            self._house.people.key(str(message.author.id)),
            words,
            int(message.created_at.timestamp() * 1000),
        )
        if said:
            self._house.outbox.announce()
        return said
