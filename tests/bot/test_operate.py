"""The operator's commands, run as an operator runs them: doctor, backup, restore, and what was set aside."""

from __future__ import annotations

import asyncio
import os
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from bot.doctor import token_form
from bot.inbox import Inbox
from bot.people import People
from bot.record import Recorder
from bot.store import StoreError, open_database
from bot.store.backup import back_up, examine, key_file, restore
from bot.store.outbox import OutboxTable
from tests.bot.made import tag

COMMAND = "from bot.cli import main; main()"


def watchglass(folder: Path, *arguments: str, **extra: str) -> subprocess.CompletedProcess[str]:
    kept = {key: value for key, value in os.environ.items() if not key.startswith("WATCHGLASS_")}
    settings = {"WATCHGLASS_DB": str(folder / "w.db"), "WATCHGLASS_CONFIG": str(folder / "w.toml"), **extra}
    (folder / "w.toml").touch(0o600)
    return subprocess.run(
        [sys.executable, "-c", COMMAND, *arguments], env=kept | settings, capture_output=True, text=True, timeout=120
    )


async def fill(path: Path, first: int, last: int) -> None:
    async with open_database(path) as database:
        inbox = Inbox(database, People.beside(path))
        for number in range(first, last):
            assert await inbox.accept(tag(number, f"mist number {number}"))


async def put_aside(path: Path, number: int) -> None:
    async with open_database(path) as database:
        inbox = Inbox(database, People.beside(path))
        await inbox.accept(tag(number, "a hard one"))
        message = await inbox.table.claim()
        assert message is not None
        await Recorder(database, inbox.table, OutboxTable(database), lambda: 1).set_aside(message, "Fault: a\nb\x1b[2J")


async def test_a_backup_under_way_holds_every_commit_and_the_key(tmp_path: Path) -> None:
    path, copy = tmp_path / "w.db", tmp_path / "copies" / "b.db"
    await fill(path, 0, 300)
    async with open_database(path) as database:
        inbox = Inbox(database, People.beside(path))
        at_work = asyncio.create_task(asyncio.to_thread(back_up, path, copy))
        number = 300
        while not at_work.done():
            await inbox.accept(tag(number, "while it copies"))
            number += 1
        health = await at_work
        assert 300 <= health.messages <= number
        assert health.faults == ()
    assert key_file(copy).read_bytes() == key_file(path).read_bytes()
    assert {copy.stat().st_mode & 0o077, key_file(copy).stat().st_mode & 0o077} == {0}


async def test_a_restore_brings_back_the_backup_and_keeps_what_stood_there(tmp_path: Path) -> None:
    path, copy = tmp_path / "w.db", tmp_path / "b.db"
    await fill(path, 0, 5)
    back_up(path, copy)
    await fill(path, 5, 9)
    aside = restore(copy, path, 1234)
    assert aside is not None
    assert examine(path).messages == 5
    assert examine(aside).messages == 9
    async with open_database(path) as database:
        assert (await database.rows("SELECT value FROM marks WHERE name = 'restored_at'"))[0][0] == "1234"
        assert not await Inbox(database, People.beside(path)).accept(tag(4, "known already"))


async def test_a_database_in_use_is_not_replaced(tmp_path: Path) -> None:
    path, copy = tmp_path / "w.db", tmp_path / "b.db"
    await fill(path, 0, 3)
    back_up(path, copy)
    async with open_database(path) as database:
        with pytest.raises(StoreError, match="in use by another program"):
            restore(copy, path, 1)
        assert await Inbox(database, People.beside(path)).accept(tag(3, "still here"))


