"""One evening in an invented town, through the real pipeline and a real database."""

from __future__ import annotations

import asyncio
import tempfile
from collections import Counter
from collections.abc import Callable
from contextlib import ExitStack
from importlib.resources import files
from pathlib import Path

import tomli

from bot.desk import Desk
from bot.settings import Settings
from bot.store.cases import CaseState, Order
from bot.terminal.queue_view import case_line
from bot.terminal.session import Session, open_session
from bot.triage import Reads
from bot.words.clean import cut
from bot.words.phrases import load_phrases
from rules.recipe import Frozen

CHANNEL = "lantern-quay"
SHOWN = 110
QUEUE_SHOWN = 12


class DemoMessage(Frozen):
    """`author` is an invented handle."""

    author: str
    text: str


def load_messages() -> list[DemoMessage]:
    rows = tomli.loads(files("bot.terminal").joinpath("lantern_quay.toml").read_text("utf-8"))["message"]
    return [DemoMessage(author=row["from"], text=row["text"]) for row in rows]


def run_demo(settings: Settings, reader: Reads, say: Callable[[str], None], *, temporary: bool, keep: bool) -> None:
    """Plays the evening. A temporary database is removed at the end unless it is to be kept. Raises
    StoreError."""
    with ExitStack() as stack:
        if temporary and keep:
            folder = Path(tempfile.mkdtemp(prefix="watchglass-demo-"))
        elif temporary:
            folder = Path(stack.enter_context(tempfile.TemporaryDirectory(prefix="watchglass-demo-")))
        else:
            folder = settings.database.parent
        database = folder / "demo.db" if temporary else settings.database
        there = settings.model_copy(update={"database": database})
        asyncio.run(_play(there, reader, say))
        _what_next(say, None if temporary and not keep else database)


async def _play(settings: Settings, reader: Reads, say: Callable[[str], None]) -> None:
    messages, phrases = load_messages(), load_phrases()
    say(phrases.say("demo", "title", count=len(messages), region=settings.region.value))
    say(phrases.say("demo", "database", path=settings.database))
    async with open_session(settings, reader, CHANNEL) as session:
        kinds = await _answer(session, messages, say)
        said = ", ".join(f"{count} {kind}" for kind, count in kinds.most_common())
        known = said or phrases.raw("demo", "all_known")
        done = sum(kinds.values())
        say("\n" + phrases.say("demo", "answered", done=done, count=len(messages), kinds=known))
        await _show_queue(session, say)


async def _answer(session: Session, messages: list[DemoMessage], say: Callable[[str], None]) -> Counter[str]:
    kinds: Counter[str] = Counter()
    phrases, count = load_phrases(), len(messages)
    for number, message in enumerate(messages, start=1):
        accepted = await session.accept(message.author, message.text, f"{CHANNEL}-{number}")
        if accepted is None:
            continue
        step = await session.step()
        text = cut(message.text, SHOWN)
        say("\n" + phrases.say("demo", "message", number=number, count=count, author=message.author, text=text))
        for outgoing in await session.deliver():
            say(phrases.say("demo", "reply", text=outgoing.text))
        if step is not None and step.triage is not None:
            kinds[step.triage.reading.kind.value] += 1
    return kinds


async def _show_queue(session: Session, say: Callable[[str], None]) -> None:
    phrases = load_phrases()
    desk = Desk(session.database)
    cases = await desk.cases.page(CaseState.QUEUED, Order.SCORE, limit=QUEUE_SHOWN)
    waiting = await desk.cases.count(CaseState.QUEUED)
    say("\n" + phrases.say("demo", "queue", count=waiting))
    for case in cases:
        say(case_line(case, phrases))
        say(phrases.say("demo", "why", why="; ".join(case.why[:3])))
    if waiting > len(cases):
        say(phrases.say("demo", "left", count=waiting - len(cases)))


def _what_next(say: Callable[[str], None], database: Path | None) -> None:
    phrases = load_phrases()
    say("\n" + phrases.raw("demo", "next"))
    if database is None:
        say(phrases.raw("demo", "again"))
    for key in ("evening", "talk", "judge"):
        say(phrases.say("demo", key, path=database or "lantern.db"))
