"""What an answer of the platform means for us: done, try again, gone for good, or not allowed."""

from __future__ import annotations

from enum import Enum

import aiohttp
import discord

NO_TOKEN = 50027  # an interaction's time is over
CHANNEL_CODES = frozenset({50001, 50013, 160002})


class Outcome(Enum):
    SENT = "sent"
    LATER = "later"  # nobody's fault: the same again after a pause
    GONE = "gone"  # the channel, the message or the command is no more
    REFUSED = "refused"  # this text will never be taken
    FORBIDDEN = "forbidden"  # permissions are missing in the channel


def outcome_of(error: Exception) -> Outcome:
    """Sorts an error of the chat library. Raises it again where it is none of those."""
    if isinstance(error, discord.Forbidden):
        return Outcome.FORBIDDEN
    if isinstance(error, discord.NotFound):
        return Outcome.GONE
    if isinstance(error, (discord.RateLimited, discord.DiscordServerError)):
        return Outcome.LATER
    if isinstance(error, discord.HTTPException):
        return Outcome.LATER if error.status in (401, 408, 425, 429) else Outcome.REFUSED
    if isinstance(error, (OSError, aiohttp.ClientError, TimeoutError)):
        return Outcome.LATER
    raise error


def needed(channel: object) -> tuple[str, ...]:
    """The permissions without which an answer cannot be sent there."""
    send = "send_messages_in_threads" if isinstance(channel, discord.Thread) else "send_messages"
    return ("view_channel", send, "read_message_history")


def missing(channel: object) -> list[str]:
    """Which of them we lack; empty where the channel is not known."""
    if not isinstance(channel, (discord.abc.GuildChannel, discord.Thread)) or channel.guild.me is None:
        return []
    try:
        have = channel.permissions_for(channel.guild.me)
    except discord.ClientException:  # a thread whose parent is not known
        return []
    return [name for name in needed(channel) if not getattr(have, name)]
