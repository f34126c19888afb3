"""What is kept of people, and how it goes: on a deletion, on request, after its time, or never kept at all."""

from __future__ import annotations

import json
from collections.abc import Callable

from bot.store.cases import Case, case_of
from bot.store.database import Database, Transaction
from bot.store.replies import untag
from rules.recipe import Frozen

# On a deletion nothing more is said to it, so what waits to be sent goes as well.
CLEARED = "UPDATE outbox SET text = '', more = NULL, state = CASE state WHEN 'pending' THEN 'failed' ELSE state END"
# By age only what was answered: a message that waits to be read, or whose answer waits to be sent, keeps its words.
OLD = (
    "SELECT message_id FROM inbox WHERE received_at < ? AND text <> '' AND state <> 'waiting' AND NOT EXISTS"
    " (SELECT 1 FROM outbox WHERE outbox.message_id = inbox.message_id AND outbox.state = 'pending')"
    " ORDER BY received_at LIMIT ?"
)
OVER = (
    "SELECT id FROM cases WHERE last_seen < ? AND brought_by IS NOT NULL AND state IN ('seen', 'dropped')"
    " ORDER BY last_seen LIMIT ?"
)
NAMED = "message_id IN (SELECT value FROM json_each(?))"
CASES_AT_ONCE = 20  # each is parsed and written anew, and others wait for that long
GONE = "INSERT OR REPLACE INTO marks VALUES ('words_gone', '1')"
DUE = (
    "SELECT EXISTS (SELECT 1 FROM marks WHERE name = 'words_gone')"
    " AND NOT EXISTS (SELECT 1 FROM marks WHERE name = 'rewritten_at' AND CAST(value AS INTEGER) > :before)"
    " AND NOT EXISTS (SELECT 1 FROM inbox WHERE state = 'waiting')"
    " AND NOT EXISTS (SELECT 1 FROM outbox WHERE state = 'pending')"
)
DAY = 86_400_000


class Kept(Frozen):
    """What stands under one person's key. Times in milliseconds UTC."""

    messages: int
    with_text: int
    oldest: int | None
    quiet: bool


