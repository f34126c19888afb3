"""What goes wrong on purpose: answers that fail, come late or never, for a stated number of requests."""

from __future__ import annotations

import asyncio
import re
from dataclasses import dataclass, field
from typing import Any

from aiohttp import web


@dataclass
class Fault:
    """Answers `status` to the next `times` requests whose "METHOD /path" matches; `after` = done, then refused."""

    pattern: str
    status: int
    body: dict[str, Any] = field(default_factory=dict)
    headers: dict[str, str] = field(default_factory=dict)
    times: int = 1
    delay: float = 0.0
    after: bool = False

    def matches(self, line: str) -> bool:
        return self.times > 0 and re.search(self.pattern, line) is not None

    def response(self) -> web.Response:
        return web.json_response(self.body, status=self.status, headers=self.headers)


class Faults:
    """The script of failures, and a gate that holds every matching request until it is opened."""

    def __init__(self) -> None:
        self.script: list[Fault] = []
        self.away = False
        self._gates: list[tuple[str, asyncio.Event]] = []
        self._answer_gates: list[tuple[str, asyncio.Event]] = []

    def add(self, fault: Fault) -> Fault:
        self.script.append(fault)
        return fault

    def too_many(self, pattern: str, retry_after: float, times: int = 1, everywhere: bool = False) -> Fault:
        """A 429 as documented: seconds in the body, and the Via header of the platform's own proxy."""
        body = {"message": "You are being rate limited.", "retry_after": retry_after, "global": everywhere}
        headers = {"Via": "1.1 loopback", "Retry-After": str(retry_after), "X-RateLimit-Scope": "user"}
        return self.add(Fault(pattern, 429, body, headers, times))

    def hold(self, pattern: str) -> asyncio.Event:
        """Requests that match wait until the returned event is set."""
        gate = asyncio.Event()
        self._gates.append((pattern, gate))
        return gate

    def hold_answer(self, pattern: str) -> asyncio.Event:
        """Requests that match are carried out, and their answers wait until the returned event is set."""
        gate = asyncio.Event()
        self._answer_gates.append((pattern, gate))
        return gate

    def take(self, line: str, *, after: bool) -> Fault | None:
        for fault in self.script:
            if fault.after is after and fault.matches(line):
                fault.times -= 1
                return fault
        return None

    async def pass_gates(self, line: str, *, answer: bool = False) -> None:
        for pattern, gate in self._answer_gates if answer else self._gates:
            if re.search(pattern, line):
                await gate.wait()
