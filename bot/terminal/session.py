"""One conversation over the real inbox, worker and outbox."""

from __future__ import annotations

import asyncio
import uuid
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import UTC, datetime

from bot.inbox import Inbox
from bot.outbox import Outbox
from bot.people import People
from bot.settings import Settings
from bot.store import Database, open_database
from bot.tag import Outgoing, Tag
from bot.triage import Judge, Reads
from bot.worker import Step, Worker

CHANNEL = "terminal"
POLL_SECONDS = 0.02


class Session:
    """Sends tags and hands back their answers. `channel` keeps its answers apart from those of other
    doors."""

    def __init__(self, database: Database, inbox: Inbox, outbox: Outbox, worker: Worker, channel: str) -> None:
        self.database = database
        self._inbox = inbox
        self._outbox = outbox
        self._worker = worker
        self._channel = channel

    async def accept(self, author: str, text: str, message_id: str | None = None) -> str | None:
        """The id under which it was accepted; None where that id was accepted before."""
        tag = Tag(
            message_id=message_id or f"{self._channel}-{uuid.uuid4().hex[:12]}",
            channel=self._channel,
            author=author,
            text=text,
            received_at=datetime.now(UTC),
        )
        return tag.message_id if await self._inbox.accept(tag) else None

    async def step(self) -> Step | None:
        return await self._worker.step()

    async def deliver(self) -> list[Outgoing]:
        """All answers that wait for this door, marked as sent."""
        delivered = []
        async for outgoing in self._outbox.pending(self._channel):
            await self._outbox.sent(outgoing.id, outgoing.id)
            delivered.append(outgoing)
        return delivered

    async def say(self, author: str, text: str) -> list[Outgoing]:
        """One message in, its answer out. Answers of an earlier, broken-off talk come first."""
        message_id = await self.accept(author, text)
        delivered: list[Outgoing] = []
        while not any(answer.message_id == message_id for answer in delivered):
            if await self.step() is None:
                # Another program works on the same database and has our message in hand.
                await asyncio.sleep(POLL_SECONDS)
            delivered += await self.deliver()
        return delivered


@asynccontextmanager
async def open_session(
    settings: Settings, reader: Reads, channel: str = CHANNEL, judge: Judge | None = None
) -> AsyncIterator[Session]:
    """Opens the database of the settings and everything on it. Raises StoreError."""
    async with open_database(settings.database) as database:
        inbox = Inbox(database, People.beside(settings.database))
        outbox = Outbox(database)
        worker = Worker(
            database,
            inbox,
            outbox,
            reader,
            jurisdiction=settings.region,
            weights=settings.weights,
            threshold=settings.queue_threshold,
            judge=judge,
        )
        yield Session(database, inbox, outbox, worker, channel)
