"""Rate limits as documented: a bucket per route and major parameter, told in headers, enforced by 429."""

from __future__ import annotations

import time
from dataclasses import dataclass

from aiohttp import web


@dataclass
class Bucket:
    limit: int
    window: float
    used: int = 0
    resets: float = 0.0

    def take(self, now: float) -> bool:
        if now >= self.resets:
            self.used, self.resets = 0, now + self.window
        self.used += 1
        return self.used <= self.limit

    def headers(self, name: str, now: float) -> dict[str, str]:
        left = max(0.0, self.resets - now)
        return {
            "X-RateLimit-Limit": str(self.limit),
            "X-RateLimit-Remaining": str(max(0, self.limit - self.used)),
            "X-RateLimit-Reset": f"{time.time() + left:.3f}",
            "X-RateLimit-Reset-After": f"{left:.3f}",
            "X-RateLimit-Bucket": name,
        }


class RateLimits:
    """`sends` = (limit, seconds) for message creation per channel; `overall` = the global ceiling; None = off."""

    def __init__(self) -> None:
        self.sends: tuple[int, float] | None = None
        self.overall: tuple[int, float] | None = None
        self.refused = 0
        self._buckets: dict[str, Bucket] = {}

    def check(self, method: str, route: str, major: str) -> tuple[dict[str, str], web.Response | None]:
        """Headers for the answer, and the 429 in place of it where a limit is passed."""
        now = time.monotonic()
        if self.overall and not self._bucket("global", self.overall).take(now):
            return {}, self._refusal(self._buckets["global"], "global", now)
        if not (self.sends and method == "POST" and route.endswith("/messages")):
            return {}, None
        bucket = self._bucket(f"send:{major}", self.sends)
        taken = bucket.take(now)
        headers = bucket.headers("send", now)
        return headers, None if taken else self._refusal(bucket, "user", now, headers)

    def _bucket(self, key: str, rule: tuple[int, float]) -> Bucket:
        return self._buckets.setdefault(key, Bucket(*rule))

    def _refusal(self, bucket: Bucket, scope: str, now: float, headers: dict[str, str] | None = None) -> web.Response:
        self.refused += 1
        wait = max(0.001, bucket.resets - now)
        body = {"message": "You are being rate limited.", "retry_after": wait, "global": scope == "global"}
        told = {"Via": "1.1 loopback", "Retry-After": f"{wait:.3f}", "X-RateLimit-Scope": scope}
        return web.json_response(body, status=429, headers=(headers or {}) | told)
