"""Commands of the operator: doctor, backup, restore, and what was set aside."""

from __future__ import annotations

import asyncio
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from bot.inbox import Inbox

BAD = 1
STAMP = "watchglass-%Y%m%d-%H%M%S.db"
PATTERN = "watchglass-????????-??????.db"
Db = Annotated[
    Path | None,
    typer.Option("--db", help="The database file; else WATCHGLASS_DB or the user's data directory."),
]
inbox = typer.Typer(help="Messages that were set aside: list, retry.", no_args_is_help=True, rich_markup_mode=None)


def doctor(
    db: Db = None,
    quick: Annotated[bool, typer.Option("--quick", help="Leave out the slow part of the database check.")] = False,
) -> None:
    """Checks settings, token form, disk, key, database, clock, tables and reader, and says what to do."""
    from bot.doctor import Mark, look_round
    from bot.outbox import milliseconds

    looks = look_round(db, milliseconds(), quick=quick)
    for look in looks:
        typer.echo(look.line(), err=look.mark is Mark.BAD)
    if any(look.mark is Mark.BAD for look in looks):
        raise typer.Exit(BAD)


def backup(
    folder: Annotated[Path, typer.Argument(help="Where backups are kept, better on another disk.")],
    db: Db = None,
    keep: Annotated[int, typer.Option(min=1, help="How many of the newest to keep; older ones are deleted.")] = 14,
) -> None:
    """Copies the database and its key while the program runs, and checks the copy."""
    from bot.settings import load_settings
    from bot.store.backup import back_up, key_file

    source = load_settings(db=db).database
    target = folder / datetime.now(UTC).strftime(STAMP)
    health = back_up(source, target)
    size = target.stat().st_size / 1e6
    typer.echo(f"{target}: {size:.1f} MB, {health.messages} messages, {health.cases} cases, checked")
    for old in sorted(folder.glob(PATTERN))[:-keep]:
        old.unlink()
        key_file(old).unlink(missing_ok=True)
        typer.echo(f"deleted {old}")


def restore(
    backup: Annotated[Path, typer.Argument(help="The backup to put back.")],
    db: Db = None,
    yes: Annotated[bool, typer.Option("--yes", help="Do not ask.")] = False,
) -> None:
    """Puts a checked backup in the place of the database; the old files are kept beside it. Stop `serve` first."""
    from bot.outbox import milliseconds
    from bot.settings import load_settings
    from bot.store.backup import examine
    from bot.store.backup import restore as put_back

    target = load_settings(db=db).database
    health = examine(backup)
    newest = "nothing"
    if health.newest is not None:
        newest = f"{datetime.fromtimestamp(health.newest / 1000, UTC):%Y-%m-%d %H:%M} UTC"
    typer.echo(f"{backup}: {health.messages} messages, {health.cases} cases, the newest from {newest}")
    if not yes:
        typer.confirm(f"Put it in the place of {target}?", abort=True)
    aside = put_back(backup, target, milliseconds())
    typer.echo(f"restored {target}")
    if aside is not None:
        typer.echo(f"the old files are at {aside}*; delete them when all is well, they hold people's words")


@inbox.command("list")
def list_aside(db: Db = None) -> None:
    """Every message that was set aside, oldest first: its id, channel, when it came, and why."""
    asyncio.run(_list(db))


@inbox.command("retry")
def retry(
    messages: Annotated[list[str] | None, typer.Argument(help="Ids from the list.")] = None,
    every: Annotated[bool, typer.Option("--all", help="All of them.")] = False,
    db: Db = None,
) -> None:
    """Puts messages back into the line; a running `serve` takes them up within half a minute."""
    if not messages and not every:
        raise typer.BadParameter("name at least one message, or say --all")
    if not asyncio.run(_retry(messages or [], every, db)):
        raise typer.Exit(BAD)


async def _list(db: Path | None) -> None:
    from bot.settings import load_settings
    from bot.store import open_database

    async with open_database(load_settings(db=db).database) as database:
        found = await _inbox(database).set_aside()
    for message in found:
        came = datetime.fromtimestamp(message.received_at / 1000, UTC)
        # The reason may quote the message: one line, without control characters.
        why = "".join(sign if sign.isprintable() else " " for sign in message.error or "?")
        typer.echo(f"{message.message_id}  {came:%Y-%m-%d %H:%M}  channel {message.channel}  {why}")
    typer.echo(f"{len(found)} set aside")


async def _retry(messages: list[str], every: bool, db: Path | None) -> bool:
    from bot.settings import load_settings
    from bot.store import open_database

    well = True
    async with open_database(load_settings(db=db).database) as database:
        door = _inbox(database)
        for key in [found.message_id for found in await door.set_aside()] if every else messages:
            back = await door.retry(key)
            well = well and back
            typer.echo(f"{key}: {'back in the line' if back else 'is not set aside'}", err=not back)
    return well


def _inbox(database: object) -> Inbox:
    from bot.inbox import Inbox
    from bot.people import People
    from bot.store import Database

    assert isinstance(database, Database)
    return Inbox(database, People.beside(database.path))
