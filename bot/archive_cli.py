"""`watchglass export` and `watchglass import`: the creator's own data."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bot.episode_cli import Db

if TYPE_CHECKING:
    from bot.store import Database

archive = typer.Typer(rich_markup_mode=None)


@archive.command("export")
def write(folder: Annotated[Path, typer.Argument(help="A new or empty folder.")], db: Db = None) -> None:
    """Writes your cases, rulings and episodes: JSON to take in again, CSV to look at, training lines."""

    async def work(database: Database) -> None:
        from bot.archive import collect
        from bot.archive_files import write_archive

        for path, count in write_archive(await collect(database), folder):
            _say("written", path=path, count=count)

    _with_database(db, work)


@archive.command("import")
def read(
    file: Annotated[Path, typer.Argument(help="The JSON document of an export.", exists=True, dir_okay=False)],
    db: Db = None,
) -> None:
    """Takes in an export; what is known already stays as it is."""

    async def work(database: Database) -> None:
        from bot.archive import read_archive, take_in

        text = file.read_bytes().decode("utf-8", "replace")
        done = await take_in(database, read_archive(text))
        _say("imported", **done.model_dump())

    _with_database(db, work)


def _with_database(db: Path | None, work: Callable[[Database], Awaitable[None]]) -> None:
    from bot.settings import load_settings
    from bot.store import open_database

    settings = load_settings(db=db)

    async def run() -> None:
        async with open_database(settings.database) as database:
            await work(database)

    asyncio.run(run())


def _say(key: str, **facts: object) -> None:
    from bot.words.phrases import load_phrases

    typer.echo(load_phrases().say("export", key, **facts))
