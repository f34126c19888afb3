"""The clock jumps, an hour passes without the platform, memory is short: the bot in this process, on a clock and with
a reader that are handed to it."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from pathlib import Path

import pytest

from bot.outbox import milliseconds
from bot.platform.serve import run
from bot.words.phrases import load_phrases
from nlp.reader import default_reader
from nlp.reading import Reading
from tests.bot.platform.stage import BALM, MIST, Stage
from tests.loopback import Loopback

SENDS = r"^POST /channels/\d+/messages$"
HOUR, DAY = 3_600_000, 86_400_000


class ShortOfMemory:
    """The real reader, which runs out of memory as long as `short` is set."""

    def __init__(self) -> None:
        self.short, self.refused = False, 0

    def read(self, text: str) -> Reading:
        if self.short:
            self.refused += 1
            raise MemoryError
        return default_reader().read(text)


class ClockStage(Stage):
    """`ahead` is how far the bot's clock is off, in milliseconds."""

    ahead = 0

    def begin(self) -> asyncio.Task[None]:
        self._stop = asyncio.Event()
        self._task = asyncio.create_task(
            run(self.settings(), self.reader, self._stop, clock=lambda: milliseconds() + self.ahead)
        )
        self._task.add_done_callback(lambda _: self.platform.changed())
        return self._task


@pytest.fixture
async def stage(tmp_path: Path) -> AsyncIterator[ClockStage]:
    async with Loopback() as platform:
        made = ClockStage(tmp_path, platform)
        await made.start()
        try:
            yield made
        finally:
            await made.stop()


async def test_a_clock_that_jumps_both_ways_loses_no_tag_and_clears_no_answer_that_waits(stage: ClockStage) -> None:
    """Past the retention, so that the purge of each start meets answers that were not sent yet."""
    gate = stage.platform.faults.hold(SENDS)
    fans = [stage.fan(f"gull-{number}") for number in range(4)]
    posts = []
    for ahead in (40 * DAY, -40 * DAY, 400 * DAY, 0):
        stage.ahead = ahead
        posts += [fan.asks(stage.square, BALM) for fan in fans]
        await stage.until_local_rows("SELECT COUNT(*) FROM outbox", len(posts))
        await stage.crash()
        await stage.start()
    gate.set()
    for post in posts:
        assert (await stage.reply(post)).content != "…"
    assert [len(stage.replies(post)) for post in posts] == [1] * len(posts)
    await stage.until_local_rows("SELECT COUNT(*) FROM outbox WHERE state <> 'sent'", 0)


async def test_a_worker_without_memory_waits_and_no_message_is_blamed(stage: ClockStage) -> None:
    reader = ShortOfMemory()
    stage.reader = reader
    await stage.restart()
    reader.short = True
    posts = [stage.fan().asks(stage.square, BALM) for _ in range(3)]
    await stage.until_local(lambda: reader.refused)
    assert await stage.rows("SELECT COUNT(*) FROM inbox WHERE state = 'waiting'") == [(3,)]
    reader.short = False
    for post in posts:
        await stage.reply(post)
    assert [len(stage.replies(post)) for post in posts] == [1] * 3
    assert await stage.rows("SELECT COUNT(*) FROM inbox WHERE state <> 'done' OR attempts") == [(0,)]


async def test_an_hour_without_the_platform_costs_no_tag_and_no_answer_is_said_twice(stage: ClockStage) -> None:
    """The hour is one of the bot's clock: what is too old after an hour is too old here, and nobody waits."""
    fan, other = stage.fan(), stage.fan("tin-lantern")
    gate = stage.platform.faults.hold_answer(SENDS)
    doubtful = fan.asks(stage.square, BALM)
    await stage.until(lambda: stage.replies(doubtful))
    whispers = stage.platform.faults.hold(r"^POST /webhooks/")
    asked = other.uses(stage.square, "check", recipe=MIST)
    await stage.until_local_rows("SELECT COUNT(*) FROM outbox", 2)
    with stage.platform.outage():
        gate.set()
        whispers.set()
        await stage.until(lambda: not stage.platform.gateway.connections)
        missed = [person.asks(place, BALM) for person in (fan, other) for place in (stage.square, stage.side)]
        stage.ahead += HOUR
        stage.platform.gateway.forget_sessions()
        stage.platform.messages.nonces.clear()
    for post in missed:
        await stage.reply(post)
    await stage.until_local_rows("SELECT COUNT(*) FROM outbox WHERE state = 'pending'", 0)
    assert [len(stage.replies(post)) for post in (doubtful, *missed)] == [1] * 5
    # Its whisper would come too late: the answer stands in the channel, once, or was seen before the link went. By the
    # clock the posts are an hour old, so a note that the bot is behind may stand there too.
    behind = load_phrases().say("platform", "behind", count=9).split("9")[1]
    alone = [post for post in stage.bot_posts(stage.square) if not post.reference and behind not in post.content]
    assert len(asked.shown) + len(alone) == 1
