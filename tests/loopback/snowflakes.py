"""Ids that carry the moment of their making, as the platform documents them."""

from __future__ import annotations

import time
from datetime import UTC, datetime

EPOCH_MS = 1_420_070_400_000


class Snowflakes:
    """Strictly rising ids."""

    def __init__(self) -> None:
        self._last = 0

    def next(self) -> int:
        self._last = max(self._last + 1, (int(time.time() * 1000) - EPOCH_MS) << 22)
        return self._last


def moment(snowflake: int) -> str:
    seconds = ((snowflake >> 22) + EPOCH_MS) / 1000
    return datetime.fromtimestamp(seconds, UTC).isoformat()
