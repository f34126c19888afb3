"""Message routes: create (with nonce), read, history, edit, delete; each with its permission and its limits."""

from __future__ import annotations

import json
import re
from datetime import UTC, datetime
from typing import Any

from aiohttp import web

from tests.loopback.errors import RefusedError, invalid, missing_access, missing_permissions, unknown
from tests.loopback.gateway import GUILD_MESSAGES
from tests.loopback.limits import check_message
from tests.loopback.permissions import Allow
from tests.loopback.world import FORUM, PUBLIC_THREAD, Channel, Json, Message, User, World

EVERYONE = re.compile(r"@(everyone|here)")


async def body_of(request: web.Request, kept: dict[str, bytes] | None = None) -> Json:
    """JSON, or the payload_json of a form with its files as attachments; `kept` takes the files by name."""
    if request.content_type != "multipart/form-data":
        return dict(await request.json()) if await request.read() else {}
    body: Json = {}
    files: list[Json] = []
    async for part in await request.multipart():
        if part.name == "payload_json":
            body = json.loads(await part.text())
        else:
            content = bytes(await part.read())
            files.append({"filename": part.filename, "size": len(content)})
            if kept is not None:
                kept[str(part.filename)] = content
    described = body.get("attachments") or []
    body["attachments"] = [
        {
            "id": str(index),
            "url": "",
            "proxy_url": "",
            **file,
            **({} if index >= len(described) else described[index]),
        }
        for index, file in enumerate(files)
    ]
    return body


