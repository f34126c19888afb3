"""What goes out: written with the verdict in one transaction, sent at least once, seen once.

Seen once, because the sender hands `outgoing.id` to the platform as its nonce: a repeat after a crash is the
same message to the platform. `nonce` and row are one key, so no answer can have two rows.
"""

from __future__ import annotations

import asyncio
import time
from collections.abc import AsyncIterator, Callable
from contextlib import suppress

from bot.store.database import Database
from bot.store.outbox import OutboxTable
from bot.tag import Outgoing


def milliseconds() -> int:
    return int(time.time() * 1000)


class Outbox:
    """The door for answers; one sender reads it."""

    def __init__(self, database: Database, clock: Callable[[], int] = milliseconds) -> None:
        self.table = OutboxTable(database)
        self._clock = clock
        self._written = asyncio.Event()

    async def pending(self, channel: str | None = None) -> AsyncIterator[Outgoing]:
        """All answers that wait now (in one channel, or in all), urgent first, then in order; then it ends.

        Call `sent` or `failed` for each. One that got neither is yielded again by the next call, never twice
        by the same.
        """
        unsettled: set[str] = set()
        while True:
            # One at a time: an emergency that arrives meanwhile goes next.
            page = await self.table.pending(len(unsettled) + 1, channel)
            unsettled &= {outgoing.id for outgoing in page}
            fresh = next((outgoing for outgoing in page if outgoing.id not in unsettled), None)
            if fresh is None:
                return
            unsettled.add(fresh.id)
            yield fresh

    async def sent(self, outgoing_id: str, platform_message_id: str) -> bool:
        """The platform has it. False where that was known already."""
        return await self.table.sent(outgoing_id, platform_message_id, self._clock())

    async def failed(self, outgoing_id: str, error: str) -> bool:
        """The platform will never take it (the message or the channel is gone): do not try again."""
        return await self.table.failed(outgoing_id, error)

    async def answers(self, message_id: str) -> list[Outgoing]:
        """The answer to one message, all parts, sent or not; for the `more` button."""
        return await self.table.answers(message_id)

    async def wait(self) -> None:
        """Returns when something may be pending."""
        self._written.clear()
        if await self.table.waiting() == 0:
            await self._written.wait()

    def listen(self) -> None:
        """Call before looking, so that nothing written after the look is missed by `written`."""
        self._written.clear()

    async def written(self, seconds: float) -> None:
        """Returns when something was written since `listen`, or after so many seconds."""
        with suppress(TimeoutError):
            await asyncio.wait_for(self._written.wait(), seconds)

    def announce(self) -> None:
        """Wakes the sender; the worker calls it after its commit."""
        self._written.set()
