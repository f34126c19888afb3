"""The table of those who asked to be told when a recipe was covered."""

from __future__ import annotations

from bot.store.database import Database, Transaction
from rules.recipe import Frozen


class Follower(Frozen):
    """One message to be answered once more, in the channel where it was asked."""

    message_id: str
    channel: str
    language: str


class FollowerTable:
    def __init__(self, database: Database) -> None:
        self._database = database

    async def ask(self, message_id: str, now: int) -> bool:
        """Writes the wish down; False where the message is unknown or its author is anonymous by now."""
        sql = (
            "INSERT INTO followers (message_id, asked_at) SELECT message_id, ? FROM inbox"
            " WHERE message_id = ? AND author_key <> '' ON CONFLICT (message_id) DO NOTHING"
        )
        async with self._database.transaction() as transaction:
            await transaction.run(sql, (now, message_id))
        return await self.asked(message_id)

    async def withdraw(self, message_id: str) -> None:
        async with self._database.transaction() as transaction:
            await transaction.run("DELETE FROM followers WHERE message_id = ?", (message_id,))

    async def asked(self, message_id: str) -> bool:
        rows = await self._database.rows("SELECT 1 FROM followers WHERE message_id = ?", (message_id,))
        return bool(rows)

    async def covered(self, message_id: str) -> str | None:
        """Where a recipe of this message was covered already: the address of the last episode with it."""
        sql = (
            "SELECT address FROM tags JOIN segments USING (case_id) JOIN episodes ON episode_id = episodes.id"
            " WHERE message_id = ? AND address IS NOT NULL ORDER BY published_at DESC LIMIT 1"
        )
        rows = await self._database.rows(sql, (message_id,))
        return str(rows[0][0]) if rows else None

    async def to_tell(self, transaction: Transaction, episode: int) -> list[Follower]:
        """Who waits for a case of this episode: each person once, however often they asked."""
        sql = (
            "SELECT MIN(followers.message_id) AS message_id, tags.channel, tags.language FROM followers"
            " JOIN tags ON tags.message_id = followers.message_id"
            " JOIN segments ON segments.case_id = tags.case_id"
            " WHERE segments.episode_id = ? AND told_at IS NULL AND tags.author_key <> ''"
            " AND tags.author_key NOT IN (SELECT author_key FROM quiet) GROUP BY tags.author_key"
        )
        rows = await transaction.rows(sql, (episode,))
        return [Follower.model_validate(dict(row)) for row in rows]

    async def told(self, transaction: Transaction, episode: int, now: int) -> None:
        """All wishes that this episode answers are settled."""
        sql = (
            "UPDATE followers SET told_at = ? WHERE told_at IS NULL AND message_id IN (SELECT message_id"
            " FROM tags JOIN segments ON segments.case_id = tags.case_id WHERE episode_id = ?)"
        )
        await transaction.run(sql, (now, episode))
