"""The table of those who let their own words be shown in public. Nobody in it is the usual case."""

from __future__ import annotations

from bot.store.database import Database
from rules.recipe import Frozen


class Consent(Frozen):
    """Of one case: how many people asked, how many of them said yes, and how those who want a name are called."""

    asked: int = 0
    said_yes: int = 0
    credits: tuple[str, ...] = ()


class ConsentTable:
    def __init__(self, database: Database) -> None:
        self._database = database

    async def give(self, message_id: str, credit: str, now: int) -> bool:
        """Writes a yes down; False where the message is unknown or its author is anonymous by now.

        `credit` '' = without a name; `now` in milliseconds UTC.
        """
        sql = (
            "INSERT INTO consents (message_id, credit, given_at) SELECT message_id, ?, ? FROM inbox"
            " WHERE message_id = ? AND author_key <> '' ON CONFLICT (message_id)"
            " DO UPDATE SET credit = excluded.credit RETURNING 1"
        )
        return bool(await self._database.change(sql, (credit, now, message_id)))

    async def given(self, message_id: str) -> bool:
        return bool(await self._database.rows("SELECT 1 FROM consents WHERE message_id = ?", (message_id,)))

    async def withdraw(self, message_id: str) -> None:
        await self._database.change("DELETE FROM consents WHERE message_id = ?", (message_id,))

    async def count(self, author_key: str) -> int:
        """How many posts of one person may be shown."""
        sql = "SELECT COUNT(*) FROM consents JOIN inbox USING (message_id) WHERE author_key = ?"
        return int((await self._database.rows(sql, (author_key,)))[0][0])

    async def withdraw_all(self, author_key: str) -> None:
        sql = "DELETE FROM consents WHERE message_id IN (SELECT message_id FROM inbox WHERE author_key = ?)"
        await self._database.change(sql, (author_key,))

    async def of_case(self, case: int) -> Consent:
        """Each person once, by what they said last; nobody who wants to be left alone."""
        sql = (
            "SELECT credit, MAX(given_at) FROM consents JOIN tags USING (message_id) WHERE case_id = ?"
            " AND author_key <> '' AND author_key NOT IN (SELECT author_key FROM quiet) GROUP BY author_key"
            " ORDER BY MIN(tags.rowid)"
        )
        rows = await self._database.rows(sql, (case,))
        asked = await self._database.rows("SELECT COUNT(DISTINCT author_key) FROM tags WHERE case_id = ?", (case,))
        named = tuple(dict.fromkeys(str(row[0]) for row in rows if row[0]))
        return Consent(asked=int(asked[0][0]), said_yes=len(rows), credits=named)
