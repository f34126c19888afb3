"""The real program in a process of its own, to be killed, starved and watched."""

from __future__ import annotations

import asyncio
import ctypes
import json
import os
import re
import signal
import socket
import sqlite3
import sys
from contextlib import closing
from pathlib import Path
from typing import Any

import aiohttp

from tests.loopback import Loopback

COMMAND = "from bot.cli import main; main()"


def status_of(pid: int, name: str) -> int:
    found = re.search(rf"^{name}:\s+(\d+)", Path(f"/proc/{pid}/status").read_text(), re.M)
    return int(found[1]) if found else 0


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def environment(**extra: str) -> dict[str, str]:
    """This process's own, without any setting of the program but those given."""
    return {key: value for key, value in os.environ.items() if not key.startswith("WATCHGLASS_")} | extra


def without_override() -> None:
    """Root obeys the modes of files like anybody else: runs in the child, before the program takes its place."""
    drop, override = 24, 1  # PR_CAPBSET_DROP, CAP_DAC_OVERRIDE: linux/prctl.h, linux/capability.h
    ctypes.CDLL(None).prctl(drop, override, 0, 0, 0)


async def watchglass(
    *arguments: str, as_root: bool = True, home: Path | None = None, **extra: str
) -> tuple[int, str, str]:
    """Runs one command to its end: exit code, output, complaints. `home` holds the packages to run, where not these."""
    running = await asyncio.create_subprocess_exec(
        sys.executable, "-c", COMMAND, *arguments,
        env=environment(**extra), stdout=asyncio.subprocess.PIPE, stderr=asyncio.subprocess.PIPE,
        preexec_fn=None if as_root else without_override, cwd=home,
    )  # fmt: skip
    out, complaints = await asyncio.wait_for(running.communicate(), 120)
    return running.returncode or 0, out.decode(), complaints.decode()


class Program:
    """`watchglass serve` on one database; started and ended any number of times. Its log goes to a file."""

    def __init__(self, platform: Loopback, folder: Path, **extra: str) -> None:
        self.platform, self.folder = platform, folder
        self.database = folder / "program.db"
        self.log = folder / "log.jsonl"
        self.port = free_port()
        self.settings = {
            "WATCHGLASS_TOKEN": platform.token,
            "WATCHGLASS_API_URL": platform.api_url,
            "WATCHGLASS_GATEWAY_URL": platform.gateway_url,
            "WATCHGLASS_DB": str(self.database),
            "WATCHGLASS_HEALTH_PORT": str(self.port),
            "WATCHGLASS_COOLDOWN_TAGS": "1000000",
            "WATCHGLASS_CATCH_UP_MESSAGES": "1000000",
            **extra,
        }
        self.running: asyncio.subprocess.Process | None = None

    async def begin(self) -> None:
        """Starts it and waits for nothing."""
        self.hour_passes()
        with self.log.open("ab") as log:
            self.running = await asyncio.create_subprocess_exec(
                sys.executable, "-c", COMMAND, "serve", env=environment(**self.settings), stdout=log, stderr=log
            )

    async def start(self, seconds: float = 60) -> None:
        await self.begin()
        await self.platform.until(lambda: self.platform.gateway.connected, seconds)

    @property
    def pid(self) -> int:
        assert self.running is not None
        return self.running.pid

    def status(self, name: str) -> int:
        """A figure of the running process in kB, such as VmRSS or VmHWM: proc(5)."""
        return status_of(self.pid, name)

    async def kill(self) -> None:
        """The end without a goodbye: nothing is finished, nothing is flushed."""
        assert self.running is not None
        if self.running.returncode is None:
            self.running.send_signal(signal.SIGKILL)
        await self.running.wait()
        self.platform.gateway.abort()

    async def stop(self) -> int:
        """As an operator stops it; its exit code."""
        assert self.running is not None
        if self.running.returncode is None:
            self.running.send_signal(signal.SIGTERM)
        return await asyncio.wait_for(self.running.wait(), 30)

    async def ended(self, seconds: float = 60) -> int:
        """Waits until it ends by itself; its exit code."""
        assert self.running is not None
        return await asyncio.wait_for(self.running.wait(), seconds)

    def hour_passes(self) -> None:
        """Session starts are counted over an hour and slowed down; between two kills an hour goes by."""
        if self.database.is_file() and self.rows("SELECT 1 FROM sqlite_schema WHERE name = 'marks'"):
            with closing(sqlite3.connect(self.database, timeout=10, isolation_level=None)) as connection:
                connection.execute("DELETE FROM marks WHERE name = 'session_starts'")

    def rows(self, sql: str, *values: object) -> list[tuple[Any, ...]]:
        """What is on disk, seen from another process."""
        with closing(sqlite3.connect(f"{self.database.as_uri()}?mode=ro", uri=True, timeout=10)) as connection:
            return connection.execute(sql, values).fetchall()

    def says(self) -> list[dict[str, Any]]:
        """Every line of its log."""
        lines = self.log.read_text("utf-8").splitlines() if self.log.exists() else []
        return [json.loads(line) for line in lines if line.startswith("{")]

    async def health(self) -> dict[str, Any]:
        address = f"http://127.0.0.1:{self.port}/health"
        async with aiohttp.ClientSession() as session, session.get(address) as answer:
            return dict(await answer.json())

    async def until_rows(self, sql: str, number: int, seconds: float = 60) -> None:
        """Until a count on disk is reached."""
        async with asyncio.timeout(seconds):
            while self.rows(sql)[0][0] != number:  # noqa: ASYNC110 - another process writes it
                await asyncio.sleep(0.02)

    async def drained(self, seconds: float = 120) -> None:
        """Until nothing waits to be read and nothing waits to be sent."""
        waiting = "(SELECT COUNT(*) FROM inbox WHERE state = 'waiting')"
        unsent = "(SELECT COUNT(*) FROM outbox WHERE state = 'pending')"
        await self.until_rows(f"SELECT {waiting} + {unsent}", 0, seconds)
