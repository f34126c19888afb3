"""The command `watchglass`. Each command loads only what it needs.

Exit codes: 0 done; 1 some input lines were bad, a check found faults, or the reader of the output went away;
2 the command was called wrongly; 3 a setting is wrong; 4 the database cannot be used; 5 the program's own
tables are faulty; 70 a fault of the program; 130 stopped by Ctrl-C.
"""

from __future__ import annotations

import gc
import io
import logging
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, BinaryIO

import typer

from bot.archive_cli import archive
from bot.brief_cli import brief
from bot.episode_cli import episode
from bot.operate_cli import backup, doctor, inbox, restore
from bot.queue_cli import queue
from bot.stats_cli import stats

if TYPE_CHECKING:
    from bot.settings import Settings
    from nlp.reader import Reader

BAD_INPUT, SETTINGS, DATABASE, TABLES, FAULT, STOPPED = 1, 3, 4, 5, 70, 130
CODES = (
    "Exit codes: 0 done, 1 bad input lines, faults found or broken pipe, 2 wrong call, 3 a setting is wrong,"
    " 4 the database cannot be used, 5 the program's tables are faulty, 70 a fault of the program,"
    " 130 Ctrl-C."
)

app = typer.Typer(
    name="watchglass",
    help="Reads home-made beauty recipes, computes what can go wrong, answers, queues the interesting ones.",
    epilog=CODES,
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)
app.add_typer(queue, name="queue")
app.add_typer(inbox, name="inbox")
for command in (doctor, backup, restore):
    app.command()(command)
app.add_typer(episode, name="episode")
app.add_typer(brief)
app.add_typer(stats)
app.add_typer(archive)

Db = Annotated[
    Path | None,
    typer.Option("--db", help="The database file; else WATCHGLASS_DB or the user's data directory."),
]


@app.command()
def demo(
    db: Db = None,
    keep: Annotated[bool, typer.Option("--keep", help="Keep the temporary database and say where it is.")] = False,
) -> None:
    """Shows the whole way on the messages of an invented town: replies, then the creator's queue."""
    from bot.terminal.demo import run_demo

    run_demo(_settings(db), _reader(), typer.echo, temporary=db is None, keep=keep)


@app.command()
def chat(
    db: Db = None,
    name: Annotated[str, typer.Option("--as", help="Who talks; another name counts as another person.")] = "you",
) -> None:
    """Talk to it as a fan; works with input piped in, one message a line."""
    from bot.terminal.chat import chat as talk

    _reconfigure(sys.stdin, errors="replace")
    talk(_settings(db), _reader(), sys.stdin, typer.echo, name)


@app.command()
def assess(
    inputs: Annotated[
        list[str] | None,
        typer.Argument(help="Texts; with --json one FILE of JSON lines, or - for standard input."),
    ] = None,
    as_json: Annotated[
        bool, typer.Option("--json", help='JSON lines {"id", "text"} in, one JSON line a message out.')
    ] = False,
    more: Annotated[bool, typer.Option("--more", help="Also the table of lines, numbers and sources.")] = False,
) -> None:
    """Reads and judges without a database."""
    settings = _settings(None)
    if as_json:
        _assess_json(inputs or [], settings)
        return
    from bot.triage import Context, triage

    texts = inputs or [_whole_input()]
    if names := [text for text in texts if _looks_like_a_path(text) and Path(text).is_file()]:
        raise typer.BadParameter(f"{names[0]} is a file; for its lines: watchglass assess --json {names[0]}")
    reader = _reader()
    for text in texts:
        found = triage(text, Context(), reader=reader, jurisdiction=settings.region)
        typer.echo(found.reply)
        if more and found.more:
            typer.echo(found.more)


@app.command()
def serve(db: Db = None) -> None:
    """Runs on the chat platform until SIGTERM or Ctrl-C; needs WATCHGLASS_TOKEN."""
    from bot.platform.serve import serve as run_bot

    run_bot(_settings(db), _reader())


@app.command()
def check() -> None:
    """Validates every table of the program and says what is missing or unsourced."""
    from bot.check import check_tables

    report = check_tables()
    for line in report.lines:
        typer.echo(line)
    for fault in report.faults:
        typer.echo(fault, err=True)
    if report.faults:
        raise typer.Exit(BAD_INPUT)


