"""A store of a million tags: how long each question to it takes.

    python -m tests.bench.million [--tags 1000000] [--cases 100000]

One real recipe goes through the whole program; its rows are then multiplied in SQL, with other ids, people and times.
Prints the median of nine tries in milliseconds, one line a question, and the size of the file.
"""

from __future__ import annotations

import argparse
import asyncio
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Any

from bot.scrub import scrub
from bot.store import Database, open_database
from bot.store.cases import CaseState, CaseTable, Order
from bot.store.inbox import Accepted, InboxTable
from bot.store.outbox import OutboxTable
from bot.store.privacy import PrivacyTable
from bot.store.replies import ReplyTable
from bot.store.tags import TagTable
from bot.store.views import ViewTable
from tests.faults.program import environment

RECIPE = "Lip tint: 2 tbsp coconut oil, 1 tbsp beeswax, 1 crayon\n"
NUMBERS = "WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < :many)"
OTHERS = {
    "cases": {"id": "1 + n.i", "fingerprint": "'f' || n.i", "score": "(n.i * 7919 % 1000) / 1000.0", "people":
              "n.i % 50", "state": "CASE n.i % 20 WHEN 0 THEN 'queued' WHEN 1 THEN 'taken' ELSE 'seen' END"},
    "inbox": {"message_id": "'m' || n.i", "author_key": "'p' || (n.i % 50000)", "channel": "n.i % 100"},
    "tags": {"message_id": "'m' || n.i", "author_key": "'p' || (n.i % 50000)", "channel": "n.i % 100",
             "case_id": "1 + n.i % :cases"},
    "outbox": {"message_id": "'m' || n.i", "nonce": "'m' || n.i || '-0'", "state": "'sent'",
               "platform_message_id": "'r' || n.i"},
}  # fmt: skip


async def multiply(database: Database, table: str, many: int, cases: int) -> None:
    names = [str(row[1]) for row in await database.rows(f"PRAGMA table_info({table})")]
    shown = ", ".join(OTHERS[table].get(name, f"o.{name}") for name in names)
    sql = f"INSERT INTO {table} ({', '.join(names)}) {NUMBERS} SELECT {shown} FROM n, (SELECT * FROM {table} LIMIT 1) o"
    async with database.transaction() as transaction:
        await transaction.run(sql, {"many": many, "cases": cases} if ":cases" in sql else {"many": many})


async def timed(name: str, ask: Callable[[], Awaitable[Any]]) -> None:
    taken = []
    for _ in range(9):
        began = time.perf_counter()
        await ask()
        taken.append((time.perf_counter() - began) * 1000)
    sys.stdout.write(f"{name:<44} {statistics.median(taken):9.2f} ms\n")
    sys.stdout.flush()


async def measure(path: Path, tags: int, cases: int) -> None:
    async with open_database(path) as database:
        for table, many in (("cases", cases), ("inbox", tags), ("tags", tags), ("outbox", tags)):
            await multiply(database, table, many, cases)
        await database.rows("PRAGMA optimize = 0x10002")
        size = "SELECT page_count * page_size FROM pragma_page_count(), pragma_page_size()"
        pages = (await database.rows(size))[0][0]
        sys.stdout.write(f"{tags} tags, {cases} cases: {pages / 1e6:.0f} MB\n")
        number = iter(range(1000))
        inbox, case, views = InboxTable(database), CaseTable(database), ViewTable(database)
        privacy = PrivacyTable(database, scrub)

        async def accept() -> None:
            message = Accepted(message_id=f"x{next(number)}", channel="1", author_key="p1", text="t", received_at=1)
            await inbox.add(message)

        await timed("accept a tag", accept)
        await timed("take the next tag", inbox.claim)
        await timed("waiting, oldest waiting", inbox.oldest_waiting)
        await timed("the answers in doubt at a start", OutboxTable(database).in_doubt)
        await timed("a person's last recipe", lambda: TagTable(database).last_recipe("p77", "77"))
        await timed("where an answer stands", lambda: ReplyTable(database).by_reply("r4711"))
        await timed("/my-data", lambda: privacy.kept("p77"))
        for order in Order:
            await timed(f"queue by {order.value}", lambda order=order: case.page(CaseState.QUEUED, order))
            await timed(f"all cases by {order.value}", lambda order=order: case.page(None, order))
        await timed("queue of one hazard", lambda: case.page(CaseState.QUEUED, Order.SCORE, hazard="eye_particle"))
        await timed("count of the queue", lambda: case.count(CaseState.QUEUED))
        await timed("cards that are missing", lambda: views.without_card(20))
        await timed("recipes that deserve a note", lambda: views.without_note(49))
        await timed("kinds of messages", TagTable(database).kinds)
        await timed("purge, nothing to do", lambda: privacy.purge(0))
        began = time.perf_counter()
        await case.sketches_after(0)
        sys.stdout.write(f"index of likeness at a start: {time.perf_counter() - began:.1f} s\n")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--tags", type=int, default=1_000_000)
    parser.add_argument("--cases", type=int, default=100_000)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="watchglass-million-") as folder:
        path = Path(folder) / "m.db"
        subprocess.run(
            [sys.executable, "-c", "from bot.cli import main; main()", "chat"], input=RECIPE, text=True, check=True,
            env=environment(WATCHGLASS_DB=str(path)), stdout=subprocess.DEVNULL,
        )  # fmt: skip
        asyncio.run(measure(path, given.tags, given.cases))


if __name__ == "__main__":
    main()
