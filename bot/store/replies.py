"""Where our answers stand on the platform: found, revised after an edit, withdrawn after a deletion."""

from __future__ import annotations

from bot.store.cases import CaseState
from bot.store.database import Database, Transaction
from rules.recipe import Frozen


class Reply(Frozen):
    """What is known of one accepted message and our answer to it.

    `text` is what was read, '' after a purge. `reply_id` is the platform's id of our answer. `subject_id` is the post
    that was checked where the asker is not its author; `token` answers a command for a quarter of an hour. `unread` is
    the key of the sentence that says what of the post was not read.
    """

    message_id: str
    channel: str
    author_key: str
    text: str
    state: str
    received_at: int
    reply_id: str | None = None
    removed: bool = False
    subject_id: str | None = None
    token: str | None = None
    place: str | None = None
    unread: str | None = None
    language: str | None = None


SELECT = (
    "SELECT inbox.message_id, inbox.channel, author_key, inbox.text, inbox.state, received_at,"
    " COALESCE(replies.reply_id, (SELECT platform_message_id FROM outbox WHERE outbox.message_id ="
    " inbox.message_id AND platform_message_id IS NOT NULL ORDER BY part LIMIT 1)) AS reply_id,"
    " COALESCE(removed, 0) AS removed, subject_id, token, place, unread,"
    " (SELECT language FROM tags WHERE tags.message_id = inbox.message_id LIMIT 1) AS language"
    " FROM inbox LEFT JOIN replies ON replies.message_id = inbox.message_id"
)


