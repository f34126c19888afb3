"""What the platform shows of the database: cards on the review desk, notes to the community, and small marks."""

from __future__ import annotations

from bot.queue.likeness import Sketch
from bot.store.cases import Case, case_of
from bot.store.database import Database
from rules.assessment import Verdict
from rules.recipe import Frozen


class Card(Frozen):
    """One card: where it stands, and the fingerprint of what it shows."""

    case_id: int
    channel: str
    message_id: str
    shown: str


class ViewTable:
    def __init__(self, database: Database) -> None:
        self._database = database

    async def card(self, case: int) -> Card | None:
        rows = await self._database.rows("SELECT * FROM cards WHERE case_id = ?", (case,))
        return Card.model_validate(dict(rows[0])) if rows else None

    async def put_card(self, card: Card) -> None:
        sql = (
            "INSERT INTO cards VALUES (:case_id, :channel, :message_id, :shown) ON CONFLICT (case_id) DO UPDATE"
            " SET channel = excluded.channel, message_id = excluded.message_id, shown = excluded.shown"
        )
        async with self._database.transaction() as transaction:
            await transaction.run(sql, card.model_dump())

    async def doubt_cards(self) -> None:
        """Every card is to be looked at again: changed where it stands, put up anew where it does not."""
        async with self._database.transaction() as transaction:
            await transaction.run("UPDATE cards SET shown = ''")

    async def drop_cards(self) -> None:
        """Forgets where the cards stand: the desk has moved."""
        async with self._database.transaction() as transaction:
            await transaction.run("DELETE FROM cards")

    async def without_card(self, limit: int) -> list[int]:
        """Cases that belong on the desk and have no card yet, oldest first."""
        sql = (
            "SELECT id FROM cases WHERE state IN ('queued', 'taken', 'ruled') AND NOT EXISTS"
            " (SELECT 1 FROM cards WHERE cards.case_id = cases.id) ORDER BY id LIMIT ?"
        )
        return [int(row[0]) for row in await self._database.rows(sql, (limit,))]

    async def carded(self, limit: int) -> list[int]:
        """Cases with a card, the last touched first."""
        sql = "SELECT case_id FROM cards JOIN cases ON cases.id = case_id ORDER BY last_seen DESC LIMIT ?"
        return [int(row[0]) for row in await self._database.rows(sql, (limit,))]

    async def without_note(self, people: int) -> list[Case]:
        """Recipes to avoid that so many people asked about, and that no note was written about."""
        sql = (
            "SELECT * FROM cases WHERE people >= ? AND verdict = ? AND state <> 'dropped' AND sketch IS NOT NULL"
            " AND NOT EXISTS (SELECT 1 FROM notes WHERE notes.case_id = cases.id) ORDER BY id LIMIT 20"
        )
        return [case_of(dict(row)) for row in await self._database.rows(sql, (people, Verdict.AVOID))]

    async def noted(self) -> list[Sketch]:
        """What the notes so far were about."""
        sql = "SELECT sketch FROM notes JOIN cases ON cases.id = notes.case_id WHERE sketch IS NOT NULL"
        return [Sketch.model_validate_json(row[0]) for row in await self._database.rows(sql)]

    async def begin_note(self, case: int, now: int, message_id: str | None = None) -> None:
        """One note a case, for ever; written down before it is sent. `message_id` "" = none was needed."""
        sql = "INSERT INTO notes VALUES (?, ?, ?) ON CONFLICT (case_id) DO NOTHING"
        async with self._database.transaction() as transaction:
            await transaction.run(sql, (case, now, message_id))

    async def unsent_notes(self) -> list[Case]:
        sql = "SELECT cases.* FROM notes JOIN cases ON cases.id = notes.case_id WHERE message_id IS NULL"
        return [case_of(dict(row)) for row in await self._database.rows(sql)]

    async def note_sent(self, case: int, message_id: str) -> None:
        async with self._database.transaction() as transaction:
            await transaction.run("UPDATE notes SET message_id = ? WHERE case_id = ?", (message_id, case))

    async def mark(self, name: str) -> str | None:
        rows = await self._database.rows("SELECT value FROM marks WHERE name = ?", (name,))
        return str(rows[0][0]) if rows else None

    async def set_mark(self, name: str, value: str) -> None:
        sql = "INSERT INTO marks VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = excluded.value"
        async with self._database.transaction() as transaction:
            await transaction.run(sql, (name, value))

    async def clear_mark(self, name: str) -> None:
        async with self._database.transaction() as transaction:
            await transaction.run("DELETE FROM marks WHERE name = ?", (name,))
