"""A store of a million tags over a year: how long each screen and command that asks it takes.

    python -m tests.bench.million [--tags 1000000] [--cases 100000]

One real recipe goes through the whole program; its rows are then multiplied in SQL, with other ids, people, times,
substances, verdicts and hazards; words older than a month are cleared, as the program does. Prints the median of nine
tries in milliseconds, one line a question, the size of the file, and what the memory of known recipes takes.
"""

from __future__ import annotations

import argparse
import asyncio
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Any

from bot.memory import Memory
from bot.scrub import scrub
from bot.stats import look_back
from bot.store import Database, open_database
from bot.store.backup import examine
from bot.store.cases import CaseState, CaseTable, Order
from bot.store.inbox import Accepted, InboxTable
from bot.store.outbox import OutboxTable
from bot.store.privacy import PrivacyTable
from bot.store.replies import ReplyTable
from bot.store.tags import TagTable
from bot.store.views import ViewTable
from rules.assessment import Verdict
from tests.faults.program import environment

RECIPE = "Lip tint: 2 tbsp coconut oil, 1 tbsp beeswax, 1 crayon\n"
NUMBERS = "WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < :many)"
NOW, YEAR, MONTH = 1_790_000_000_000, 31_536_000_000, 2_592_000_000
AT = f"{NOW} - {YEAR} + n.i * ({YEAR} / :many)"
OLD = f"{AT} < {NOW - MONTH}"
HAZARDS = ("needs_preservative", "over_limit", "separates", "prohibited", "eye_particle")
PRIMES = ((7919, 97), (104729, 131), (1299709, 173), (15485863, 211), (32452843, 307), (49979687, 401))
SHARES = ", ".join(f"'s' || (n.i * {prime} % {many}), 0.1" for prime, many in PRIMES)
# The rarer a hazard the later it stands: 1 case in 2, in 3, in 10, in 100, in 10,000.
RARITY = zip((2, 3, 10, 100, 10_000), HAZARDS, strict=True)
LISTED = ", ".join(f"iif(n.i % {every}, NULL, '{name}')" for every, name in RARITY)
SKETCH = (
    f"json_object('shares', json_object({SHARES}), 'sites', json_array('face'), 'verdict', 'fix', 'hazards',"
    f" json((SELECT json_group_array(value) FROM json_each(json_array({LISTED})) WHERE value IS NOT NULL)))"
)
OTHERS = {
    "cases": {"id": "1 + n.i", "fingerprint": "'f' || n.i", "score": "(n.i * 7919 % 1000) / 1000.0", "people":
              "n.i % 50", "state": "CASE n.i % 20 WHEN 0 THEN 'queued' WHEN 1 THEN 'taken' ELSE 'seen' END",
              "verdict": "CASE WHEN n.i % 1000 = 0 THEN 'unclear' WHEN n.i % 3 = 0 THEN 'avoid' ELSE 'fix' END",
              "sketch": SKETCH, "first_seen": AT, "last_seen": AT,
              "brought_by": f"iif({OLD}, NULL, 'm' || n.i)"},
    "inbox": {"message_id": "'m' || n.i", "author_key": "'p' || (n.i % 50000)", "channel": "n.i % 100",
              "received_at": AT, "text": f"iif({OLD}, '', o.text)", "state": "'done'"},
    "tags": {"message_id": "'m' || n.i", "author_key": "'p' || (n.i % 50000)", "channel": "n.i % 100",
             "case_id": "1 + n.i % :cases", "tagged_at": AT, "recipe": f"iif({OLD}, NULL, o.recipe)"},
    "outbox": {"message_id": "'m' || n.i", "nonce": "'m' || n.i || '-0'", "state": "'sent'",
               "platform_message_id": "'r' || n.i", "text": f"iif({OLD}, '', o.text)",
               "more": f"iif({OLD}, NULL, o.more)", "sent_at": f"{AT} + 100 + n.i % 900"},
}  # fmt: skip


async def multiply(database: Database, table: str, many: int, cases: int) -> None:
    names = [str(row[1]) for row in await database.rows(f"PRAGMA table_info({table})")]
    shown = ", ".join(OTHERS[table].get(name, f"o.{name}") for name in names)
    sql = f"INSERT INTO {table} ({', '.join(names)}) {NUMBERS} SELECT {shown} FROM n, (SELECT * FROM {table} LIMIT 1) o"
    async with database.transaction() as transaction:
        await transaction.run(sql, {"many": many, "cases": cases} if ":cases" in sql else {"many": many})


