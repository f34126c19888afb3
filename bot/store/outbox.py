"""The table of answers on their way out."""

from __future__ import annotations

from bot.store.database import Database, Transaction
from bot.tag import Outgoing

COLUMNS = "nonce AS id, message_id, part, channel, text, more, urgent"


class OutboxTable:
    def __init__(self, database: Database) -> None:
        self._database = database

    async def add(self, transaction: Transaction, answer: Outgoing, now: int) -> None:
        """Writes the answer beside the verdict; an answer that stands there already stays as it is."""
        await transaction.run(
            "INSERT INTO outbox (message_id, part, nonce, channel, text, more, urgent, created_at)"
            " VALUES (?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING",
            (
                answer.message_id,
                answer.part,
                answer.id,
                answer.channel,
                answer.text,
                answer.more,
                int(answer.urgent),
                now,
            ),
        )

    async def pending(self, limit: int) -> list[Outgoing]:
        """The next answers to send: urgent first, then in the order in which they were written."""
        rows = await self._database.rows(
            f"SELECT {COLUMNS} FROM outbox WHERE state = 'pending' ORDER BY urgent DESC, rowid LIMIT ?", (limit,)
        )
        return [Outgoing.model_validate(dict(row)) for row in rows]

    async def still_pending(self, nonce: str) -> bool:
        rows = await self._database.rows("SELECT 1 FROM outbox WHERE nonce = ? AND state = 'pending'", (nonce,))
        return bool(rows)

    async def sent(self, nonce: str, platform_message_id: str, now: int) -> bool:
        async with self._database.transaction() as transaction:
            sql = (
                "UPDATE outbox SET state = 'sent', platform_message_id = ?, sent_at = ?, error = NULL"
                " WHERE nonce = ? AND state = 'pending'"
            )
            return await transaction.run(sql, (platform_message_id, now, nonce)) == 1

    async def failed(self, nonce: str, error: str) -> bool:
        async with self._database.transaction() as transaction:
            sql = "UPDATE outbox SET state = 'failed', error = ? WHERE nonce = ? AND state = 'pending'"
            return await transaction.run(sql, (error, nonce)) == 1

    async def answers(self, message_id: str) -> list[Outgoing]:
        """All parts of the answer to one message, sent or not."""
        rows = await self._database.rows(
            f"SELECT {COLUMNS} FROM outbox WHERE message_id = ? ORDER BY part", (message_id,)
        )
        return [Outgoing.model_validate(dict(row)) for row in rows]

    async def message_of(self, platform_message_id: str) -> str | None:
        """The message that one of our answers belongs to."""
        rows = await self._database.rows(
            "SELECT message_id FROM outbox WHERE platform_message_id = ? LIMIT 1", (platform_message_id,)
        )
        return str(rows[0][0]) if rows else None

    async def waiting(self) -> int:
        rows = await self._database.rows("SELECT COUNT(*) FROM outbox WHERE state = 'pending'")
        return int(rows[0][0])