def main() -> None:
    """The console entry point."""
    sys.exit(run(sys.argv[1:]))


def run(arguments: Sequence[str]) -> int:
    """Runs one command; every error that has a name ends in one sentence and its exit code."""
    _reconfigure(sys.stdout, encoding="utf-8", errors="replace")
    _reconfigure(sys.stderr, encoding="utf-8", errors="replace")
    # What the program notes for its makers is no business of the one who reads the answers.
    logging.basicConfig(level=logging.CRITICAL)
    try:
        app(list(arguments), prog_name="watchglass")
    except SystemExit as exit_:
        return exit_.code if isinstance(exit_.code, int) else 0
    except KeyboardInterrupt:
        return STOPPED
    except Exception as error:
        code = _code_of(error)
        if code is None:
            typer.echo(f"watchglass: {_fault(error)}", err=True)
            return FAULT
        typer.echo(f"watchglass: {error}", err=True)
        return code
    return 0


def _fault(error: Exception) -> str:
    """A fault of the program in one sentence, with the place to look at."""
    place = error.__traceback__
    while place is not None and place.tb_next is not None:
        place = place.tb_next
    where = f"{Path(place.tb_frame.f_code.co_filename).name}, line {place.tb_lineno}" if place else "?"
    return f"this is a fault of the program ({type(error).__name__}: {error}; {where}); please report it"


def _code_of(error: Exception) -> int | None:
    """The exit code of an error that we know; None for a fault of the program."""
    from bot.archive import ArchiveError
    from bot.desk import NoSuchCaseError
    from bot.episode import EpisodeError
    from bot.settings import SettingsError
    from bot.store.errors import StoreError
    from bot.words.phrases import MissingPhraseError
    from rules.catalogue import CatalogueError
    from rules.law.tables import LawError

    if isinstance(error, (NoSuchCaseError, EpisodeError, ArchiveError)):
        return BAD_INPUT
    if isinstance(error, SettingsError):
        return SETTINGS
    if isinstance(error, StoreError):
        return DATABASE
    return TABLES if isinstance(error, (CatalogueError, LawError, MissingPhraseError)) else None


def _settings(db: Path | None) -> Settings:
    from bot.settings import load_settings

    return load_settings(db=db)


def _reader() -> Reader:
    """The reader, after all tables: a faulty table ends the program before the first message."""
    gc.disable()  # nothing of what is loaded here is ever garbage
    from nlp.reader import default_reader
    from rules.law.law import load_law

    load_law()
    reader = default_reader()
    gc.enable()
    return reader


def _assess_json(inputs: list[str], settings: Settings) -> None:
    from bot.batch import run as run_batch

    def write(line: str) -> None:
        sys.stdout.write(line + "\n")
        sys.stdout.flush()

    def complain(line: str) -> None:
        typer.echo(f"watchglass: {line}", err=True)

    with _source(inputs) as source:
        good = run_batch(source, _reader(), settings.region, write=write, complain=complain)
    if not good:
        raise typer.Exit(BAD_INPUT)


def _source(inputs: list[str]) -> BinaryIO:
    """Standard input, a file, or the texts given, as JSON lines."""
    if not inputs or inputs == ["-"]:
        return sys.stdin.buffer
    if len(inputs) == 1 and (Path(inputs[0]).is_file() or _looks_like_a_path(inputs[0])):
        try:
            return Path(inputs[0]).open("rb")
        except OSError as error:
            raise typer.BadParameter(f"{inputs[0]} cannot be read: {error.strerror or error}") from None
    import json

    texts = (json.dumps({"id": str(number), "text": text}) for number, text in enumerate(inputs, start=1))
    return io.BytesIO("\n".join(texts).encode("utf-8", "surrogatepass"))


def _looks_like_a_path(text: str) -> bool:
    return " " not in text and ("/" in text or text.endswith((".jsonl", ".json", ".txt")))


def _whole_input() -> str:
    if sys.stdin.isatty():
        raise typer.BadParameter("give a text, or pipe one in, or use --json FILE")
    return sys.stdin.buffer.read().decode("utf-8", "replace")


def _reconfigure(stream: Any, **how: str) -> None:
    """Streams that were replaced by something simpler stay as they are."""
    if isinstance(stream, io.TextIOWrapper):
        stream.reconfigure(**how)  # type: ignore[arg-type]


if __name__ == "__main__":
    main()
