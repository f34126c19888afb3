"""The doctor: each thing that can be wrong is found, and what is said about it ends with what to do."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest

import bot
from bot.doctor import MEGABYTE, Mark, disk_look, look_round
from bot.inbox import Inbox
from bot.people import KEY_BYTES, People
from bot.settings import PREFIX
from bot.store import open_database
from bot.store.backup import key_file
from bot.store.migrate import steps
from tests.bot.made import WHEN, tag
from tests.bot.store.test_old_databases import OLD, old_database
from tests.faults.program import watchglass

NOW = int(WHEN.timestamp() * 1000)
TOKEN = "MTIzNDU2Nzg5MDEyMzQ1Njc4.AbCdEf.abcdefghijklmnopqrstuvwxyz0"  # made up
WELL = {
    "TOKEN": TOKEN, "DESK_CHANNEL": "123456789012345678", "CREATOR_ROLES": "123456789012345678",
    "POLICY_URL": "https://lantern-quay.example/privacy",
}  # fmt: skip
Says = Callable[..., dict[str, tuple[Mark, str]]]


@pytest.fixture
async def says(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Says:
    """What is said about each thing, of a house where all is well but what a test spoils; an empty variable is none."""
    (tmp_path / "w.toml").touch(0o600)
    async with open_database(tmp_path / "w.db") as database:
        await Inbox(database, People.beside(tmp_path / "w.db")).accept(tag(1, "mist"))

    def look(now: int = NOW, **variables: str) -> dict[str, tuple[Mark, str]]:
        for name, value in ({"CONFIG": str(tmp_path / "w.toml")} | WELL | variables).items():
            if value:
                monkeypatch.setenv(PREFIX + name, value)
            else:
                monkeypatch.delenv(PREFIX + name, raising=False)
        found: dict[str, tuple[Mark, str]] = {}
        for one in look_round(tmp_path / "w.db", now, quick=True):
            if one.about not in found or found[one.about][0] is Mark.OK:
                found[one.about] = (one.mark, one.says)
        return found

    return look


def test_a_house_where_all_is_well_has_nothing_to_do(says: Says) -> None:
    found = says()
    assert {about for about, (mark, _) in found.items() if mark is Mark.BAD} == set()
    assert {"settings", "token", "permissions", "disk", "key", "database", "clock", "tables", "reader"} <= set(found)


@pytest.mark.parametrize(
    ("variables", "about", "mark", "todo"),
    [
        ({"REGION": "moon"}, "settings", Mark.BAD, "set WATCHGLASS_REGION or correct it"),
        ({"RETENTION_DAYS": "0"}, "settings", Mark.BAD, "set WATCHGLASS_RETENTION_DAYS or correct it"),
        ({"DESK_CHANNEL": ""}, "desk", Mark.WARN, "set WATCHGLASS_DESK_CHANNEL"),
        ({"CREATOR_ROLES": ""}, "roles", Mark.WARN, "set WATCHGLASS_CREATOR_ROLES"),
        ({"POLICY_URL": ""}, "policy", Mark.WARN, "set WATCHGLASS_POLICY_URL"),
        ({"TOKEN": ""}, "token", Mark.WARN, "needs WATCHGLASS_TOKEN"),
        ({"TOKEN": "not-a-token"}, "token", Mark.BAD, "copy it again from the portal"),
    ],
)
def test_a_wrong_setting_is_found(says: Says, variables: dict[str, str], about: str, mark: Mark, todo: str) -> None:
    found = says(**variables)[about]
    assert (found[0], todo in found[1]) == (mark, True), found


def test_a_token_that_others_may_read_is_found(says: Says, tmp_path: Path) -> None:
    (tmp_path / "w.toml").write_text('token = "x"\n')
    (tmp_path / "w.toml").chmod(0o644)
    assert says()["settings"][0] is Mark.BAD
    assert "chmod 600" in says()["settings"][1]


@pytest.mark.parametrize(
    ("free", "held", "mark", "todo"),
    [
        (5000, 0, Mark.OK, "5000 MB free"),
        (900, 0, Mark.WARN, "free some space"),
        (90, 0, Mark.BAD, "free some space"),
        (5000, 3000, Mark.WARN, "the daily rewriting needs 6000 MB"),
        (50, 3000, Mark.BAD, "free some space"),
    ],
)
def test_a_disk_that_fills_is_found_before_it_is_full(free: int, held: int, mark: Mark, todo: str) -> None:
    found = disk_look(Path("/data"), free * MEGABYTE, held * MEGABYTE)
    assert (found.mark, todo in found.says) == (mark, True), found


def test_a_key_that_is_lost_cut_or_open_is_found(says: Says, tmp_path: Path) -> None:
    key = key_file(tmp_path / "w.db")
    key.chmod(0o640)
    assert "chmod 600" in says()["key"][1]
    key.chmod(0o600)
    key.write_bytes(b"x" * (KEY_BYTES - 1))
    assert "put back its backup" in says()["key"][1]
    key.unlink()
    assert says()["key"][0] is Mark.BAD


def change(path: Path, sql: str) -> None:
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute(sql)


def test_a_database_of_another_version_or_none_is_found(says: Says, tmp_path: Path) -> None:
    path = tmp_path / "w.db"
    change(path, f"PRAGMA user_version = {len(steps()) + 1}")
    assert "install the newer version" in says()["database"][1]
    path.unlink()
    old_database(OLD[0], path)
    assert says()["database"][0] is Mark.WARN
    assert "back it up first" in says()["database"][1]
    path.write_text("a letter, no database" * 100)
    assert "name another file" in says()["database"][1]
    path.unlink()
    assert says()["database"] == (Mark.OK, f"{path} is not there yet; it is made at the first start")


def test_a_row_that_points_nowhere_is_found(says: Says, tmp_path: Path) -> None:
    change(tmp_path / "w.db", "INSERT INTO tags VALUES ('gone', 0, NULL, 'k', 'c', 'recipe', 'en', NULL, 1)")
    assert says()["database"][0] is Mark.BAD
    assert "put back the last backup" in says()["database"][1]


def test_a_clock_that_is_long_past_or_behind_the_messages_is_found(says: Says) -> None:
    assert "set it by NTP" in says(now=NOW - 3_600_000)["clock"][1]
    assert "set it by NTP" in says(now=0)["clock"][1]
    assert says(now=NOW + 1)["clock"][0] is Mark.OK


def test_a_database_that_others_may_read_is_found(says: Says, tmp_path: Path) -> None:
    (tmp_path / "w.db").chmod(0o644)
    assert "chmod 600" in says()["permissions"][1]


@contextmanager
def closed(path: Path, mode: int) -> Iterator[None]:
    before = path.stat().st_mode
    path.chmod(mode)
    try:
        yield
    finally:
        path.chmod(before)


async def test_a_folder_and_a_file_that_may_not_be_written_are_found(says: Says, tmp_path: Path) -> None:
    settings = {"WATCHGLASS_DB": str(tmp_path / "w.db"), "WATCHGLASS_CONFIG": str(tmp_path / "w.toml")}
    with closed(tmp_path / "w.db", 0o400), closed(tmp_path, 0o500):
        code, _, complaints = await watchglass("doctor", "--quick", as_root=False, **settings)
    assert code == 1
    assert "chown it" in complaints
    assert "give the folder" in complaints


async def test_a_spoiled_table_and_a_lost_model_are_found(tmp_path: Path) -> None:
    """In a copy of the program: the real loaders on really spoiled files."""
    home = Path(bot.__file__).parents[1]
    for package in ("bot", "nlp", "rules"):
        shutil.copytree(home / package, tmp_path / package, ignore=shutil.ignore_patterns("__pycache__", "corpus"))
    with (tmp_path / "rules" / "law" / "prohibited.csv").open("a") as file:
        file.write("moonwort,,,,\n")
    (tmp_path / "nlp" / "config.cfg").write_text("[nlp]\n")
    code, _, complaints = await watchglass("doctor", home=tmp_path, WATCHGLASS_DB=str(tmp_path / "none.db"))
    assert code == 1
    bad = {line.split(":")[0].split()[1]: line for line in complaints.splitlines() if line.startswith("bad")}
    assert {"tables", "reader"} <= set(bad), complaints
    assert "prohibited.csv line" in bad["tables"]
    assert all(bad[name].endswith("install the program again") for name in ("tables", "reader"))
