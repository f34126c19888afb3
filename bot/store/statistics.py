"""Counts over a period, for looking back. Times in milliseconds UTC; a period is [since, until)."""

from __future__ import annotations

from bot.store.database import Database
from rules.assessment import Verdict
from rules.recipe import Frozen


class Spread(Frozen):
    """Times to reply in milliseconds: how many, the middle one, and the one that nineteen of twenty stay under."""

    count: int
    median: int | None
    most: int | None


class Judged(Frozen):
    """One standing ruling beside what the machine said."""

    ruled_at: int
    machine: Verdict
    creator: Verdict
    hazards: tuple[str, ...]


class StatisticsTable:
    def __init__(self, database: Database) -> None:
        self._database = database

    async def kinds(self, since: int, until: int) -> dict[str, int]:
        """Answered messages by kind."""
        sql = "SELECT kind, COUNT(*) FROM tags WHERE recipe_index = 0 AND {} GROUP BY kind ORDER BY 2 DESC, 1"
        return await self._counts(sql, "tagged_at", since, until)

    async def recipes(self, since: int, until: int) -> tuple[int, int]:
        """Recipes asked about, and how many different ones."""
        sql = (
            "SELECT COUNT(recipe_index), COUNT(DISTINCT case_id) FROM tags"
            " WHERE case_id IS NOT NULL AND tagged_at >= ? AND tagged_at < ?"
        )
        row = (await self._database.rows(sql, (since, until)))[0]
        return int(row[0]), int(row[1])

    async def verdicts(self, since: int, until: int) -> dict[str, int]:
        """Recipes asked about, by the machine's verdict."""
        sql = (
            "SELECT verdict, SUM(asked) FROM (SELECT case_id, COUNT(*) AS asked FROM tags WHERE {} GROUP BY case_id)"
            " JOIN cases ON cases.id = case_id WHERE verdict IS NOT NULL GROUP BY verdict ORDER BY 2 DESC, 1"
        )
        return await self._counts(sql, "tagged_at", since, until)

    async def hazards(self, since: int, until: int) -> dict[str, int]:
        """Recipes asked about, by what must be fixed in them."""
        sql = (
            "SELECT hazard, SUM(asked) FROM (SELECT case_id, COUNT(*) AS asked FROM tags WHERE {} GROUP BY case_id)"
            " JOIN case_hazards USING (case_id) GROUP BY hazard ORDER BY 2 DESC, 1"
        )
        return await self._counts(sql, "tagged_at", since, until)

    async def days(self, since: int, until: int) -> dict[str, int]:
        """Messages a day, UTC."""
        sql = (
            "SELECT date(tagged_at / 1000, 'unixepoch'), COUNT(*) FROM tags WHERE recipe_index = 0 AND {}"
            " GROUP BY 1 ORDER BY 1"
        )
        return await self._counts(sql, "tagged_at", since, until)

    async def reply_times(self, since: int, until: int) -> Spread:
        """From acceptance to delivery of the first answer."""
        at = "(SELECT ms FROM took ORDER BY ms LIMIT 1 OFFSET (SELECT {} FROM many))"
        sql = (
            "WITH took (ms) AS MATERIALIZED (SELECT MAX(0, sent_at - tagged_at) FROM tags JOIN outbox"
            " ON outbox.message_id = tags.message_id AND part = 0 WHERE recipe_index = 0 AND sent_at IS NOT NULL"
            " AND tagged_at >= ? AND tagged_at < ?), many (n) AS MATERIALIZED (SELECT COUNT(*) FROM took)"
            f" SELECT n, {at.format('n / 2')}, {at.format('(n - 1) * 19 / 20')} FROM many"
        )
        count, median, most = (await self._database.rows(sql, (since, until)))[0]
        return Spread(count=count, median=median, most=most)

    async def waiting(self) -> dict[str, int]:
        """What waits now: cases by state."""
        sql = "SELECT state, COUNT(*) FROM cases GROUP BY state ORDER BY 1"
        return {str(row[0]): int(row[1]) for row in await self._database.rows(sql)}

    async def judged(self, since: int, until: int) -> list[Judged]:
        """The last standing ruling on each case, made in the period, beside the machine's verdict."""
        sql = (
            "SELECT ruled_at, cases.verdict AS machine, rulings.verdict AS creator,"
            " COALESCE((SELECT GROUP_CONCAT(value) FROM json_each(sketch, '$.hazards')), '') AS hazards"
            " FROM rulings JOIN cases ON cases.id = case_id WHERE undone_at IS NULL AND cases.verdict IS NOT NULL"
            " AND ruled_at >= ? AND ruled_at < ? AND rulings.id = (SELECT MAX(later.id) FROM rulings AS later"
            " WHERE later.case_id = rulings.case_id AND later.undone_at IS NULL) ORDER BY ruled_at"
        )
        rows = await self._database.rows(sql, (since, until))
        return [
            Judged(
                ruled_at=row["ruled_at"],
                machine=row["machine"],
                creator=row["creator"],
                hazards=tuple(filter(None, str(row["hazards"]).split(","))),
            )
            for row in rows
        ]

    async def _counts(self, sql: str, column: str, since: int, until: int) -> dict[str, int]:
        period = f"{column} >= ? AND {column} < ?"
        rows = await self._database.rows(sql.format(period), (since, until))
        return {str(row[0]): int(row[1]) for row in rows}
