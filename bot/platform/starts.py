"""When a session may be started: the platform resets the token of a bot that starts a thousand in a day."""

from __future__ import annotations

import json
from dataclasses import dataclass

import discord

from bot.platform.house import House

MARK = "session_starts"
WINDOW_SECONDS = 3600.0
FREE = 5  # starts in an hour that a restart or two may take without waiting
FIRST_WAIT, LONGEST_WAIT = 30.0, 120.0  # one start in two minutes makes 720 a day of the platform's thousand
RESERVE = 20  # of the day's starts, kept for the operator


class TooManyStartsError(Exception):
    """The next start has to wait longer than a connection may."""


@dataclass(frozen=True, slots=True)
class StartsLeft:
    """How many starts the platform still grants, and the seconds until it grants all again."""

    left: int
    seconds: float


def wait_before(starts: list[float], now: float) -> float:
    """Seconds to wait before the next start, from the times of the last ones (seconds, wall clock)."""
    recent = sum(now - WINDOW_SECONDS < start <= now for start in starts)
    if recent < FREE:
        return 0.0
    return min(LONGEST_WAIT, FIRST_WAIT * 2.0 ** (recent - FREE))


async def register_start(house: House) -> float:
    """Notes this start on disk, so that a crash loop is seen; returns how long to wait before it."""
    now = house.clock() / 1000
    raw = await house.views.mark(MARK)
    starts = [float(start) for start in json.loads(raw)] if raw else []
    wait = wait_before(starts, now)
    kept = [start for start in starts if now - WINDOW_SECONDS < start <= now] + [now + wait]
    await house.views.set_mark(MARK, json.dumps(kept[-100:]))
    return wait


async def starts_left(client: discord.Client) -> StartsLeft | None:
    """What the platform says; None where it does not say."""
    try:
        _, _, limit = await client.http.get_bot_gateway()
        return StartsLeft(int(limit["remaining"]), float(limit["reset_after"]) / 1000)
    except (discord.GatewayNotFound, KeyError, TypeError):
        return None
