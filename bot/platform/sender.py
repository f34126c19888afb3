"""Empties the outbox: one task a channel keeps the order there, a few at a time, and trouble in one stops no other."""

from __future__ import annotations

import asyncio
import logging
import random
import time

import discord

from bot.platform.delivery import Delivery
from bot.platform.house import House
from bot.platform.notices import Notices
from bot.platform.outcome import Outcome, missing
from bot.store.backup import RESTORED
from bot.store.errors import StoreError
from bot.tag import Outgoing

log = logging.getLogger(__name__)
AT_ONCE = 8  # requests in flight; after a global refusal no more than these are in vain
SHORTEST, LONGEST = 0.5, 60.0  # seconds between tries
PAUSED_SECONDS = 600.0
TRIES = 3


class Sender:
    def __init__(self, house: House, client: discord.Client, delivery: Delivery, notices: Notices) -> None:
        self._house, self._client, self._delivery, self._notices = house, client, delivery, notices
        self._busy: dict[str, asyncio.Task[None]] = {}
        self._slots = asyncio.Semaphore(AT_ONCE)
        self._paused: dict[str, float] = {}
        self._faults: dict[str, int] = {}
        self._working: set[str] = set()

    async def run(self) -> None:
        """For ever; ends when cancelled, and lets nothing half done behind that a restart would not repair."""
        try:
            self._delivery.doubtful.update(await self._house.outbox.table.in_doubt())
            self._delivery.restored_at = int(await self._house.views.mark(RESTORED) or 0)
            while True:
                try:
                    await self._round()
                except StoreError as error:
                    self._trouble("store", error)
                    await asyncio.sleep(SHORTEST)
        finally:
            for task in self._busy.values():
                task.cancel()
            await asyncio.gather(*self._busy.values(), return_exceptions=True)

    async def _round(self) -> None:
        """Gives every channel with answers its task, then waits until something is written or done."""
        self._house.outbox.listen()
        for channel in await self._house.outbox.table.channels():
            if channel not in self._busy and self._paused.get(channel, 0.0) <= time.monotonic():
                self._paused.pop(channel, None)
                self._busy[channel] = asyncio.create_task(self._empty(channel))
        self._house.metrics.paused.set(len(self._paused))
        wait = min(self._paused.values(), default=time.monotonic() + LONGEST) - time.monotonic()
        await self._house.outbox.written(max(SHORTEST, wait))

    async def _empty(self, channel: str) -> None:
        """Sends what waits in the channel, in order; what comes meanwhile is found by the next round."""
        try:
            async for outgoing in self._house.outbox.pending(channel):
                if not await self._send(channel, outgoing):
                    return
        except StoreError as error:
            self._trouble("store", error)
            self._paused[channel] = time.monotonic() + SHORTEST
        finally:
            del self._busy[channel]
            self._house.outbox.announce()

    async def _send(self, channel: str, outgoing: Outgoing) -> bool:
        """Until it is settled; False where the channel has to wait."""
        pause = SHORTEST
        while True:
            if lacking := missing(self._client.get_channel(int(channel))):
                await self._pause(channel, lacking)
                return False
            async with self._slots:
                outcome = await self._try(outgoing)
            self._house.metrics.sent.labels(outcome.value).inc()
            if outcome is Outcome.FORBIDDEN:
                await self._pause(channel, missing(self._client.get_channel(int(channel))))
                return False
            if outcome is Outcome.SENT:
                await self._works(channel)
            if outcome is not Outcome.LATER:
                return True
            await asyncio.sleep(pause * random.uniform(0.8, 1.2))
            pause = min(LONGEST, pause * 2)

    async def _try(self, outgoing: Outgoing) -> Outcome:
        """A fault of ours costs this answer, after a few tries, and no other."""
        try:
            return await self._delivery.deliver(outgoing)
        except StoreError:
            raise
        except Exception as error:
            self._trouble("sender", error)
            tries = self._faults[outgoing.id] = self._faults.get(outgoing.id, 0) + 1
            if tries < TRIES:
                return Outcome.LATER
            del self._faults[outgoing.id]
            await self._house.outbox.failed(outgoing.id, f"fault: {type(error).__name__}")
            return Outcome.REFUSED

    async def _works(self, channel: str) -> None:
        """From now on a lack of permissions there is news again."""
        if channel not in self._working:
            self._working.add(channel)
            await self._notices.works_again(channel)

    async def _pause(self, channel: str, lacking: list[str]) -> None:
        """No more requests there for a while; the owner is told once, until the channel works again."""
        self._paused[channel] = time.monotonic() + PAUSED_SECONDS
        self._working.discard(channel)
        self._house.metrics.paused.set(len(self._paused))
        await self._notices.no_permission(channel, lacking)

    def resume(self) -> None:
        """Permissions changed somewhere: paused channels are tried again at once."""
        if self._paused:
            self._paused.clear()
            self._house.outbox.announce()

    @property
    def paused(self) -> list[str]:
        return sorted(self._paused)

    def _trouble(self, part: str, error: Exception) -> None:
        self._house.metrics.failures.labels(part).inc()
        trace = None if isinstance(error, StoreError) else error
        log.error("sending: %s", type(error).__name__, exc_info=trace)
