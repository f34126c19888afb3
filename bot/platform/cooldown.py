"""How often one person may ask: so many in a sliding time, and the first refusal is said once."""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, field
from enum import Enum


class Turn(Enum):
    GO = "go"
    TOLD = "told"  # refused for the first time: say so
    SILENT = "silent"  # refused, and it was said already


@dataclass(slots=True)
class _Person:
    times: deque[float] = field(default_factory=deque)
    told: bool = False


class CoolDown:
    """`tags` in any `seconds`, a person. Forgets people as soon as they are free again."""

    def __init__(self, tags: int, seconds: float) -> None:
        self._tags, self._seconds = tags, seconds
        self._people: dict[str, _Person] = {}

    def ask(self, person: str, now: float) -> Turn:
        """Whether this person's turn may be taken at `now` (seconds, of any steady clock)."""
        known = self._people.setdefault(person, _Person())
        self._expire(known, now)
        if len(known.times) < self._tags:
            known.times.append(now)
            known.told = False
            return Turn.GO
        if known.told:
            return Turn.SILENT
        known.told = True
        return Turn.TOLD

    def wait(self, person: str, now: float) -> float:
        """Seconds until the next turn of this person."""
        known = self._people.get(person)
        if known is None or len(known.times) < self._tags:
            return 0.0
        return max(0.0, known.times[0] + self._seconds - now)

    def sweep(self, now: float) -> None:
        """Forgets everyone whose times are all over."""
        for person, known in list(self._people.items()):
            self._expire(known, now)
            if not known.times:
                del self._people[person]

    def _expire(self, known: _Person, now: float) -> None:
        while known.times and known.times[0] <= now - self._seconds:
            known.times.popleft()
