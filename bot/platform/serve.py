"""Runs the bot until it is told to stop: connects, comes back after trouble, and ends cleanly."""

from __future__ import annotations

import asyncio
import contextlib
import gc
import logging
import signal
import sys
import time
from collections.abc import Callable, Coroutine
from concurrent.futures import Executor, ThreadPoolExecutor
from typing import Any

import discord

from bot.outbox import milliseconds
from bot.platform.client import Watchglass
from bot.platform.health import health_server
from bot.platform.house import House, open_house
from bot.platform.library import point_at
from bot.platform.logs import start_logs
from bot.settings import Settings, SettingsError
from bot.store.errors import DamagedError, StoreError
from bot.triage import Reads
from bot.worker import Done, Step

log = logging.getLogger(__name__)
FLUSH_SECONDS = 8.0
FIRST_PAUSE, LONGEST_PAUSE = 5.0, 120.0
TRIES_PAUSE = 1.0
MEMORY_PAUSE = 5.0
CLOSE_SECONDS = 2.0
# The reading thread must not hold the loop for the interpreter's usual 5 ms at every step of a transaction.
SWITCH_SECONDS = 0.001
LAG_EVERY = 0.05
EVENT_TASK = "discord"
DAY_MILLISECONDS = 86_400_000
LOOKED_AT = 20  # cards, the last touched ones
PURGED_EVERY = 3600.0
BAD_TOKEN = (
    "the platform refused the token: it is wrong, was reset or revoked; make a new one in the developer portal"
    " and set WATCHGLASS_TOKEN"
)
NO_TOKEN = "token: none is set; set WATCHGLASS_TOKEN to the bot's token from the developer portal"
NO_PRIVILEGE = "the platform refused the intents of the bot; it needs none that is privileged, so report this"


def serve(settings: Settings, reader: Reads) -> None:
    """Blocks until SIGTERM or SIGINT. Raises SettingsError and StoreError, each one sentence."""
    if settings.token is None:
        raise SettingsError([NO_TOKEN])
    start_logs(settings.token.get_secret_value())
    sys.setswitchinterval(SWITCH_SECONDS)
    asyncio.run(run(settings, reader))


async def run(
    settings: Settings,
    reader: Reads,
    stop: asyncio.Event | None = None,
    clock: Callable[[], int] = milliseconds,
) -> None:
    """The same inside an event loop; `stop` ends it like SIGTERM. `clock` in milliseconds UTC."""
    point_at(settings)
    # One thread reads and judges: the reader is not to be shared, and the loop stays free for the platform.
    with ThreadPoolExecutor(1, thread_name_prefix="reading") as executor:
        async with open_house(settings, reader, executor, clock) as house:
            await _warm(executor, reader)
            # The tables stay for good: looking through them at every collection would hold the loop.
            gc.collect()
            gc.freeze()
            if stop is not None:
                house.stopping = stop
            try:
                with _signals(house.stopping):
                    await _live(house)
            finally:
                gc.unfreeze()


async def _warm(executor: Executor, reader: Reads) -> None:
    """The first reading loads tables: not while somebody waits."""
    loop = asyncio.get_running_loop()
    await loop.run_in_executor(executor, reader.read, "1 tbsp beeswax, 2 tbsp coconut oil lip balm")


@contextlib.contextmanager
def _signals(stopping: asyncio.Event) -> Any:
    loop = asyncio.get_running_loop()
    known = (signal.SIGTERM, signal.SIGINT)
    with contextlib.suppress(NotImplementedError, RuntimeError, ValueError):
        for number in known:
            loop.add_signal_handler(number, stopping.set)
    try:
        yield
    finally:
        with contextlib.suppress(NotImplementedError, RuntimeError, ValueError):
            for number in known:
                loop.remove_signal_handler(number)


async def _live(house: House) -> None:
    """Client after client until told to stop; the pause between grows, and starts are counted on disk."""
    pause = FIRST_PAUSE
    while not house.stopping.is_set():
        began = time.monotonic()
        await _one_client(house)
        if house.stopping.is_set():
            return
        pause = FIRST_PAUSE if time.monotonic() - began > LONGEST_PAUSE else min(LONGEST_PAUSE, pause * 2)
        log.warning("the connection ended; again in %.0f seconds", pause)
        with contextlib.suppress(TimeoutError):
            await asyncio.wait_for(house.stopping.wait(), pause)


async def _one_client(house: House) -> None:
    """Returns when the link is lost for good or at the stop. Raises SettingsError where no retry helps."""
    token = house.settings.token
    assert token is not None  # checked before anything is opened
    client = Watchglass(house)
    async with client, health_server(house, client.operator):
        connection = asyncio.create_task(client.start(token.get_secret_value()))
        stopping = asyncio.create_task(house.stopping.wait())
        parts = [asyncio.create_task(part) for part in _parts(house, client)]
        try:
            await asyncio.wait({connection, stopping, *parts}, return_when=asyncio.FIRST_COMPLETED)
            if house.stopping.is_set():
                await _finish(house, client)
        finally:
            await _end([*parts, stopping])
            await client.close()
            await asyncio.wait({connection}, timeout=CLOSE_SECONDS)
            await _end([connection])
            await _events_over()
    _raise_refusal(connection)
    for part in parts:
        if not part.cancelled() and (error := part.exception()) is not None:
            raise error