async def fill(database: Database, tags: int, cases: int) -> None:
    for table, many in (("cases", cases), ("inbox", tags), ("tags", tags), ("outbox", tags)):
        await multiply(database, table, many, cases)
    async with database.transaction() as transaction:
        listing = "SELECT value, cases.id FROM cases, json_each(sketch, '$.hazards')"
        await transaction.run(f"INSERT OR IGNORE INTO case_hazards {listing}")


async def timed(name: str, ask: Callable[[], Awaitable[Any]], tries: int = 9) -> None:
    taken = []
    for _ in range(tries):
        began = time.perf_counter()
        await ask()
        taken.append((time.perf_counter() - began) * 1000)
    say(f"{name:<48} {statistics.median(taken):9.2f} ms")


def say(line: str) -> None:
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


def megabytes() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


async def on_the_way(database: Database) -> None:
    """What a tag, a press or the running program waits for."""
    number = iter(range(1000))
    inbox, views, privacy = InboxTable(database), ViewTable(database), PrivacyTable(database, scrub)

    async def accept() -> None:
        message = Accepted(message_id=f"x{next(number)}", channel="1", author_key="p1", text="t", received_at=NOW)
        await inbox.add(message)

    await timed("purge, 100 messages and 20 cases", lambda: privacy.purge(NOW), 3)
    await timed("the daily rewriting of the file", lambda: privacy.tidy(NOW + YEAR), 1)
    await timed("accept a tag", accept)
    await timed("take the next tag", inbox.claim)
    await timed("waiting, oldest waiting", inbox.oldest_waiting)
    await timed("the answers in doubt at a start", OutboxTable(database).in_doubt)
    await timed("a person's last recipe", lambda: TagTable(database).last_recipe("p77", "77"))
    await timed("people who asked lately", lambda: TagTable(database).recent_people(77))
    await timed("where an answer stands", lambda: ReplyTable(database).by_reply("r4711"))
    await timed("/my-data", lambda: privacy.kept("p77"))
    await timed("cards that are missing", lambda: views.without_card(20))
    await timed("recipes that deserve a note", lambda: views.without_note(49))
    await timed("purge, nothing to do", lambda: privacy.purge(0))
    persons = iter(range(1, 100))
    await timed("/forget-me of 20 messages", lambda: privacy.forget(f"p{next(persons)}"), 3)


async def at_the_desk(database: Database) -> None:
    """What the creator asks."""
    case = CaseTable(database)
    for order in Order:
        await timed(f"queue by {order.value}", lambda order=order: case.page(CaseState.QUEUED, order))
        await timed(f"all cases by {order.value}", lambda order=order: case.page(None, order))
    for hazard in HAZARDS:
        await timed(f"queue of {hazard}", lambda hazard=hazard: case.page(CaseState.QUEUED, Order.SCORE, hazard=hazard))
        await timed(f"all of {hazard}", lambda hazard=hazard: case.page(None, Order.SCORE, hazard=hazard))
    for verdict in (Verdict.AVOID, Verdict.UNCLEAR, Verdict.FINE):
        await timed(f"all to {verdict.value}", lambda verdict=verdict: case.page(None, Order.SCORE, verdict=verdict))
    await timed("the last page of the queue", lambda: case.page(CaseState.QUEUED, Order.NOVELTY, offset=4980))
    await timed("count of the queue", lambda: case.count(CaseState.QUEUED))
    await timed("stats of a week", lambda: look_back(database, NOW - 604_800_000, NOW), 3)
    await timed("stats of a month", lambda: look_back(database, NOW - MONTH, NOW), 3)
    await timed("stats of the whole year", lambda: look_back(database, 0, NOW), 1)


async def measure(path: Path, tags: int, cases: int) -> None:
    async with open_database(path) as database:
        await fill(database, tags, cases)
        size = "SELECT page_count * page_size FROM pragma_page_count(), pragma_page_size()"
        pages = (await database.rows(size))[0][0]
        say(f"{tags} tags, {cases} cases: {pages / 1e6:.0f} MB")
        await on_the_way(database)
        await at_the_desk(database)
        before, began, used = megabytes(), time.perf_counter(), time.process_time()
        await Memory(database).prepare()
        taken, used = time.perf_counter() - began, time.process_time() - used
        say(f"memory of known recipes: {taken:.1f} s ({used:.1f} s of the processor), {megabytes() - before:.0f} MB")
    for quick in (True, False):
        began = time.perf_counter()
        examine(path, quick=quick)
        say(f"doctor's look into the file{', quick' if quick else ''}: {time.perf_counter() - began:.1f} s")


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
