"""What comes in: accepted once, on disk before anything else happens."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from contextlib import suppress

from bot.people import People
from bot.store.database import Database
from bot.store.inbox import Accepted, InboxTable
from bot.tag import Tag

LOOK_AGAIN_SECONDS = 20.0


class Inbox:
    """The door for tags. Safe to call from many tasks at once.

    `looks_urgent` is a quick look at the text that puts emergencies first in the line; it may be wrong, since
    it decides the order and never the answer.
    """

    def __init__(self, database: Database, people: People, looks_urgent: Callable[[str], bool] | None = None) -> None:
        self.table = InboxTable(database)
        self._people = people
        self._looks_urgent = looks_urgent
        self._arrived = asyncio.Event()

    async def accept(self, tag: Tag) -> bool:
        """True: it is on disk and will be answered. False: it was accepted before, nothing is to be done.

        Raises StoreError where it could not be stored; then it was not accepted.
        """
        urgent = tag.urgent or (self._looks_urgent is not None and self._looks_urgent(tag.text))
        message = Accepted(
            message_id=tag.message_id,
            channel=tag.channel,
            author_key=self._people.key(tag.author),
            text=tag.text,
            received_at=int(tag.received_at.timestamp() * 1000),
            urgent=urgent,
        )
        new = await self.table.add(message)
        if new:
            self.announce()
        return new

    async def wait(self) -> None:
        """Returns when something may be waiting: after an acceptance, at once where one is waiting already, or
        after a while, since another program may have put a message back into the line."""
        self._arrived.clear()
        if await self.table.waiting() == 0:
            with suppress(TimeoutError):
                await asyncio.wait_for(self._arrived.wait(), LOOK_AGAIN_SECONDS)

    def announce(self) -> None:
        """Wakes the worker: something may be waiting that did not come through `accept`."""
        self._arrived.set()

    async def waiting(self) -> int:
        """How many accepted messages have no answer yet."""
        return await self.table.waiting()

    async def set_aside(self) -> list[Accepted]:
        """Messages that failed three times, with their reason."""
        return await self.table.set_aside()

    async def retry(self, message_id: str) -> bool:
        """Puts a message that was set aside back into the line, on the operator's demand."""
        changed = await self.table.put_back(message_id)
        if changed:
            self.announce()
        return changed
