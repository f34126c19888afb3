"""From a planned episode to what its brief says."""

from __future__ import annotations

from collections.abc import Iterator

from bot.brief.charts import deciding_lines, pictures
from bot.brief.demonstrations import SOUND, Demonstration, load_demonstrations
from bot.brief.doubts import doubts
from bot.brief.model import BriefPage, ColourLine, PartRow, SegmentPage
from bot.episode import Plan, Planned
from bot.queue.rulings import Ruling
from bot.store.cases import Case
from bot.store.consents import Consent
from bot.words.clean import clean_words
from bot.words.figures import short
from bot.words.finding import Scene, instead, reason, virtue
from bot.words.more import amount_words, measure_rows
from bot.words.phrases import Phrases
from bot.words.reply import deciding, question
from bot.words.urgent import caution
from rules.assessment import Jurisdiction, Severity
from rules.law import load_law
from rules.sources import Source, load_sources

DEMONSTRATIONS, INSTEADS, MECHANISMS = 2, 3, 4


def compose(plan: Plan, rulings: dict[int, Ruling], region: Jurisdiction, phrases: Phrases) -> BriefPage:
    """Pure: the same plan gives the same brief. `rulings` by case."""
    episode, count = plan.episode, len(plan.segments)
    facts = {"time": clock(plan.seconds), "region": phrases.raw("region", region), "count": count}
    return BriefPage(
        heading=phrases.say("brief", "heading", episode=episode.id, title=clean_words(episode.title)),
        subtitle=phrases.say("brief", "subtitle_one" if count == 1 else "subtitle", **facts),
        note=clean_words(episode.note),
        caution=caution(phrases, region),
        empty="" if count else phrases.say("brief", "empty", episode=episode.id),
        segments=tuple(
            _segment(number, planned, rulings, phrases) for number, planned in enumerate(plan.segments, start=1)
        ),
    )


def clock(seconds: int) -> str:
    """Minutes and seconds: 2:30 min."""
    return f"{seconds // 60}:{seconds % 60:02} min"


def _segment(number: int, planned: Planned, rulings: dict[int, Ruling], phrases: Phrases) -> SegmentPage:
    case, time, note = planned.case, clock(planned.segment.seconds), clean_words(planned.segment.note)
    if case is None or case.recipe is None or case.assessment is None:
        gone, line = phrases.raw("brief", "gone"), phrases.raw("brief", "gone_line")
        return SegmentPage(number=number, title=gone, verdict="", line=line, time=time, note=note)
    scene = Scene.of(case.recipe, case.assessment, phrases)
    return SegmentPage(
        number=number,
        title=clean_words(case.title),
        verdict=phrases.raw("verdict", case.assessment.verdict),
        line=_one_line(scene),
        time=time,
        people=_people(case, phrases),
        consent=_consent(planned.consent, phrases),
        note=note,
        ruling=_ruling(rulings.get(case.id), phrases),
        parts=tuple(_parts(scene)),
        numbers=tuple(_numbers(scene)),
        mechanisms=tuple(_mechanisms(scene)),
        pictures=tuple(pictures(scene)),
        colours=tuple(_colours(scene)),
        sound=tuple(text for sound in case.assessment.virtues if (text := virtue(scene, sound))),
        instead=tuple(_instead(scene)),
        demonstrations=tuple(_demonstrations(scene)),
        sources=tuple(_sources(scene)),
        unverified=tuple(doubts(scene)),
    )


def _people(case: Case, phrases: Phrases) -> str:
    return phrases.raw("brief", "person") if case.people == 1 else phrases.say("brief", "people", count=case.people)


def _consent(consent: Consent, phrases: Phrases) -> str:
    """Whose words may be shown, and the names that those people chose; nobody else is ever named."""
    if not consent.said_yes:
        return phrases.raw("brief", "consent_none")
    names = [clean_words(credit) for credit in consent.credits]
    counts = {"yes": consent.said_yes, "asked": consent.asked}
    if not names:
        return phrases.say("brief", "consent", **counts)
    return phrases.say("brief", "consent_named", names=", ".join(f"“{name}”" for name in names), **counts)


