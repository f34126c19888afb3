"""What we ask of the chat library beyond its settings: addresses, patience, and mercy with what it cannot parse.

It offers no place for these, so they stand here together, each with one thing changed.
"""

from __future__ import annotations

import asyncio
import json
import logging
from collections.abc import Callable
from typing import Any

import aiohttp
import discord
import yarl
from discord.backoff import ExponentialBackoff
from discord.gateway import DiscordClientWebSocketResponse, DiscordWebSocket
from discord.http import Route
from discord.interactions import InteractionCallbackResponse

from bot.platform import lenient
from bot.settings import Settings

log = logging.getLogger(__name__)
Json = dict[str, Any]
REAL_HOST = "gateway.discord.gg"
LONGEST_EXPONENT = 6  # of two, in seconds: after an outage of any length the link is tried every minute or sooner
ODD = (KeyError, TypeError, ValueError, AttributeError, IndexError)


class ShortBackoff(ExponentialBackoff[Any]):
    """The library's own pause between tries of the link grows to seventeen minutes."""

    def __init__(self, base: int = 1, *, integral: Any = False) -> None:
        super().__init__(base, integral=integral)
        self._max = LONGEST_EXPONENT


class FairSocket(DiscordClientWebSocketResponse):
    """Lets the loop breathe between events: the library works through a full buffer without a pause."""

    async def receive(self, timeout: float | None = None) -> aiohttp.WSMessage:  # noqa: ASYNC109 - its own word
        await asyncio.sleep(0)
        return await super().receive(timeout)


class Gateway(DiscordWebSocket):
    """One event that cannot be parsed costs itself, and no session start."""

    async def received_message(self, msg: Any, /) -> None:
        if self.session_id is None and (msg := self._greeted(msg)) is None:
            return
        try:
            await super().received_message(msg)
        except ODD as error:
            log.error("an event of the platform could not be read: %s", type(error).__name__)

    def _greeted(self, msg: Any) -> Any:
        """Until the session has begun: its first event may lack parts, or name an address of somewhere else.

        None for a part of a packed event.
        """
        text = self._decompressor.decompress(msg) if isinstance(msg, bytes) else msg
        if text is None or '"READY"' not in text:
            return text
        event = json.loads(text)
        here = DiscordWebSocket.DEFAULT_GATEWAY
        lenient.ready(event["d"], str(here), None if here.host == REAL_HOST else here.host)
        return json.dumps(event)


class CallbackAnswer(InteractionCallbackResponse[Any]):
    """The platform answers a response with what became of it, where a server may answer with nothing."""

    def _update(self, data: Any) -> None:
        told = isinstance(data, dict) and "interaction" in data
        super()._update(data if told else {"interaction": {"id": self._parent.id, "type": 2}})


_make_message = discord.Message.__init__


def _complete_and_make(message: discord.Message, *, state: Any, channel: Any, data: Any) -> None:
    lenient.message(data)
    _make_message(message, state=state, channel=channel, data=data)


def point_at(settings: Settings) -> None:
    """The library keeps addresses and parts on its modules and classes; the settings may name other addresses."""
    Route.BASE = settings.api_url.rstrip("/")
    DiscordWebSocket.DEFAULT_GATEWAY = yarl.URL(settings.gateway_url)
    changed: tuple[tuple[Any, str, Any], ...] = (
        (discord.Message, "__init__", _complete_and_make),
        (discord.client, "DiscordWebSocket", Gateway),
        (discord.client, "ExponentialBackoff", ShortBackoff),
        (discord.interactions, "InteractionCallbackResponse", CallbackAnswer),
    )
    for module, name, ours in changed:
        setattr(module, name, ours)
    # It has no voice and need not say so at every start.
    discord.VoiceClient.warn_nacl = discord.VoiceClient.warn_dave = False


def complete_events(connection: Any) -> None:
    """What comes in over the link, the channels that are asked for and the bot itself are filled in before they are
    parsed; posts are where they are made, wherever they came from."""
    for name, complete in lenient.EVENTS.items():
        connection.parsers[name] = _after(complete, connection.parsers[name])
    http = connection.http
    fetch, fetch_all, login = http.get_channel, http.get_all_guild_channels, http.static_login

    async def get_channel(channel_id: int) -> Any:
        data = await fetch(channel_id)
        lenient.channel(data)
        if connection.guilds:
            data.setdefault("guild_id", connection.guilds[0].id)
        return data

    async def get_all_guild_channels(guild_id: int) -> Any:
        found = await fetch_all(guild_id)
        for data in found:
            lenient.channel(data)
        return found

    async def static_login(token: str) -> Any:
        me = await login(token)
        lenient.user(me)
        return me

    http.get_channel, http.get_all_guild_channels, http.static_login = get_channel, get_all_guild_channels, static_login


def _after(complete: lenient.Complete, parse: Callable[[Any], None]) -> Callable[[Any], None]:
    def parsed(data: Any) -> None:
        complete(data)
        parse(data)

    return parsed


def complete_application(told: Json, me: discord.ClientUser) -> Json:
    """The description of the application; where it names no owner, the bot itself is, who never presses."""
    itself = {"id": me.id, "username": me.name, "discriminator": me.discriminator, "avatar": None}
    lenient.fill(told, {**lenient.APPLICATION, "id": me.id, "owner": itself})
    lenient.user(told["owner"])
    return told
