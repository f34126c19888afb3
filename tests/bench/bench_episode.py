"""How long the creator waits: a brief of twelve segments, a page of the queue among 100,000 recipes.

Run: pytest -n 0 tests/bench/bench_episode.py --benchmark-only
"""

from __future__ import annotations

import asyncio
from contextlib import AsyncExitStack
from pathlib import Path

from bot.brief.files import write_files
from bot.store import open_database
from bot.store.cases import CaseState, CaseTable, InterestRow, Order
from rules.assess import assess
from rules.assessment import Jurisdiction
from tests.bot.brief.plans import FORTY, LIP_TINT, LOTION, MIST, SHIMMER, TONER, case, plan

CASES = 100_000


def test_a_brief_of_twelve_segments(benchmark, tmp_path: Path) -> None:
    """Both files, all pictures; without the start of the process."""
    made = plan([case(n, row) for n, row in enumerate((FORTY, LIP_TINT, LOTION, MIST, SHIMMER, TONER) * 2, start=1)])
    benchmark.pedantic(write_files, (made, {}, Jurisdiction.US, tmp_path), rounds=3, warmup_rounds=1)


def test_a_page_of_the_queue_among_100000_recipes(benchmark, tmp_path: Path) -> None:
    judged = assess(LOTION, Jurisdiction.US).model_dump_json()
    interest = InterestRow(why=(), marks={}).model_dump_json()
    with asyncio.Runner() as runner:
        stack = AsyncExitStack()
        database = runner.run(stack.enter_async_context(open_database(tmp_path / "w.db")))

        async def fill() -> None:
            sql = (
                "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < ?) INSERT INTO cases"
                " (fingerprint, title, verdict, recipe, assessment, state, score, interest, first_seen, last_seen)"
                " SELECT i, 'lotion ' || i, 'fix', ?, ?, 'queued', (i * 7919 % 1000) / 1000.0, ?, i, i FROM n"
            )
            async with database.transaction() as transaction:
                await transaction.run(sql, (CASES, LOTION.model_dump_json(), judged, interest))

        runner.run(fill())
        table = CaseTable(database)
        benchmark(lambda: runner.run(table.page(CaseState.QUEUED, Order.SCORE, limit=20, offset=40)))
        runner.run(stack.aclose())
