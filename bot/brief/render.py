"""The brief as one self-contained page, and as Markdown."""

from __future__ import annotations

import base64
import re
from collections.abc import Callable
from functools import lru_cache
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined

from bot.brief.model import BriefPage
from bot.brief.paint import WIDTH, Form, Picture, draw
from bot.words.phrases import Phrases
from rules.assessment import Basis
from rules.sources import Checked, Source

# What Markdown would read as mark-up; a backslash before any of them is taken away again by every reader.
MARKUP = re.compile(r"([\\`*_{}\[\]<>#|~!])")


def html(brief: BriefPage, phrases: Phrases) -> str:
    """One file that needs nothing else: no script, no request, pictures inside. Everything is escaped."""
    return _render("brief.html", brief, phrases)


def markdown(brief: BriefPage, phrases: Phrases) -> str:
    """The same in Markdown; pictures by what they show, in words."""
    text = _render("brief.md", brief, phrases)
    return re.sub(r"\n{3,}", "\n\n", text).strip() + "\n"


def _render(template: str, brief: BriefPage, phrases: Phrases) -> str:
    return (
        _environment()
        .get_template(template)
        .render(
            brief=brief,
            say=phrases.tables["brief"],
            language=phrases.language,
            width=int(WIDTH),
            cited=lambda source: cited(source, phrases),
        )
    )


@lru_cache(maxsize=1)
def _environment() -> Environment:
    environment = Environment(
        loader=PackageLoader("bot.brief"),
        autoescape=lambda name: name is not None and name.endswith(".html"),
        undefined=StrictUndefined,
        trim_blocks=False,
    )
    filters: dict[str, Callable[..., Any]] = {"svg": svg, "md": escaped}
    environment.filters.update(filters)
    return environment


def svg(picture: Picture) -> str:
    """A picture as the inside of a data address."""
    return base64.b64encode(draw([picture], Form.SVG)).decode("ascii")


def escaped(text: str) -> str:
    """Text that Markdown shows as it stands, on one line."""
    return MARKUP.sub(r"\\\1", " ".join(text.split()))


def cited(source: Source, phrases: Phrases) -> str:
    """Title, publisher, year, and how it is known."""
    if source.basis is Basis.COMMON_PRACTICE:
        return f"{source.title} ({phrases.raw('brief', 'practice')})"
    memory = f"; {phrases.raw('brief', 'memory')}" if source.checked is Checked.MEMORY else ""
    return f"{source.title}. {source.publisher}, {source.year}{memory}"
