"""Commands in other languages: names from a table beside this file, the rest from bot/words; else English."""

from __future__ import annotations

from functools import lru_cache
from importlib.resources import files

import discord
import tomli
from discord import app_commands

from bot.words.phrases import HOME, languages, load_phrases

SAYS = "command_says"


@lru_cache(maxsize=1)
def load_command_names() -> dict[str, dict[str, str]]:
    """Names by language and key."""
    text = files("bot.platform").joinpath("command_names.toml").read_text("utf-8")
    return dict(tomli.loads(text))


class CommandNames(app_commands.Translator):
    """A string carries its key as an extra, and its table where that is one of bot/words."""

    async def translate(
        self,
        string: app_commands.locale_str,
        locale: discord.Locale,
        context: app_commands.TranslationContextTypes,  # noqa: ARG002 - the key says enough
    ) -> str | None:
        language = locale.value.split("-")[0]
        if "table" in string.extras:
            known = language in languages() and language != HOME
            return load_phrases(language).raw(SAYS, str(string.extras["key"])) if known else None
        names = load_command_names().get(language, {})
        return names.get(str(string.extras.get("key")))
