"""The table of the creator's rulings."""

from __future__ import annotations

from bot.queue.rulings import Ruling
from bot.store.database import Database, Transaction
from rules.assessment import Verdict


class RulingTable:
    def __init__(self, database: Database) -> None:
        self._database = database

    async def add(self, transaction: Transaction, ruling: Ruling, why: str | None, now: int) -> int:
        """Who ruled stands in the audit trail."""
        sql = "INSERT INTO rulings (case_id, verdict, words, why, ruled_at) VALUES (?, ?, ?, ?, ?)"
        return await transaction.insert(sql, (ruling.case, ruling.verdict, ruling.words, why, now))

    async def undo(self, transaction: Transaction, ruling: int, now: int) -> None:
        await transaction.run("UPDATE rulings SET undone_at = ? WHERE id = ?", (now, ruling))

    async def standing(self, case: int) -> Ruling | None:
        """The ruling in force on a case: the last one that was not undone."""
        sql = (
            "SELECT case_id, verdict, words FROM rulings WHERE case_id = ? AND undone_at IS NULL"
            " ORDER BY id DESC LIMIT 1"
        )
        for row in await self._database.rows(sql, (case,)):
            return Ruling(case=row["case_id"], verdict=Verdict(row["verdict"]), words=row["words"])
        return None
