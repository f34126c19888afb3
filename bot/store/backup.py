"""Copies of the database that are whole: taken while the program runs, checked before they are trusted."""

from __future__ import annotations

import os
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

from bot.store.errors import NewerDatabaseError, StoreError, store_error
from bot.store.migrate import steps
from rules.recipe import Frozen

PAGES_AT_ONCE = 2000  # the writer gets its turn between two portions
RESTORED = "restored_at"
KEY = ".key"


class Health(Frozen):
    """What a look into a file found. `faults` is empty for a sound one; `newest` in milliseconds UTC."""

    schema_number: int
    messages: int
    cases: int
    newest: int | None
    faults: tuple[str, ...]


def key_file(database: Path) -> Path:
    """The secret that turns people into keys stands beside its database."""
    return database.with_name(database.name + KEY)


def examine(path: Path, *, quick: bool = False) -> Health:
    """Looks without writing. `quick` leaves out that indexes agree with tables. Raises StoreError."""
    if not path.is_file():
        raise StoreError(path, "is not there; check WATCHGLASS_DB or --db")
    try:
        with closing(_reading(path)) as connection:
            found = int(connection.execute("PRAGMA user_version").fetchone()[0])
            if found > len(steps()):
                raise NewerDatabaseError(path, found, len(steps()))
            return _health(connection, found, quick)
    except sqlite3.Error as error:
        raise store_error(path, error) from error


def _health(connection: sqlite3.Connection, schema: int, quick: bool) -> Health:
    check = "PRAGMA quick_check(5)" if quick else "PRAGMA integrity_check(5)"
    faults = [str(row[0]) for row in connection.execute(check) if row[0] != "ok"]
    strays = connection.execute("PRAGMA foreign_key_check").fetchmany(5)
    faults += [f"a row of {row[0]} points at a row of {row[2]} that is not there" for row in strays]
    if schema == 0:
        faults.append("it holds no table of this program")
        return Health(schema_number=0, messages=0, cases=0, newest=None, faults=tuple(faults))
    newest = connection.execute("SELECT MAX(received_at) FROM inbox").fetchone()[0]
    counts = [int(connection.execute(f"SELECT COUNT(*) FROM {name}").fetchone()[0]) for name in ("inbox", "cases")]
    return Health(schema_number=schema, messages=counts[0], cases=counts[1], newest=newest, faults=tuple(faults))


def back_up(source: Path, target: Path) -> Health:
    """A whole copy of `source` (which may be in use) and its key at `target`, or none at all. Raises StoreError."""
    if target.exists():
        raise StoreError(target, "is there already; a backup never takes the place of another")
    target.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    examine(source, quick=True)
    health = _copy(source, target)
    if key_file(source).is_file():
        _copy_key(key_file(source), key_file(target))
    return health


def restore(backup: Path, database: Path, now: int) -> Path | None:
    """Puts a checked backup in the place of the database; returns where the old files went, None where none were.

    `now` in milliseconds UTC is written down, so that what was answered after the backup is looked for and not
    said again. Raises StoreError; then nothing was changed.
    """
    health = examine(backup)
    if health.faults:
        raise StoreError(backup, f"is not sound ({health.faults[0]}); take an older backup")
    aside = _put_aside(database, now)
    database.parent.mkdir(parents=True, exist_ok=True)
    _copy(backup, database, restored_at=now)
    if key_file(backup).is_file():
        _copy_key(key_file(backup), key_file(database))
    elif aside is not None and key_file(aside).is_file():
        _copy_key(key_file(aside), key_file(database))
    return aside


def _copy(source: Path, target: Path, restored_at: int | None = None) -> Health:
    """Page by page into a file beside the target, checked there, then renamed."""
    part = target.with_name(target.name + ".part")
    part.unlink(missing_ok=True)
    os.close(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
    try:
        with closing(_reading(source)) as old, closing(sqlite3.connect(part, isolation_level=None)) as new:
            old.backup(new, pages=PAGES_AT_ONCE, sleep=0.01)
            # One file without a journal beside it; the program sets its own mode when it opens it.
            new.execute("PRAGMA journal_mode = DELETE")
            if restored_at is not None and _has_marks(new):
                new.execute("INSERT OR REPLACE INTO marks VALUES (?, ?)", (RESTORED, str(restored_at)))
        health = examine(part)
        if health.faults:
            raise StoreError(source, f"gave a copy that is not sound ({health.faults[0]}); put back the last backup")
        _onto_disk(part)
        part.rename(target)
        _onto_disk(target.parent)
    except sqlite3.Error as error:
        raise store_error(source, error) from error
    finally:
        part.unlink(missing_ok=True)
    return health


def _has_marks(connection: sqlite3.Connection) -> bool:
    return bool(connection.execute("SELECT 1 FROM sqlite_schema WHERE name = 'marks'").fetchone())


def _put_aside(database: Path, now: int) -> Path | None:
    """Moves the old files away, damaged or not; refuses while a program has them open."""
    if not database.exists():
        return None
    _refuse_in_use(database)
    aside = database.with_name(f"{database.name}.before-{now}")
    for suffix in ("", "-wal", "-shm", KEY):
        old = database.with_name(database.name + suffix)
        if old.exists():
            old.rename(aside.with_name(aside.name + suffix))
    return aside


def _refuse_in_use(database: Path) -> None:
    """In WAL mode every open connection holds a lock, and leaving that mode needs all others gone."""
    with closing(sqlite3.connect(database, timeout=0.2, isolation_level=None)) as connection:
        try:
            connection.execute("PRAGMA journal_mode = DELETE")
        except sqlite3.OperationalError as error:
            if "locked" in str(error) or "busy" in str(error):
                raise store_error(database, error) from error
        except sqlite3.DatabaseError:
            return  # damaged: that is why it is being replaced


def _reading(path: Path) -> sqlite3.Connection:
    return sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True, timeout=5.0)


def _copy_key(source: Path, target: Path) -> None:
    target.unlink(missing_ok=True)
    shutil.copyfile(source, target)
    target.chmod(0o600)
    _onto_disk(target)


def _onto_disk(path: Path) -> None:
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
