"""From a post on the platform to an accepted tag: who may ask, what is read, what is not touched."""

from __future__ import annotations

import logging
import re
import time
from dataclasses import dataclass
from datetime import datetime

import discord

from bot.platform.cooldown import Turn
from bot.platform.files import AttachedFiles
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


@dataclass(frozen=True, slots=True)
class Post:
    """What a person gave to read. `unread` is the key of the sentence that says what of it was not read."""

    text: str
    attachments: tuple[discord.Attachment, ...] = ()
    unread: str | None = None


class Intake:
    """Takes posts that ask for a word. Never raises for what a person wrote."""

    def __init__(self, house: House) -> None:
        self._house = house
        self._files = AttachedFiles(house.settings)

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
        post = self._post(message, me)
        if post is None:
            return await self.answer(message, "quoted_hidden")
        if way != "history" and not await self._may_ask(message, author, post.text):
            return False
        post = await self.whole(post)
        return await self.accept(str(message.id), message.channel.id, message.author.id, post, message.created_at, way)

    def _post(self, message: discord.Message, me: discord.abc.User) -> Post | None:
        """What is to be read; None where only the quoted post has it and the platform hides that one."""
        own = Post(spoken(message.content), tuple(message.attachments))
        reference = message.reference
        quoted = reference.resolved if reference is not None else None
        if reference is None or own.attachments or not points_elsewhere(own.text):
            return own
        if isinstance(quoted, discord.Message):
            if quoted.author.id == me.id:
                return own
            if quoted.author.bot or self._house.people.key(str(quoted.author.id)) in self._house.quiet:
                return None
            if (hidden := spoken(quoted.content)) or quoted.attachments:
                return Post(f"{hidden}\n{own.text}".strip(), tuple(quoted.attachments))
        return None if not isinstance(quoted, discord.DeletedReferencedMessage) else own

    async def whole(self, post: Post) -> Post:
        """With the text of its files before its own words, where an edit of those finds them again."""
        files = await self._files.read(post.attachments)
        text = f"{spoken(files.text)[: LONGEST - len(post.text)]}\n{post.text}".strip() if files.text else post.text
        return Post(text, unread=files.unread)

    async def _may_ask(self, message: discord.Message, author: str, text: str) -> bool:
        turn = self.turn(author, text)
        if turn is Turn.TOLD:
            await self.answer(message, "cool_down", seconds=self.seconds_left(author))
        return turn is Turn.GO

    def turn(self, author: str, text: str) -> Turn:
        """An emergency never waits."""
        turn = self._house.cooldown.ask(author, time.monotonic())
        if turn is Turn.GO or looks_urgent(text):
            return Turn.GO
        self._house.metrics.refused.labels("cool_down").inc()
        return turn

    def seconds_left(self, author: str) -> int:
        return max(1, round(self._house.cooldown.wait(author, time.monotonic())))

    async def accept(self, message_id: str, channel: int, author: int, post: Post, at: datetime, way: str) -> bool:
        """On disk before anything else happens. Raises StoreError where it could not be stored."""
        if post.unread is not None:
            await self._house.replies.note_unread(message_id, str(channel), post.unread)
        tag = Tag(
            message_id=message_id,
            channel=str(channel),
            author=str(author),
            text=post.text,
            received_at=at,
            urgent=looks_urgent(post.text),
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
