"""What was missed while away: the history since the last post that was seen, bounded, read after a fresh session."""

from __future__ import annotations

import asyncio
import logging
from collections.abc import AsyncIterator, Sequence

import discord

from bot.platform.house import House
from bot.platform.intake import Intake
from bot.platform.outcome import outcome_or_fault, permissions
from bot.store.errors import StoreError

log = logging.getLogger(__name__)
MARK = "last_seen"
MARGIN = 60_000 << 22  # a minute in ids: posts of different channels may come out of order
SAVED_EVERY = 5.0  # seconds; an older mark only means that more is looked at twice
TRIES = 5
Readable = discord.TextChannel | discord.VoiceChannel | discord.Thread


class CatchUp:
    """Idempotent: what was accepted before is not accepted again. `gap` is the last post seen before a gap that was
    not read yet; None while nothing is missing."""

    def __init__(self, house: House, intake: Intake, client: discord.Client) -> None:
        self._house, self._intake, self._client = house, intake, client
        self._saved = 0
        self._gap: int | None = None
        self._linked = self._ready = False
        self._reading = asyncio.Lock()

    async def start(self) -> None:
        """The last post that an earlier run saw; at the very first start this moment: nothing old is answered.

        That moment is written down at once: a crash in the first seconds must not move it.
        """
        self._saved = int(await self._house.views.mark(MARK) or 0)
        if not self._saved:
            self._saved = discord.utils.time_snowflake(discord.utils.utcnow()) + MARGIN
            await self._house.views.set_mark(MARK, str(self._saved))
        self._gap = max(self._house.last_seen, self._saved)
        self._house.last_seen = max(self._house.last_seen, self._saved)

    async def keep(self) -> None:
        """Writes the mark down every few seconds, and reads again what could not be stored; ends when
        cancelled."""
        while True:
            await asyncio.sleep(SAVED_EVERY)
            try:
                await self.save()
                if self._gap is not None and self._ready:
                    await self.ready()
            except StoreError as error:
                log.error("the mark could not be kept: %s", error)

    async def save(self) -> None:
        """Never beyond a gap, so that a crash while catching up loses nothing."""
        seen = self._house.last_seen if self._gap is None else self._gap
        if seen > self._saved:
            await self._house.views.set_mark(MARK, str(seen))
            self._saved = seen

    def connected(self) -> None:
        """A session began or goes on."""
        self._linked = True

    def missed(self, message_id: int) -> None:
        """This post could not be stored: it will be read again."""
        self._gap = min(message_id - 1, message_id if self._gap is None else self._gap)

    def lost(self) -> None:
        """The link went: from here on posts may be missed."""
        self._linked = False
        if self._gap is None:
            self._gap = self._house.last_seen

    def resumed(self) -> None:
        """The platform replays what was missed by itself; a gap from before the session is still to be read."""
        self._linked = True
        if self._ready and not self._reading.locked():
            self._gap = None

    async def ready(self) -> None:
        """A fresh session: what came in the gap has to be read. The library may say so after the link went again."""
        async with self._reading:
            if not self._linked:
                return
            self._ready = True
            if self._gap is not None:
                await self._read(max(0, self._gap - MARGIN))
            if self._linked:
                self._gap = None

    async def _read(self, since: int) -> None:
        """Every channel that has posts after `since` (an id); those that fail are tried again a few times."""
        left, todo = self._house.settings.catch_up_messages, [channel async for channel in self._channels(since)]
        for tries in range(TRIES):
            failed: list[Readable] = []
            for channel in todo:
                try:
                    left -= await self._channel(channel, since, left)
                except StoreError:
                    raise
                except Exception as error:
                    if self._client.is_closed():
                        raise
                    log.warning("channel %d could not be caught up: %s", channel.id, outcome_or_fault(error).value)
                    failed.append(channel)
            if left <= 0:
                log.warning("catching up stopped at %d posts", self._house.settings.catch_up_messages)
            if not failed:
                return
            todo = failed
            await asyncio.sleep(1.0 + tries)

    async def _channels(self, since: int) -> AsyncIterator[Readable]:
        for guild in self._client.guilds:
            channels: list[object] = [*guild.text_channels, *guild.voice_channels, *guild.threads]
            # A server that says nothing of its channels is asked.
            for channel in channels or await self._asked(guild):
                if not isinstance(channel, Readable):
                    continue
                allowed = permissions(channel)
                readable = allowed is None or (allowed.view_channel and allowed.read_message_history)
                # No last post may also mean that the server does not say it.
                if readable and (channel.last_message_id is None or channel.last_message_id > since):
                    yield channel

    async def _asked(self, guild: discord.Guild) -> Sequence[discord.abc.GuildChannel]:
        try:
            return await guild.fetch_channels()
        except discord.HTTPException as error:
            log.warning("the channels of a server are not known: %s", outcome_or_fault(error).value)
            return ()

    async def _channel(self, channel: Readable, since: int, limit: int) -> int:
        """How many posts were read."""
        read, me = 0, self._client.user
        if limit <= 0 or me is None:
            return 0
        async for post in channel.history(after=discord.Object(since), limit=limit, oldest_first=True):
            read += 1
            self._house.last_seen = max(self._house.last_seen, post.id)
            await self._intake.heard(post, me, "history")
        return read