def _parts(house: House, client: Watchglass) -> list[Coroutine[Any, Any, None]]:
    return [
        _work(house, client),
        client.sender.run(),
        _forever(client.desk.run()),
        _forever(client.notes.run()),
        client.patience.run(),
        client.catch_up.keep(),
        _purge(house),
        _damaged(house),
        _feel_lag(house),
    ]


async def _forever(part: Coroutine[Any, Any, None]) -> None:
    """A part that is switched off by its setting must not end the others."""
    await part
    await asyncio.Event().wait()


async def _end(tasks: list[asyncio.Task[Any]]) -> None:
    for task in tasks:
        task.cancel()
    await asyncio.gather(*tasks, return_exceptions=True)


async def _events_over() -> None:
    """The library runs each event as a task of its own: what was begun is finished before the store closes."""
    begun = [task for task in asyncio.all_tasks() if task.get_name().startswith(EVENT_TASK)]
    if begun:
        await asyncio.wait(begun, timeout=FLUSH_SECONDS)


def _raise_refusal(connection: asyncio.Task[None]) -> None:
    """What no retry will mend is raised; everything else was logged and is tried again."""
    error = None if connection.cancelled() else connection.exception()
    if error is None:
        return
    if isinstance(error, discord.LoginFailure):
        raise SettingsError([BAD_TOKEN]) from None
    if isinstance(error, discord.PrivilegedIntentsRequired):
        raise SettingsError([NO_PRIVILEGE]) from None
    if isinstance(error, discord.ConnectionClosed) and error.code == 4004:
        raise SettingsError([BAD_TOKEN]) from None
    log.warning("the connection failed: %s", type(error).__name__)


async def _work(house: House, client: Watchglass) -> None:
    """Answers what was accepted, one after the other; a store or a machine that fails for a moment is waited for."""
    with contextlib.suppress(StoreError):  # the first message tries again
        await house.worker.prepare()
    while True:
        try:
            async with house.reading:
                step = await house.worker.step()
        except (StoreError, MemoryError) as error:
            house.metrics.failures.labels("worker").inc()
            log.error("reading: %s", error or "no memory is left")
            await asyncio.sleep(TRIES_PAUSE if isinstance(error, StoreError) else MEMORY_PAUSE)
            continue
        if step is None:
            await house.inbox.wait()
        else:
            await _after(house, client, step)


async def _after(house: House, client: Watchglass, step: Step) -> None:
    if step.done is Done.SET_ASIDE:
        await client.notices.set_aside(step.message_id, step.error or "")
    elif step.done is Done.FAILED:
        house.metrics.failures.labels("reading").inc()
        await asyncio.sleep(TRIES_PAUSE)
    elif step.triage is not None and (step.triage.items or step.triage.interest.queued):
        house.touch(*(item.case for item in step.triage.items if item.case is not None))
        if step.triage.amended:  # somebody counts for another case from now on
            house.touch(*await house.views.carded(LOOKED_AT))
        client.notes.look()


async def _finish(house: House, client: Watchglass) -> None:
    """Nothing new is taken; what is in hand is finished and sent, for as long as that is polite."""
    log.info("stopping: finishing what is in hand")
    house.outbox.announce()  # another program may have written, as at the publishing of an episode
    for _ in range(round(FLUSH_SECONDS / LAG_EVERY)):
        # Where we may not write just now nothing goes out, however long we wait.
        unsent = set(await house.outbox.table.channels()) - set(client.sender.paused)
        if not unsent and not await house.inbox.waiting():
            break
        await asyncio.sleep(LAG_EVERY)
    await client.catch_up.save()


async def _damaged(house: House) -> None:
    """A broken file ends the program: no try will mend it, and every write may harm it more."""
    await house.database.damaged.wait()
    raise DamagedError(house.database.path)


async def _purge(house: House) -> None:
    """Words go when their time is over."""
    while True:
        before = house.clock() - house.settings.retention_days * DAY_MILLISECONDS
        try:
            while await house.privacy.purge(before):
                log.info("words whose time was over are cleared")
            await house.privacy.tidy(house.clock())
        except StoreError as error:
            log.error("purging: %s", error)
        await asyncio.sleep(PURGED_EVERY)


async def _feel_lag(house: House) -> None:
    """The longest time that the loop was held in the last minute."""
    worst, since = 0.0, time.monotonic()
    while True:
        before = time.monotonic()
        await asyncio.sleep(LAG_EVERY)
        now = time.monotonic()
        worst = max(worst, now - before - LAG_EVERY)
        house.metrics.loop_lag.set(worst)
        if now - since > 60:
            worst, since = 0.0, now
