"""How fast a tag is answered over loopback: the real program in its own process against the loopback platform.

    python -m tests.bench.platform_latency [--seconds 20] [--rate 50] [--burst 500]
    python -m tests.bench.platform_latency --seconds 0 --burst 2000
    python -m tests.bench.platform_latency --seconds 600 --rate 33.4 --burst 0      # 20,000 in ten minutes

Prints the time from MESSAGE_CREATE on the socket to the reply's request on the wire, the longest hold of the program's
event loop, and its memory. The platform takes 50 requests a second, as the real one. Two cores are enough; what else
runs at the same time shows.
"""

from __future__ import annotations

import argparse
import asyncio
import os
import re
import statistics
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

import aiohttp

from tests.faults.program import free_port, status_of
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
URGENT = "help, I got lye in my eye and it burns"


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
    """Posts as many people in several channels, and the moments of posts and replies. One in fifty is urgent."""

    def __init__(self, platform: Loopback) -> None:
        self.platform = platform
        self.channels = [platform.world.channel(f"lane-{number}") for number in range(8)]
        self.people = [Person(platform, platform.world.person(f"gull-{number}")) for number in range(400)]
        self.posted: dict[int, float] = {}
        self.urgent: set[int] = set()
        self.count = 0
        self._seen, self._replies, self._notes = 0, Counter[int](), 0
        self._at: dict[int, float] = {}

    def post(self) -> None:
        urgent = self.count % 50 == 49
        text = URGENT if urgent else RECIPES[self.count % len(RECIPES)].format(n=1 + self.count % 9)
        person = self.people[self.count % len(self.people)]
        at = time.monotonic()
        message = person.asks(self.channels[self.count % len(self.channels)], text)
        self.posted[message.id] = at
        if urgent:
            self.urgent.add(message.id)
        self.count += 1

    def look(self) -> int:
        """How many of the posts have an answer; a note that the bot is behind quotes nothing and is counted apart."""
        for request in self.platform.requests[self._seen :]:
            if request.status != 200 or request.method != "POST" or not request.path.endswith("/messages"):
                continue
            quoted = int(((request.body or {}).get("message_reference") or {}).get("message_id", 0))
            if quoted in self.posted:
                self._replies[quoted] += 1
                self._at.setdefault(quoted, request.at)
            self._notes += not quoted
        self._seen = len(self.platform.requests)
        return len(self._replies)

    async def answered(self, seconds: float) -> bool:
        """Waits until all are, for so long at most."""
        ends = time.monotonic() + seconds
        while self.look() < len(self.posted) and time.monotonic() < ends:  # noqa: ASYNC110 - looked at afterwards
            await asyncio.sleep(0.05)
        return len(self._replies) == len(self.posted)

    def report(self, name: str, seconds: float) -> None:
        took = {key: (self._at[key] - self.posted[key]) * 1000 for key in self._at}
        doubles = sum(count - 1 for count in self._replies.values())
        sys.stdout.write(
            f"{name}: {len(self.posted)} posts, {len(took)} answered, {doubles} twice, {self._notes} notes of being"
            f" behind, {seconds:.1f} s; {spread(list(took.values()))}\n"
            f"  emergencies: {spread([took[key] for key in took if key in self.urgent])}\n"
        )


def spread(delays: list[float]) -> str:
    if not delays:
        return "none"
    delays = sorted(delays)
    p99 = delays[max(0, int(len(delays) * 0.99) - 1)]
    return f"median {statistics.median(delays):.0f} ms, 99th percentile {p99:.0f} ms, longest {delays[-1]:.0f} ms"


def order_kept(channel: Channel, urgent: set[int]) -> bool:
    """Emergencies overtake on purpose."""
    quoted = [int(m.reference["message_id"]) for m in channel.messages.values() if m.reference]
    quoted = [key for key in quoted if key not in urgent]
    return quoted == sorted(quoted)


async def loop_lag(port: int) -> float:
    async with aiohttp.ClientSession() as session, session.get(f"http://127.0.0.1:{port}/metrics") as answer:
        found = re.search(r"^watchglass_loop_lag_seconds (\S+)", await answer.text(), re.M)
        return float(found[1]) * 1000 if found else float("nan")


async def measure(seconds: float, rate: float, burst: int, wait: float) -> None:
    async with Loopback() as platform:
        port = free_port()
        platform.limits.overall = (50, 1.0)  # the platform's own ceiling, requests a second for one bot
        with tempfile.TemporaryDirectory() as folder:
            running = await program(platform, folder, port)
            await platform.until(lambda: platform.gateway.connected, 60)
            warm = Bench(platform)
            for _ in range(40):
                warm.post()
            await warm.answered(60)
            sys.stdout.write(f"warm: {status_of(running.pid, 'VmRSS') / 1024:.0f} MB resident\n")
            for name, number in (("steady", int(seconds * rate)), ("burst", burst)):
                if number:
                    await asyncio.sleep(1)
                    await one(Bench(platform), name, number, rate if name == "steady" else 0.0, wait)
                    held = await loop_lag(port)
                    peak = status_of(running.pid, "VmHWM") / 1024
                    sys.stdout.write(f"  event loop held at most {held:.0f} ms; at most {peak:.0f} MB resident\n")
            running.terminate()
            await running.wait()


async def one(bench: Bench, name: str, number: int, rate: float, wait: float) -> None:
    """So many posts, `rate` a second or all at once, until all are answered."""
    bench.platform.requests.clear()
    began = time.monotonic()
    for count in range(number):
        if rate:
            await asyncio.sleep(max(0.0, began + count / rate - time.monotonic()))
        bench.post()
    await bench.answered(wait)
    bench.report(name, time.monotonic() - began)
    kept = all(order_kept(channel, bench.urgent) for channel in bench.channels)
    sys.stdout.write(f"  order kept by channel: {kept}; {bench.platform.limits.refused} refused by the limit so far\n")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=20)
    parser.add_argument("--rate", type=float, default=50)
    parser.add_argument("--burst", type=int, default=500)
    parser.add_argument("--wait", type=float, default=300, help="seconds to wait for the last answers")
    given = parser.parse_args()
    asyncio.run(measure(given.seconds, given.rate, given.burst, given.wait))


if __name__ == "__main__":
    main()
