"""What can be wrong with the database, in one sentence: what, where, what to do."""

from __future__ import annotations

import sqlite3
from pathlib import Path

HINTS = (
    ("readonly", "is read-only; make it writable for this user, or name another with --db"),
    ("locked", "is in use by another program; close that one, or wait a moment and try again"),
    ("busy", "is in use by another program; close that one, or wait a moment and try again"),
    ("full", "cannot grow: the disk is full; free some space and try again, nothing accepted is lost"),
    ("unable to open", "cannot be opened; check that its folder exists and that this user may write there"),
    ("not a database", "is not a database of this program; name another file with --db"),
    (
        "disk i/o",
        "cannot be read or written: the disk reports an error; check the disk, then put back the backup",
    ),
)


class StoreError(Exception):
    """The database cannot be used. The message is for the operator."""

    def __init__(self, path: Path | str, what: str) -> None:
        self.path = str(path)
        super().__init__(f"the database {path} {what}")


class DamagedError(StoreError):
    """Nothing that is tried again will mend the file, and every further write may harm it."""

    def __init__(self, path: Path | str) -> None:
        super().__init__(path, "is damaged; stop the program and put back the last backup")


class NewerDatabaseError(StoreError):
    """The file was written by a later version of the program."""

    def __init__(self, path: Path | str, found: int, known: int) -> None:
        what = f"has schema {found} and this version knows {known}; install the newer version that wrote it"
        super().__init__(path, what)


def store_error(path: Path | str, error: sqlite3.Error) -> StoreError:
    """The plain sentence for what the database engine said."""
    said = str(error).lower()
    if "malformed" in said:
        return DamagedError(path)
    for word, what in HINTS:
        if word in said:
            return StoreError(path, what)
    return StoreError(path, f"gave an error ({error}); check the disk and the file, or put back the last backup")
