"""`watchglass doctor`: looks at everything that the program stands on, and says what to do about what is wrong."""

from __future__ import annotations

import base64
import binascii
import os
import re
import shutil
import stat
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from enum import StrEnum
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from bot.people import KEY_BYTES
from bot.settings import Settings, SettingsError, config_file, load_settings
from bot.store.backup import examine, key_file
from bot.store.errors import StoreError
from bot.store.migrate import steps
from bot.words.clean import cut
from rules.recipe import Frozen

MEGABYTE = 1_000_000
LEAST_FREE, ENOUGH_FREE = 100 * MEGABYTE, 1000 * MEGABYTE
OLDEST_CLOCK = datetime(2025, 1, 1, tzinfo=UTC)
CLOCK_MARGIN_MS = 120_000
PART = re.compile(r"[A-Za-z0-9_-]+")
OTHERS = stat.S_IRWXG | stat.S_IRWXO
LONGEST = 300
PROBE = "Lip balm: 1 tbsp beeswax, 2 tbsp coconut oil"


class Mark(StrEnum):
    OK = "ok"
    WARN = "warn"
    BAD = "bad"


class Look(Frozen):
    """One thing that was looked at; `says` ends with what to do where the mark is not ok."""

    mark: Mark
    about: str
    says: str

    def line(self) -> str:
        return f"{self.mark.value:<4}  {self.about}: {self.says}"


def look_round(db: Path | None, now: int, *, quick: bool = False) -> list[Look]:
    """All looks in order; a wrong setting ends them, since the rest depends on it. `now` in milliseconds UTC."""
    looks = [_program()]
    try:
        settings = load_settings(db=db)
    except SettingsError as error:
        return looks + [Look(mark=Mark.BAD, about="settings", says=fault) for fault in error.faults]
    for part in (_settings, _token, _permissions, _disk, _key):
        looks += part(settings)
    looks += _database(settings.database, now, quick)
    looks.append(_clock(now))
    looks += [_guarded("tables", _tables), _guarded("reader", _reader)]
    return looks


def _program() -> Look:
    try:
        return Look(mark=Mark.OK, about="program", says=f"version {version('watchglass')}, schema {len(steps())}")
    except PackageNotFoundError:
        return Look(mark=Mark.WARN, about="program", says="is not installed as a package; install it with pip")


def _settings(settings: Settings) -> Iterator[Look]:
    file = config_file()
    if not file.is_file():
        yield Look(mark=Mark.OK, about="settings", says=f"from the environment alone ({file} is not there)")
    elif "token" in file.read_text("utf-8") and file.stat().st_mode & OTHERS:
        yield Look(mark=Mark.BAD, about="settings", says=f"{file} holds the token and others may read it; chmod 600 it")
    else:
        yield Look(mark=Mark.OK, about="settings", says=f"{file} and the environment")
    if settings.desk_channel is None:
        yield Look(mark=Mark.WARN, about="desk", says="no channel is set; set WATCHGLASS_DESK_CHANNEL for the cards")
    if not settings.creator_roles:
        yield Look(mark=Mark.WARN, about="roles", says="nobody may rule; set WATCHGLASS_CREATOR_ROLES to role ids")
    if settings.policy_url is None:
        yield Look(mark=Mark.WARN, about="policy", says="publish PRIVACY.md and set WATCHGLASS_POLICY_URL to it")


def _token(settings: Settings) -> Iterator[Look]:
    """Its form only: whether the platform takes it, the platform says."""
    if settings.token is None or not settings.token.get_secret_value():
        yield Look(mark=Mark.WARN, about="token", says="none is set; `serve` needs WATCHGLASS_TOKEN")
    elif not token_form(settings.token.get_secret_value()):
        says = "does not look like a bot's token (three parts, the first an id); copy it again from the portal"
        yield Look(mark=Mark.BAD, about="token", says=says)
    else:
        yield Look(mark=Mark.OK, about="token", says="has the form of a bot's token; only the platform can tell more")


def token_form(token: str) -> bool:
    """Three dotted parts in URL-safe base64, of which the first is the bot's id in figures (from memory)."""
    parts = token.split(".")
    if len(parts) != 3 or not all(PART.fullmatch(part) for part in parts):
        return False
    try:
        return base64.urlsafe_b64decode(parts[0] + "=" * (-len(parts[0]) % 4)).isdigit()
    except (binascii.Error, ValueError):
        return False


def _folder(database: Path) -> Path:
    """Where the database stands or will stand: the nearest folder that is there."""
    folder = database.absolute().parent
    while not folder.is_dir():
        folder = folder.parent
    return folder


