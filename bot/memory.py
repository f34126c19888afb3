"""What was seen before: near-duplicates by an index in memory, their standing from the database."""

from __future__ import annotations

import asyncio

from bot.queue.interest import History
from bot.queue.likeness import LikenessIndex, Sketch, likeness
from bot.queue.rulings import reaches
from bot.queue.variant import Variant, difference
from bot.store.cases import CaseState, CaseTable
from bot.store.database import Database
from bot.store.episodes import EpisodeTable
from bot.store.rulings import RulingTable
from bot.store.tags import TagTable
from bot.triage import Recollection
from rules.recipe import Recipe

LOOKED_AT = 20
PORTION = 200  # sketches at a time: a few milliseconds of the loop
LATELY = 3  # episodes whose hazards count as shown not long ago (own choice)


class Memory:
    """Grows with each new case, also with those that another process wrote."""

    def __init__(self, database: Database) -> None:
        self._cases = CaseTable(database)
        self._rulings = RulingTable(database)
        self._tags = TagTable(database)
        self._episodes = EpisodeTable(database)
        self._index = LikenessIndex()
        self._newest = 0
        self._reading = asyncio.Lock()

    async def last_recipe(self, author_key: str, channel: str) -> Recipe | None:
        return await self._tags.last_recipe(author_key, channel)

    async def recall(self, wanted: Sketch, author_key: str) -> Recollection:
        """The case of this recipe, who asked before, and a ruling that reaches it; among what `prepare` has read."""
        found = self._index.like(wanted)
        lately = await self._episodes.lately_shown(LATELY)
        if not found:
            return Recollection(history=History(people=1, lately=lately))
        case = self._index.same(wanted, found)
        like = [number for _, number in found[:LOOKED_AT]]
        standing = await self._cases.standing(sorted({*like, *([case] if case else [])}), author_key)
        taken = [number for number, (state, _, _) in standing.items() if state is CaseState.TAKEN]
        covered = max((likeness(wanted, self._index[number]) for number in taken), default=0.0)
        variant = self._variant(wanted, found) if case is None else None
        history = History(covered=covered, lately=lately, variant=variant)
        if case is None or case not in standing:
            return Recollection(history=history.model_copy(update={"people": 1}))
        state, people, asked = standing[case]
        known = {
            "people": people + (not asked),
            "dropped": state is CaseState.DROPPED,
            "taken": state is CaseState.TAKEN,
            "recent": await self._tags.recent_people(case),
        }
        ruling = await self._rulings.standing(case)
        if ruling is not None and not reaches(ruling, self._index[case], wanted):
            ruling = None
        covered_at = await self._episodes.address_of(case)
        history = history.model_copy(update=known)
        return Recollection(case=case, history=history, ruling=ruling, covered_at=covered_at, again=bool(asked))

    def _variant(self, wanted: Sketch, found: list[tuple[float, int]]) -> Variant | None:
        case = self._index.variant(wanted, found)
        if case is None:
            return None
        known = self._index[case]
        return Variant(case=case, verdict=known.verdict, difference=difference(known, wanted))

    async def prepare(self) -> None:
        """Reads what is known, a portion at a time, so that the loop and the database stay free for others; only a
        message that comes before the end waits for it."""
        async with self._reading:
            while known := await self._cases.sketches_after(self._newest, PORTION):
                for case, one in known:
                    self._index.add(case, one)
                    self._newest = case
                if len(known) < PORTION:
                    return
