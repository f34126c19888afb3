"""The table of tags: which message asked about which case."""

from __future__ import annotations

from bot.store.database import Database, Transaction
from rules.recipe import Frozen, Recipe


class TagRow(Frozen):
    """One recipe of one message; a message without a recipe has one row without a case."""

    message_id: str
    recipe_index: int
    case_id: int | None
    author_key: str
    channel: str
    kind: str
    language: str
    recipe: str | None
    tagged_at: int


LATEST = 500  # so many tags are the recent ones
COLUMNS = ", ".join(TagRow.model_fields)
GAPS = ", ".join(f":{name}" for name in TagRow.model_fields)


class TagTable:
    def __init__(self, database: Database) -> None:
        self._database = database

    async def add(self, transaction: Transaction, row: TagRow) -> None:
        await transaction.run(f"INSERT INTO tags ({COLUMNS}) VALUES ({GAPS})", row.model_dump())

    async def last_recipe(self, author_key: str, channel: str) -> Recipe | None:
        """The last recipe that this author sent in this channel, for a correction to amend."""
        sql = (
            "SELECT recipe FROM tags WHERE author_key = ? AND channel = ? AND recipe IS NOT NULL"
            " ORDER BY rowid DESC LIMIT 1"
        )
        rows = await self._database.rows(sql, (author_key, channel))
        return Recipe.model_validate_json(rows[0][0]) if rows else None

    async def recent_people(self, case: int) -> int:
        """Distinct people who asked about a case among the latest messages."""
        sql = (
            "SELECT COUNT(DISTINCT author_key) FROM tags WHERE case_id = ?"
            " AND rowid > (SELECT MAX(rowid) FROM tags) - ?"
        )
        return int((await self._database.rows(sql, (case, LATEST)))[0][0])
