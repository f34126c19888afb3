"""`watchglass episode`: from the queue to an episode, in a terminal. Loads no reader."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from bot.episode import Plan, Studio
    from bot.settings import Settings

episode = typer.Typer(
    help="From the queue to an episode: new, list, show, add, remove, order, note, surprise, publish.",
    no_args_is_help=True,
    rich_markup_mode=None,
)
Db = Annotated[
    Path | None,
    typer.Option("--db", help="The database file; else WATCHGLASS_DB or the user's data directory."),
]
EpisodeNumber = Annotated[int, typer.Argument(metavar="EPISODE", help="The number of the episode.", min=1)]


@episode.command()
def new(title: Annotated[str, typer.Argument(help="Its title, in quotes.")], db: Db = None) -> None:
    """Begins an episode."""

    async def work(studio: Studio, _: Settings) -> None:
        _say("made", episode=await studio.new(title))

    at_studio(db, work)


@episode.command("list")
def list_(db: Db = None) -> None:
    """Lists all episodes."""

    async def work(studio: Studio, _: Settings) -> None:
        found = await studio.episodes.all()
        for one in found:
            where = one.address or _phrase("in_the_making")
            _say("line", episode=one.id, title=one.title, where=where)
        if not found:
            _say("none")

    at_studio(db, work)


@episode.command()
def show(episode: EpisodeNumber, db: Db = None) -> None:
    """Shows what an episode covers, in order, with its times and notes."""

    async def work(studio: Studio, _: Settings) -> None:
        _show(await studio.plan(episode))

    at_studio(db, work)


@episode.command()
def add(
    episode: EpisodeNumber,
    cases: Annotated[list[int], typer.Argument(help="Numbers of cases; they count as taken.")],
    db: Db = None,
) -> None:
    """Adds cases at the end; takes them out of the queue."""

    async def work(studio: Studio, settings: Settings) -> None:
        for case in cases:
            fresh = await studio.add(episode, case, settings.creator)
            _say("added" if fresh else "there_already", case=case, episode=episode)

    at_studio(db, work)


@episode.command()
def remove(
    episode: EpisodeNumber,
    place: Annotated[int, typer.Argument(help="Its place in the order.", min=1)],
    db: Db = None,
) -> None:
    """Takes one segment out; its case stays taken (give it back with: watchglass queue undo)."""

    async def work(studio: Studio, _: Settings) -> None:
        await studio.remove(episode, place)
        _show(await studio.plan(episode))

    at_studio(db, work)


@episode.command()
def order(
    episode: EpisodeNumber,
    places: Annotated[
        list[int] | None, typer.Argument(help="The places as they stand now, in the new order: 3 1 2.")
    ] = None,
    db: Db = None,
) -> None:
    """Puts the segments in order; without places in a suggested one: a thread, variety, a sound end."""

    async def work(studio: Studio, _: Settings) -> None:
        _show(await studio.order(episode, places or []))

    at_studio(db, work)


@episode.command()
def note(
    episode: EpisodeNumber,
    text: Annotated[str | None, typer.Argument(help="Your note; it stands in the brief.")] = None,
    place: Annotated[int | None, typer.Option(min=1, help="On one segment, else on the episode.")] = None,
    minutes: Annotated[float | None, typer.Option(min=0.1, max=120, help="The time of the segment.")] = None,
    db: Db = None,
) -> None:
    """Writes a note on the episode, or a note and the time of one segment."""
    if text is None and (minutes is None or place is None):
        raise typer.BadParameter("give a note, or --place with --minutes")

    async def work(studio: Studio, _: Settings) -> None:
        await studio.note(episode, place, text, None if minutes is None else round(minutes * 60))
        _say("noted", episode=episode)

    at_studio(db, work)


@episode.command()
def surprise(
    seed: Annotated[int | None, typer.Option(help="The same number picks the same case.")] = None,
    db: Db = None,
) -> None:
    """Picks any case of the queue, each as likely as the other, whatever its interest."""
    import random

    from bot.terminal.queue_view import case_line
    from bot.words.phrases import load_phrases

    async def work(studio: Studio, _: Settings) -> None:
        case = await studio.surprise(random.Random(seed))
        if case is None:
            typer.echo(load_phrases().raw("case", "nothing"))
            return
        typer.echo(case_line(case, load_phrases()))
        typer.echo(load_phrases().say("case", "why", why="; ".join(case.why)))

    at_studio(db, work)


@episode.command()
def publish(
    episode: EpisodeNumber,
    address: Annotated[str, typer.Argument(help="Where it can be seen: https://…")],
    db: Db = None,
) -> None:
    """Marks it published: later tags of its recipes say so, and who asked to be told is told once."""

    async def work(studio: Studio, _: Settings) -> None:
        _say("published", episode=episode, count=await studio.publish(episode, address))

    at_studio(db, work)


def at_studio(db: Path | None, work: Callable[[Studio, Settings], Awaitable[None]]) -> None:
    """Opens the studio on the database of the settings, works, and closes it."""
    from bot.episode import Studio
    from bot.settings import load_settings
    from bot.store import open_database

    settings = load_settings(db=db)

    async def run() -> None:
        async with open_database(settings.database) as database:
            await work(Studio(database), settings)

    asyncio.run(run())


def _show(plan: Plan) -> None:
    _say("head", episode=plan.episode.id, title=plan.episode.title, time=clock(plan.seconds))
    for place, planned in enumerate(plan.segments, start=1):
        case = planned.case
        title = case.title if case is not None else _phrase("gone")
        verdict = (case.verdict if case is not None else None) or "-"
        number = case.id if case is not None else 0
        time = clock(planned.segment.seconds)
        _say("segment", place=place, time=time, case=number, verdict=verdict, title=title)
        if planned.segment.note:
            _say("note", note=planned.segment.note)
    if not plan.segments:
        _say("empty")
    if plan.episode.note:
        _say("note", note=plan.episode.note)


def clock(seconds: int) -> str:
    """Minutes and seconds: 2:30."""
    return f"{seconds // 60}:{seconds % 60:02}"


def _phrase(key: str) -> str:
    from bot.words.phrases import load_phrases

    return load_phrases().raw("episode", key)


def _say(key: str, **facts: object) -> None:
    from bot.words.phrases import load_phrases

    typer.echo(load_phrases().say("episode", key, **facts))
