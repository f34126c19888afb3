"""Answers to a press or a command: seen by its sender alone, in pieces that the platform takes."""

from __future__ import annotations

import logging

import discord

from bot.platform.cards import pages
from bot.platform.tongue import of_press
from bot.words.phrases import load_phrases

log = logging.getLogger(__name__)
PIECE = 1900
PIECES = 4
LATE_CODES = frozenset({10062, 40060, 10015, 50027})


async def whisper(interaction: discord.Interaction, text: str, view: discord.ui.View | None = None) -> None:
    """Says it to the presser only; a press whose time is over is nobody's fault and only logged."""
    shown = view if view is not None and view.children else discord.utils.MISSING
    found = pages(text or "…", PIECE)
    try:
        for number, piece in enumerate(found[:PIECES]):
            last = number == min(len(found), PIECES) - 1
            below = shown if last else discord.utils.MISSING
            if interaction.response.is_done():
                await interaction.followup.send(piece, ephemeral=True, view=below)
            else:
                await interaction.response.send_message(piece, ephemeral=True, view=below)
    except discord.HTTPException as error:
        if error.code not in LATE_CODES:
            raise
        log.warning("an answer came too late for its press (%s)", error.code)


async def tell(interaction: discord.Interaction, key: str, table: str = "platform", **facts: object) -> None:
    """One of our phrases in the presser's own language."""
    await whisper(interaction, load_phrases(of_press(interaction)).say(table, key, **facts))


async def acknowledge(interaction: discord.Interaction, *, thinking: bool = False) -> bool:
    """Within the platform's three seconds; False where those are over."""
    try:
        await interaction.response.defer(ephemeral=True, thinking=thinking)
    except discord.HTTPException as error:
        if error.code not in LATE_CODES:
            raise
        log.warning("a press came too late to be answered (%s)", error.code)
        return False
    return True
