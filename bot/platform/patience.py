"""Slow times are shown: typing after a moment, a word after ten seconds, then every few minutes at most."""

from __future__ import annotations

import asyncio
import logging
import time

import discord

from bot.platform.house import House
from bot.platform.outcome import outcome_or_fault
from bot.platform.tongue import of_place
from bot.words.phrases import load_phrases

log = logging.getLogger(__name__)
LOOKED_EVERY = 1.0
TYPING_AFTER, TYPING_LASTS = 2.0, 9.0
SAID_AFTER, SAID_AGAIN = 10.0, 300.0


class Patience:
    def __init__(self, house: House, client: discord.Client) -> None:
        self._house, self._client = house, client
        self._typed: dict[str, float] = {}
        self._said: dict[str, float] = {}

    async def run(self) -> None:
        """For ever; ends when cancelled. Never the reason that anything else stops."""
        while True:
            await asyncio.sleep(LOOKED_EVERY)
            if not self._client.is_ready():
                continue
            try:
                await self._look()
            except Exception as error:
                log.warning("patience: %s", type(error).__name__)

    async def _look(self) -> None:
        now = self._house.clock() / 1000
        for channel, oldest, count in await self._house.inbox.table.waiting_by_channel():
            age = now - oldest / 1000
            if age > SAID_AFTER:
                await self._say(channel, count)
            elif age > TYPING_AFTER:
                await self._type(channel)
        moment = time.monotonic()
        self._house.cooldown.sweep(moment)
        for kept, span in ((self._typed, TYPING_LASTS), (self._said, SAID_AGAIN)):
            for channel in [channel for channel, at in kept.items() if at + span < moment]:
                del kept[channel]

    async def _type(self, channel: str) -> None:
        if channel not in self._typed:
            self._typed[channel] = time.monotonic()
            await self._quietly(self._client.http.send_typing(int(channel)))

    async def _say(self, channel: str, count: int) -> None:
        if channel not in self._said:
            self._said[channel] = time.monotonic()
            language = of_place(self._client.get_channel(int(channel)))
            words = load_phrases(language).say("platform", "behind", count=count)
            await self._quietly(self._client.get_partial_messageable(int(channel)).send(words))

    async def _quietly(self, request: object) -> None:
        try:
            await request  # type: ignore[misc]
        except Exception as error:
            log.info("a sign of patience was not shown: %s", outcome_or_fault(error).value)
