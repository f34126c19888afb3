"""What is kept of people, and how it goes: on a deletion, on request, after its time, or never kept at all."""

from __future__ import annotations

from collections.abc import Callable

from bot.store.cases import Case, CaseState, case_of
from bot.store.database import Database, Transaction
from bot.store.replies import untag
from rules.recipe import Frozen

CLEARED = "UPDATE outbox SET text = '', more = NULL, state = CASE state WHEN 'pending' THEN 'failed' ELSE state END"

SPENT = "UPDATE outbox SET more = NULL, text = CASE state WHEN 'pending' THEN text ELSE '' END"


class Kept(Frozen):
    """What stands under one person's key. Times in milliseconds UTC."""

    messages: int
    with_text: int
    oldest: int | None
    quiet: bool


class PrivacyTable:
    """`scrub` makes a case anonymous when the last person who asked about it goes."""

    def __init__(self, database: Database, scrub: Callable[[Case], tuple[str, str, str | None, str | None]]) -> None:
        self._database = database
        self._scrub = scrub

    async def kept(self, author_key: str) -> Kept:
        sql = (
            "SELECT COUNT(*) AS messages, COALESCE(SUM(text <> ''), 0) AS with_text, MIN(received_at) AS oldest,"
            " EXISTS (SELECT 1 FROM quiet WHERE author_key = :key) AS quiet FROM inbox WHERE author_key = :key"
        )
        return Kept.model_validate(dict((await self._database.rows(sql, {"key": author_key}))[0]))

    async def withdraw(self, message_id: str) -> bool:
        """The post was deleted: its words go, and our answer's. The id stays, so that it is not answered again."""
        async with self._database.transaction() as transaction:
            return await self._withdraw(transaction, message_id)

    async def forget(self, author_key: str) -> int:
        """Everything of one person goes: words, answers, and the key; returns how many messages that were."""
        async with self._database.transaction() as transaction:
            rows = await transaction.rows("SELECT message_id FROM inbox WHERE author_key = ?", (author_key,))
            for row in rows:
                await self._withdraw(transaction, str(row[0]))
            await transaction.run("UPDATE inbox SET author_key = '' WHERE author_key = ?", (author_key,))
            return len(rows)

    async def _withdraw(self, transaction: Transaction, message_id: str) -> bool:
        sql = "UPDATE inbox SET text = '', error = NULL, state = 'done' WHERE message_id = ?"
        if await transaction.run(sql, (message_id,)) == 0:
            return False
        await transaction.run(f"{CLEARED} WHERE message_id = ?", (message_id,))
        await transaction.run("UPDATE replies SET token = NULL WHERE message_id = ?", (message_id,))
        await transaction.run("DELETE FROM followers WHERE message_id = ?", (message_id,))
        for case in await untag(transaction, message_id):
            await self._anonymous(transaction, case)
        return True

    async def _anonymous(self, transaction: Transaction, case: int) -> None:
        """A case that the creator has in hand stays hers; of any other no word of the person is left."""
        rows = await transaction.rows("SELECT * FROM cases WHERE id = ?", (case,))
        known = case_of(dict(rows[0]))
        if known.state not in (CaseState.SEEN, CaseState.QUEUED):
            return
        fingerprint, title, sketch, recipe = self._scrub(known)
        sql = "UPDATE cases SET fingerprint = ?, title = ?, sketch = ?, recipe = ?, state = 'seen' WHERE id = ?"
        await transaction.run(sql, (fingerprint, title, sketch, recipe, case))

    async def purge(self, before: int, limit: int = 500) -> int:
        """Words of answered messages older than `before` (milliseconds) go; returns how many were cleared."""
        old = "SELECT message_id FROM inbox WHERE received_at < ? AND text <> '' AND state = 'done' LIMIT ?"
        async with self._database.transaction() as transaction:
            rows = [str(row[0]) for row in await transaction.rows(old, (before, limit))]
            for message_id in rows:
                await transaction.run("UPDATE inbox SET text = '' WHERE message_id = ?", (message_id,))
                await transaction.run(f"{CLEARED} WHERE message_id = ?", (message_id,))
                await transaction.run("UPDATE tags SET recipe = NULL WHERE message_id = ?", (message_id,))
            return len(rows)

    async def vanish(self) -> None:
        """Empties the journal beside the file, which still holds what was deleted. Raises StoreError."""
        await self._database.change("PRAGMA wal_checkpoint(TRUNCATE)")

    async def set_quiet(self, author_key: str, on: bool, now: int) -> None:
        sql = "INSERT INTO quiet VALUES (:key, :now) ON CONFLICT (author_key) DO NOTHING"
        gone = "DELETE FROM quiet WHERE author_key = :key"
        async with self._database.transaction() as transaction:
            await transaction.run(sql if on else gone, {"key": author_key, "now": now} if on else {"key": author_key})

    async def quiet_keys(self) -> set[str]:
        """Everyone who asked to be left alone."""
        return {str(row[0]) for row in await self._database.rows("SELECT author_key FROM quiet")}
