"""`watchglass brief`: writes the brief of an episode."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bot.episode_cli import Db, at_studio

if TYPE_CHECKING:
    from bot.episode import Studio
    from bot.settings import Settings

brief = typer.Typer(rich_markup_mode=None)


@brief.command("brief")
def write_brief(
    episode: Annotated[int, typer.Argument(help="The number of the episode.", min=1)],
    out: Annotated[
        Path | None, typer.Option("--out", help="The folder for episode-N.html and episode-N.md; else here.")
    ] = None,
    db: Db = None,
) -> None:
    """Writes the brief of an episode: one self-contained HTML file, and Markdown."""

    async def work(studio: Studio, settings: Settings) -> None:
        from bot.brief.files import write_files
        from bot.words.phrases import load_phrases

        plan = await studio.plan(episode)
        for path in write_files(plan, await studio.rulings(plan), settings.region, out or Path()):
            typer.echo(load_phrases().say("episode", "written", path=path))

    at_studio(db, work)
