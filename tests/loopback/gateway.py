"""The gateway: hello, identify, heartbeat, resume with replay, and the ways in which a connection ends."""

from __future__ import annotations

import asyncio
import contextlib
import json
import zlib
from typing import Any

from aiohttp import WSMsgType, web

from tests.loopback.sparse import sparse
from tests.loopback.world import World

Json = dict[str, Any]
GUILDS, GUILD_MESSAGES, MESSAGE_CONTENT = 1 << 0, 1 << 9, 1 << 15
PRIVILEGED = (1 << 1) | (1 << 8) | MESSAGE_CONTENT


class Session:
    """One session: every event stays, event n at place n - 1, so that a resume is only a cursor."""

    def __init__(self, key: str, intents: int, few_words: bool = False) -> None:
        self.key, self.intents, self.few_words = key, intents, few_words
        self.events: list[str] = []
        self.news = asyncio.Event()

    def dispatch(self, name: str, data: Json) -> None:
        data = sparse(name, data) if self.few_words else data
        self.events.append(json.dumps({"op": 0, "t": name, "s": len(self.events) + 1, "d": data}))
        self.news.set()


class Connection:
    """One socket. Text frames, or one zlib stream when the client asked for that."""

    def __init__(self, socket: web.WebSocketResponse, request: web.Request, packed: bool = True) -> None:
        self.socket, self.request = socket, request
        self.session: Session | None = None
        self.ended_here = False
        self._deflate = zlib.compressobj() if packed and request.query.get("compress") == "zlib-stream" else None
        self._turn = asyncio.Lock()

    async def send(self, text: str) -> None:
        async with self._turn:
            if self._deflate is None:
                await self.socket.send_str(text)
            else:
                packed = self._deflate.compress(text.encode()) + self._deflate.flush(zlib.Z_SYNC_FLUSH)
                await self.socket.send_bytes(packed)

    async def say(self, op: int, data: Any) -> None:
        await self.send(json.dumps({"op": op, "d": data, "s": None, "t": None}))

    async def pump(self, session: Session, cursor: int) -> None:
        """Send each event after `cursor`, in order, for as long as the socket lives."""
        while not self.socket.closed:
            session.news.clear()
            while cursor < len(session.events):
                await self.send(session.events[cursor])
                cursor += 1
            await session.news.wait()

    def abort(self) -> None:
        """A dropped link: no close frame."""
        if self.request.transport is not None:
            self.request.transport.abort()


class Gateway:
    """Accepts the bot's connections; a test drives the ends of them."""

    def __init__(self, world: World, token: str) -> None:
        self.world, self.token = world, token
        self.address = ""
        self.few_words = False
        self.heartbeat_ms = 41_250
        self.allowed_privileged = 0
        self.refuse_with: int | None = None
        self.down = False
        self.identifies: list[Json] = []
        self.resumes: list[Json] = []
        self.heartbeats = 0
        self.session_starts_left = 1000
        self.acknowledge = True
        self.sessions: dict[str, Session] = {}
        self.connections: set[Connection] = set()
        self.changed = lambda: None

    async def handle(self, request: web.Request) -> web.StreamResponse:
        if self.down:
            raise web.HTTPServiceUnavailable
        socket = web.WebSocketResponse(max_msg_size=4096)
        await socket.prepare(request)
        connection = Connection(socket, request, packed=not self.few_words)
        self.connections.add(connection)
        pump: asyncio.Task[None] | None = None
        try:
            await connection.say(10, {"heartbeat_interval": self.heartbeat_ms})
            async for frame in socket:
                if frame.type is not WSMsgType.TEXT:
                    continue
                message = json.loads(frame.data)
                begun = await self._heard(connection, message["op"], message.get("d"))
                if begun is not None and connection.session is not None:
                    pump = asyncio.create_task(connection.pump(connection.session, begun))
        except (ConnectionError, RuntimeError):
            pass
        finally:
            if pump is not None:
                pump.cancel()
                with contextlib.suppress(asyncio.CancelledError, ConnectionError, RuntimeError):
                    await pump
            self._left(connection)
        return socket

    def _left(self, connection: Connection) -> None:
        """A clean close by the bot (1000, 1001) ends the session; a dropped link does not."""
        self.connections.discard(connection)
        by_the_bot = not connection.ended_here and connection.socket.close_code in (1000, 1001)
        if by_the_bot and connection.session is not None:
            self.sessions.pop(connection.session.key, None)
        self.changed()

    async def _heard(self, connection: Connection, op: int, data: Any) -> int | None:
        """Answer one frame; the cursor to pump from when a session starts or goes on."""
        if op == 1:
            self.heartbeats += 1
            if self.acknowledge:
                await connection.say(11, None)
        elif op == 2:
            return await self._identify(connection, data)
        elif op == 6:
            return await self._resume(connection, data)
        self.changed()
        return None

    async def _identify(self, connection: Connection, data: Json) -> int | None:
        self.identifies.append(data)
        self.session_starts_left -= 1
        refusal = self.refuse_with or (4004 if data["token"] != self.token else None)
        if data["intents"] & PRIVILEGED & ~self.allowed_privileged:
            refusal = 4014
        if refusal:
            await connection.socket.close(code=refusal)
            return None
        session = Session(f"session-{len(self.identifies)}", data["intents"], self.few_words)
        self.sessions[session.key] = connection.session = session
        guild = str(self.world.guild_id)
        ready = {
            "v": 10,
            "user": self.world.bot.payload() | {"verified": True, "mfa_enabled": True, "flags": 0},
            "guilds": [{"id": guild, "unavailable": True}],
            "session_id": session.key,
            "resume_gateway_url": self.address,
            "application": {"id": str(self.world.application_id), "flags": 0},
        }
        session.dispatch("READY", ready)
        session.dispatch("GUILD_CREATE", self.world.guild_payload())
        self.changed()
        return 0

    async def _resume(self, connection: Connection, data: Json) -> int | None:
        self.resumes.append(data)
        session = self.sessions.get(data["session_id"] or "")
        if session is None or data["token"] != self.token:
            await connection.say(9, False)
            return None
        connection.session = session
        session.dispatch("RESUMED", {"_trace": []})
        self.changed()
        return int(data["seq"])

    def dispatch(self, name: str, data: Json, needs: int = 0) -> None:
        for session in self.sessions.values():
            if not needs or session.intents & needs:
                session.dispatch(name, data)

    @property
    def content_intent(self) -> bool:
        return any(session.intents & MESSAGE_CONTENT for session in self.sessions.values())

    @property
    def connected(self) -> bool:
        return any(connection.session for connection in self.connections)

    def abort(self) -> None:
        for connection in list(self.connections):
            connection.abort()

    async def close(self, code: int) -> None:
        for connection in list(self.connections):
            connection.ended_here = True
            await connection.socket.close(code=code)

    async def ask_to_reconnect(self) -> None:
        for connection in list(self.connections):
            await connection.say(7, None)

    def forget_sessions(self) -> None:
        """The next resume is refused, as after minutes away: whatever happened meanwhile is not replayed."""
        self.sessions.clear()
