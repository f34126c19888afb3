"""One platform and one bot a test."""

from __future__ import annotations

from collections.abc import AsyncIterator
from pathlib import Path

import pytest

from tests.bot.platform.stage import Stage
from tests.loopback import Loopback


@pytest.fixture
async def quiet_stage(tmp_path: Path) -> AsyncIterator[Stage]:
    """Everything built, the bot not started: for tests that set something first."""
    async with Loopback() as platform:
        stage = Stage(tmp_path, platform)
        try:
            yield stage
        finally:
            await stage.stop()


@pytest.fixture
async def stage(quiet_stage: Stage) -> Stage:
    await quiet_stage.start()
    return quiet_stage