def spoil(path: Path) -> None:
    """Pages in the middle are overwritten, as by a dying disk."""
    size = path.stat().st_size
    with path.open("r+b") as file:
        file.seek(size // 3)
        file.write(os.urandom(size // 3))


async def test_a_damaged_database_is_said_and_healed_by_a_restore(tmp_path: Path) -> None:
    path, copy = tmp_path / "w.db", tmp_path / "b.db"
    await fill(path, 0, 400)
    back_up(path, copy)
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    spoil(path)
    told = watchglass(tmp_path, "doctor")
    assert told.returncode == 1
    assert "put back the last backup" in told.stderr
    assert watchglass(tmp_path, "restore", "--yes", str(copy)).returncode == 0
    assert examine(path).faults == ()
    assert watchglass(tmp_path, "doctor").returncode == 0


async def test_a_damaged_backup_is_refused_and_nothing_is_touched(tmp_path: Path) -> None:
    path, copy = tmp_path / "w.db", tmp_path / "b.db"
    await fill(path, 0, 400)
    back_up(path, copy)
    spoil(copy)
    with pytest.raises(StoreError):
        restore(copy, path, 1)
    assert examine(path).messages == 400
    left = [file.name for file in os.scandir(tmp_path) if ".before-" in file.name or ".part" in file.name]
    assert left == []


async def test_old_backups_go_and_new_ones_stay(tmp_path: Path) -> None:
    await fill(tmp_path / "w.db", 0, 2)
    folder = tmp_path / "backups"
    folder.mkdir()
    for day in (1, 2, 3):
        (folder / f"watchglass-2025010{day}-000000.db").touch()
        (folder / f"watchglass-2025010{day}-000000.db.key").touch()
    (folder / "letter.db").touch()
    assert watchglass(tmp_path, "backup", str(folder), "--keep", "2").returncode == 0
    kept = sorted(file.name for file in folder.iterdir())
    assert len(kept) == 5
    assert kept[:3] == ["letter.db", "watchglass-20250103-000000.db", "watchglass-20250103-000000.db.key"]


async def test_what_was_set_aside_is_listed_on_one_line_and_tried_again(tmp_path: Path) -> None:
    await put_aside(tmp_path / "w.db", 7)
    listed = watchglass(tmp_path, "inbox", "list").stdout
    assert listed.splitlines()[-1] == "1 set aside"
    assert "m7" in listed
    assert "Fault: a b" in listed
    assert "\x1b" not in listed
    assert watchglass(tmp_path, "inbox", "retry", "m7").returncode == 0
    assert watchglass(tmp_path, "inbox", "retry", "m7").returncode == 1
    assert watchglass(tmp_path, "inbox", "list").stdout == "0 set aside\n"


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({"WATCHGLASS_REGION": "moon"}, "WATCHGLASS_REGION"),
        ({"WATCHGLASS_TOKEN": "not-a-token-at-all"}, "copy it again"),
    ],
)
def test_the_doctor_says_what_is_wrong_and_never_the_token(tmp_path: Path, settings: dict[str, str], said: str) -> None:
    told = watchglass(tmp_path, "doctor", **settings)
    assert told.returncode == 1
    assert said in told.stderr
    assert "not-a-token-at-all" not in told.stdout + told.stderr


async def test_the_doctor_misses_a_lost_key_and_sees_one_that_others_may_read(tmp_path: Path) -> None:
    await fill(tmp_path / "w.db", 0, 1)
    key = key_file(tmp_path / "w.db")
    key.chmod(0o644)
    assert "chmod 600" in watchglass(tmp_path, "doctor", "--quick").stderr
    key.unlink()
    assert "put back its backup" in watchglass(tmp_path, "doctor", "--quick").stderr


def test_a_token_is_known_by_its_form() -> None:
    """The form is from memory: three dotted parts, the first an id in base64. The token here is made up."""
    assert token_form("MTIzNDU2Nzg5MDEyMzQ1Njc4.AbCdEf.abcdefghijklmnopqrstuvwxyz0")
    for wrong in ("", "a.b", "secret.secret.secret", "MTIz.x", "MTIzNDU2.Ab Cd.xyz"):
        assert not token_form(wrong)
