"""The tables of episodes and of what they cover."""

from __future__ import annotations

from bot.store.database import Database, Transaction
from rules.recipe import Frozen


class Episode(Frozen):
    """`address` is where it was published, None while it is in the making. Times in milliseconds UTC."""

    id: int
    title: str
    note: str
    address: str | None
    made_at: int
    published_at: int | None


class Segment(Frozen):
    """One recipe of an episode. `case_id` is None where the case was deleted meanwhile."""

    id: int
    episode_id: int
    case_id: int | None
    place: int
    seconds: int
    note: str


class EpisodeTable:
    def __init__(self, database: Database) -> None:
        self._database = database

    async def add(self, transaction: Transaction, title: str, now: int) -> int:
        return await transaction.insert("INSERT INTO episodes (title, made_at) VALUES (?, ?)", (title, now))

    async def get(self, episode: int) -> Episode | None:
        rows = await self._database.rows("SELECT * FROM episodes WHERE id = ?", (episode,))
        return Episode.model_validate(dict(rows[0])) if rows else None

    async def all(self) -> list[Episode]:
        rows = await self._database.rows("SELECT * FROM episodes ORDER BY id")
        return [Episode.model_validate(dict(row)) for row in rows]

    async def set_note(self, transaction: Transaction, episode: int, note: str) -> None:
        await transaction.run("UPDATE episodes SET note = ? WHERE id = ?", (note, episode))

    async def publish(self, transaction: Transaction, episode: int, address: str, now: int) -> None:
        """A corrected address keeps the day of publishing."""
        sql = "UPDATE episodes SET address = ?, published_at = COALESCE(published_at, ?) WHERE id = ?"
        await transaction.run(sql, (address, now, episode))

    async def segments(self, episode: int) -> list[Segment]:
        """In the order of the episode."""
        rows = await self._database.rows("SELECT * FROM segments WHERE episode_id = ? ORDER BY place, id", (episode,))
        return [Segment.model_validate(dict(row)) for row in rows]

    async def add_segment(self, transaction: Transaction, episode: int, case: int, seconds: int) -> bool:
        """At the end; False where the episode has the case already."""
        sql = (
            "INSERT INTO segments (episode_id, case_id, place, seconds) SELECT :episode, :case,"
            " COALESCE(MAX(place), 0) + 1, :seconds FROM segments WHERE episode_id = :episode"
            " ON CONFLICT (episode_id, case_id) DO NOTHING"
        )
        values = {"episode": episode, "case": case, "seconds": seconds}
        return await transaction.run(sql, values) == 1

    async def remove_segment(self, transaction: Transaction, segment: int) -> None:
        await transaction.run("DELETE FROM segments WHERE id = ?", (segment,))

    async def put_order(self, transaction: Transaction, segments: list[int]) -> None:
        for place, segment in enumerate(segments, start=1):
            await transaction.run("UPDATE segments SET place = ? WHERE id = ?", (place, segment))

    async def change_segment(self, transaction: Transaction, segment: Segment) -> None:
        sql = "UPDATE segments SET seconds = ?, note = ? WHERE id = ?"
        await transaction.run(sql, (segment.seconds, segment.note, segment.id))

    async def address_of(self, case: int) -> str | None:
        """Where the case was covered: the address of the last published episode with it."""
        sql = (
            "SELECT address FROM episodes JOIN segments ON episode_id = episodes.id"
            " WHERE case_id = ? AND address IS NOT NULL ORDER BY published_at DESC LIMIT 1"
        )
        rows = await self._database.rows(sql, (case,))
        return str(rows[0][0]) if rows else None

    async def lately_shown(self, episodes: int) -> frozenset[str]:
        """The hazards of the last so many published episodes."""
        sql = (
            "SELECT DISTINCT value FROM segments JOIN cases ON cases.id = case_id,"
            " json_each(cases.sketch, '$.hazards') WHERE episode_id IN (SELECT id FROM episodes"
            " WHERE address IS NOT NULL ORDER BY published_at DESC LIMIT ?)"
        )
        return frozenset(str(row[0]) for row in await self._database.rows(sql, (episodes,)))
