"""How long one message takes, and one commit.

Run: pytest -n 0 tests/bench/bench_bot.py --benchmark-only
"""

from __future__ import annotations

import asyncio
import random
from collections.abc import Iterator
from contextlib import AsyncExitStack
from itertools import count
from pathlib import Path

import pytest

from bot.batch import run
from bot.inbox import Inbox
from bot.outbox import Outbox
from bot.people import People
from bot.queue.likeness import LikenessIndex, Sketch
from bot.store import open_database
from bot.terminal.demo import load_messages
from bot.triage import Context, triage
from bot.worker import Worker
from nlp.reader import default_reader
from rules.assessment import Jurisdiction, Verdict
from tests.bot.made import ScriptedReader, judge, tag

TEXTS = [message.text for message in load_messages()]


def test_triage_of_one_message(benchmark) -> None:
    """The whole of reading, judging and wording, the demo's messages in turn."""
    reader, context = default_reader(), Context()
    turn = count()

    def one() -> None:
        triage(TEXTS[next(turn) % len(TEXTS)], context, reader=reader, jurisdiction=Jurisdiction.US)

    for _ in TEXTS:
        one()
    benchmark(one)


def test_batch_of_the_demo(benchmark, tmp_path: Path) -> None:
    """`assess --json` on the demo's messages ten times over, without the start of the process."""
    import json

    file = tmp_path / "in.jsonl"
    rows = [json.dumps({"id": str(n), "text": text}) for n, text in enumerate(TEXTS * 10)]
    file.write_text("\n".join(rows))
    out: list[str] = []

    def all_of_it() -> None:
        with file.open("rb") as source:
            run(source, default_reader(), Jurisdiction.US, write=out.append, complain=out.append)

    benchmark.pedantic(all_of_it, rounds=3, warmup_rounds=1)
    benchmark.extra_info["messages per second"] = len(rows) / benchmark.stats.stats.mean


@pytest.fixture
def house(tmp_path: Path) -> Iterator[tuple[asyncio.Runner, Inbox, Worker]]:
    with asyncio.Runner() as runner:
        stack = AsyncExitStack()
        database = runner.run(stack.enter_async_context(open_database(tmp_path / "w.db")))
        inbox, outbox = Inbox(database, People(b"s" * 32)), Outbox(database)
        yield runner, inbox, Worker(database, inbox, outbox, ScriptedReader(), judge=judge)
        runner.run(stack.aclose())


def test_accepting_one_tag(benchmark, house: tuple[asyncio.Runner, Inbox, Worker]) -> None:
    """One commit to disk, synchronous FULL."""
    runner, inbox, _ = house
    turn = count()
    benchmark(lambda: runner.run(inbox.accept(tag(next(turn), "mist"))))


def test_one_step_of_the_worker_without_reading(benchmark, house: tuple[asyncio.Runner, Inbox, Worker]) -> None:
    """Claim, recall, and the commit of verdict, case and answer; reading and rules by script."""
    runner, inbox, worker = house
    turn = count()

    def ready() -> None:
        number = next(turn)
        runner.run(inbox.accept(tag(number, "mist", f"fan{number}")))

    benchmark.pedantic(lambda: runner.run(worker.step()), setup=ready, rounds=300)


def test_finding_a_near_duplicate_among_100000(benchmark) -> None:
    """Recipes of 3 to 14 of 900 substances, some of which are far more common than others."""
    chance = random.Random(11)
    names = [f"s{n}" for n in range(900)]
    weights = [1 / (n + 1) for n in range(900)]
    index = LikenessIndex()
    for number in range(100_000):
        tokens = set(chance.choices(names, weights, k=chance.randint(3, 14)))
        index.add(number, Sketch(shares=dict.fromkeys(tokens), sites=(), verdict=Verdict.FIX, hazards=()))

    def look() -> None:
        wanted = index[chance.randrange(100_000)]
        index.same(wanted, index.like(wanted))

    benchmark(look)
