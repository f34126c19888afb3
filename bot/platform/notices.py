"""What the operator must know, said once: to the staff's desk, else to the owner, and always to the log."""

from __future__ import annotations

import logging

import discord

from bot.platform.house import House
from bot.platform.outcome import outcome_or_fault

log = logging.getLogger(__name__)


class Notices:
    """A mark in the database keeps a notice from being said twice, also over restarts."""

    def __init__(self, house: House, client: discord.Client) -> None:
        self._house, self._client = house, client

    async def no_permission(self, channel: str, lacking: list[str]) -> None:
        names = ", ".join(self._house.words.word("permission", name) for name in lacking) or "access"
        log.warning("channel %s: missing permissions: %s", channel, names)
        words = self._house.say("paused", "platform_operator", channel=channel, missing=names)
        await self._once(f"notice:permission:{channel}", words)

    async def no_pictures(self, channel: str) -> None:
        log.warning("channel %s: no permission to attach files", channel)
        await self._once(
            f"notice:pictures:{channel}", self._house.say("no_pictures", "platform_operator", channel=channel)
        )

    async def works_again(self, channel: str) -> None:
        await self._house.views.clear_mark(f"notice:permission:{channel}")

    async def set_aside(self, message_id: str, error: str) -> None:
        log.error("message %s is set aside: %s", message_id, error)
        # The error's text may hold words of the message: only its kind is told.
        kind = error.split(":", 1)[0][:80]
        words = self._house.say("set_aside", "platform_operator", error=kind)
        await self._once(f"notice:aside:{message_id}", words)

    async def _once(self, name: str, words: str) -> None:
        if await self._house.views.mark(name) is not None:
            return
        await self._house.views.set_mark(name, "told")
        await self._tell(words)

    async def _tell(self, words: str) -> None:
        """A failure here is only logged: the notice stands in the log already."""
        owner = self._client.application.owner if self._client.application is not None else None
        desk = self._client.get_channel(self._house.settings.desk_channel or 0)
        places: list[discord.abc.Messageable] = [desk] if isinstance(desk, discord.TextChannel) else []
        if owner is not None:
            places.append(owner)
        for place in places:
            try:
                await place.send(words)
            except Exception as error:
                log.warning("a notice could not be told: %s", outcome_or_fault(error).value)
            else:
                return
