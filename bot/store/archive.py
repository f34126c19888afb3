"""The creator's own data, out of the database and into another: every table by its own rows."""

from __future__ import annotations

import json
from typing import Any

from bot.store.cases import list_hazards
from bot.store.database import Database, Transaction

CASE_COLUMNS = (
    "fingerprint", "title", "verdict", "sketch", "recipe", "assessment", "state", "score", "interest", "people",
    "first_seen", "last_seen",
)  # fmt: skip
RULING_COLUMNS = ("verdict", "words", "why", "ruled_at", "undone_at")
ACTION_COLUMNS = ("at", "who", "action", "detail", "undone")
EPISODE_COLUMNS = ("title", "note", "address", "made_at", "published_at")
SEGMENT_COLUMNS = ("place", "seconds", "note")
HERS = (
    "(state IN ('taken', 'dropped', 'ruled') OR id IN (SELECT case_id FROM rulings) OR id IN (SELECT case_id FROM"
    " audit) OR id IN (SELECT case_id FROM segments))"
)
Rows = list[dict[str, Any]]


class ArchiveTable:
    """Rows name each other by number within the archive; a case also by its fingerprint, which is the same anywhere."""

    def __init__(self, database: Database) -> None:
        self._database = database

    async def cases(self) -> Rows:
        return await self._rows(f"SELECT id, {', '.join(CASE_COLUMNS)} FROM cases WHERE {HERS} ORDER BY id")

    async def rulings(self) -> Rows:
        return await self._rows(f"SELECT id, case_id, {', '.join(RULING_COLUMNS)} FROM rulings ORDER BY id")

    async def actions(self) -> Rows:
        sql = f"SELECT id, case_id, {', '.join(ACTION_COLUMNS)} FROM audit WHERE case_id IS NOT NULL ORDER BY id"
        return await self._rows(sql)

    async def episodes(self) -> Rows:
        return await self._rows(f"SELECT id, {', '.join(EPISODE_COLUMNS)} FROM episodes ORDER BY id")

    async def segments(self) -> Rows:
        sql = f"SELECT episode_id, case_id, {', '.join(SEGMENT_COLUMNS)} FROM segments ORDER BY episode_id, place, id"
        return await self._rows(sql)

    async def _rows(self, sql: str) -> Rows:
        return [dict(row) for row in await self._database.rows(sql)]


async def put_case(transaction: Transaction, row: dict[str, Any]) -> tuple[int, bool]:
    """The number of the case here, and whether it is new; a known one is only moved on from the queue."""
    known = await transaction.rows("SELECT id FROM cases WHERE fingerprint = ?", (row["fingerprint"],))
    if not known:
        # Its wording is somebody's, and goes after its time like all other.
        new = await _insert(transaction, "cases", (*CASE_COLUMNS, "brought_by"), {**row, "brought_by": ""})
        await list_hazards(transaction, new)
        return new, True
    case = int(known[0][0])
    sql = "UPDATE cases SET state = ? WHERE id = ? AND state IN ('seen', 'queued')"
    await transaction.run(sql, (row["state"], case))
    return case, False


async def put_ruling(transaction: Transaction, case: int, row: dict[str, Any]) -> tuple[int, bool]:
    return await _put(
        transaction, "rulings", RULING_COLUMNS, {**row, "case_id": case}, ("case_id", "ruled_at", "words")
    )


async def put_action(transaction: Transaction, case: int, row: dict[str, Any]) -> tuple[int, bool]:
    return await _put(transaction, "audit", ACTION_COLUMNS, {**row, "case_id": case}, ("case_id", "at", "action"))


async def put_episode(transaction: Transaction, row: dict[str, Any]) -> tuple[int, bool]:
    known = await transaction.rows(
        "SELECT id FROM episodes WHERE title = ? AND made_at = ?", (row["title"], row["made_at"])
    )
    if known:
        return int(known[0][0]), False
    return await _insert(transaction, "episodes", EPISODE_COLUMNS, row), True


async def put_segment(transaction: Transaction, episode: int, case: int | None, row: dict[str, Any]) -> None:
    columns = ("episode_id", "case_id", *SEGMENT_COLUMNS)
    await _insert(transaction, "segments", columns, {**row, "episode_id": episode, "case_id": case})


async def _put(
    transaction: Transaction, table: str, columns: tuple[str, ...], row: dict[str, Any], key: tuple[str, ...]
) -> tuple[int, bool]:
    same = " AND ".join(f"{name} = :{name}" for name in key)
    known = await transaction.rows(f"SELECT id FROM {table} WHERE {same}", {name: row[name] for name in key})
    if known:
        return int(known[0][0]), False
    return await _insert(transaction, table, ("case_id", *columns), row), True


async def _insert(transaction: Transaction, table: str, columns: tuple[str, ...], row: dict[str, Any]) -> int:
    gaps = ", ".join(f":{name}" for name in columns)
    values = {name: _plain(row[name]) for name in columns}
    return await transaction.insert(f"INSERT INTO {table} ({', '.join(columns)}) VALUES ({gaps})", values)


def _plain(value: Any) -> Any:
    return json.dumps(value) if isinstance(value, (dict, list)) else value
