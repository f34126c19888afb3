"""Looking back over a period: what came, what was said, and where the creator saw it otherwise."""

from __future__ import annotations

from collections import Counter
from datetime import UTC, datetime

from bot.queue.rulings import STRICTNESS
from bot.store.database import Database
from bot.store.statistics import Judged, Spread, StatisticsTable
from rules.recipe import Frozen

NO_HAZARD = "none"


class Agreement(Frozen):
    """How often the creator's ruling was the machine's verdict."""

    ruled: int
    agreed: int


class Stats(Frozen):
    """`by_hazard` and `by_month` hold agreement; a ruling counts under each hazard of its case, or under "none"."""

    since: int
    until: int
    messages: int
    kinds: dict[str, int]
    recipes: int
    different: int
    verdicts: dict[str, int]
    hazards: dict[str, int]
    days: dict[str, int]
    reply: Spread
    agreement: Agreement
    by_hazard: dict[str, Agreement]
    by_month: dict[str, Agreement]
    milder: int
    stricter: int
    waiting: dict[str, int]


async def look_back(database: Database, since: int, until: int) -> Stats:
    """Everything about [since, until), milliseconds UTC."""
    table = StatisticsTable(database)
    kinds = await table.kinds(since, until)
    recipes, different = await table.recipes(since, until)
    judged = await table.judged(since, until)
    steps = [STRICTNESS[one.creator] - STRICTNESS[one.machine] for one in judged]
    return Stats(
        since=since,
        until=until,
        messages=sum(kinds.values()),
        kinds=kinds,
        recipes=recipes,
        different=different,
        verdicts=await table.verdicts(since, until),
        hazards=await table.hazards(since, until),
        days=await table.days(since, until),
        reply=await table.reply_times(since, until),
        agreement=_agreement(judged),
        by_hazard=_grouped(judged, [one.hazards or (NO_HAZARD,) for one in judged]),
        by_month=_grouped(judged, [(_month(one.ruled_at),) for one in judged]),
        milder=sum(step < 0 for step in steps),
        stricter=sum(step > 0 for step in steps),
        waiting=await table.waiting(),
    )


def _agreement(judged: list[Judged]) -> Agreement:
    return Agreement(ruled=len(judged), agreed=sum(one.machine == one.creator for one in judged))


def _grouped(judged: list[Judged], groups: list[tuple[str, ...]]) -> dict[str, Agreement]:
    ruled: Counter[str] = Counter()
    agreed: Counter[str] = Counter()
    for one, names in zip(judged, groups, strict=True):
        ruled.update(names)
        if one.machine == one.creator:
            agreed.update(names)
    return {name: Agreement(ruled=ruled[name], agreed=agreed[name]) for name in sorted(ruled)}


def _month(milliseconds: int) -> str:
    return datetime.fromtimestamp(milliseconds / 1000, UTC).strftime("%Y-%m")
