"""For the operator: the real command, SIGTERM, health, metrics, status, logs without words, session starts."""

from __future__ import annotations

import asyncio
import json
import os
import signal
import sys
from pathlib import Path

import aiohttp
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.platform.starts import FREE, LONGEST_WAIT, wait_before
from tests.bot.platform.stage import BALM, Stage
from tests.loopback import Loopback, Person
from tests.loopback.world import Channel


async def _program(platform: Loopback, folder: Path, **extra: str) -> asyncio.subprocess.Process:
    environment = {key: value for key, value in os.environ.items() if not key.startswith("WATCHGLASS_")}
    environment |= {
        "WATCHGLASS_TOKEN": platform.token,
        "WATCHGLASS_API_URL": platform.api_url,
        "WATCHGLASS_GATEWAY_URL": platform.gateway_url,
        "WATCHGLASS_DB": str(folder / "program.db"),
        **extra,
    }
    return await asyncio.create_subprocess_exec(
        sys.executable, "-c", "from bot.cli import main; main()", "serve",
        env=environment, stdout=asyncio.subprocess.PIPE, stderr=asyncio.subprocess.PIPE,
    )  # fmt: skip


async def test_the_program_serves_stops_on_sigterm_and_leaves_nothing_behind(tmp_path: Path) -> None:
    async with Loopback() as platform:
        square = platform.world.channel("market-square")
        fan = Person(platform, platform.world.person("glim-otter"))
        posts = []
        for run in range(2):
            program = await _program(platform, tmp_path)
            await platform.until(lambda: platform.gateway.connected, 60)
            posts += [fan.asks(square, f"{BALM}, batch {run} {number}") for number in range(4)]
            wanted = 1 if run == 0 else len(posts)
            await platform.until(lambda wanted=wanted: len(_answered(square)) >= wanted, 20)
            program.send_signal(signal.SIGTERM)
            _, said = await asyncio.wait_for(program.communicate(), 20)
            assert program.returncode == 0, said
            assert not platform.gateway.connections
            for line in said.decode().splitlines():
                assert set(json.loads(line)) >= {"at", "level", "from", "says"}
            assert platform.token not in said.decode()
            assert "beeswax" not in said.decode()
        assert sorted(_answered(square)) == [post.id for post in posts]


def _answered(channel: Channel) -> list[int]:
    posts = channel.messages.values()
    return [int(post.reference["message_id"]) for post in posts if post.author.bot and post.reference]


@pytest.mark.parametrize(
    ("extra", "hint"),
    [
        ({"WATCHGLASS_TOKEN": "wrong"}, "refused the token"),
        ({"WATCHGLASS_TOKEN": ""}, "WATCHGLASS_TOKEN"),
        ({"WATCHGLASS_DESK_CHANNEL": "the-desk"}, "WATCHGLASS_DESK_CHANNEL"),
        ({"WATCHGLASS_DESK_CHANEL": "1"}, "WATCHGLASS_DESK_CHANNEL"),
    ],
)
async def test_a_wrong_setting_ends_it_with_one_sentence(tmp_path: Path, extra: dict[str, str], hint: str) -> None:
    async with Loopback() as platform:
        program = await _program(platform, tmp_path, **extra)
        _, said = await asyncio.wait_for(program.communicate(), 60)
        assert program.returncode == 3
        assert hint in said.decode()
        assert "Traceback" not in said.decode()


async def test_health_and_metrics_are_told_on_loopback(quiet_stage: Stage, unused_tcp_port: int) -> None:
    quiet_stage.extra = {"health_port": unused_tcp_port}
    await quiet_stage.start()
    await quiet_stage.reply(quiet_stage.fan().asks(quiet_stage.square, BALM))
    address = f"http://127.0.0.1:{unused_tcp_port}"
    async with aiohttp.ClientSession() as session:
        well = False
        async with asyncio.timeout(10):
            while not well:
                async with session.get(f"{address}/health") as answer:
                    well = (await answer.json())["well"]
                    assert answer.status == (200 if well else 503)
        async with session.get(f"{address}/metrics") as answer:
            told = await answer.text()
    assert 'watchglass_accepted_total{way="mention"} 1.0' in told
    assert 'watchglass_sent_total{outcome="sent"} 1.0' in told


async def test_the_state_is_told_to_the_owner_and_to_nobody_else(stage: Stage) -> None:
    refused = stage.creator.uses(stage.square, "status")
    asked = stage.owner.uses(stage.square, "status")
    await stage.until(lambda: refused.shown and asked.shown)
    assert "for the owner" in refused.text
    assert "Session starts left today" in asked.text


async def test_a_crash_loop_is_slowed_down(stage: Stage) -> None:
    for _ in range(FREE - 1):
        await stage.crash()
        await stage.start()
    await stage.crash()
    begun = len(stage.platform.gateway.identifies)
    stage.begin()
    await stage.until(lambda: stage.platform.sent("/oauth2/applications/@me", "GET")[begun:])
    await stage.until_local_rows("SELECT json_array_length(value) FROM marks WHERE name = 'session_starts'", FREE + 1)
    assert len(stage.platform.gateway.identifies) == begun


@given(st.lists(st.floats(min_value=0, max_value=86_400), max_size=200))
def test_session_starts_never_burn_the_day(starts: list[float]) -> None:
    """The platform's thousand a day, at one start after each wait."""
    wait = wait_before(starts, 86_400.0)
    assert 0 <= wait <= LONGEST_WAIT
    recent = [start for start in starts if start > 82_800]
    assert (wait == 0) == (len(recent) < FREE)
