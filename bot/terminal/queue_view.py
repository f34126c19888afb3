"""The creator's queue in plain lines: readable without colour, by eye and by ear."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime

from bot.queue.rulings import Ruling
from bot.store.audit import Entry
from bot.store.cases import Case
from bot.words.finding import Scene
from bot.words.more import long_reply
from bot.words.phrases import Phrases
from rules.assessment import Jurisdiction

NO_VERDICT = "unread"


def case_line(case: Case) -> str:
    """ "12  avoid    score 0.62  9 people  queued  lip balm: crayon, coconut oil"."""
    people = "1 person" if case.people == 1 else f"{case.people} people"
    verdict = case.verdict or NO_VERDICT
    return f"{case.id:>5}  {verdict:<7}  score {case.score:.2f}  {people:>10}  {case.state:<7}  {case.title}"


def case_page(
    case: Case, ruling: Ruling | None, history: list[Entry], phrases: Phrases, region: Jurisdiction
) -> Iterator[str]:
    """Everything about one case."""
    yield case_line(case)
    yield f"first seen {_day(case.first_seen)}, last seen {_day(case.last_seen)}"
    if case.why:
        yield "why it is here: " + "; ".join(case.why)
    if ruling is not None:
        yield f"ruled {ruling.verdict}: {ruling.words}"
    if case.recipe is not None and case.assessment is not None:
        yield ""
        yield f"computed verdict: {phrases.raw('verdict', case.assessment.verdict)}"
        yield long_reply(Scene.of(case.recipe, case.assessment, phrases), region)
    if history:
        yield ""
        yield "what was done:"
        for entry in history:
            yield f"- {_day(entry.at)} {entry.who}: {entry.action}"


def _day(milliseconds: int) -> str:
    return datetime.fromtimestamp(milliseconds / 1000, UTC).strftime("%Y-%m-%d %H:%M UTC")
