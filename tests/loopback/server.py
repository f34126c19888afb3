"""The whole platform on a loopback port: REST and gateway together, a log of requests, and waiting on conditions."""

from __future__ import annotations

import asyncio
import json
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any, TypeVar

from aiohttp import web

from tests.loopback.channels import Channels
from tests.loopback.errors import RefusedError
from tests.loopback.faults import Faults
from tests.loopback.gateway import Gateway
from tests.loopback.interactions import Interactions
from tests.loopback.messages import Messages
from tests.loopback.ratelimits import RateLimits
from tests.loopback.registry import Registry
from tests.loopback.sparse import sparse_answer
from tests.loopback.uploads import Uploads
from tests.loopback.world import Json, World

T = TypeVar("T")
TOKEN = "loopback-token-for-tests-only"


@dataclass(frozen=True)
class Request:
    """One request as it came in; `status` is what it got, `at` the monotonic moment of its arrival."""

    method: str
    path: str
    at: float
    status: int
    body: Json | None

    @property
    def line(self) -> str:
        return f"{self.method} {self.path}"


class Loopback:
    """Start with `async with Loopback() as platform`. `changed()` wakes whoever waits in `until`."""

    def __init__(self, token: str = TOKEN, port: int = 0) -> None:
        self.token, self.port = token, port
        self.world = World()
        self.faults, self.limits = Faults(), RateLimits()
        self.gateway = Gateway(self.world, token)
        self.gateway.changed = self.changed
        self.messages = Messages(self)
        self.channels = Channels(self, self.messages)
        self.interactions = Interactions(self, self.messages)
        self.registry = Registry(self)
        self.uploads = Uploads(self)
        self.requests: list[Request] = []
        self._waiting: list[tuple[Callable[[], Any], asyncio.Future[Any]]] = []
        self._runner: web.AppRunner | None = None

    @property
    def api_url(self) -> str:
        return f"http://127.0.0.1:{self.port}/api/v10"

    @property
    def gateway_url(self) -> str:
        return f"ws://127.0.0.1:{self.port}/gw/"

    async def __aenter__(self) -> Loopback:
        api = web.Application(middlewares=[self._serve])
        for part in (self.messages, self.channels, self.interactions, self.registry):
            api.add_routes(part.routes())
        app = web.Application()
        app.add_routes([web.get(path, self.gateway.handle) for path in ("/gw/", "/gw", "/")])
        app.add_routes([web.get("/attachments/{channel}/{key}/{name}", self.uploads.handle)])
        app.add_subapp("/api/v10", api)
        self._runner = web.AppRunner(app, access_log=None, shutdown_timeout=0.2)
        await self._runner.setup()
        site = web.TCPSite(self._runner, "127.0.0.1", self.port, backlog=1024)
        await site.start()
        self.port = self._runner.addresses[0][1]
        self.gateway.address = self.gateway_url
        return self

    async def __aexit__(self, *_: object) -> None:
        assert self._runner is not None
        self.gateway.abort()
        await self._runner.cleanup()

    @web.middleware
    async def _serve(self, request: web.Request, handler: Callable[[web.Request], Any]) -> web.StreamResponse:
        """Faults, sign-in and rate limits stand before every route, and every request is remembered."""
        at, path = time.monotonic(), request.path.removeprefix("/api/v10")
        body = await self._body(request)
        response = await self._respond(request, handler, path)
        if self.gateway.few_words and isinstance(response, web.Response) and response.content_type.endswith("json"):
            response = web.json_response(sparse_answer(json.loads(response.text or "null")), status=response.status)
        if response.content_type == "application/json":
            response.headers["Content-Type"] = "application/json"  # the client takes no charset beside it
        self.requests.append(Request(request.method, path, at, response.status, body))
        self.changed()
        return response

    async def _body(self, request: web.Request) -> Json | None:
        if request.content_type != "application/json":
            return None
        raw = await request.read()
        return dict(json.loads(raw)) if raw.startswith(b"{") else None

    async def _respond(
        self, request: web.Request, handler: Callable[[web.Request], Any], path: str
    ) -> web.StreamResponse:
        line = f"{request.method} {path}"
        if self.faults.away:
            return web.json_response({"message": "upstream away", "code": 0}, status=503)
        await self.faults.pass_gates(line)
        if fault := self.faults.take(line, after=False):
            await asyncio.sleep(fault.delay)
            return fault.response()
        open_route = path.startswith(("/interactions/", "/webhooks/"))
        if not open_route and request.headers.get("Authorization") != f"Bot {self.token}":
            return RefusedError(401, 0, "401: Unauthorized").response()
        headers, refusal = {}, None
        if not open_route:
            route = request.match_info.route.resource
            major = request.match_info.get("channel", "")
            headers, refusal = self.limits.check(request.method, route.canonical if route else path, major)
        if refusal is not None:
            return refusal
        try:
            response: web.StreamResponse = await handler(request)
        except RefusedError as refused:
            response = refused.response()
        response.headers.update(headers)
        await self.faults.pass_gates(line, answer=True)
        fault = self.faults.take(line, after=True)
        return fault.response() if fault else response

    def changed(self) -> None:
        """Wake those whose condition now holds."""
        for entry in list(self._waiting):
            condition, future = entry
            if future.done():
                continue
            try:
                held = condition()
            except Exception as error:
                future.set_exception(error)
            else:
                if held:
                    future.set_result(held)

    async def until(self, condition: Callable[[], T], seconds: float = 10.0) -> T:
        """The first true value of `condition`, looked at after each change on the platform's side."""
        held = condition()
        if held:
            return held
        future: asyncio.Future[T] = asyncio.get_running_loop().create_future()
        entry = (condition, future)
        self._waiting.append(entry)
        try:
            return await asyncio.wait_for(future, seconds)
        except TimeoutError:
            recent = "\n".join(f"{r.line} -> {r.status}" for r in self.requests[-15:])
            raise AssertionError(f"nothing came within {seconds} s; the last requests were\n{recent}") from None
        finally:
            self._waiting.remove(entry)

    def sent(self, pattern: str = "/messages", method: str = "POST") -> list[Request]:
        """Requests by method whose path contains `pattern`."""
        return [r for r in self.requests if r.method == method and pattern in r.path]

    @contextmanager
    def outage(self) -> Iterator[None]:
        """Nobody answers: REST says 503, the gateway drops and refuses; then all is back."""
        self.faults.away = self.gateway.down = True
        self.gateway.abort()
        try:
            yield
        finally:
            self.faults.away = self.gateway.down = False
