"""The database file: its promises on disk, and what the operator reads when it cannot be used."""

from __future__ import annotations

import asyncio
import sqlite3
from pathlib import Path

import pytest

from bot.store import StoreError, open_database
from bot.store.errors import NewerDatabaseError
from bot.store.inbox import Accepted, InboxTable
from bot.store.migrate import statements, steps


def message(number: int, text: str = "hello") -> Accepted:
    return Accepted(message_id=f"m{number}", channel="c", author_key="k", text=text, received_at=number)


async def test_a_power_cut_keeps_what_was_acknowledged(tmp_path: Path) -> None:
    async with open_database(tmp_path / "w.db") as database:
        pragmas = {
            name: (await database.rows(f"PRAGMA {name}"))[0][0]
            for name in ("journal_mode", "synchronous", "foreign_keys", "busy_timeout")
        }
    # 2 = FULL: sqlite.org/pragma.html#pragma_synchronous
    assert pragmas == {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1, "busy_timeout": 5000}


async def test_every_table_refuses_a_wrong_type(tmp_path: Path) -> None:
    async with open_database(tmp_path / "w.db") as database:
        rows = await database.rows("SELECT name, strict FROM pragma_table_list WHERE schema = 'main'")
    ours = {row["name"]: row["strict"] for row in rows if not row["name"].startswith("sqlite_")}
    assert set(ours) >= {"inbox", "cases", "tags", "outbox", "rulings", "audit"}
    assert all(ours.values())


async def test_opening_again_keeps_everything(tmp_path: Path) -> None:
    async with open_database(tmp_path / "w.db") as database:
        assert await InboxTable(database).add(message(1))
    async with open_database(tmp_path / "w.db") as database:
        assert not await InboxTable(database).add(message(1))
        assert await InboxTable(database).waiting() == 1


async def test_two_programs_may_open_a_new_file_at_once(tmp_path: Path) -> None:
    async def use(number: int) -> bool:
        async with open_database(tmp_path / "w.db") as database:
            return await InboxTable(database).add(message(number))

    assert await asyncio.gather(*(use(number) for number in range(4))) == [True] * 4


async def test_a_file_of_a_newer_version_is_left_alone_and_said(tmp_path: Path) -> None:
    path = tmp_path / "w.db"
    with sqlite3.connect(path) as other:
        other.execute("CREATE TABLE later (x)")
        other.execute("PRAGMA user_version = 999")
    other.close()
    before = path.read_bytes()
    with pytest.raises(NewerDatabaseError, match=r"schema 999 .* install the newer version"):
        async with open_database(path):
            pass
    assert path.read_bytes() == before


@pytest.mark.parametrize("content", [b"this is a letter, not a database" * 40, b"\x00" * 3000])
async def test_a_file_that_is_no_database_is_said_and_kept(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "letter.txt"
    path.write_bytes(content)
    with pytest.raises(StoreError, match="is not a database of this program; name another file"):
        async with open_database(path):
            pass
    assert path.read_bytes() == content


async def test_a_path_that_cannot_be_opened_is_said(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    for path in (tmp_path / "file" / "w.db", tmp_path):
        with pytest.raises(StoreError, match="cannot be opened; check that its folder exists"):
            async with open_database(path):
                pass


async def test_a_locked_database_is_said(tmp_path: Path) -> None:
    path = tmp_path / "w.db"
    async with open_database(path, busy_milliseconds=20) as database:
        other = sqlite3.connect(path, isolation_level=None)
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(StoreError, match="in use by another program"):
            await InboxTable(database).add(message(1))
        other.execute("ROLLBACK")
        other.close()
        assert await InboxTable(database).add(message(1))


async def test_a_read_only_database_is_said(tmp_path: Path) -> None:
    async with open_database(tmp_path / "w.db") as database:
        await database.rows("PRAGMA query_only = ON")
        with pytest.raises(StoreError, match="is read-only; make it writable"):
            await InboxTable(database).add(message(1))


async def test_a_full_disk_loses_nothing_that_was_accepted(tmp_path: Path) -> None:
    async with open_database(tmp_path / "w.db") as database:
        pages = (await database.rows("PRAGMA page_count"))[0][0]
        await database.rows(f"PRAGMA max_page_count = {pages + 12}")
        table = InboxTable(database)
        accepted = 0

        async def fill() -> None:
            nonlocal accepted
            for number in range(100):
                accepted += await table.add(message(number, "x" * 3000))

        with pytest.raises(StoreError, match="the disk is full"):
            await fill()
        assert 0 < accepted < 100
        assert await table.waiting() == accepted
        assert (await database.rows("PRAGMA integrity_check"))[0][0] == "ok"


async def test_a_transaction_that_fails_leaves_nothing_behind(tmp_path: Path) -> None:
    async with open_database(tmp_path / "w.db") as database:

        async def fail() -> None:
            async with database.transaction() as transaction:
                await transaction.run(
                    "INSERT INTO inbox (message_id, channel, author_key, text, received_at)"
                    " VALUES ('m', 'c', 'k', 't', 1)"
                )
                raise KeyError

        with pytest.raises(KeyError):
            await fail()
        assert await InboxTable(database).waiting() == 0


async def test_a_cancelled_transaction_lets_the_next_one_in(tmp_path: Path) -> None:
    async with open_database(tmp_path / "w.db") as database:
        entered = asyncio.Event()

        async def hold() -> None:
            async with database.transaction():
                entered.set()
                await asyncio.Event().wait()

        task = asyncio.create_task(hold())
        await entered.wait()
        task.cancel()
        with pytest.raises(asyncio.CancelledError):
            await task
        assert await InboxTable(database).add(message(1))


def test_migrations_run_from_one_without_a_gap() -> None:
    assert [number for number, _ in steps()] == list(range(1, len(steps()) + 1))


def test_comments_of_a_migration_are_no_statements() -> None:
    assert statements("-- a; b\nCREATE TABLE a (b);\n  -- c\nCREATE TABLE d (e);\n") == [
        "CREATE TABLE a (b)",
        "CREATE TABLE d (e)",
    ]
