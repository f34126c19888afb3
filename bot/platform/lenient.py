"""Fills in what another server of the same protocol may leave out, so that the library's parsers take its events."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

Json = dict[str, Any]
Complete = Callable[[Json], None]

USER = {"username": "", "discriminator": "0", "avatar": None}
MEMBER = {"roles": (), "flags": 0, "joined_at": None, "deaf": False, "mute": False}
ATTACHMENT = {"filename": "", "size": 0, "url": "", "proxy_url": ""}
CHANNEL = {"name": "", "position": 0, "permission_overwrites": (), "bitrate": 64_000, "user_limit": 0}
INTERACTION = {"version": 1, "attachment_size_limit": 0}
MESSAGE = {
    "content": "",
    "type": 0,
    "edited_timestamp": None,
    "tts": False,
    "mention_everyone": False,
    "pinned": False,
    "embeds": (),
    "attachments": (),
    "mentions": (),
    "mention_roles": (),
}
# What the owner's commands need to know of the application.
APPLICATION = {
    "name": "",
    "description": "",
    "icon": None,
    "bot_public": False,
    "bot_require_code_grant": False,
    "verify_key": "",
}


def fill(data: Json, missing: Mapping[str, object]) -> None:
    for key, value in missing.items():
        data.setdefault(key, value)


def user(data: Json) -> None:
    fill(data, USER)


def member(data: Json) -> None:
    fill(data, MEMBER)
    if "user" in data:
        user(data["user"])


def message(data: Json) -> None:
    """With the message that it answers."""
    fill(data, MESSAGE)
    for person in [*data["mentions"], *([data["author"]] if "author" in data else ())]:
        user(person)
    if "member" in data:
        member(data["member"])
    for attachment in data["attachments"]:
        fill(attachment, ATTACHMENT)
    if data.get("referenced_message"):
        message(data["referenced_message"])


def channel(data: Json) -> None:
    fill(data, CHANNEL)


def guild(data: Json) -> None:
    for part in data.get("channels", ()):
        channel(part)
    for part in data.get("members", ()):
        member(part)
    for part in data.get("roles", ()):
        part.setdefault("name", "")


def interaction(data: Json) -> None:
    fill(data, INTERACTION)
    if "channel" not in data and "channel_id" in data:
        data["channel"] = {"id": data["channel_id"], "type": 0}
    if "channel" in data:
        channel(data["channel"])
    if "member" in data:
        member(data["member"])


def ready(data: Json, gateway: str, host: str | None) -> None:
    """`gateway` is where a session goes on that names no address, or one on another host than `host`."""
    data.setdefault("guilds", [])
    user(data["user"])
    data.setdefault("resume_gateway_url", gateway)
    if host is not None and f"//{host}" not in data["resume_gateway_url"]:
        data["resume_gateway_url"] = gateway


EVENTS: Mapping[str, Complete] = {
    "GUILD_CREATE": guild,
    "CHANNEL_CREATE": channel,
    "CHANNEL_UPDATE": channel,
    "INTERACTION_CREATE": interaction,
}