def _permissions(settings: Settings) -> Iterator[Look]:
    """Of the files: this user must write them, and nobody else read them. Those on the platform `/status` tells."""
    database, folder = settings.database, _folder(settings.database)
    found = []
    if not os.access(folder, os.W_OK | os.X_OK):
        says = f"this user may not write in {folder}; give the folder to the service's user, or set WATCHGLASS_DB"
        found.append((Mark.BAD, says))
    if database.is_file() and not os.access(database, os.R_OK | os.W_OK):
        found.append((Mark.BAD, f"this user may not write {database}; chown it to the service's user"))
    if database.is_file() and database.stat().st_mode & OTHERS:
        found.append((Mark.WARN, f"others may read {database}; chmod 600 it"))
    for mark, says in found or [(Mark.OK, f"this user may write in {folder}")]:
        yield Look(mark=mark, about="permissions", says=says)


def _disk(settings: Settings) -> Iterator[Look]:
    folder = _folder(settings.database)
    free = shutil.disk_usage(folder).free
    held = settings.database.stat().st_size if settings.database.is_file() else 0
    yield disk_look(folder, free, held)


def disk_look(folder: Path, free: int, held: int) -> Look:
    """Bytes free and bytes that the database holds: its daily rewriting needs twice that for a while."""
    mark, todo = Mark.OK, ""
    if free < max(ENOUGH_FREE, 2 * held):
        mark, todo = Mark.WARN, "; free some space, or move the database"
    if held and free < 2 * held:
        todo = f"; the daily rewriting needs {2 * held // MEGABYTE} MB: free some space, or move the database"
    if free < LEAST_FREE:
        mark = Mark.BAD
    return Look(mark=mark, about="disk", says=f"{free // MEGABYTE} MB free at {folder}{todo}")


def _key(settings: Settings) -> Iterator[Look]:
    key = key_file(settings.database)
    if not key.is_file():
        if settings.database.is_file():
            says = f"{key} is missing: nobody's messages are found under their key; put back its backup before starting"
            yield Look(mark=Mark.BAD, about="key", says=says)
        return
    if key.stat().st_mode & OTHERS:
        yield Look(mark=Mark.BAD, about="key", says=f"others may read {key}; chmod 600 it")
    elif key.stat().st_size != KEY_BYTES:
        says = f"{key} must hold {KEY_BYTES} bytes and holds {key.stat().st_size}; put back its backup"
        yield Look(mark=Mark.BAD, about="key", says=says)
    else:
        yield Look(mark=Mark.OK, about="key", says=f"{key}, readable by its owner only")


def _database(path: Path, now: int, quick: bool) -> Iterator[Look]:
    if not path.is_file():
        yield Look(mark=Mark.OK, about="database", says=f"{path} is not there yet; it is made at the first start")
        return
    try:
        health = examine(path, quick=quick)
    except StoreError as error:
        yield Look(mark=Mark.BAD, about="database", says=str(error))
        return
    for fault in health.faults:
        yield Look(mark=Mark.BAD, about="database", says=f"{fault}; stop the program and put back the last backup")
    if not health.faults:
        behind = "" if health.schema_number == len(steps()) else "; the next start brings it up, so back it up first"
        said = f"{path} is sound: {health.messages} messages, {health.cases} cases, schema {health.schema_number}"
        yield Look(mark=Mark.WARN if behind else Mark.OK, about="database", says=said + behind)
    if health.newest is not None and health.newest > now + CLOCK_MARGIN_MS:
        ahead = (health.newest - now) // 1000
        says = f"runs {ahead} seconds behind the newest message; set it by NTP before starting"
        yield Look(mark=Mark.BAD, about="clock", says=says)


def _clock(now: int) -> Look:
    moment = datetime.fromtimestamp(now / 1000, UTC)
    if moment < OLDEST_CLOCK:
        return Look(mark=Mark.BAD, about="clock", says=f"says {moment:%Y-%m-%d}, which is long past; set it by NTP")
    return Look(mark=Mark.OK, about="clock", says=f"{moment:%Y-%m-%d %H:%M} UTC")


def _guarded(about: str, look: Callable[[], str]) -> Look:
    """A faulty table may raise anything; here that is a finding."""
    try:
        return Look(mark=Mark.OK, about=about, says=look())
    except Exception as error:
        said = cut(" ".join(str(error).split()), LONGEST)  # a library's message may be a page
        says = f"{type(error).__name__}: {said}; install the program again"
        return Look(mark=Mark.BAD, about=about, says=says)


def _tables() -> str:
    from bot.check import check_tables

    report = check_tables()
    if report.faults:
        raise ValueError(" ".join(report.faults[:2]))
    return "every table loads, and nothing is missing"


def _reader() -> str:
    from nlp.reader import default_reader

    read = default_reader().read(PROBE)
    if not read.recipes or len(read.recipes[0].lines) != 2:
        raise ValueError("two plain lines were not read as two")
    return "loads, and reads a plain recipe"
