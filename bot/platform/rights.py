"""Who may do what: the creator's team by role, the operator by being the owner."""

from __future__ import annotations

import discord

from bot.platform.answers import whisper
from bot.platform.house import House


class Rights:
    def __init__(self, house: House) -> None:
        self._house = house
        self._roles = frozenset(house.settings.creator_roles)

    def creator(self, interaction: discord.Interaction) -> bool:
        """One of the set roles; with none set nobody."""
        # The ids as the press carries them: `roles` knows only those of which the server was told before.
        held = interaction.user._roles if isinstance(interaction.user, discord.Member) else ()
        return not self._roles.isdisjoint(held)

    def owner(self, interaction: discord.Interaction) -> bool:
        """The owner of the application, or a member of the team that owns it."""
        application = interaction.client.application
        if application is None:
            return False
        team = {member.id for member in application.team.members} if application.team is not None else set()
        return interaction.user.id in team | {application.owner.id}

    async def need_creator(self, interaction: discord.Interaction) -> bool:
        """True for the creator's team; everyone else gets a clear no."""
        if self.creator(interaction):
            return True
        key = "only_staff" if self._roles else "no_roles"
        await whisper(interaction, self._house.say(key, "platform_desk"))
        return False

    async def need_owner(self, interaction: discord.Interaction) -> bool:
        if self.owner(interaction):
            return True
        await whisper(interaction, self._house.say("only_owner", "platform_operator"))
        return False
