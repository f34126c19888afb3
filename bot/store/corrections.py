"""What a correction changes of what was said before: the earlier answer, and the case that it was counted for."""

from __future__ import annotations

from bot.store.database import Database, Transaction
from bot.store.inbox import Accepted
from bot.store.replies import recount
from nlp.reading import Kind

LOOKED_BACK = 6  # a correction of a correction of a correction: all of them say what the last one says

# Answers that stand in a channel, to messages with one recipe: of several only one would have been corrected.
EARLIER = (
    "SELECT message_id, kind, case_id FROM tags WHERE author_key = :author AND channel = :channel"
    " AND recipe IS NOT NULL AND message_id <> :message AND (SELECT COUNT(*) FROM tags AS all_tags"
    " WHERE all_tags.message_id = tags.message_id) = 1 AND EXISTS (SELECT 1 FROM outbox"
    " WHERE outbox.message_id = tags.message_id AND state <> 'failed') AND NOT EXISTS (SELECT 1 FROM replies"
    " WHERE replies.message_id = tags.message_id AND token IS NOT NULL) ORDER BY rowid DESC LIMIT :limit"
)


class CorrectionTable:
    def __init__(self, database: Database) -> None:
        self._database = database

    async def mends(self, transaction: Transaction, correction: Accepted, case: int) -> list[str]:
        """The earlier messages that this one corrects, counted for its case from now on."""
        values = {
            "author": correction.author_key,
            "channel": correction.channel,
            "message": correction.message_id,
            "limit": LOOKED_BACK,
        }
        found, left = [], set()
        for row in await transaction.rows(EARLIER, values):
            found.append(str(row["message_id"]))
            left.add(int(row["case_id"]))
            await transaction.run("UPDATE tags SET case_id = ? WHERE message_id = ?", (case, row["message_id"]))
            if row["kind"] != Kind.CORRECTION:
                break
        await recount(transaction, sorted(left - {case}))
        return found
