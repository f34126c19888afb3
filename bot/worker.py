"""Takes accepted messages one by one: read, judged, and answered in one transaction."""

from __future__ import annotations

from enum import StrEnum

from rules.recipe import Frozen


class Done(StrEnum):
    ANSWERED = "answered"
    FAILED = "failed"  # it stays in the line and is tried again
    SET_ASIDE = "set_aside"  # it failed three times


class Step(Frozen):
    """What one step did."""

    message_id: str
    done: Done
    error: str | None = None


class Worker:
    """One worker a database. Made as Worker(database, inbox, outbox, reader, settings)."""

    async def step(self) -> Step | None:
        """Answers the next waiting message; None where none waits. Raises StoreError only."""
        return None

    async def run(self) -> None:
        """Steps for ever, waiting for the inbox between; ends when cancelled."""
