"""How the bot is doing: one short answer for its owner, and the figures for health and metrics."""

from __future__ import annotations

import math
import time
from dataclasses import asdict, dataclass

import discord

from bot.platform.answers import acknowledge, whisper
from bot.platform.house import House
from bot.platform.rights import Rights
from bot.platform.sender import Sender
from bot.platform.starts import starts_left

STUCK_SECONDS = 300.0


@dataclass(frozen=True, slots=True)
class State:
    """The figures of one moment. Ages in seconds."""

    connected: bool
    waiting: int
    unsent: int
    set_aside: int
    oldest_waiting: float

    @property
    def well(self) -> bool:
        """Whether a watchdog should let it be: linked, and no message unread for five minutes.

        The library drops a link whose heartbeats are not acknowledged for a minute.
        """
        return self.connected and self.oldest_waiting < STUCK_SECONDS

    def figures(self) -> dict[str, object]:
        return {"well": self.well, **asdict(self)}


class Operator:
    def __init__(self, house: House, rights: Rights, sender: Sender, client: discord.Client) -> None:
        self._house, self._rights, self._sender, self._client = house, rights, sender, client
        self._started = time.monotonic()
        self.linked = False

    async def state(self) -> State:
        inbox = self._house.inbox.table
        received = await inbox.oldest_waiting()
        age = 0.0 if received is None else max(0.0, self._house.clock() - received) / 1000
        return State(
            connected=self._client.is_ready() and self.linked,
            waiting=await inbox.waiting(),
            unsent=await self._house.outbox.table.waiting(),
            set_aside=len(await inbox.set_aside()),
            oldest_waiting=age,
        )

    async def measure(self) -> State:
        """The same, put into the gauges."""
        state, metrics = await self.state(), self._house.metrics
        metrics.waiting.set(state.waiting)
        metrics.unsent.set(state.unsent)
        metrics.set_aside.set(state.set_aside)
        metrics.connected.set(state.connected)
        return state

    async def status(self, interaction: discord.Interaction) -> None:
        if not await self._rights.need_owner(interaction) or not await acknowledge(interaction, thinking=True):
            return
        state = await self.state()
        starts = await starts_left(self._client)
        words = self._house.say(
            "status",
            "platform_operator",
            uptime=_span(time.monotonic() - self._started),
            inbox=state.waiting,
            outbox=state.unsent,
            aside=state.set_aside,
            latency=round(self._client.latency * 1000) if math.isfinite(self._client.latency) else "?",
            starts="?" if starts is None else starts.left,
            paused=", ".join(f"<#{channel}>" for channel in self._sender.paused)
            or self._house.say("none", "platform_operator"),
        )
        await whisper(interaction, words)


def _span(seconds: float) -> str:
    hours, rest = divmod(int(seconds), 3600)
    return f"{hours} h {rest // 60} min"
