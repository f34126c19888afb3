"""The creator's queue in plain lines: readable without colour, by eye and by ear."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime

from bot.queue.rulings import Ruling
from bot.store.audit import Entry
from bot.store.cases import Case, CaseRow
from bot.words.finding import Scene
from bot.words.more import long_reply
from bot.words.phrases import Phrases
from rules.assessment import Jurisdiction


def case_line(case: CaseRow, phrases: Phrases) -> str:
    """One case in one line: number, verdict, interest, people, state, title."""
    one = case.people == 1
    people = phrases.raw("case", "person") if one else phrases.say("case", "people", count=case.people)
    return phrases.say(
        "case",
        "line",
        case=case.id,
        verdict=case.verdict or phrases.raw("case", "unread"),
        score=case.score,
        people=people,
        state=case.state.value,
        title=case.title,
    )


def case_page(
    case: Case, ruling: Ruling | None, history: list[Entry], phrases: Phrases, region: Jurisdiction
) -> Iterator[str]:
    """Everything about one case."""
    yield case_line(case, phrases)
    yield phrases.say("case", "days", first=_day(case.first_seen), last=_day(case.last_seen))
    if case.why:
        yield phrases.say("case", "why", why="; ".join(case.why))
    if ruling is not None:
        yield phrases.say("case", "ruled", verdict=ruling.verdict.value, words=ruling.words)
    if case.recipe is not None and case.assessment is not None:
        verdict = phrases.raw("verdict", case.assessment.verdict)
        yield "\n" + phrases.say("case", "computed", verdict=verdict)
        yield long_reply(Scene.of(case.recipe, case.assessment, phrases), region)
    if history:
        yield "\n" + phrases.raw("case", "history")
        for entry in history:
            yield phrases.say("case", "entry", day=_day(entry.at), who=entry.who, action=entry.action.value)


def _day(milliseconds: int) -> str:
    return datetime.fromtimestamp(milliseconds / 1000, UTC).strftime("%Y-%m-%d %H:%M UTC")
