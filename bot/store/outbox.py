"""The table of answers on their way out."""

from __future__ import annotations

from bot.store.database import Database, Transaction
from bot.tag import Answer, Outgoing

COLUMNS = (
    "nonce AS id, message_id, part, channel, text, more, urgent, news,"
    " (SELECT language FROM tags WHERE tags.message_id = outbox.message_id LIMIT 1) AS language"
)


class OutboxTable:
    def __init__(self, database: Database) -> None:
        self._database = database

    async def add(self, transaction: Transaction, answer: Answer, now: int) -> None:
        """Writes the answer beside the verdict, as the next part of what is said to its message.

        Part 0 is the first answer; a message that was set aside and tried again has its apology before it.
        """
        parts = "SELECT COALESCE(MAX(part) + 1, 0) AS part FROM outbox WHERE message_id = :message_id"
        sql = (
            "INSERT INTO outbox (message_id, part, nonce, channel, text, more, urgent, news, created_at)"
            " SELECT :message_id, part, :message_id || '-' || part, :channel, :text, :more, :urgent, :news, :now"
            f" FROM ({parts})"
        )
        await transaction.run(sql, {**answer.model_dump(), "now": now})

    async def pending(self, limit: int, channel: str | None = None) -> list[Outgoing]:
        """The next answers to send: urgent first, then in the order in which they were written."""
        sql = (
            f"SELECT {COLUMNS} FROM outbox WHERE state = 'pending'"
            " AND (:channel IS NULL OR channel = :channel) ORDER BY urgent DESC, rowid LIMIT :limit"
        )
        rows = await self._database.rows(sql, {"channel": channel, "limit": limit})
        return [Outgoing.model_validate(dict(row)) for row in rows]

    async def sent(self, nonce: str, platform_message_id: str, now: int) -> bool:
        """False where it was settled before."""
        sql = (
            "UPDATE outbox SET state = 'sent', platform_message_id = ?, sent_at = ?, error = NULL"
            " WHERE nonce = ? AND state = 'pending' RETURNING 1"
        )
        return bool(await self._database.change(sql, (platform_message_id, now, nonce)))

    async def failed(self, nonce: str, error: str) -> bool:
        """False where it was settled before."""
        sql = "UPDATE outbox SET state = 'failed', error = ? WHERE nonce = ? AND state = 'pending' RETURNING 1"
        return bool(await self._database.change(sql, (error, nonce)))

    async def answers(self, message_id: str) -> list[Outgoing]:
        """All parts of the answer to one message, sent or not."""
        sql = f"SELECT {COLUMNS} FROM outbox WHERE message_id = ? ORDER BY part"
        rows = await self._database.rows(sql, (message_id,))
        return [Outgoing.model_validate(dict(row)) for row in rows]

    async def channels(self) -> list[str]:
        """Channels in which answers wait, those with urgent ones first."""
        sql = (
            "SELECT channel FROM outbox WHERE state = 'pending' GROUP BY channel ORDER BY MAX(urgent) DESC, MIN(rowid)"
        )
        return [str(row[0]) for row in await self._database.rows(sql)]

    async def in_doubt(self) -> list[str]:
        """Answers that may have been on the wire when the program ended: the first of each kind in each
        channel."""
        sql = "SELECT nonce, MIN(rowid) FROM outbox WHERE state = 'pending' GROUP BY channel, urgent"
        return [str(row[0]) for row in await self._database.rows(sql)]

    async def waiting(self) -> int:
        rows = await self._database.rows("SELECT COUNT(*) FROM outbox WHERE state = 'pending'")
        return int(rows[0][0])
