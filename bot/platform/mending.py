"""Answers that stand and say otherwise than the creator has ruled since: read again, a few, the newest."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from bot.platform.house import House
from bot.store.cases import Case
from bot.urgency import looks_urgent
from rules.assessment import Verdict

# The platform lets an old post be changed only so often, and who asked a week ago has used or left the recipe.
MOST, DAYS = 25, 7
DAY_MILLISECONDS = 86_400_000


class Mending:
    def __init__(self, house: House) -> None:
        self._house = house

    @asynccontextmanager
    async def around(self, case: Case) -> AsyncIterator[None]:
        """Around an act on a case: where it changes the verdict that people are told, they are told."""
        before = await self._told(case.id)
        yield
        if await self._told(case.id) is not before:
            await self._read_again(case.id)

    async def _told(self, case: int) -> Verdict | None:
        """Her ruling where one stands, else the verdict that was computed from what the fans wrote."""
        ruling = await self._house.desk.rulings.standing(case)
        if ruling is not None:
            return ruling.verdict
        known = await self._house.desk.cases.get(case)
        return known.sketch.verdict if known is not None and known.sketch is not None else None

    async def _read_again(self, case: int) -> None:
        since = self._house.clock() - DAYS * DAY_MILLISECONDS
        async with self._house.reading:
            for known in await self._house.replies.told(case, since, MOST):
                urgent = looks_urgent(known.text)
                await self._house.replies.revise(known.message_id, known.text, urgent, known.place)
        self._house.inbox.announce()
