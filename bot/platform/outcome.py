"""What an answer of the platform means for us: done, try again, gone for good, or not allowed."""

from __future__ import annotations

import logging
from enum import Enum

import aiohttp
import discord

log = logging.getLogger(__name__)


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


def outcome_or_fault(error: Exception) -> Outcome:
    """The same for a part that must go on: a fault of ours is logged, and what met it is not tried again."""
    try:
        return outcome_of(error)
    except Exception:
        log.error("a fault of ours: %s", type(error).__name__, exc_info=error)
        return Outcome.REFUSED


def needed(channel: object) -> tuple[str, ...]:
    """The permissions without which an answer cannot be sent there."""
    send = "send_messages_in_threads" if isinstance(channel, discord.Thread) else "send_messages"
    return ("view_channel", send, "read_message_history")


def missing(channel: object) -> list[str]:
    """Which of them we lack; empty where that cannot be known, so that the platform itself says it."""
    if not isinstance(channel, (discord.abc.GuildChannel, discord.Thread)):
        return []
    have = permissions(channel)
    # Posts came from there: where not even seeing it seems allowed, our picture is incomplete.
    if have is None or not have.view_channel:
        return []
    return [name for name in needed(channel) if not getattr(have, name)]


def permissions(channel: discord.abc.GuildChannel | discord.Thread) -> discord.Permissions | None:
    """Ours in the channel; None where roles, parent or our own member are not known."""
    me = channel.guild.me
    if me is None or channel.guild.default_role is None or not me.guild_permissions.value:
        return None
    try:
        return channel.permissions_for(me)
    except discord.ClientException:  # a thread whose parent is not known
        return None