class PrivacyTable:
    """`scrub` takes the wording out of a case: when the one who brought it goes, or everyone who asked, or its time is
    over. What the creator decided, and the substances and amounts that she decided on, stay."""

    def __init__(self, database: Database, scrub: Callable[[Case], tuple[str, str, str | None, str | None]]) -> None:
        self._database = database
        self._scrub = scrub

    async def kept(self, author_key: str) -> Kept:
        sql = (
            "SELECT COUNT(*) AS messages, COALESCE(SUM(text <> ''), 0) AS with_text, MIN(received_at) AS oldest,"
            " EXISTS (SELECT 1 FROM quiet WHERE author_key = :key) AS quiet FROM inbox WHERE author_key = :key"
        )
        return Kept.model_validate(dict((await self._database.rows(sql, {"key": author_key}))[0]))

    async def withdraw(self, message_id: str) -> list[int]:
        """The post was deleted: its words go, and our answer's. The id stays, so that it is not answered again.

        Returns the cases that lost their wording.
        """
        async with self._database.transaction() as transaction:
            return await self._withdraw(transaction, message_id)

    async def forget(self, author_key: str) -> int:
        """Everything of one person goes, off the disk as well; returns how many messages that were."""
        async with self._database.transaction() as transaction:
            rows = await transaction.rows("SELECT message_id FROM inbox WHERE author_key = ?", (author_key,))
            for row in rows:
                await self._withdraw(transaction, str(row[0]))
            await transaction.run("UPDATE inbox SET author_key = '' WHERE author_key = ?", (author_key,))
        await self.vanish()
        return len(rows)

    async def _withdraw(self, transaction: Transaction, message_id: str) -> list[int]:
        sql = "UPDATE inbox SET text = '', error = NULL, state = 'done' WHERE message_id = ?"
        if await transaction.run(sql, (message_id,)) == 0:
            return []
        await transaction.run(GONE)
        await transaction.run(f"{CLEARED} WHERE message_id = ?", (message_id,))
        await transaction.run("UPDATE replies SET token = NULL WHERE message_id = ?", (message_id,))
        await transaction.run("DELETE FROM followers WHERE message_id = ?", (message_id,))
        await transaction.run("DELETE FROM consents WHERE message_id = ?", (message_id,))
        left = await untag(transaction, message_id)
        brought = await transaction.rows("SELECT id FROM cases WHERE brought_by = ?", (message_id,))
        cases = sorted({*left, *(int(row[0]) for row in brought)})
        for case in cases:
            await self._without_words(transaction, case)
        return cases

    async def _without_words(self, transaction: Transaction, case: int) -> None:
        """No word of the one who brought it is left, nor in what the creator's correction replaced."""
        rows = await transaction.rows("SELECT * FROM cases WHERE id = ?", (case,))
        fingerprint, title, sketch, recipe = self._scrub(case_of(dict(rows[0])))
        sql = "UPDATE cases SET fingerprint = ?, title = ?, sketch = ?, recipe = ?, brought_by = NULL WHERE id = ?"
        await transaction.run(sql, (fingerprint, title, sketch, recipe, case))
        # What is gone cannot be put back: such a correction counts as past undoing.
        past = (
            "UPDATE audit SET detail = json_remove(detail, '$.reading_before'), undone = 1"
            " WHERE case_id = ? AND json_extract(detail, '$.reading_before') IS NOT NULL"
        )
        await transaction.run(past, (case,))

    async def purge(self, before: int, limit: int = 100) -> int:
        """What was answered, and cases that are closed, lose their words where they are older than `before`
        (milliseconds); returns how many did. To be called again until it returns 0."""
        async with self._database.transaction() as transaction:
            old = [str(row[0]) for row in await transaction.rows(OLD, (before, limit))]
            named = (json.dumps(old),)
            await transaction.run(f"UPDATE inbox SET text = '', error = NULL, state = 'done' WHERE {NAMED}", named)
            await transaction.run(f"UPDATE outbox SET text = '', more = NULL WHERE {NAMED}", named)
            await transaction.run(f"UPDATE tags SET recipe = NULL WHERE {NAMED}", named)
            over = [int(row[0]) for row in await transaction.rows(OVER, (before, CASES_AT_ONCE))]
            for case in over:
                await self._without_words(transaction, case)
            if old or over:
                await transaction.run(GONE)
            return len(old) + len(over)

    async def tidy(self, now: int) -> bool:
        """Once a day, where words went since and nobody waits: writes the whole file anew; True where it did.

        Rows that the engine moved inside the file leave copies in the gaps of its pages, which no overwriting reaches.
        Until then the journal at least is emptied. `now` in milliseconds UTC. Raises StoreError.
        """
        rows = await self._database.rows(DUE, {"before": now - DAY})
        if not rows[0][0]:
            await self.vanish()
            return False
        await self._database.change("VACUUM")
        await self._database.change("INSERT OR REPLACE INTO marks VALUES ('rewritten_at', ?)", (str(now),))
        await self._database.change("DELETE FROM marks WHERE name = 'words_gone'")
        await self.vanish()
        return True

    async def vanish(self) -> bool:
        """Empties the journal beside the file, which still holds what was deleted; False where another program
        reads the file just now. Raises StoreError."""
        return not (await self._database.change("PRAGMA wal_checkpoint(TRUNCATE)"))[0][0]

    async def set_quiet(self, author_key: str, on: bool, now: int) -> None:
        sql = "INSERT INTO quiet VALUES (:key, :now) ON CONFLICT (author_key) DO NOTHING"
        gone = "DELETE FROM quiet WHERE author_key = :key"
        async with self._database.transaction() as transaction:
            await transaction.run(sql if on else gone, {"key": author_key, "now": now} if on else {"key": author_key})

    async def quiet_keys(self) -> set[str]:
        """Everyone who asked to be left alone."""
        return {str(row[0]) for row in await self._database.rows("SELECT author_key FROM quiet")}
