"""The names of commands in other languages: a table beside this file, English where it is silent."""

from __future__ import annotations

from functools import lru_cache
from importlib.resources import files

import discord
import tomli
from discord import app_commands


@lru_cache(maxsize=1)
def load_command_names() -> dict[str, dict[str, str]]:
    """Names by language and key."""
    text = files("bot.platform").joinpath("command_names.toml").read_text("utf-8")
    return dict(tomli.loads(text))


class CommandNames(app_commands.Translator):
    """A name carries its key as an extra; other strings stay English."""

    async def translate(
        self,
        string: app_commands.locale_str,
        locale: discord.Locale,
        context: app_commands.TranslationContextTypes,  # noqa: ARG002 - the key says enough
    ) -> str | None:
        names = load_command_names().get(locale.value.split("-")[0], {})
        return names.get(str(string.extras.get("key")))
