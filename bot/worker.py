"""Takes accepted messages one by one: read, judged, and answered in one transaction."""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Callable
from concurrent.futures import Executor
from enum import StrEnum
from functools import partial
from typing import TypeVar

from bot.inbox import Inbox
from bot.memory import Memory
from bot.outbox import Outbox, milliseconds
from bot.queue.interest import THRESHOLD, Weights
from bot.record import Recorder
from bot.store.database import Database
from bot.store.errors import StoreError
from bot.store.inbox import Accepted
from bot.triage import Context, Judge, Reads, Triage, conclude, weigh
from bot.words.clean import whole_characters
from rules.assessment import Jurisdiction
from rules.recipe import Frozen

log = logging.getLogger(__name__)
T = TypeVar("T")
TRIES = 3
STARTS = 10  # a process that dies ten times on the same message: the message is the reason, not chance


class Done(StrEnum):
    ANSWERED = "answered"
    FAILED = "failed"  # it stays in the line and is tried again
    SET_ASIDE = "set_aside"  # it failed three times


class Step(Frozen):
    """What one step did. `triage` is None where the message could not be read."""

    message_id: str
    done: Done
    triage: Triage | None = None
    error: str | None = None


class Worker:
    """One worker a database. `executor` keeps the reading off the event loop; None reads on the loop. `mends`: a
    correction changes the earlier answer too."""

    def __init__(
        self,
        database: Database,
        inbox: Inbox,
        outbox: Outbox,
        reader: Reads,
        *,
        jurisdiction: Jurisdiction = Jurisdiction.US,
        weights: Weights | None = None,
        threshold: float = THRESHOLD,
        judge: Judge | None = None,
        executor: Executor | None = None,
        mends: bool = False,
        clock: Callable[[], int] = milliseconds,
    ) -> None:
        self._inbox = inbox
        self._outbox = outbox
        self._reader = reader
        self._jurisdiction = jurisdiction
        self._weights = weights or Weights()
        self._threshold = threshold
        self._judge = judge
        self._executor = executor
        self._memory = Memory(database)
        self._record = Recorder(database, inbox.table, outbox.table, clock, mends=mends)

    async def prepare(self) -> None:
        """Loads the memory of known recipes before somebody waits for it. Raises StoreError."""
        await self._memory.prepare()

    async def step(self) -> Step | None:
        """Answers the next waiting message; None where none waits. Raises StoreError, and MemoryError, which is no
        fault of the message: it stays in the line, as after the end of the process."""
        message = await self._inbox.table.claim()
        if message is None:
            return None
        if message.starts > STARTS:
            return await self._set_aside(message, f"the program ended {STARTS} times while reading it")
        try:
            found = await self.consider(message)
        except (StoreError, MemoryError):
            raise
        except Exception as error:
            return await self._failed(message, f"{type(error).__name__}: {error}"[:300])
        await self.record(message, found)
        return Step(message_id=message.message_id, done=Done.ANSWERED, triage=found)

    async def consider(self, message: Accepted) -> Triage:
        """Reads and judges; writes nothing."""
        # The text is read while the database says what is known; together they take as long as the longer one.
        reading, last, _ = await asyncio.gather(
            self._apart(partial(self._reader.read, whole_characters(message.text))),
            self._memory.last_recipe(message.author_key, message.channel),
            self._memory.prepare(),
        )
        context = Context(last_recipe=last, weights=self._weights, threshold=self._threshold)
        judged = await self._apart(partial(weigh, reading, last, self._jurisdiction, self._judge))
        recalled = [await self._memory.recall(known, message.author_key) for known in judged.sketches]
        return await self._apart(partial(conclude, judged, tuple(recalled), context, self._jurisdiction))

    async def record(self, message: Accepted, found: Triage) -> None:
        """Verdict, case and answer in one transaction; then the sender is woken."""
        await self._record.answer(message, found)
        self._outbox.announce()

    async def run(self) -> None:
        """Steps for ever, waiting for the inbox between; ends when cancelled."""
        while True:
            if await self.step() is None:
                await self._inbox.wait()

    async def _apart(self, work: Callable[[], T]) -> T:
        if self._executor is None:
            return work()
        return await asyncio.get_running_loop().run_in_executor(self._executor, work)

    async def _failed(self, message: Accepted, error: str) -> Step:
        log.warning("message %s failed, try %d: %s", message.message_id, message.attempts + 1, error)
        await self._inbox.table.note_error(message.message_id, error)
        if message.attempts + 1 >= TRIES:
            return await self._set_aside(message, error)
        return Step(message_id=message.message_id, done=Done.FAILED, error=error)

    async def _set_aside(self, message: Accepted, error: str) -> Step:
        await self._record.set_aside(message, error)
        self._outbox.announce()
        return Step(message_id=message.message_id, done=Done.SET_ASIDE, error=error)
