"""In which language somebody is spoken to: their own where the platform says it, else that of their words."""

from __future__ import annotations

import discord

from bot.tongue import of_text
from bot.words.phrases import HOME, languages


def of_locale(locale: object) -> str:
    """One of our languages for "pt-BR", English for one that we lack."""
    language = str(locale).split("-")[0].lower()
    return language if language in languages() else HOME


def of_press(interaction: discord.Interaction) -> str:
    return of_locale(interaction.locale)


def of_place(channel: object) -> str:
    """What is spoken in the server of a channel; English where that is not known."""
    guild = getattr(channel, "guild", None)
    return of_locale(guild.preferred_locale) if isinstance(guild, discord.Guild) else HOME


def of_post(message: discord.Message, text: str) -> str:
    """Of a few words the language is a guess, and that of the server a better one."""
    return of_text(text) or of_place(message.channel)
