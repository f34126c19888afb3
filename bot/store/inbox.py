"""The table of accepted messages."""

from __future__ import annotations

from bot.store.database import Database, Transaction
from rules.recipe import Frozen


class Accepted(Frozen):
    """One accepted message. `author_key` is a keyed hash; `received_at` is in milliseconds UTC.

    `attempts` counts tries that ended in an error, `starts` those that never ended (the process died).
    """

    message_id: str
    channel: str
    author_key: str
    text: str
    received_at: int
    urgent: bool = False
    attempts: int = 0
    starts: int = 0
    error: str | None = None


COLUMNS = ", ".join(Accepted.model_fields)
# What is read again has an answer that stands: nobody waits for the new one since the day of the question.
UNSEEN = "NOT EXISTS (SELECT 1 FROM replies WHERE replies.message_id = inbox.message_id AND reply_id IS NOT NULL)"


class InboxTable:
    def __init__(self, database: Database) -> None:
        self._database = database

    async def add(self, message: Accepted) -> bool:
        """Commits the message to disk; False where its id is known already."""
        sql = (
            "INSERT INTO inbox (message_id, channel, author_key, text, received_at, urgent)"
            " VALUES (:message_id, :channel, :author_key, :text, :received_at, :urgent)"
            " ON CONFLICT (message_id) DO NOTHING RETURNING 1"
        )
        return bool(await self._database.change(sql, message.model_dump()))

    async def claim(self) -> Accepted | None:
        """The next message, urgent first, then in the order of arrival.

        The start is counted before the try, so that a message that ends the process is set aside as well.
        """
        line = "SELECT rowid FROM inbox WHERE state = 'waiting' ORDER BY urgent DESC, rowid LIMIT 1"
        sql = f"UPDATE inbox SET starts = starts + 1 WHERE rowid = ({line}) RETURNING {COLUMNS}"
        rows = await self._database.change(sql)
        return Accepted.model_validate(dict(rows[0])) if rows else None

    async def close(self, transaction: Transaction, message_id: str) -> bool:
        """Marks it answered; False where it was answered before."""
        sql = "UPDATE inbox SET state = 'done', error = NULL WHERE message_id = ? AND state = 'waiting'"
        return await transaction.run(sql, (message_id,)) == 1

    async def note_error(self, message_id: str, error: str) -> None:
        """Counts a try that ended in an error."""
        sql = "UPDATE inbox SET error = ?, attempts = attempts + 1, starts = 0 WHERE message_id = ?"
        await self._database.change(sql, (error, message_id))

    async def put_aside(self, transaction: Transaction, message_id: str, error: str) -> bool:
        """Takes it out of the line for good, with its reason; False where it is out already."""
        sql = "UPDATE inbox SET state = 'aside', error = ? WHERE message_id = ? AND state = 'waiting'"
        return await transaction.run(sql, (error, message_id)) == 1

    async def put_back(self, message_id: str) -> bool:
        """Tries a message again that was set aside; an apology not sent yet is taken back."""
        sql = (
            "UPDATE inbox SET state = 'waiting', attempts = 0, starts = 0, error = NULL"
            " WHERE message_id = ? AND state = 'aside'"
        )
        unsent = "DELETE FROM outbox WHERE message_id = ? AND state = 'pending'"
        async with self._database.transaction() as transaction:
            changed = await transaction.run(sql, (message_id,)) == 1
            if changed:
                await transaction.run(unsent, (message_id,))
            return changed

    async def set_aside(self) -> list[Accepted]:
        """Everything that was set aside, oldest first."""
        rows = await self._database.rows(f"SELECT {COLUMNS} FROM inbox WHERE state = 'aside' ORDER BY rowid")
        return [Accepted.model_validate(dict(row)) for row in rows]

    async def waiting(self) -> int:
        rows = await self._database.rows("SELECT COUNT(*) FROM inbox WHERE state = 'waiting'")
        return int(rows[0][0])

    async def oldest_waiting(self) -> int | None:
        """When the message that waits longest came, in milliseconds UTC."""
        rows = await self._database.rows(f"SELECT MIN(received_at) FROM inbox WHERE state = 'waiting' AND {UNSEEN}")
        return None if rows[0][0] is None else int(rows[0][0])

    async def waiting_by_channel(self) -> list[tuple[str, int, int]]:
        """Channel, arrival of its oldest waiting message in milliseconds UTC, and how many wait there."""
        sql = (
            "SELECT channel, MIN(received_at), COUNT(*) FROM inbox"
            f" WHERE state = 'waiting' AND {UNSEEN} GROUP BY channel"
        )
        return [(str(row[0]), int(row[1]), int(row[2])) for row in await self._database.rows(sql)]
