"""Kills the program at random instants under load, and counts what was lost or said twice: nothing may be.

    python -m tests.faults.chaos [--kills 300] [--seed 1] [--rate 25]

Every start is a fresh process on the same database. About one kill in four comes while it starts; the others come in
the first two seconds after it connected. The loopback platform forgets its nonces after every second kill, as the real
one does after a few minutes, and now and then forgets the session too.
"""

from __future__ import annotations

import argparse
import asyncio
import shutil
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

from tests.faults.program import Program
from tests.faults.quay import Evening
from tests.loopback import Loopback

PATIENCE_SECONDS = 20.0


@dataclass(frozen=True)
class Result:
    kills: int
    starting: int
    posts: int
    presses: int
    seconds: float
    faults: list[str]

    def line(self) -> str:
        return (
            f"{self.kills} kills ({self.starting} while starting), {self.posts} tags, {self.presses} decisions,"
            f" {self.seconds:.0f} s: {len(self.faults)} faults"
        )


async def chaos(folder: Path, kills: int, seed: int, rate: float) -> Result:
    """All kills, then one last start that finishes what is left; the faults found after it."""
    began, starting = time.monotonic(), 0
    async with Loopback() as platform:
        evening = Evening(platform, seed)
        program = Program(platform, folder, **evening.settings)
        await program.start()
        evening.post()
        await program.drained()
        life = asyncio.create_task(evening.run(rate))
        try:
            for number in range(kills):
                starting += await _one(evening, program, number)
        finally:
            life.cancel()
            await asyncio.gather(life, return_exceptions=True)
        await program.start()
        await _all_answered(evening)
        await program.drained(120)
        code = await program.stop()
        faults = evening.faults(program) + ([] if code == 0 else [f"the last stop ended with {code}"])
        return Result(kills, starting, len(evening.posts), len(evening.presses), time.monotonic() - began, faults)


async def _one(evening: Evening, program: Program, number: int) -> bool:
    """Up and down once; True where it was killed before it had connected."""
    dice, gateway = evening.dice, evening.platform.gateway
    if program.running is None or program.running.returncode is not None:
        await program.begin()
    early = dice.random() < 0.25
    if early:
        await asyncio.sleep(dice.uniform(0.0, 2.0))
    else:
        await evening.platform.until(lambda: gateway.connected, 60)
        await asyncio.sleep(dice.uniform(0.0, 2.0))
    was_early = not gateway.connected
    await program.kill()
    if number % 2:
        evening.platform.messages.nonces.clear()
    if dice.random() < 0.3:
        gateway.forget_sessions()
    return was_early


async def _all_answered(evening: Evening) -> None:
    """Until all are, or none was for a while: what is missing then is a fault, said with its number."""
    answered, since = -1, time.monotonic()
    while len(evening.answers()) < len(evening.posts) and time.monotonic() - since < PATIENCE_SECONDS:
        if len(evening.answers()) > answered:
            answered, since = len(evening.answers()), time.monotonic()
        await asyncio.sleep(0.2)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kills", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--rate", type=float, default=25)
    given = parser.parse_args()
    folder = Path(tempfile.mkdtemp(prefix="watchglass-chaos-"))
    found = asyncio.run(chaos(folder, given.kills, given.seed, given.rate))
    sys.stdout.write("\n".join([found.line(), *found.faults[:50]]) + "\n")
    if found.faults:
        sys.stdout.write(f"the database and the log are in {folder}\n")
        sys.exit(1)
    shutil.rmtree(folder)


if __name__ == "__main__":
    main()
