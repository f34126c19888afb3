"""Puts the brief on disk."""

from __future__ import annotations

from pathlib import Path

from bot.brief.compose import compose
from bot.brief.render import html, markdown
from bot.episode import Plan
from bot.queue.rulings import Ruling
from bot.words.phrases import load_phrases
from rules.assessment import Jurisdiction


def write_files(plan: Plan, rulings: dict[int, Ruling], region: Jurisdiction, folder: Path) -> list[Path]:
    """Writes both forms, over what stood there under these names. Raises OSError."""
    phrases = load_phrases()
    brief = compose(plan, rulings, region, phrases)
    folder.mkdir(parents=True, exist_ok=True)
    texts = {".html": html(brief, phrases), ".md": markdown(brief, phrases)}
    paths = []
    for ending, text in texts.items():
        path = folder / f"episode-{plan.episode.id}{ending}"
        path.write_text(text, "utf-8")
        paths.append(path)
    return paths
