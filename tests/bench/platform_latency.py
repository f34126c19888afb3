"""How fast a tag is answered over loopback: the real program in its own process against the loopback platform.

    python -m tests.bench.platform_latency [--seconds 20] [--rate 50] [--burst 500]

Prints the time from MESSAGE_CREATE on the socket to the reply's request on the wire, and the longest hold of the
program's event loop. Two cores are enough; anything else that runs at the same time shows.
"""

from __future__ import annotations

import argparse
import asyncio
import os
import re
import socket
import statistics
import sys
import tempfile
import time
from pathlib import Path

import aiohttp

from tests.loopback import Loopback, Person
from tests.loopback.world import Channel

RECIPES = (
    "Lip balm: 1 tbsp beeswax, 2 tbsp coconut oil, 1 tbsp sweet almond oil, {n} drops vitamin E",
    "Face mist to keep in the bathroom: 1 cup rose water, {n} tbsp aloe vera juice, 5 drops lavender essential oil",
    "Sugar scrub for the lips: {n} tbsp sugar, 1 tbsp honey, 1 tbsp olive oil. Mix, rub gently and rinse off",
    "is {n} tsp lemon juice ok in a face mask?",
    "Hair mask: {n} tbsp coconut milk, 1 tbsp honey, half a mashed avocado, leave on for 20 minutes, then rinse",
    "good morning everyone, day {n} of the market!",
)


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


async def program(platform: Loopback, folder: str, port: int) -> asyncio.subprocess.Process:
    environment = {key: value for key, value in os.environ.items() if not key.startswith("WATCHGLASS_")}
    environment |= {
        "WATCHGLASS_TOKEN": platform.token,
        "WATCHGLASS_API_URL": platform.api_url,
        "WATCHGLASS_GATEWAY_URL": platform.gateway_url,
        "WATCHGLASS_DB": str(Path(folder) / "bench.db"),
        "WATCHGLASS_HEALTH_PORT": str(port),
    }
    code = "from bot.cli import main; main()"
    return await asyncio.create_subprocess_exec(sys.executable, "-c", code, "serve", env=environment)


class Bench:
    """Posts as many people in several channels, and the moments of posts and replies."""

    def __init__(self, platform: Loopback) -> None:
        self.platform = platform
        self.channels = [platform.world.channel(f"lane-{number}") for number in range(8)]
        self.people = [Person(platform, platform.world.person(f"gull-{number}")) for number in range(400)]
        self.posted: dict[int, float] = {}
        self.count = 0

    def post(self) -> None:
        text = RECIPES[self.count % len(RECIPES)].format(n=1 + self.count % 9)
        person = self.people[self.count % len(self.people)]
        at = time.monotonic()
        message = person.asks(self.channels[self.count % len(self.channels)], text)
        self.posted[message.id] = at
        self.count += 1

    def delays(self) -> list[float]:
        """Milliseconds, one for each answered post."""
        found = []
        for request in self.platform.sent("/messages"):
            quoted = int(((request.body or {}).get("message_reference") or {}).get("message_id", 0))
            if quoted in self.posted:
                found.append((request.at - self.posted[quoted]) * 1000)
        return sorted(found)

    async def answered(self, seconds: float) -> None:
        await self.platform.until(lambda: len(self.platform.sent("/messages")) >= len(self.posted), seconds)

    def report(self, name: str, seconds: float) -> None:
        delays = self.delays()
        doubles = len(delays) - len(self.posted)
        p99 = delays[int(len(delays) * 0.99) - 1]
        median, worst = statistics.median(delays), delays[-1]
        sys.stdout.write(
            f"{name}: {len(self.posted)} posts, {len(delays)} replies ({doubles} too many), {seconds:.1f} s;"
            f" median {median:.1f} ms, 99th percentile {p99:.1f} ms, longest {worst:.1f} ms\n"
        )


def order_kept(channel: Channel) -> bool:
    quoted = [int(m.reference["message_id"]) for m in channel.messages.values() if m.reference]
    return quoted == sorted(quoted)


async def loop_lag(port: int) -> float:
    async with aiohttp.ClientSession() as session, session.get(f"http://127.0.0.1:{port}/metrics") as answer:
        found = re.search(r"^watchglass_loop_lag_seconds (\S+)", await answer.text(), re.M)
        return float(found[1]) * 1000 if found else float("nan")


async def measure(seconds: float, rate: float, burst: int) -> None:
    async with Loopback() as platform:
        port = free_port()
        with tempfile.TemporaryDirectory() as folder:
            running = await program(platform, folder, port)
            await platform.until(lambda: platform.gateway.connected, 60)
            warm = Bench(platform)
            warm.channels = warm.channels[:1]
            for _ in range(40):
                warm.post()
            await warm.answered(60)
            await asyncio.sleep(1)
            for name in ("steady", "burst"):
                platform.requests.clear()
                bench = Bench(platform)
                began = time.monotonic()
                for number in range(int(seconds * rate) if name == "steady" else burst):
                    if name == "steady":
                        await asyncio.sleep(max(0.0, began + number / rate - time.monotonic()))
                    bench.post()
                await bench.answered(120)
                bench.report(name, time.monotonic() - began)
                kept = all(map(order_kept, bench.channels))
                sys.stdout.write(f"  order kept: {kept}; event loop held at most {await loop_lag(port):.1f} ms\n")
            running.terminate()
            await running.wait()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=20)
    parser.add_argument("--rate", type=float, default=50)
    parser.add_argument("--burst", type=int, default=500)
    given = parser.parse_args()
    asyncio.run(measure(given.seconds, given.rate, given.burst))


if __name__ == "__main__":
    main()
