"""The same platform with the fewest words: another server of the protocol sends only what it thinks is needed."""

from __future__ import annotations

from typing import Any

Json = dict[str, Any]
USER = {"id", "username", "bot"}
MEMBER = {"user", "roles"}
MESSAGE = {"id", "channel_id", "guild_id", "author", "member", "content", "timestamp", "mentions", "attachments",
           "message_reference", "referenced_message", "edited_timestamp", "components", "embeds"}  # fmt: skip
CHANNEL = {"id", "type", "name"}
INTERACTION = {"id", "application_id", "type", "data", "guild_id", "channel_id", "member", "token", "message"}


def sparse(name: str, data: Json) -> Json:
    """What is left of an event."""
    if name == "READY":
        return {"user": _user(data["user"]), "session_id": data["session_id"], "guilds": data["guilds"]}
    if name == "GUILD_CREATE":
        return {"id": data["id"]}
    if name in ("MESSAGE_CREATE", "MESSAGE_UPDATE"):
        return _message(data)
    if name == "INTERACTION_CREATE":
        return _interaction(data)
    return data


def sparse_answer(data: Any) -> Any:
    """What a request that makes, changes or reads posts brings."""
    if isinstance(data, list):
        return [sparse_answer(part) for part in data]
    return _message(data) if isinstance(data, dict) and "author" in data else data


def sparse_channel(data: Json) -> Json:
    """What a request for a channel brings."""
    return _kept(data, CHANNEL)


def _kept(data: Json, names: set[str]) -> Json:
    return {key: value for key, value in data.items() if key in names and value is not None and value != []}


def _user(data: Json) -> Json:
    return _kept(data, USER)


def _message(data: Json) -> Json:
    left = _kept(data, MESSAGE) | {"author": _user(data["author"])}
    if "mentions" in left:
        left["mentions"] = [_user(person) for person in left["mentions"]]
    if "member" in left:
        left["member"] = _kept(left["member"], MEMBER)
    if "referenced_message" in left:
        left["referenced_message"] = _message(left["referenced_message"])
    return left


def _interaction(data: Json) -> Json:
    left = _kept(data, INTERACTION)
    left["member"] = _kept(data["member"], MEMBER) | {"user": _user(data["member"]["user"])}
    if "message" in left:
        left["message"] = _message(left["message"])
    inner = data["data"]
    if "resolved" in inner:
        messages = {key: _message(message) for key, message in inner["resolved"]["messages"].items()}
        left["data"] = inner | {"resolved": {"messages": messages}}
    return left
