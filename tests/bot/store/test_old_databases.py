"""Databases as earlier versions wrote them: everything in them is still there, and work goes on where it stood."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from bot.desk import Desk
from bot.inbox import Inbox
from bot.people import People
from bot.store import open_database
from bot.store.backup import back_up, examine
from bot.store.cases import CaseTable, Order
from bot.store.migrate import steps
from bot.store.outbox import OutboxTable
from tests.bot.made import tag

OLD = sorted((Path(__file__).parent / "old").glob("schema_*.sqlite.sql"))


def old_database(dump: Path, path: Path) -> Path:
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(dump.read_text("utf-8"))
    return path


def test_an_old_database_is_stored_for_every_earlier_schema() -> None:
    assert [int(dump.name[7:11]) for dump in OLD] == list(range(1, len(steps())))


@pytest.mark.parametrize("dump", OLD, ids=lambda dump: dump.name[:11])
async def test_an_update_keeps_everything_and_goes_on(dump: Path, tmp_path: Path) -> None:
    path = old_database(dump, tmp_path / "w.db")
    back_up(path, tmp_path / "before.db")
    async with open_database(path) as database:
        inbox = Inbox(database, People(b"s" * 32))
        assert await inbox.waiting() == 1
        assert [message.message_id for message in await inbox.set_aside()] == ["1003"]
        assert [answer.id for answer in await OutboxTable(database).pending(9)] == ["1003-0"]
        ruling = await Desk(database).rulings.standing(1)
        assert ruling is not None
        assert ruling.words == "Good as it stands."
        assert await inbox.accept(tag(1, "a new one"))
        entry = await Desk(database).undo("creator", 1)
        assert entry is not None
    found = examine(path)
    assert (found.schema_number, found.messages, found.faults) == (len(steps()), 4, ())
    assert examine(tmp_path / "before.db").messages == 3


async def test_an_update_to_5_remembers_whose_words_a_case_carries(tmp_path: Path) -> None:
    path = old_database(OLD[3], tmp_path / "w.db")
    async with open_database(path) as database:
        brought = await database.rows("SELECT id, brought_by FROM cases ORDER BY id")
        listed = await CaseTable(database).page(None, Order.SCORE, hazard="needs_preservative")
    assert [tuple(row) for row in brought] == [(1, "1001"), (2, "1001"), (3, ""), (4, None)]
    assert [case.id for case in listed] == [2, 3, 4]


async def test_an_update_to_5_keeps_who_ruled_in_the_audit_trail_alone(tmp_path: Path) -> None:
    path = old_database(OLD[3], tmp_path / "w.db")
    async with open_database(path) as database:
        assert (await Desk(database).audit.of_case(2))[0].who == "710000000000000001"
        assert "710000000000000001" not in str([tuple(row) for row in await database.rows("SELECT * FROM rulings")])