class ReplyTable:
    def __init__(self, database: Database) -> None:
        self._database = database

    async def get(self, message_id: str) -> Reply | None:
        return await self._one(f"{SELECT} WHERE inbox.message_id = ?", message_id)

    async def by_reply(self, reply_id: str) -> Reply | None:
        """The message that this post of ours answers; not where it only brought news beside the answer."""
        known = (
            " WHERE inbox.message_id IN (SELECT message_id FROM outbox WHERE platform_message_id = :id AND news = 0"
            " UNION SELECT message_id FROM replies WHERE reply_id = :id)"
        )
        rows = await self._database.rows(SELECT + known, {"id": reply_id})
        return Reply.model_validate(dict(rows[0])) if rows else None

    async def about(self, subject_id: str) -> list[Reply]:
        """Checks of this post that others asked for."""
        rows = await self._database.rows(f"{SELECT} WHERE subject_id = ?", (subject_id,))
        return [Reply.model_validate(dict(row)) for row in rows]

    async def _one(self, sql: str, key: str) -> Reply | None:
        rows = await self._database.rows(sql, (key,))
        return Reply.model_validate(dict(rows[0])) if rows else None

    async def told(self, case: int, since: int, limit: int) -> list[Reply]:
        """The last answers about a case that stand in a channel and whose words are still kept. `since` in
        milliseconds UTC."""
        sql = (
            f"{SELECT} WHERE inbox.message_id IN (SELECT message_id FROM tags WHERE case_id = ? AND tagged_at >= ?"
            " AND kind <> 'correction') AND inbox.text <> '' AND inbox.state = 'done' AND COALESCE(removed, 0) = 0"
            " AND token IS NULL ORDER BY inbox.rowid DESC LIMIT ?"
        )
        rows = await self._database.rows(sql, (case, since, limit))
        return [Reply.model_validate(dict(row)) for row in rows]

    async def expect(self, message_id: str, channel: str, token: str, subject_id: str | None) -> None:
        """Notes how a command is to be answered, before it is accepted."""
        sql = (
            "INSERT INTO replies (message_id, channel, token, subject_id) VALUES (?, ?, ?, ?)"
            " ON CONFLICT (message_id) DO NOTHING"
        )
        async with self._database.transaction() as transaction:
            await transaction.run(sql, (message_id, channel, token, subject_id))

    async def note_unread(self, message_id: str, channel: str, unread: str) -> None:
        """Notes what of a post was not read, before it is accepted."""
        sql = (
            "INSERT INTO replies (message_id, channel, unread) VALUES (?, ?, ?) ON CONFLICT (message_id)"
            " DO UPDATE SET unread = excluded.unread"
        )
        await self._database.change(sql, (message_id, channel, unread))

    async def answer_at_once(self, message_id: str, channel: str, author_key: str, words: str, now: int) -> bool:
        """Accepts and answers in one transaction, with words that need no reading; False where it is known already."""
        known = (
            "INSERT INTO inbox (message_id, channel, author_key, text, received_at, state)"
            " VALUES (?, ?, ?, '', ?, 'done') ON CONFLICT (message_id) DO NOTHING"
        )
        answer = "INSERT INTO outbox (message_id, part, nonce, channel, text, created_at) VALUES (?, 0, ?, ?, ?, ?)"
        async with self._database.transaction() as transaction:
            if await transaction.run(known, (message_id, channel, author_key, now)) == 0:
                return False
            await transaction.run(answer, (message_id, f"{message_id}-0", channel, words, now))
            return True

    async def stands(self, message_id: str, channel: str, reply_id: str) -> None:
        """Our answer to this message is this post."""
        async with self._database.transaction() as transaction:
            await self._stands(transaction, message_id, channel, reply_id)

    async def _stands(self, transaction: Transaction, message_id: str, channel: str, reply_id: str | None) -> None:
        sql = (
            "INSERT INTO replies (message_id, channel, reply_id) VALUES (?, ?, ?) ON CONFLICT (message_id)"
            " DO UPDATE SET reply_id = COALESCE(excluded.reply_id, reply_id)"
        )
        await transaction.run(sql, (message_id, channel, reply_id))

    async def revise(self, message_id: str, text: str, urgent: bool, place: str | None = None) -> bool:
        """Puts a known message back into the line with its new text; its answer will take the place of the old one.

        False where the message is unknown.
        """
        async with self._database.transaction() as transaction:
            rows = await transaction.rows(f"{SELECT} WHERE inbox.message_id = ?", (message_id,))
            if not rows:
                return False
            known = Reply.model_validate(dict(rows[0]))
            await self._stands(transaction, message_id, known.channel, known.reply_id)
            await transaction.run("UPDATE replies SET place = ? WHERE message_id = ?", (place, message_id))
            await transaction.run("DELETE FROM outbox WHERE message_id = ? AND news = 0", (message_id,))
            await untag(transaction, message_id)
            sql = (
                "UPDATE inbox SET text = ?, urgent = ?, state = 'waiting', attempts = 0, starts = 0, error = NULL"
                " WHERE message_id = ?"
            )
            await transaction.run(sql, (text, urgent, message_id))
            return True

    async def remove(self, message_id: str, channel: str) -> None:
        """Our post is gone and shall stay away; nothing else is forgotten."""
        async with self._database.transaction() as transaction:
            await self._stands(transaction, message_id, channel, None)
            sql = "UPDATE replies SET removed = 1, token = NULL WHERE message_id = ?"
            await transaction.run(sql, (message_id,))
            silenced = (
                "UPDATE outbox SET state = 'failed', error = 'removed' WHERE message_id = ? AND state = 'pending'"
            )
            await transaction.run(silenced, (message_id,))


async def untag(transaction: Transaction, message_id: str) -> list[int]:
    """Takes a message out of its cases; returns those that nobody asks about any more."""
    rows = await transaction.rows("SELECT DISTINCT case_id FROM tags WHERE message_id = ?", (message_id,))
    await transaction.run("DELETE FROM tags WHERE message_id = ?", (message_id,))
    return await recount(transaction, [int(row[0]) for row in rows if row[0] is not None])


async def recount(transaction: Transaction, cases: list[int]) -> list[int]:
    """Counts who asks about cases that lost a message; returns those that nobody asks about any more."""
    left = []
    for case in cases:
        counted = await transaction.rows("SELECT COUNT(DISTINCT author_key) FROM tags WHERE case_id = ?", (case,))
        people = int(counted[0][0])
        sql = "UPDATE cases SET people = ?, state = CASE WHEN ? = 0 AND state = ? THEN ? ELSE state END WHERE id = ?"
        await transaction.run(sql, (people, people, CaseState.QUEUED, CaseState.SEEN, case))
        if people == 0:
            left.append(case)
    return left