def _ruling(ruling: Ruling | None, phrases: Phrases) -> str:
    if ruling is None:
        return ""
    verdict = phrases.raw("verdict", ruling.verdict)
    return phrases.say("brief", "ruled", verdict=verdict, words=clean_words(ruling.words))


def _one_line(scene: Scene) -> str:
    """What is wrong or right."""
    findings = deciding(scene)
    if findings:
        return reason(scene, findings[0])
    said = (virtue(scene, sound) for sound in scene.assessment.virtues)
    return next(filter(None, said), "") or question(scene) or scene.phrases.raw("frame", "nothing_found")


def _parts(scene: Scene) -> Iterator[PartRow]:
    phrases, decides = scene.phrases, deciding_lines(scene)
    for index, line in enumerate(scene.recipe.lines):
        share = scene.assessment.shares[index] if index < len(scene.assessment.shares) else None
        known = scene.catalogue.get(line.substance)
        remarks = [
            words
            for words, holds in (
                (phrases.raw("more", "unknown"), line.substance is None),
                (phrases.raw("more", "optional"), line.optional),
                (phrases.raw("more", "estimated"), share is not None and share.estimated),
            )
            if holds
        ]
        if line.alternative_of is not None:
            other = scene.line_name(scene.recipe.lines[line.alternative_of])
            remarks.append(phrases.say("more", "alternative", name=other))
        percent = share.percent if share is not None else None
        yield PartRow(
            name=scene.line_name(line),
            inci=(known.inci or "") if known is not None else "",
            written=amount_words(scene, line),
            percent="–" if percent is None else _spread(percent.low, percent.best, percent.high),
            remark=", ".join(remarks),
            decides=index in decides,
        )


def _spread(low: float, best: float, high: float) -> str:
    bounds = f"{short(low)}–{short(high)}"
    return short(best) if short(low) == short(high) else f"{short(best)} ({bounds})"


def _numbers(scene: Scene) -> Iterator[tuple[str, str]]:
    for row in measure_rows(scene):
        key = "measured" if row["low"] == row["high"] else "measured_range"
        yield row["name"], scene.phrases.say("brief", key, **row)


def _mechanisms(scene: Scene) -> Iterator[str]:
    """Each deciding finding with its numbers, and what happens; for a sound recipe why it holds."""
    table, findings = load_demonstrations(), deciding(scene)
    for finding in findings[:MECHANISMS]:
        yield f"{reason(scene, finding)} {table[finding.hazard].mechanism}"
    if not findings and scene.assessment.virtues:
        yield table[SOUND].mechanism


def _instead(scene: Scene) -> Iterator[str]:
    ways = (instead(scene, finding) for finding in (deciding(scene) or scene.ranked()))
    yield from list(dict.fromkeys(filter(None, ways)))[:INSTEADS]


def _demonstrations(scene: Scene) -> Iterator[Demonstration]:
    table = load_demonstrations()
    hazards = [finding.hazard.value for finding in deciding(scene)][:DEMONSTRATIONS]
    yield from (table[hazard] for hazard in hazards or [SOUND])


def _colours(scene: Scene) -> Iterator[ColourLine]:
    """Every colour that a law lists, in the United States and in the European Union."""
    law, phrases = load_law(), scene.phrases
    for substance in dict.fromkeys(line.substance for line in scene.recipe.lines if line.substance):
        for region in (Jurisdiction.US, Jurisdiction.EU):
            row = law.colour(substance, region)
            if row is None:
                continue
            lips, eye, external = (phrases.raw("brief", f"listing_{x}") for x in (row.lips, row.eye_area, row.external))
            yield ColourLine(
                name=scene.substance_name(substance),
                region=phrases.raw("region", region),
                lips=lips,
                eye_area=eye,
                external=external,
                where=f"{load_sources()[row.source].title}; {row.locator}",
            )


def _sources(scene: Scene) -> Iterator[Source]:
    """The sources of what decides first, each once."""
    ranked = [*deciding(scene), *(f for f in scene.ranked() if f.severity is Severity.NOTE)]
    named = dict.fromkeys(source for finding in ranked for source in finding.sources)
    yield from (load_sources()[source] for source in named if source in load_sources())
