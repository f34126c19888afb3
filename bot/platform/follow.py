"""A reply follows its post: it changes with an edit, goes with a deletion, and stays away when it was removed."""

from __future__ import annotations

import contextlib
import logging

import discord

from bot.platform.cooldown import Turn
from bot.platform.house import House
from bot.platform.intake import Intake, Post, spoken
from bot.platform.placed import place_line, without_place
from bot.store.replies import Reply
from bot.urgency import looks_urgent
from bot.words.phrases import HOME
from rules.recipe import Site

log = logging.getLogger(__name__)


class Follow:
    def __init__(self, house: House, intake: Intake, client: discord.Client) -> None:
        self._house, self._intake, self._client = house, intake, client

    async def edited(self, message: discord.Message, me: discord.abc.User) -> None:
        """Pins and link previews come here too: only other words count."""
        if message.author.bot:
            return
        known = await self._house.replies.get(str(message.id))
        if known is None:
            if message.edited_at is not None:
                await self._intake.heard(message, me, "edit")
            return
        text = spoken(message.content)
        # Without the mention the platform hides the text; an empty one says nothing about what was written.
        if not text or self._same(known, text) or known.author_key in self._house.quiet:
            return
        if self._intake.turn(known.author_key, text) is not Turn.GO:
            return
        post = await self._intake.whole(Post(text, tuple(message.attachments)))
        await self.revise(known, post.text)

    def _same(self, known: Reply, text: str) -> bool:
        """Also where the words of a quoted post stand before it."""
        before, _ = without_place(known.text)
        return text == before or before.endswith(f"\n{text}")

    async def revise(self, known: Reply, text: str, place: Site | None = None) -> None:
        """Reads it again as `text`; our post changes when that is done."""
        if known.removed:
            return
        if place is not None:
            text += place_line(place, known.language or HOME)
        async with self._house.reading:
            known_still = await self._house.replies.revise(known.message_id, text, looks_urgent(text), place)
        if known_still:
            self._house.metrics.accepted.labels("edit").inc()
            self._house.inbox.announce()

    async def deleted(self, message_id: int) -> None:
        """Our own post, or one that we answered, or one that others had us check."""
        ours = await self._house.replies.by_reply(str(message_id))
        if ours is not None:
            await self._house.replies.remove(ours.message_id, ours.channel)
            return
        known = await self._house.replies.get(str(message_id))
        for gone in [*([known] if known else []), *await self._house.replies.about(str(message_id))]:
            await self.withdraw(gone)

    async def withdraw(self, known: Reply) -> None:
        """Words first, then our post, so that a crash between leaves a post and no words."""
        cases = await self._house.privacy.withdraw(known.message_id)
        await self._house.replies.remove(known.message_id, known.channel)
        self._house.touch(*cases)
        if known.reply_id is not None and known.token is None:
            await self.take_down(known)

    async def take_down(self, known: Reply) -> None:
        """Deletes our post; it may be gone already."""
        if known.reply_id is None:
            return
        channel = self._client.get_partial_messageable(int(known.channel))
        with contextlib.suppress(discord.NotFound, discord.Forbidden):
            await channel.get_partial_message(int(known.reply_id)).delete()
