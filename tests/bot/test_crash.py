"""A crash between any two steps loses no accepted tag and answers none twice."""

from __future__ import annotations

import asyncio
import tempfile
from contextlib import AsyncExitStack
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from bot.inbox import Inbox
from bot.outbox import Outbox
from bot.people import People
from bot.store import open_database
from bot.store.inbox import Accepted
from bot.tag import Outgoing
from bot.triage import Triage
from bot.worker import Worker
from tests.bot.made import ScriptedReader, judge, tag

TEXTS = ("mist", "balm", "my eye hurts", "hello", "hola", "mist and balm")


class Platform:
    """A chat platform that outlives the bot: the same nonce gives the same message, as the real one
    promises."""

    def __init__(self) -> None:
        self.shown: dict[str, str] = {}

    def send(self, outgoing: Outgoing) -> str:
        self.shown.setdefault(outgoing.id, outgoing.text)
        return f"shown-{outgoing.id}"


class CrashMachine(RuleBasedStateMachine):
    """Each rule is one step of the bot or a crash; whatever was in hand is lost in a crash, what is on
    disk is not."""

    @initialize()
    def begin(self) -> None:
        self.folder = tempfile.TemporaryDirectory(prefix="watchglass-crash-")
        self.runner = asyncio.Runner()
        self.platform = Platform()
        self.accepted: set[str] = set()
        self.number = 0
        self._start()

    def _start(self) -> None:
        """A fresh process: nothing in memory."""
        self.claimed: Accepted | None = None
        self.found: Triage | None = None
        self.offered: Outgoing | None = None
        self.shown: tuple[str, str] | None = None
        self.stack = AsyncExitStack()
        path = Path(self.folder.name) / "w.db"
        database = self._run(self.stack.enter_async_context(open_database(path)))
        self.inbox = Inbox(database, People(b"s" * 32))
        self.outbox = Outbox(database)
        self.worker = Worker(database, self.inbox, self.outbox, ScriptedReader(), judge=judge)

    def _run(self, coroutine: Any) -> Any:
        return self.runner.run(coroutine)

    @rule()
    def crash(self) -> None:
        self._run(self.stack.aclose())
        self._start()

    @rule(text=st.sampled_from(TEXTS), again=st.booleans())
    def accept(self, text: str, again: bool) -> None:
        if not again:
            self.number += 1
        if self.number and self._run(self.inbox.accept(tag(self.number, text))):
            self.accepted.add(f"m{self.number}")

    @rule()
    def claim(self) -> None:
        self.claimed = self._run(self.inbox.table.claim())
        self.found = None

    @precondition(lambda self: self.claimed is not None)
    @rule()
    def consider(self) -> None:
        self.found = self._run(self.worker.consider(self.claimed))

    @precondition(lambda self: self.found is not None)
    @rule()
    def record(self) -> None:
        """May come twice: two workers, or one that does not know that its commit went through."""
        self._run(self.worker.record(self.claimed, self.found))

    @rule()
    def offer(self) -> None:
        async def first() -> Outgoing | None:
            async for outgoing in self.outbox.pending():
                return outgoing
            return None

        self.offered = self._run(first())

    @precondition(lambda self: self.offered is not None)
    @rule()
    def send(self) -> None:
        self.shown = (self.offered.id, self.platform.send(self.offered))

    @precondition(lambda self: self.shown is not None)
    @rule()
    def settle(self) -> None:
        self._run(self.outbox.sent(*self.shown))

    @invariant()
    def nobody_is_answered_twice(self) -> None:
        answered = [nonce.rsplit("-", 1)[0] for nonce in getattr(self, "platform", Platform()).shown]
        assert len(answered) == len(set(answered))

    def teardown(self) -> None:
        """After one last crash the bot runs to the end: then every accepted tag has its one answer."""
        if not hasattr(self, "runner"):
            return
        self.crash()
        self._run(self._drain())
        answered = sorted(nonce.rsplit("-", 1)[0] for nonce in self.platform.shown)
        assert answered == sorted(self.accepted)
        self._run(self.stack.aclose())
        self.runner.close()
        self.folder.cleanup()

    async def _drain(self) -> None:
        while await self.worker.step():
            pass
        async for outgoing in self.outbox.pending():
            await self.outbox.sent(outgoing.id, self.platform.send(outgoing))


CrashMachine.TestCase.settings = settings(
    max_examples=40,
    stateful_step_count=25,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
TestCrash = CrashMachine.TestCase
