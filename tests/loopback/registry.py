"""Who the bot is, where its gateway stands, and the commands that it registered."""

from __future__ import annotations

import re
from typing import Any

from aiohttp import web

from tests.loopback.errors import invalid
from tests.loopback.world import Json, World

SLASH_NAME = re.compile(r"^[-_'\w]{1,32}$")


class Registry:
    def __init__(self, platform: Any) -> None:
        self.platform = platform
        self.world: World = platform.world
        self.syncs = 0

    def routes(self) -> list[web.RouteDef]:
        commands = "/applications/{application}/commands"
        local = "/applications/{application}/guilds/{guild}/commands"
        return [
            web.get("/users/@me", self.me),
            web.get("/oauth2/applications/@me", self.application),
            web.get("/applications/@me", self.application),
            web.get("/gateway", self.gateway),
            web.get("/gateway/bot", self.gateway),
            web.post("/users/@me/channels", self.direct),
            *[web.put(path, self.replace) for path in (commands, local)],
            *[web.get(path, self.list) for path in (commands, local)],
        ]

    async def me(self, request: web.Request) -> web.Response:
        if self.platform.gateway.few_words:
            return web.json_response({"id": str(self.world.bot.id), "username": self.world.bot.name, "bot": True})
        return web.json_response(self.world.bot.payload() | {"verified": True, "mfa_enabled": True, "flags": 0})

    async def application(self, request: web.Request) -> web.Response:
        bot = self.world.bot
        if self.platform.gateway.few_words:
            return web.json_response({"id": str(self.world.application_id), "name": bot.name})
        return web.json_response(
            {
                "id": str(self.world.application_id),
                "name": bot.name,
                "icon": None,
                "description": "",
                "bot_public": False,
                "bot_require_code_grant": False,
                "verify_key": "0" * 64,
                "owner": self.world.owner.payload(),
                "team": None,
                "flags": 0,
                "summary": "",
            }
        )

    async def gateway(self, request: web.Request) -> web.Response:
        gateway = self.platform.gateway
        limit = {
            "total": 1000,
            "remaining": gateway.session_starts_left,
            "reset_after": 60_000,
            "max_concurrency": 1,
        }
        return web.json_response({"url": gateway.address, "shards": 1, "session_start_limit": limit})

    async def direct(self, request: web.Request) -> web.Response:
        """Direct messages are closed, as for most people: 50007."""
        return web.json_response({"code": 50007, "message": "Cannot send messages to this user"}, status=403)

    async def replace(self, request: web.Request) -> web.Response:
        self.syncs += 1
        rows: list[Json] = await request.json()
        for row in rows:
            _check_command(row)
        self.world.commands = [
            row
            | {
                "id": str(self.world.ids.next()),
                "application_id": str(self.world.application_id),
                "version": "1",
                "description": row.get("description", ""),
            }
            for row in rows
        ]
        self.platform.changed()
        return web.json_response(self.world.commands)

    async def list(self, request: web.Request) -> web.Response:
        return web.json_response(self.world.commands)


def _check_command(row: Json) -> None:
    """The documented shape of names, descriptions and options."""
    slash = row.get("type", 1) == 1
    if slash and not (SLASH_NAME.match(row["name"]) and row["name"] == row["name"].lower()):
        raise invalid("name", "String value did not match validation regex.")
    if slash and not 1 <= len(row.get("description", "")) <= 100:
        raise invalid("description", "Must be between 1 and 100 in length.")
    if not slash and row.get("description"):
        raise invalid("description", "Context menu commands cannot have description")
    for option in row.get("options") or []:
        _check_command({"type": 1, **{key: option[key] for key in ("name", "description")}})
