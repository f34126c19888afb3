"""The disk, the file and the platform misbehave; the real program loses no tag and answers none twice."""

from __future__ import annotations

import asyncio
import resource
import sqlite3
from collections.abc import AsyncIterator
from contextlib import closing
from pathlib import Path

import pytest

from tests.faults.program import Program, watchglass
from tests.faults.quay import Evening
from tests.loopback import Loopback
from tests.loopback.faults import Fault

SENDS = r"^POST /channels/\d+/messages$"
Stage = tuple[Evening, Program]


@pytest.fixture
async def stage(tmp_path: Path) -> AsyncIterator[Stage]:
    async with Loopback() as platform:
        evening = Evening(platform, 7)
        program = Program(platform, tmp_path, **evening.settings)
        await program.start()
        evening.post()
        await all_answered(evening)
        yield evening, program
        await program.kill()


async def all_answered(evening: Evening, seconds: float = 60) -> None:
    await evening.platform.until(lambda: len(evening.answers()) == len(evening.posts), seconds)


async def sound(evening: Evening, program: Program) -> None:
    await all_answered(evening)
    await program.drained()
    assert evening.faults(program) == []


async def test_a_database_locked_for_longer_than_it_waits_loses_no_tag(stage: Stage) -> None:
    evening, program = stage
    with closing(sqlite3.connect(program.database, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        for _ in range(5):
            evening.post()
        await asyncio.sleep(6.5)
        evening.post()
        other.execute("ROLLBACK")
    await sound(evening, program)


async def test_a_full_disk_loses_no_tag_and_it_goes_on_when_there_is_room(stage: Stage) -> None:
    evening, program = stage
    resource.prlimit(program.pid, resource.RLIMIT_FSIZE, (4096, resource.RLIM_INFINITY))
    for _ in range(8):
        evening.post()
    await asyncio.sleep(2)
    assert len(evening.answers()) < len(evening.posts)
    resource.prlimit(program.pid, resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
    evening.post()
    await sound(evening, program)


async def test_a_storm_of_refusals_and_failures_doubles_nothing(stage: Stage) -> None:
    evening, program = stage
    faults = evening.platform.faults
    faults.too_many(SENDS, 0.3, times=10, everywhere=True)
    faults.add(Fault(SENDS, 502, times=6, after=True))
    faults.add(Fault(SENDS, 500, times=6))
    for _ in range(30):
        evening.post()
    await sound(evening, program)


async def test_a_slow_platform_and_links_that_break_lose_nothing(stage: Stage) -> None:
    evening, program = stage
    evening.platform.faults.add(Fault(SENDS, 503, times=4, delay=1.0))
    for _ in range(5):
        for _ in range(4):
            evening.post()
        evening.platform.gateway.abort()
        await asyncio.sleep(0.2)
    await sound(evening, program)


async def test_a_link_that_is_silent_but_open_is_given_up_and_nothing_is_lost(tmp_path: Path) -> None:
    """Half open: nothing is acknowledged any more, and the socket does not say so."""
    async with Loopback() as platform:
        platform.gateway.heartbeat_ms = 500
        evening = Evening(platform, 8)
        program = Program(platform, tmp_path, **evening.settings)
        await program.start()
        began = len(platform.gateway.resumes) + len(platform.gateway.identifies)
        evening.post()
        await all_answered(evening)
        platform.gateway.acknowledge = False
        evening.post()
        await platform.until(lambda: len(platform.gateway.resumes) + len(platform.gateway.identifies) > began, 90)
        platform.gateway.acknowledge = True
        evening.post()
        await sound(evening, program)
        await program.kill()


async def test_what_was_answered_after_a_backup_is_not_said_again_after_a_restore(stage: Stage, tmp_path: Path) -> None:
    evening, program = stage
    code, _, complaints = await watchglass("backup", str(tmp_path / "backups"), **program.settings)
    assert code == 0, complaints
    for _ in range(20):
        evening.post()
    await all_answered(evening)
    code, _, complaints = await watchglass(
        "restore", "--yes", str(next((tmp_path / "backups").glob("*.db"))), **program.settings
    )
    assert code == 4
    assert "in use" in complaints
    assert await program.stop() == 0
    backup = str(next((tmp_path / "backups").glob("*.db")))
    assert (await watchglass("restore", "--yes", backup, **program.settings))[0] == 0
    evening.platform.messages.nonces.clear()
    await program.start()
    evening.post()
    await program.until_rows("SELECT COUNT(*) FROM inbox", len(evening.posts))
    await sound(evening, program)


async def test_a_message_put_back_by_another_program_is_taken_up(stage: Stage) -> None:
    evening, program = stage
    post = evening.post()
    await all_answered(evening)
    await program.drained()
    with closing(sqlite3.connect(program.database, isolation_level=None)) as other:
        other.execute("UPDATE inbox SET state = 'aside', error = 'Fault' WHERE message_id = ?", (str(post.id),))
        other.execute("DELETE FROM tags WHERE message_id = ?", (str(post.id),))
    code, said, _ = await watchglass("inbox", "retry", "--all", **program.settings)
    assert (code, "back in the line" in said) == (0, True)
    await program.until_rows("SELECT COUNT(*) FROM inbox WHERE state <> 'done'", 0)
