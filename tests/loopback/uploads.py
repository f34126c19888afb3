"""The host of attached files: what people attached, at addresses that say whose they are, and what was fetched."""

from __future__ import annotations

import asyncio
from typing import Any

from aiohttp import web

from tests.loopback.world import Json


class Uploads:
    """`endless` names are answered with bytes that never stop; `elsewhere` sends the caller to another address."""

    def __init__(self, platform: Any) -> None:
        self.platform = platform
        self.contents: dict[str, bytes] = {}
        self.fetched: list[str] = []
        self.signed_in: list[str] = []
        self.endless: set[str] = set()
        self.elsewhere: dict[str, str] = {}

    def put(self, name: str, content: bytes) -> Json:
        key = self.platform.world.ids.next()
        path = f"/attachments/1/{key}/{name}"
        self.contents[path] = content
        url = f"http://127.0.0.1:{self.platform.port}{path}?ex=1&is=2&hm=3"
        return {"id": str(key), "filename": name, "size": len(content), "url": url, "proxy_url": url}

    async def handle(self, request: web.Request) -> web.StreamResponse:
        self.fetched.append(request.path)
        self.signed_in += [value for key, value in request.headers.items() if key.lower() == "authorization"]
        name = request.path.rsplit("/", 1)[1]
        if name in self.elsewhere:
            raise web.HTTPFound(self.elsewhere[name])
        if name in self.endless:
            return await self._for_ever(request)
        return web.Response(body=self.contents[request.path], content_type="application/octet-stream")

    async def _for_ever(self, request: web.Request) -> web.StreamResponse:
        response = web.StreamResponse()
        await response.prepare(request)
        while request.transport is not None and not request.transport.is_closing():
            await response.write(b"x" * 8192)
            await asyncio.sleep(0)
        return response
