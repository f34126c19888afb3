"""The disk, the file and the platform misbehave; the real program loses no tag and answers none twice."""

from __future__ import annotations

import asyncio
import resource
import sqlite3
from contextlib import closing, suppress
from pathlib import Path

import pytest

from tests.faults.program import Program, watchglass
from tests.faults.quay import Evening
from tests.loopback import Loopback
from tests.loopback.faults import Fault

LONG = "Face cream: " + ", ".join(f"{number} tsp curious root number {number}" for number in range(1, 140))
SENDS = r"^POST /channels/\d+/messages$"
Stage = tuple[Evening, Program]
pytestmark = pytest.mark.asyncio(loop_scope="module")


async def sound(evening: Evening, program: Program) -> None:
    await evening.all_answered()
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


async def test_a_machine_without_memory_loses_no_tag_and_no_message_is_blamed(stage: Stage) -> None:
    """No page more for a few seconds, under load; where the program does not outlive it, it is started again.

    What it has in hand already may be enough for it: `test_clock.py` has the shortage that is sure to be met.
    """
    evening, program = stage
    resource.prlimit(program.pid, resource.RLIMIT_AS, (program.status("VmSize") * 1024, resource.RLIM_INFINITY))
    for _ in range(12):
        evening.post()
    evening.post(LONG)
    await asyncio.sleep(3)
    with suppress(ProcessLookupError):
        resource.prlimit(program.pid, resource.RLIMIT_AS, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
    if program.running is not None and program.running.returncode is not None:
        evening.platform.gateway.abort()
        await program.start()
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
        await evening.all_answered()
        platform.gateway.acknowledge = False
        evening.post()
        await platform.until(lambda: len(platform.gateway.resumes) + len(platform.gateway.identifies) > began, 90)
        platform.gateway.acknowledge = True
        evening.post()
        await sound(evening, program)
        await program.kill()


def spoil(database: Path, table: str) -> None:
    """Overwrites the page at the root of a table, as by a dying disk."""
    with closing(sqlite3.connect(database)) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        size = connection.execute("PRAGMA page_size").fetchone()[0]
        root = connection.execute("SELECT rootpage FROM sqlite_schema WHERE name = ?", (table,)).fetchone()[0]
    with database.open("r+b") as file:
        file.seek((root - 1) * size)
        file.write(b"\xa5" * size)


async def test_a_file_that_may_not_be_written_is_said_at_the_start_and_stays_whole(stage: Stage) -> None:
    evening, program = stage
    assert await program.stop() == 0
    before = program.database.read_bytes()
    program.database.chmod(0o400)
    try:
        code, _, complaints = await watchglass("serve", as_root=False, **program.settings)
    finally:
        program.database.chmod(0o600)
    assert (code, len(complaints.splitlines()[-1:])) == (4, 1)
    assert "is read-only; make it writable" in complaints
    assert program.database.read_bytes() == before
    await program.start()
    evening.post()
    await sound(evening, program)


async def test_a_damaged_page_is_said_and_after_a_restore_nothing_is_lost_or_said_again(
    stage: Stage, tmp_path: Path
) -> None:
    evening, program = stage
    code, _, complaints = await watchglass("backup", str(tmp_path / "backups"), **program.settings)
    assert code == 0, complaints
    backup = str(next((tmp_path / "backups").glob("*.db")))
    for _ in range(20):
        evening.post()
    await evening.all_answered()
    code, _, complaints = await watchglass("restore", "--yes", backup, **program.settings)
    assert code == 4
    assert "in use" in complaints
    assert await program.stop() == 0
    spoil(program.database, "inbox")
    await program.begin()
    evening.post()
    assert await program.ended() == 4
    assert "is damaged; stop the program and put back the last backup" in program.log.read_text().splitlines()[-1]
    assert (await watchglass("restore", "--yes", backup, **program.settings))[0] == 0
    evening.platform.messages.nonces.clear()
    await program.start()
    evening.post()
    await program.until_rows("SELECT COUNT(*) FROM inbox", len(evening.posts))
    await sound(evening, program)


async def test_a_message_put_back_by_another_program_is_taken_up(stage: Stage) -> None:
    evening, program = stage
    post = evening.post()
    await evening.all_answered()
    await program.drained()
    with closing(sqlite3.connect(program.database, isolation_level=None)) as other:
        other.execute("UPDATE inbox SET state = 'aside', error = 'Fault' WHERE message_id = ?", (str(post.id),))
        other.execute("DELETE FROM tags WHERE message_id = ?", (str(post.id),))
    code, said, _ = await watchglass("inbox", "retry", "--all", **program.settings)
    assert (code, "back in the line" in said) == (0, True)
    await program.until_rows("SELECT COUNT(*) FROM inbox WHERE state <> 'done'", 0)
