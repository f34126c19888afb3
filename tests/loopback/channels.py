"""Channel and thread routes: fetch, forum posts and threads, tags, lock and archive."""

from __future__ import annotations

from typing import Any

from aiohttp import web

from tests.loopback.errors import invalid, missing_permissions
from tests.loopback.gateway import GUILDS
from tests.loopback.limits import check_message
from tests.loopback.messages import Messages, body_of
from tests.loopback.permissions import Allow
from tests.loopback.sparse import sparse_channel
from tests.loopback.world import FORUM, PUBLIC_THREAD, Channel, Json, World


class Channels:
    def __init__(self, platform: Any, messages: Messages) -> None:
        self.platform, self.messages = platform, messages
        self.world: World = platform.world

    def routes(self) -> list[web.RouteDef]:
        return [
            web.get("/channels/{channel}", self.fetch),
            web.patch("/channels/{channel}", self.edit),
            web.delete("/channels/{channel}", self.delete),
            web.post("/channels/{channel}/threads", self.start_post),
            web.put("/channels/{channel}/thread-members/@me", self.join),
            web.get("/channels/{channel}/threads/archived/public", self.archived),
            web.get("/guilds/{guild}/threads/active", self.active),
            web.get("/guilds/{guild}", self.guild),
            web.get("/guilds/{guild}/channels", self.guild_channels),
            web.get("/guilds/{guild}/roles", self.guild_roles),
            web.get("/guilds/{guild}/members/{member}", self.member),
        ]

    async def fetch(self, request: web.Request) -> web.Response:
        return web.json_response(self._told(self.messages.seen_channel(request)))

    def _told(self, channel: Channel) -> Json:
        return sparse_channel(channel.payload()) if self.platform.gateway.few_words else channel.payload()

    async def start_post(self, request: web.Request) -> web.Response:
        """A forum post with its first message, or a bare thread in a text channel."""
        parent, body = self.messages.seen_channel(request), await body_of(request)
        if not self.messages.bot_may(parent, Allow.SEND_MESSAGES):
            raise missing_permissions()
        if not 1 <= len(body["name"]) <= 100:
            raise invalid("name", "Must be between 1 and 100 in length.")
        if len(body.get("applied_tags") or []) > 5:
            raise invalid("applied_tags", "Must be 5 or fewer in length.")
        first: Json | None = body.get("message")
        if parent.type == FORUM:
            check_message(first or {})
        thread = self.world.channel(body["name"], PUBLIC_THREAD, parent.id, self.world.bot.id)
        thread.applied_tags = list(body.get("applied_tags") or [])
        data = thread.payload()
        self.platform.gateway.dispatch("THREAD_CREATE", data | {"newly_created": True}, GUILDS)
        if first:
            if "attachments" in body:
                first["attachments"] = body["attachments"]
            message = self.messages.post(thread, self.world.bot, first)
            data["message"] = self.world.payload(message, True)
        self.platform.changed()
        return web.json_response(data, status=201)

    async def edit(self, request: web.Request) -> web.Response:
        channel, body = self.messages.seen_channel(request), await body_of(request)
        own = channel.type == PUBLIC_THREAD and channel.owner_id == self.world.bot.id
        if not own and not self.messages.bot_may(channel, Allow.MANAGE_THREADS):
            raise missing_permissions()
        if "locked" in body and not self.messages.bot_may(channel, Allow.MANAGE_THREADS):
            raise missing_permissions()
        for key in ("name", "archived", "locked", "applied_tags", "available_tags"):
            if key in body:
                setattr(channel, key, body[key])
        for tag in channel.available_tags:
            tag.setdefault("id", str(self.world.ids.next()))
            tag.setdefault("emoji_id", None)
            tag.setdefault("emoji_name", None)
        self.tell(channel)
        return web.json_response(channel.payload())

    def tell(self, channel: Channel) -> None:
        name = "THREAD_UPDATE" if channel.type == PUBLIC_THREAD else "CHANNEL_UPDATE"
        self.platform.gateway.dispatch(name, channel.payload(), GUILDS)
        self.platform.changed()

    async def delete(self, request: web.Request) -> web.Response:
        channel = self.messages.seen_channel(request)
        del self.world.channels[channel.id]
        name = "THREAD_DELETE" if channel.type == PUBLIC_THREAD else "CHANNEL_DELETE"
        self.platform.gateway.dispatch(name, channel.payload(), GUILDS)
        self.platform.changed()
        return web.json_response(channel.payload())

    async def join(self, request: web.Request) -> web.Response:
        self.messages.seen_channel(request)
        return web.Response(status=204)

    async def archived(self, request: web.Request) -> web.Response:
        parent = self.messages.seen_channel(request)
        found = [c for c in self.world.channels.values() if c.parent_id == parent.id and c.archived]
        return web.json_response({"threads": [c.payload() for c in found], "members": [], "has_more": False})

    async def active(self, request: web.Request) -> web.Response:
        found = [c for c in self.world.channels.values() if c.type == PUBLIC_THREAD and not c.archived]
        return web.json_response({"threads": [c.payload() for c in found], "members": []})

    async def guild(self, request: web.Request) -> web.Response:
        return web.json_response(self.world.guild_payload())

    async def guild_channels(self, request: web.Request) -> web.Response:
        found = [self._told(c) for c in self.world.channels.values() if c.type != PUBLIC_THREAD]
        return web.json_response(found)

    async def guild_roles(self, request: web.Request) -> web.Response:
        return web.json_response([role.payload() for role in self.world.roles])

    async def member(self, request: web.Request) -> web.Response:
        return web.json_response(self.world.members[int(request.match_info["member"])].payload())
