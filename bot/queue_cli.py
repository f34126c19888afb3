"""`watchglass queue`: the creator's evening in a terminal, on the same database. Loads no reader."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, TypeVar

import typer

if TYPE_CHECKING:
    from bot.desk import Desk
    from bot.settings import Settings

T = TypeVar("T")
queue = typer.Typer(
    help="What waits for the creator: list, show, take, drop, rule, undo.",
    invoke_without_command=True,
    rich_markup_mode=None,
)


class Sort(StrEnum):
    SCORE = "score"
    DEMAND = "demand"
    NOVELTY = "novelty"
    SEVERITY = "severity"
    UNCERTAINTY = "uncertainty"
    NEWEST = "newest"


class Ruled(StrEnum):
    AVOID = "avoid"
    FIX = "fix"
    FINE = "fine"
    UNCLEAR = "unclear"


class Where(StrEnum):
    QUEUED = "queued"
    SEEN = "seen"
    TAKEN = "taken"
    DROPPED = "dropped"
    RULED = "ruled"


Db = Annotated[
    Path | None,
    typer.Option("--db", help="The database file; else WATCHGLASS_DB or the user's data directory."),
]
CaseNumber = Annotated[int, typer.Argument(help="The number of the case.", min=1)]


@queue.callback()
def default(context: typer.Context, db: Db = None) -> None:
    """Lists the queue where no other command is given."""
    context.obj = db
    if context.invoked_subcommand is None:
        list_(context)


@queue.command("list")
def list_(
    context: typer.Context,
    sort: Annotated[Sort, typer.Option(help="What comes first.")] = Sort.SCORE,
    state: Annotated[Where, typer.Option(help="Which cases.")] = Where.QUEUED,
    every: Annotated[bool, typer.Option("--all", help="Cases of every state.")] = False,
    verdict: Annotated[Ruled | None, typer.Option(help="Only this verdict.")] = None,
    hazard: Annotated[str | None, typer.Option(help="Only this hazard, such as needs_preservative.")] = None,
    limit: Annotated[int, typer.Option(min=1, max=1000)] = 20,
    page: Annotated[int, typer.Option(min=1)] = 1,
    db: Db = None,
) -> None:
    """Lists the cases that wait, the most interesting first."""
    from bot.store.cases import CaseState, Order
    from bot.terminal.queue_view import case_line
    from bot.words.phrases import load_phrases
    from rules.assessment import Verdict

    async def work(desk: Desk, _: Settings) -> None:
        cases = await desk.cases.page(
            None if every else CaseState(state),
            Order(sort),
            verdict=None if verdict is None else Verdict(verdict),
            hazard=hazard,
            limit=limit,
            offset=(page - 1) * limit,
        )
        for case in cases:
            typer.echo(case_line(case, load_phrases()))
        if not cases:
            _say("nothing")

    _at_desk(context, db, work)


@queue.command()
def show(context: typer.Context, case: CaseNumber, db: Db = None) -> None:
    """Shows one case: the recipe by mass, the numbers, the findings with sources, why it is here."""
    from bot.terminal.queue_view import case_page
    from bot.words.phrases import load_phrases

    async def work(desk: Desk, settings: Settings) -> None:
        found = await desk.show(case)
        ruling = await desk.rulings.standing(case)
        history = await desk.audit.of_case(case)
        for line in case_page(found, ruling, history, load_phrases(), settings.region):
            typer.echo(line)

    _at_desk(context, db, work)


@queue.command()
def take(context: typer.Context, case: CaseNumber, db: Db = None) -> None:
    """Takes a case for an episode."""

    async def work(desk: Desk, settings: Settings) -> None:
        await desk.take(case, settings.creator)
        _say("taken", case=case)

    _at_desk(context, db, work)


@queue.command()
def drop(context: typer.Context, case: CaseNumber, db: Db = None) -> None:
    """Drops a case: it is answered as before and does not come back into the queue."""

    async def work(desk: Desk, settings: Settings) -> None:
        await desk.drop(case, settings.creator)
        _say("dropped", case=case)

    _at_desk(context, db, work)


@queue.command()
def rule(
    context: typer.Context,
    case: CaseNumber,
    verdict: Annotated[Ruled, typer.Argument(help="Your verdict.")],
    words: Annotated[str, typer.Argument(help="Your words, said to the next one who asks.")],
    why: Annotated[str | None, typer.Option(help="A note for yourself.")] = None,
    db: Db = None,
) -> None:
    """Your own verdict and words, used from the next tag of this recipe on."""
    from rules.assessment import Verdict

    if not words.strip():
        raise typer.BadParameter("say in a few words why; they are what the fan will read", param_hint="words")

    async def work(desk: Desk, settings: Settings) -> None:
        await desk.rule(case, Verdict(verdict), words, settings.creator, why)
        _say("ruled_now", case=case, verdict=verdict.value)

    _at_desk(context, db, work)


@queue.command()
def undo(
    context: typer.Context,
    case: Annotated[int | None, typer.Argument(help="Only on this case.", min=1)] = None,
    db: Db = None,
) -> None:
    """Takes back the last take, drop or rule."""

    async def work(desk: Desk, settings: Settings) -> None:
        entry = await desk.undo(settings.creator, case)
        if entry is None:
            _say("nothing_to_undo")
        else:
            _say("undone", action=entry.action.value, case=entry.case_id)

    _at_desk(context, db, work)


def _say(key: str, **facts: object) -> None:
    from bot.words.phrases import load_phrases

    typer.echo(load_phrases().say("case", key, **facts))


def _at_desk(context: typer.Context, db: Path | None, work: Callable[[Desk, Settings], Awaitable[T]]) -> T:
    """Opens the desk on the database of the settings, works, and closes it."""
    from bot.desk import Desk
    from bot.settings import load_settings
    from bot.store import open_database

    settings = load_settings(db=db or context.obj)

    async def run() -> T:
        async with open_database(settings.database) as database:
            return await work(Desk(database), settings)

    return asyncio.run(run())
