"""Talk to the bot as a fan would: a line or a pasted recipe in, a short reply out, `more` for the numbers."""

from __future__ import annotations

import asyncio
import re
import select
from collections.abc import Callable, Iterator
from contextlib import AsyncExitStack
from typing import TextIO

from bot.settings import Settings
from bot.terminal.session import Session, open_session
from bot.triage import Reads
from bot.words.phrases import load_phrases

PASTE_SECONDS = 0.05
CONTINUES = re.compile(r"^\s*(?:[-*•–]|\d{1,2}[.)])\s")
COMMANDS = frozenset({"more", "help", "quit", "exit"})


def chat(settings: Settings, reader: Reads, source: TextIO, say: Callable[[str], None], author: str) -> None:
    """Runs until the end of the input or `quit`. Raises StoreError."""
    by_hand = source.isatty()
    # Reading blocks in the main thread, so that Ctrl-C ends it at once.
    with asyncio.Runner() as runner:
        stack = AsyncExitStack()
        session = runner.run(stack.enter_async_context(open_session(settings, reader)))
        try:
            if by_hand:
                say(load_phrases().raw("chat", "help"))
            _talk(runner, session, messages(source, by_hand), say, author)
        finally:
            runner.run(stack.aclose())


def _talk(
    runner: asyncio.Runner, session: Session, lines: Iterator[str], say: Callable[[str], None], author: str
) -> None:
    more = ""
    phrases = load_phrases()
    for text in lines:
        command = text.strip().lower()
        if command in ("quit", "exit"):
            return
        if command == "help":
            say(phrases.raw("chat", "help"))
        elif command == "more":
            say(more or phrases.raw("chat", "no_more"))
        else:
            for answer in runner.run(session.say(author, text)):
                more = answer.more or ""
                say(f"{answer.text} {phrases.raw('chat', 'more')}" if more else answer.text)
        say("")


def messages(source: TextIO, by_hand: bool) -> Iterator[str]:
    """Whole messages. A list under its first line, or what was pasted in one go, is one message."""
    gathered = Gathered()
    pasted = False
    for line in source:
        text = line.rstrip("\r\n")
        command = not pasted and text.strip().lower() in COMMANDS
        if command or not (pasted or gathered.takes(text)):
            yield from gathered.whole()
        if command:
            yield text
            continue
        gathered.add(text)
        pasted = by_hand and _more_is_pasted(source)
        if by_hand and not pasted and not gathered.open:
            yield from gathered.whole()
    yield from gathered.whole()


class Gathered:
    """The lines of a message that may still go on. `open`: its own words say that it does."""

    def __init__(self) -> None:
        self._lines: list[str] = []
        self.open = False

    def takes(self, text: str) -> bool:
        """Whether this line belongs to the message begun."""
        if not text.strip():
            return False
        return not self._lines or self.open or CONTINUES.match(text) is not None

    def add(self, text: str) -> None:
        if text.strip():
            self.open = self.open or text.rstrip().endswith(("\\", ":"))
            self._lines.append(text.rstrip().removesuffix("\\"))

    def whole(self) -> Iterator[str]:
        """The message, if there is one; the next one begins."""
        lines, self._lines, self.open = self._lines, [], False
        if lines:
            yield "\n".join(lines)


def _more_is_pasted(source: TextIO) -> bool:
    """Whether more of a paste stands in the terminal already."""
    return bool(select.select([source], [], [], PASTE_SECONDS)[0])
