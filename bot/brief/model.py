"""What a brief says, before it is a page: plain frozen rows that both templates read."""

from __future__ import annotations

from dataclasses import dataclass, field

from bot.brief.demonstrations import Demonstration
from bot.brief.paint import Picture
from rules.sources import Source


@dataclass(frozen=True, slots=True)
class PartRow:
    """One line of the recipe; `name` may come from a message and is cleaned."""

    name: str
    inci: str
    written: str
    percent: str
    remark: str
    decides: bool


@dataclass(frozen=True, slots=True)
class ColourLine:
    """One colour under one law: what is said of each place."""

    name: str
    region: str
    lips: str
    eye_area: str
    external: str
    where: str


@dataclass(frozen=True, slots=True)
class SegmentPage:
    """One segment. A recipe that is gone has only `title`, `line`, `time` and `note`."""

    number: int
    title: str
    verdict: str
    line: str
    time: str
    people: str = ""
    consent: str = ""
    note: str = ""
    ruling: str = ""
    parts: tuple[PartRow, ...] = ()
    numbers: tuple[tuple[str, str], ...] = ()
    mechanisms: tuple[str, ...] = ()
    pictures: tuple[Picture, ...] = ()
    colours: tuple[ColourLine, ...] = ()
    sound: tuple[str, ...] = ()
    instead: tuple[str, ...] = ()
    demonstrations: tuple[Demonstration, ...] = ()
    sources: tuple[Source, ...] = ()
    unverified: tuple[str, ...] = ()

    @property
    def there(self) -> bool:
        return bool(self.parts)


@dataclass(frozen=True, slots=True)
class BriefPage:
    """The whole brief."""

    heading: str
    subtitle: str
    note: str
    caution: str
    empty: str
    segments: tuple[SegmentPage, ...] = field(default=())
