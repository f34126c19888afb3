"""The door to the database: opened once, closed always, one writer at a time."""

from __future__ import annotations

import asyncio
import sqlite3
from collections.abc import AsyncIterator, Mapping, Sequence
from contextlib import asynccontextmanager, suppress
from pathlib import Path
from typing import Any

import aiosqlite

from bot.store.errors import DamagedError, NewerDatabaseError, StoreError, store_error
from bot.store.migrate import migrate, schema_number, steps

BUSY_MILLISECONDS = 5000
# secure_delete: what is deleted is overwritten with zeros, so that no later backup holds it.
PRAGMAS = ("journal_mode = WAL", "synchronous = FULL", "foreign_keys = ON", "secure_delete = ON")
Values = Sequence[Any] | Mapping[str, Any]


class Transaction:
    """What may be done inside `Database.transaction`."""

    def __init__(self, connection: aiosqlite.Connection) -> None:
        self._connection = connection

    async def run(self, sql: str, values: Values = ()) -> int:
        """Runs one statement; returns how many rows it changed."""
        # Not closed by hand: a finished cursor holds nothing, and each call costs a turn of the other thread.
        cursor = await self._connection.execute(sql, values)
        return cursor.rowcount

    async def insert(self, sql: str, values: Values) -> int:
        """Runs one INSERT; returns the row id."""
        cursor = await self._connection.execute(sql, values)
        return cursor.lastrowid or 0

    async def rows(self, sql: str, values: Values = ()) -> list[sqlite3.Row]:
        return list(await self._connection.execute_fetchall(sql, values))


class Database:
    """One open file. All statements take their turn; a transaction holds the turn to its end. `damaged` is set for good
    where the engine found the file broken, whoever asked."""

    def __init__(self, connection: aiosqlite.Connection, path: Path) -> None:
        self._connection = connection
        self._turn = asyncio.Lock()
        self.damaged = asyncio.Event()
        self.path = path

    @asynccontextmanager
    async def transaction(self) -> AsyncIterator[Transaction]:
        """All or nothing. Raises StoreError with a plain sentence where the engine refuses."""
        async with self._turn:
            try:
                await self._connection.execute("BEGIN IMMEDIATE")
                yield Transaction(self._connection)
                await self._connection.execute("COMMIT")
            except BaseException as error:
                # A cancelled BEGIN or COMMIT still runs in the worker thread; this queues up behind it.
                with suppress(sqlite3.Error):
                    await self._connection.execute("ROLLBACK")
                if isinstance(error, sqlite3.Error):
                    raise self._said(error) from error
                raise

    async def change(self, sql: str, values: Values = ()) -> list[sqlite3.Row]:
        """One statement that is a transaction by itself; its RETURNING rows. Raises StoreError."""
        return await self.rows(sql, values)

    async def rows(self, sql: str, values: Values = ()) -> list[sqlite3.Row]:
        """What a SELECT finds. Raises StoreError."""
        async with self._turn:
            try:
                return await Transaction(self._connection).rows(sql, values)
            except sqlite3.Error as error:
                raise self._said(error) from error

    def _said(self, error: sqlite3.Error) -> StoreError:
        said = store_error(self.path, error)
        if isinstance(said, DamagedError):
            self.damaged.set()
        return said


@asynccontextmanager
async def open_database(path: Path, busy_milliseconds: int = BUSY_MILLISECONDS) -> AsyncIterator[Database]:
    """Opens or creates the file, brings it to this schema, and closes it at the end.

    Raises StoreError with one sentence that says what to do.
    """
    connection = await _connect(path, busy_milliseconds)
    try:
        yield Database(connection, path)
    finally:
        await connection.close()


def _open_once(path: Path) -> None:
    """Makes the file for its owner alone, and opens it: where aiosqlite's own thread fails to, it outlives the loop."""
    path.parent.mkdir(parents=True, exist_ok=True)
    if not path.exists():
        path.touch(0o600)
    sqlite3.connect(path).close()


async def _connect(path: Path, busy_milliseconds: int) -> aiosqlite.Connection:
    connection: aiosqlite.Connection | None = None
    try:
        _open_once(path)
        connection = await aiosqlite.connect(path, isolation_level=None)
        await _prepare(connection, path, busy_milliseconds)
    except BaseException as error:
        if connection is not None:
            await connection.close()
        if isinstance(error, sqlite3.Error):
            raise store_error(path, error) from error
        if isinstance(error, OSError):
            raise store_error(path, sqlite3.OperationalError("unable to open")) from error
        raise
    return connection


async def _prepare(connection: aiosqlite.Connection, path: Path, busy_milliseconds: int) -> None:
    connection.row_factory = sqlite3.Row
    await connection.execute(f"PRAGMA busy_timeout = {busy_milliseconds}")
    known = len(steps())
    found = await schema_number(connection)
    if found > known:
        raise NewerDatabaseError(path, found, known)
    for pragma in PRAGMAS:
        await connection.execute(f"PRAGMA {pragma}")
    await migrate(connection, path)
