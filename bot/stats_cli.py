"""`watchglass stats`: looks back over a period, as a table, a picture or JSON."""

from __future__ import annotations

import asyncio
import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bot.episode_cli import Db

if TYPE_CHECKING:
    from bot.stats import Stats

stats = typer.Typer(rich_markup_mode=None)
DAY = 86_400_000
TOP = 8


@stats.command("stats")
def show_stats(
    days: Annotated[int, typer.Option(min=1, max=36_500, help="So many days back from now.")] = 30,
    as_json: Annotated[bool, typer.Option("--json", help="As one JSON object.")] = False,
    picture: Annotated[Path | None, typer.Option(help="Also draws it, into this .png or .svg file.")] = None,
    db: Db = None,
) -> None:
    """What came in a period, what was said, how fast, where the creator saw it otherwise, what waits."""
    from bot.outbox import milliseconds

    now = milliseconds()
    found = _look(db, now - days * DAY, now + 1)
    if picture is not None:
        _draw(found, picture)
    if as_json:
        sys.stdout.write(found.model_dump_json(indent=2) + "\n")
        return
    for line in lines(found):
        typer.echo(line)


def _look(db: Path | None, since: int, until: int) -> Stats:
    from bot.settings import load_settings
    from bot.stats import look_back
    from bot.store import open_database

    settings = load_settings(db=db)

    async def run() -> Stats:
        async with open_database(settings.database) as database:
            return await look_back(database, since, until)

    return asyncio.run(run())


def lines(found: Stats) -> Iterator[str]:
    """The table, in plain lines."""
    from bot.words.figures import short
    from bot.words.phrases import load_phrases

    words = load_phrases()
    first, last = (datetime.fromtimestamp(at / 1000, UTC).date() for at in (found.since, found.until))
    yield words.say("stats", "period", first=first, last=last)
    yield words.say("stats", "messages", count=found.messages, kinds=_listed(found.kinds))
    yield words.say("stats", "recipes", count=found.recipes, different=found.different)
    yield words.say("stats", "verdicts", verdicts=_listed(found.verdicts))
    yield words.raw("stats", "hazards")
    for hazard, count in list(found.hazards.items())[:TOP]:
        yield words.say("stats", "row", name=words.word("hazard_name", hazard), count=count)
    if found.reply.median is not None and found.reply.most is not None:
        median, most = short(found.reply.median / 1000), short(found.reply.most / 1000)
        yield words.say("stats", "reply", median=median, most=most, count=found.reply.count)
    agreed = found.agreement
    facts = {"agreed": agreed.agreed, "ruled": agreed.ruled, "milder": found.milder, "stricter": found.stricter}
    yield words.say("stats", "agreement", **facts)
    for groups in (found.by_hazard, found.by_month):
        for name, one in groups.items():
            known = words.word("hazard_name", name)
            yield words.say("stats", "agreed_row", name=known, agreed=one.agreed, ruled=one.ruled)
    yield words.say("stats", "waiting", states=_listed(found.waiting))


def _listed(counts: dict[str, int]) -> str:
    return ", ".join(f"{name} {count}" for name, count in counts.items()) or "-"


def _draw(found: Stats, file: Path) -> None:
    from bot.brief.counts import counted
    from bot.brief.paint import Form, draw
    from bot.words.phrases import load_phrases

    words = load_phrases()
    form = Form.SVG if file.suffix.lower() == ".svg" else Form.PNG
    hazards = {words.word("hazard_name", name): count for name, count in list(found.hazards.items())[:TOP]}
    verdicts = {words.raw("verdict", name): count for name, count in found.verdicts.items()}
    bars = [counted(words.raw("stats", "verdict_bars"), verdicts), counted(words.raw("stats", "hazard_bars"), hazards)]
    try:
        file.write_bytes(draw(bars, form))
    except OSError as error:
        raise typer.BadParameter(f"{file} cannot be written: {error.strerror or error}") from None
