"""The stage of the flow tests: the loopback platform, the real client on it, a real database, people."""

from __future__ import annotations

import asyncio
import threading
from pathlib import Path
from typing import Any

from bot.platform.serve import run
from bot.settings import Settings
from bot.store import open_database
from bot.triage import Reads
from nlp.reader import default_reader
from nlp.reading import Reading
from tests.loopback import Loopback, Person
from tests.loopback.world import FORUM, Channel, Message

BALM = "Lip balm: 1 tbsp beeswax, 2 tbsp coconut oil, 1 tbsp sweet almond oil"
MIST = "Face mist to keep: 1 cup water, 1 tbsp aloe vera juice, 5 drops lavender essential oil"
CRAYON = "Lip balm: 2 tbsp coconut oil, 1 tbsp beeswax, 1 crayon"
URGENT = "help, I got the lye in my eye and it is burning, what do I do"


class SlowReader:
    """The real reader behind a gate: holds each reading until the gate is open."""

    def __init__(self) -> None:
        self.gate = threading.Event()
        self.texts: list[str] = []

    def read(self, text: str) -> Reading:
        if "beeswax, 2 tbsp coconut oil lip balm" not in text:  # the one that warms the tables up
            self.texts.append(text)
            self.gate.wait(20)
        return default_reader().read(text)


class FaultyReader:
    """The real reader, which breaks on one word, as on a fault that we do not know yet."""

    def read(self, text: str) -> Reading:
        if "unspeakable" in text:
            raise RuntimeError("a fault that nobody has met before")
        return default_reader().read(text)


class Stage:
    """Start, stop and start again on the same database; `extra` are settings."""

    def __init__(self, folder: Path, platform: Loopback, **extra: Any) -> None:
        self.folder, self.platform = folder, platform
        self.reader: Reads = default_reader()
        self.extra = extra
        world = platform.world
        self.square: Channel = world.channel("market-square")
        self.side: Channel = world.channel("side-street")
        self.desk: Channel = world.channel("desk")
        self.forum: Channel = world.channel("desk-forum", FORUM)
        self.notes: Channel = world.channel("notes")
        self.team = world.role("chemist")
        self.creator = Person(platform, world.person("quay-chemist", self.team))
        self.owner = Person(platform, world.members[world.owner.id])
        self._task: asyncio.Task[None] | None = None
        self._stop = asyncio.Event()

    def settings(self) -> Settings:
        given: dict[str, Any] = {
            "database": self.folder / "stage.db",
            "token": self.platform.token,
            "api_url": self.platform.api_url,
            "gateway_url": self.platform.gateway_url,
            "desk_channel": self.desk.id,
            "creator_roles": (self.team.id,),
            "notes_channel": self.notes.id,
        }
        return Settings(**(given | self.extra))

    def begin(self) -> asyncio.Task[None]:
        """Starts it and waits for nothing."""
        self._stop = asyncio.Event()
        self._task = asyncio.create_task(run(self.settings(), self.reader, self._stop))
        self._task.add_done_callback(lambda _: self.platform.changed())
        return self._task

    async def start(self) -> None:
        began = len(self.platform.gateway.identifies)
        self.begin()
        await self.until(lambda: self.over or len(self.platform.gateway.identifies) > began)
        if self.over:
            task, self._task = self._task, None
            await task
        await self.until(lambda: self.platform.gateway.connected and self.platform.registry.syncs)

    @property
    def over(self) -> bool:
        return self._task is not None and self._task.done()

    async def stop(self) -> None:
        """As by SIGTERM."""
        if self._task is not None:
            self._stop.set()
            await asyncio.wait_for(self._task, 20)
            self._task = None

    async def until_local(self, condition: Any, seconds: float = 10.0) -> None:
        """For what happens on the bot's side and not on the platform's: looked at again and again."""
        async with asyncio.timeout(seconds):
            while not condition():  # noqa: ASYNC110 - a thread sets it, which can wake no event of this loop
                await asyncio.sleep(0.005)

    async def until_local_rows(self, sql: str, number: int, seconds: float = 10.0) -> None:
        """Until a count in the database is reached."""
        async with asyncio.timeout(seconds):
            while (await self.rows(sql))[0][0] != number:  # noqa: ASYNC110 - another connection writes it
                await asyncio.sleep(0.005)

    async def crash(self, gate: threading.Event | None = None) -> None:
        """As by a sudden end: nothing is finished, nothing is flushed. `gate` lets a held reading thread go."""
        assert self._task is not None
        self._task.cancel()
        if gate is not None:
            gate.set()
        await asyncio.gather(self._task, return_exceptions=True)
        self._task = None

    async def ended(self) -> None:
        """Waits until it ends by itself; raises what ended it."""
        assert self._task is not None
        task, self._task = self._task, None
        await asyncio.wait_for(task, 20)

    async def restart(self) -> None:
        await self.stop()
        await self.start()

    def fan(self, name: str = "glim-otter", **extra: Any) -> Person:
        return Person(self.platform, self.platform.world.person(name, **extra))

    async def until(self, condition: Any, seconds: float = 15.0) -> Any:
        return await self.platform.until(condition, seconds)

    def replies(self, to: Message) -> list[Message]:
        """The bot's posts that answer this one."""
        posts = self.platform.world.channels[to.channel_id].messages.values()
        return [
            post for post in posts if post.author.bot and post.reference and int(post.reference["message_id"]) == to.id
        ]

    async def reply(self, to: Message) -> Message:
        return (await self.until(lambda: self.replies(to)))[0]

    def bot_posts(self, channel: Channel) -> list[Message]:
        return [post for post in channel.messages.values() if post.author is self.platform.world.bot]

    async def card(self, contains: str = "Case") -> Message:
        """A card on the desk whose head holds this."""
        return await self.until(lambda: next((p for p in self.bot_posts(self.desk) if contains in p.content), None))

    async def rows(self, sql: str) -> list[tuple[Any, ...]]:
        """Looks into the database as it is on disk."""
        async with open_database(self.folder / "stage.db") as database:
            return [tuple(row) for row in await database.rows(sql)]