class Messages:
    """The message half of the REST server."""

    def __init__(self, platform: Any) -> None:
        self.platform = platform
        self.world: World = platform.world
        self.nonces: dict[tuple[int, str], Message] = {}
        self.enforced = 0
        self.files: dict[str, bytes] = {}

    def routes(self) -> list[web.RouteDef]:
        base = "/channels/{channel}/messages"
        return [
            web.post(base, self.create),
            web.get(base, self.history),
            web.get(base + "/{message}", self.fetch),
            web.patch(base + "/{message}", self.edit),
            web.delete(base + "/{message}", self.delete),
            web.post("/channels/{channel}/typing", self.typing),
        ]

    def seen_channel(self, request: web.Request) -> Channel:
        channel = self.world.channels.get(int(request.match_info["channel"]))
        if channel is None:
            raise unknown("Channel", 10003)
        if not self.bot_may(channel, Allow.VIEW_CHANNEL):
            raise missing_access()
        return channel

    def bot_may(self, channel: Channel, bit: Allow) -> bool:
        return bool(self.world.permissions(self.world.bot.id, channel) & bit)

    def found(self, request: web.Request, channel: Channel) -> Message:
        message = channel.messages.get(int(request.match_info["message"]))
        if message is None:
            raise unknown("Message", 10008)
        return message

    async def create(self, request: web.Request) -> web.Response:
        channel, body = self.seen_channel(request), await body_of(request, self.files)
        self._check_place(channel, body)
        check_message(body)
        nonce = str(body["nonce"]) if body.get("nonce") is not None else None
        if nonce and body.get("enforce_nonce") and (channel.id, nonce) in self.nonces:
            self.enforced += 1
            earlier = self.nonces[(channel.id, nonce)]
            if earlier.id not in channel.messages:
                raise unknown("Message", 10008)
            return self._answer(earlier)
        message = self.post(channel, self.world.bot, body, nonce)
        if nonce:
            self.nonces[(channel.id, nonce)] = message
        return self._answer(message)

    def _check_place(self, channel: Channel, body: Json) -> None:
        thread = channel.type == PUBLIC_THREAD
        if channel.type == FORUM:
            raise RefusedError(400, 50008, "Cannot send messages in a non-text channel")
        if not self.bot_may(channel, Allow.SEND_MESSAGES_IN_THREADS if thread else Allow.SEND_MESSAGES):
            raise missing_permissions()
        if body.get("embeds") and not self.bot_may(channel, Allow.EMBED_LINKS):
            raise missing_permissions()
        if body.get("attachments") and not self.bot_may(channel, Allow.ATTACH_FILES):
            raise missing_permissions()
        if thread and channel.locked and not self.bot_may(channel, Allow.MANAGE_THREADS):
            raise RefusedError(400, 160005, "Thread is locked")
        reference = body.get("message_reference")
        if not reference:
            return
        if not self.bot_may(channel, Allow.READ_MESSAGE_HISTORY):
            raise RefusedError(403, 160002, "Cannot reply without permission to read message history")
        if int(reference["message_id"]) not in channel.messages:
            if reference.get("fail_if_not_exists", True):
                raise invalid("message_reference", "Unknown message")
            body.pop("message_reference")

    def post(
        self,
        channel: Channel,
        author: User,
        body: Json,
        nonce: str | None = None,
        seconds_ago: float = 0,
    ) -> Message:
        """Put a message there and tell everyone who listens."""
        message = Message(
            id=self.world.ids.next() - (int(seconds_ago * 1000) << 22),
            channel_id=channel.id,
            author=author,
            content=body.get("content") or "",
            embeds=body.get("embeds") or [],
            components=body.get("components") or [],
            attachments=body.get("attachments") or [],
            reference=body.get("message_reference"),
            nonce=nonce,
            flags=body.get("flags") or 0,
            allowed_mentions=body.get("allowed_mentions"),
        )
        message.pinged = self._pinged(message, body.get("allowed_mentions"))
        channel.messages[message.id] = message
        self.tell("MESSAGE_CREATE", channel, message)
        return message

    def _pinged(self, message: Message, allowed: Json | None) -> list[User]:
        """Those whom this message pings; a message of the bot with no allowed_mentions pings all it names."""
        named = self.world.mentioned(message.content)
        if message.author is not self.world.bot:
            return named + self._replied(message)
        if allowed is None or "users" in (allowed.get("parse") or []):
            return named
        kept = [user for user in named if str(user.id) in map(str, allowed.get("users") or [])]
        return kept + (self._replied(message) if allowed.get("replied_user") else [])

    def _replied(self, message: Message) -> list[User]:
        quoted = self.world.find(int(message.reference["message_id"])) if message.reference else None
        return [quoted.author] if quoted else []

    def everyone_pings(self) -> list[Message]:
        """Messages of the bot that would have pinged everyone."""
        mine = [m for c in self.world.channels.values() for m in c.messages.values() if m.author is self.world.bot]
        return [
            m
            for m in mine
            if EVERYONE.search(m.content)
            and (m.allowed_mentions is None or "everyone" in (m.allowed_mentions.get("parse") or []))
        ]

    def tell(self, name: str, channel: Channel, message: Message) -> None:
        if self.bot_may(channel, Allow.VIEW_CHANNEL):
            data = self.world.payload(message, self.platform.gateway.content_intent)
            data["guild_id"] = str(channel.guild_id)
            if message.author.id in self.world.members:
                member = self.world.members[message.author.id].payload()
                member.pop("user")
                data["member"] = member
            self.platform.gateway.dispatch(name, data, GUILD_MESSAGES)
        self.platform.changed()

    def _answer(self, message: Message) -> web.Response:
        return web.json_response(self.world.payload(message, self.platform.gateway.content_intent))

    async def fetch(self, request: web.Request) -> web.Response:
        channel = self.seen_channel(request)
        if not self.bot_may(channel, Allow.READ_MESSAGE_HISTORY):
            raise missing_permissions()
        return self._answer(self.found(request, channel))

    async def history(self, request: web.Request) -> web.Response:
        channel = self.seen_channel(request)
        if not self.bot_may(channel, Allow.READ_MESSAGE_HISTORY):
            return web.json_response([])
        limit = int(request.query.get("limit", 50))
        if not 1 <= limit <= 100:
            raise invalid("limit", "Must be between 1 and 100.")
        ids = sorted(channel.messages)
        if "after" in request.query:
            ids = [key for key in ids if key > int(request.query["after"])][:limit]
        elif "before" in request.query:
            ids = [key for key in ids if key < int(request.query["before"])][-limit:]
        else:
            ids = ids[-limit:]
        intent = self.platform.gateway.content_intent
        return web.json_response([self.world.payload(channel.messages[key], intent) for key in reversed(ids)])

    async def edit(self, request: web.Request) -> web.Response:
        channel, body = self.seen_channel(request), await body_of(request, self.files)
        message = self.found(request, channel)
        if message.author is not self.world.bot:
            raise RefusedError(403, 50005, "Cannot edit a message authored by another user")
        check_message(body, must_hold=False)
        self.change(channel, message, body)
        return self._answer(message)

    def change(self, channel: Channel, message: Message, body: Json) -> None:
        for key in ("content", "embeds", "components", "attachments", "flags"):
            if key in body:
                empty: object = "" if key == "content" else 0 if key == "flags" else []
                setattr(message, key, body[key] or empty)
        message.edited = datetime.now(UTC).isoformat()
        if message.author is not self.world.bot:
            message.pinged = self._pinged(message, None)
        self.tell("MESSAGE_UPDATE", channel, message)

    async def delete(self, request: web.Request) -> web.Response:
        channel = self.seen_channel(request)
        message = self.found(request, channel)
        if message.author is not self.world.bot and not self.bot_may(channel, Allow.MANAGE_MESSAGES):
            raise missing_permissions()
        self.remove(channel, message)
        return web.Response(status=204)

    def remove(self, channel: Channel, message: Message) -> None:
        del channel.messages[message.id]
        data = {"id": str(message.id), "channel_id": str(channel.id), "guild_id": str(channel.guild_id)}
        self.platform.gateway.dispatch("MESSAGE_DELETE", data, GUILD_MESSAGES)
        self.platform.changed()

    async def typing(self, request: web.Request) -> web.Response:
        self.seen_channel(request)
        return web.Response(status=204)
