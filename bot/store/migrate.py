"""Brings a database file to the schema of this version: numbered steps, forward only."""

from __future__ import annotations

import re
from functools import lru_cache
from importlib.resources import files
from pathlib import Path

import aiosqlite

from bot.store.errors import NewerDatabaseError

STEP = re.compile(r"^(\d{4})_[a-z0-9_]+\.sql$")


@lru_cache(maxsize=1)
def steps() -> tuple[tuple[int, str], ...]:
    """Number and SQL of every step, in order. Raises ValueError where a number is missing or stands twice."""
    folder = files("bot.store").joinpath("migrations")
    found = [(int(match[1]), file) for file in folder.iterdir() if (match := STEP.match(file.name))]
    found.sort(key=lambda step: step[0])
    if [number for number, _ in found] != list(range(1, len(found) + 1)):
        raise ValueError("bot/store/migrations: the numbers must run 0001, 0002, ... without a gap")
    return tuple((number, file.read_text("utf-8")) for number, file in found)


async def migrate(connection: aiosqlite.Connection, path: Path | str) -> int:
    """Runs the steps that the file lacks, each in one transaction; returns the schema number reached.

    Raises NewerDatabaseError where the file is ahead of this program.
    """
    known = len(steps())
    for number, sql in steps():
        # Read again before each step: two programs may open a new file at the same time.
        await connection.execute("BEGIN IMMEDIATE")
        try:
            current = await schema_number(connection)
            if current > known:
                raise NewerDatabaseError(path, current, known)
            if current < number:
                for statement in statements(sql):
                    await connection.execute(statement)
                await connection.execute(f"PRAGMA user_version = {number}")
            await connection.execute("COMMIT")
        except BaseException:
            await connection.execute("ROLLBACK")
            raise
    return known


async def schema_number(connection: aiosqlite.Connection) -> int:
    async with connection.execute("PRAGMA user_version") as cursor:
        row = await cursor.fetchone()
    return int(row[0]) if row is not None else 0


def statements(sql: str) -> list[str]:
    """The single statements of a step; a step holds no triggers, so a semicolon ends one."""
    bare = "\n".join(line for line in sql.splitlines() if not line.lstrip().startswith("--"))
    return [part.strip() for part in bare.split(";") if part.strip()]
