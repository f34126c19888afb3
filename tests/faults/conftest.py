"""One running program for all faults of a file that it outlives: a start takes longer than most of the tests."""

from __future__ import annotations

from collections.abc import AsyncIterator

import pytest
import pytest_asyncio

from tests.faults.program import Program
from tests.faults.quay import Evening
from tests.loopback import Loopback

Stage = tuple[Evening, Program]


@pytest_asyncio.fixture(loop_scope="module", scope="module")
async def stage(tmp_path_factory: pytest.TempPathFactory) -> AsyncIterator[Stage]:
    async with Loopback() as platform:
        evening = Evening(platform, 7)
        program = Program(platform, tmp_path_factory.mktemp("program"), **evening.settings)
        await program.start()
        evening.post()
        await evening.all_answered()
        yield evening, program
        await program.kill()
