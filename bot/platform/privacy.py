"""One's own data: see it, delete it, be left alone."""

from __future__ import annotations

from datetime import UTC, datetime

import discord

from bot.platform.answers import acknowledge, tell, whisper
from bot.platform.buttons import button, view_of
from bot.platform.house import House
from bot.platform.tongue import of_press
from bot.words.phrases import load_phrases

TABLE = "platform_data"


class Privacy:
    def __init__(self, house: House) -> None:
        self._house = house

    def _say(self, interaction: discord.Interaction, key: str, **facts: object) -> str:
        return load_phrases(of_press(interaction)).say(TABLE, key, **facts)

    def _key(self, interaction: discord.Interaction) -> str:
        return self._house.people.key(str(interaction.user.id))

    async def my_data(self, interaction: discord.Interaction) -> None:
        kept = await self._house.privacy.kept(self._key(interaction))
        days = self._house.settings.retention_days
        lines = [self._say(interaction, "nothing", days=days)]
        if kept.messages and kept.oldest is not None:
            oldest = datetime.fromtimestamp(kept.oldest / 1000, UTC).date().isoformat()
            facts = {"messages": kept.messages, "with_text": kept.with_text, "oldest": oldest, "days": days}
            lines = [self._say(interaction, "kept", **facts)]
        if kept.quiet:
            lines.append(self._say(interaction, "quiet_on"))
        if self._house.settings.policy_url:
            lines.append(self._say(interaction, "policy", url=self._house.settings.policy_url))
        shown = await self._house.consents.count(self._key(interaction))
        if shown:
            lines.append(self._say(interaction, "shown", count=shown))
        label = self._say(interaction, "shown_button")
        view = view_of(*([button("show_none", "", label)] if shown else []))
        await whisper(interaction, "\n".join(lines), view)

    async def forget_me(self, interaction: discord.Interaction) -> None:
        if not await acknowledge(interaction, thinking=True):
            return
        count = await self._house.privacy.forget(self._key(interaction))
        self._house.touch(*await self._house.views.carded(1000))
        await tell(interaction, "forgotten", TABLE, count=count)

    async def set_quiet(self, interaction: discord.Interaction, on: bool) -> None:
        key = self._key(interaction)
        await self._house.privacy.set_quiet(key, on, self._house.clock())
        if on:
            self._house.quiet.add(key)
        else:
            self._house.quiet.discard(key)
        await tell(interaction, "quiet_set" if on else "quiet_unset", TABLE)
