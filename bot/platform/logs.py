"""Logs as JSON lines: what happened and where; never a person's words, never the token."""

from __future__ import annotations

import json
import logging
import sys
import traceback
from datetime import UTC, datetime
from typing import TextIO

QUIET = ("discord", "aiohttp", "asyncio", "aiosqlite")


class JsonLines(logging.Formatter):
    """One object a line; `secret` is blotted out wherever it might turn up."""

    def __init__(self, secret: str = "") -> None:
        super().__init__()
        self._secret = secret

    def format(self, record: logging.LogRecord) -> str:
        row = {
            "at": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname.lower(),
            "from": record.name,
            "says": record.getMessage(),
        }
        if record.exc_info:
            row["trace"] = _trace(record.exc_info[1])
        line = json.dumps(row, ensure_ascii=False)
        return line.replace(self._secret, "[token]") if self._secret else line


def _trace(error: BaseException | None) -> str:
    """Where it happened and of what kind; what it said is left out, since that may quote a message."""
    if error is None:
        return ""
    places = traceback.extract_tb(error.__traceback__)
    return "; ".join([*(f"{place.filename}:{place.lineno} {place.name}" for place in places), type(error).__name__])


def start_logs(secret: str, stream: TextIO | None = None) -> None:
    """Everything from INFO on goes to standard error; the libraries only speak up from WARNING on.

    The chat library prints whole payloads at DEBUG: that level is never reached, since they hold people's words.
    """
    handler = logging.StreamHandler(stream or sys.stderr)
    handler.setFormatter(JsonLines(secret))
    root = logging.getLogger()
    root.handlers[:] = [handler]
    root.setLevel(logging.INFO)
    for name in QUIET:
        logging.getLogger(name).setLevel(logging.WARNING)
