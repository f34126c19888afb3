"""Everything that the platform's parts share, built once over one database."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable
from concurrent.futures import Executor, ThreadPoolExecutor
from contextlib import asynccontextmanager
from dataclasses import dataclass, field

from bot.desk import Desk
from bot.inbox import Inbox
from bot.outbox import Outbox, milliseconds
from bot.people import People
from bot.platform.cooldown import CoolDown
from bot.platform.metrics import Metrics
from bot.platform.placed import PlacedReader
from bot.scrub import scrub
from bot.settings import Settings
from bot.store import Database, open_database
from bot.store.consents import ConsentTable
from bot.store.followers import FollowerTable
from bot.store.privacy import PrivacyTable
from bot.store.replies import ReplyTable
from bot.store.views import ViewTable
from bot.triage import Reads
from bot.words.phrases import Phrases, load_phrases
from bot.worker import Worker


@dataclass(slots=True)
class House:
    """The doors of the pipeline, the platform's own tables, and what is only known while running."""

    settings: Settings
    database: Database
    people: People
    inbox: Inbox
    outbox: Outbox
    worker: Worker
    desk: Desk
    replies: ReplyTable
    privacy: PrivacyTable
    views: ViewTable
    followers: FollowerTable
    consents: ConsentTable
    metrics: Metrics
    cooldown: CoolDown
    reader: Reads
    executor: Executor | None
    drawing: Executor
    clock: Callable[[], int]
    words: Phrases = field(default_factory=load_phrases)
    quiet: set[str] = field(default_factory=set)
    touched: asyncio.Event = field(default_factory=asyncio.Event)
    dirty: set[int] = field(default_factory=set)
    stopping: asyncio.Event = field(default_factory=asyncio.Event)
    # Held while one message is read: its words must not change between reading and answering.
    reading: asyncio.Lock = field(default_factory=asyncio.Lock)
    last_seen: int = 0

    def touch(self, *cases: int) -> None:
        """What the desk and the notes show may have changed."""
        self.dirty.update(cases)
        self.touched.set()

    def say(self, key: str, table: str = "platform", **facts: object) -> str:
        """To the staff, in English."""
        return self.words.say(table, key, **facts)


@asynccontextmanager
async def open_house(
    settings: Settings, reader: Reads, executor: Executor | None, clock: Callable[[], int] = milliseconds
) -> AsyncIterator[House]:
    """Opens the database of the settings and all doors on it. Raises StoreError."""
    # A thread of its own draws: nobody who waits for an answer waits for a picture.
    drawing = ThreadPoolExecutor(1, thread_name_prefix="drawing")
    async with open_database(settings.database) as database:
        people = People.beside(settings.database)
        inbox, outbox = Inbox(database, people), Outbox(database, clock)
        worker = Worker(
            database,
            inbox,
            outbox,
            PlacedReader(reader),
            jurisdiction=settings.region,
            weights=settings.weights,
            threshold=settings.queue_threshold,
            executor=executor,
            mends=True,
            clock=clock,
        )
        privacy = PrivacyTable(database, scrub)
        house = House(
            settings=settings,
            database=database,
            people=people,
            inbox=inbox,
            outbox=outbox,
            worker=worker,
            desk=Desk(database, clock),
            replies=ReplyTable(database),
            privacy=privacy,
            views=ViewTable(database),
            followers=FollowerTable(database),
            consents=ConsentTable(database),
            metrics=Metrics(),
            cooldown=CoolDown(settings.cooldown_tags, settings.cooldown_seconds),
            reader=reader,
            executor=executor,
            drawing=drawing,
            clock=clock,
        )
        house.quiet = await privacy.quiet_keys()
        with drawing:
            yield house
