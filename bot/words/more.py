"""The long form: every line by mass, the measures, all findings with their sources, the cautions."""

from __future__ import annotations

from collections.abc import Iterator

from bot.queue.rulings import Ruling
from bot.words.clean import cut
from bot.words.finding import Scene, instead, reason, virtue
from bot.words.reply import question
from bot.words.urgent import caution
from rules.assessment import Finding, Jurisdiction, Measures
from rules.interval import Interval
from rules.recipe import Line, Unit
from rules.sources import Checked, load_sources

LINES_SHOWN = 60
SHARES = frozenset({"water_percent", "ethanol_percent", "oil_percent"})
MEASURES = tuple(name for name in Measures.model_fields if name != "statements")


def long_reply(scene: Scene, region: Jurisdiction, ruling: Ruling | None = None) -> str:
    """All that is known of one recipe, in short lines, no tables: it is read on phones and aloud."""
    phrases = scene.phrases
    blocks = [
        _ruled(scene, ruling),
        _block(phrases.raw("more", "lines"), _lines(scene)),
        _block(phrases.raw("more", "measures"), _measures(scene)),
        _block(phrases.raw("more", "findings"), (_finding(scene, finding) for finding in scene.ranked())),
        _block(phrases.raw("more", "virtues"), _virtues(scene)),
        _question(scene),
        phrases.say("more", "region", region=phrases.raw("region", region)),
        caution(phrases, region),
    ]
    return "\n".join(block for block in blocks if block)


def _block(title: str, lines: Iterator[str]) -> str:
    kept = list(lines)
    return "\n".join([title, *kept]) if kept else ""


def _ruled(scene: Scene, ruling: Ruling | None) -> str:
    if ruling is None:
        return ""
    verdict = scene.phrases.raw("verdict", scene.assessment.verdict)
    return scene.phrases.say("ruled", "note", verdict=verdict)


def _lines(scene: Scene) -> Iterator[str]:
    lines = scene.recipe.lines
    for index, line in enumerate(lines[:LINES_SHOWN]):
        yield _line(scene, index, line)
    if len(lines) > LINES_SHOWN:
        yield scene.phrases.say("more", "more_lines", count=len(lines) - LINES_SHOWN)


def _line(scene: Scene, index: int, line: Line) -> str:
    phrases = scene.phrases
    share = scene.assessment.shares[index] if index < len(scene.assessment.shares) else None
    grams = percent = ""
    if share is not None and share.grams is not None and not _weighed(line):
        key = "grams_exact" if share.grams.is_exact else "grams"
        grams = phrases.say("more", key, value=scene.figure(share.grams.best))
    if share is not None and share.percent is not None:
        percent = _spread(scene, "percent", share.percent)
    known = scene.catalogue.get(line.substance)
    name = scene.line_name(line)
    if known is not None and known.inci and known.inci.lower() != name.lower() and f"({known.inci})" not in name:
        name += phrases.say("more", "inci", inci=known.inci)
    notes = list(_line_notes(scene, line, share is not None and share.estimated))
    said = f" ({', '.join(notes)})" if notes else ""
    amount = amount_words(scene, line)
    return phrases.say("more", "line", name=name, amount=amount, grams=grams, percent=percent, notes=said)


def _weighed(line: Line) -> bool:
    """Whether the grams are the amount as written, which need not be said twice."""
    return line.amount is not None and line.amount.unit is Unit.G and line.amount.written is not None


def _line_notes(scene: Scene, line: Line, estimated: bool) -> Iterator[str]:
    phrases = scene.phrases
    if line.substance is None:
        yield phrases.raw("more", "unknown")
    if line.optional:
        yield phrases.raw("more", "optional")
    if line.alternative_of is not None:
        other = scene.line_name(scene.recipe.lines[line.alternative_of])
        yield phrases.say("more", "alternative", name=other)
    elif estimated:
        yield phrases.raw("more", "estimated")


def amount_words(scene: Scene, line: Line) -> str:
    """The amount as it was written, in figures: "2 tbsp", "1 to 2 drops"."""
    phrases = scene.phrases
    amount = line.amount
    if amount is None:
        return phrases.raw("more", "no_amount")
    if amount.written is None:
        return phrases.raw("written_unit", amount.unit) if amount.unit else phrases.raw("more", "no_amount")
    low, high = amount.written
    table = "written_units" if high > 1 else "written_unit"
    unit = phrases.raw(table, amount.unit) if amount.unit is not None else ""
    figures = scene.figure(low) if low == high else f"{scene.figure(low)}–{scene.figure(high)}"
    return f"{figures} {unit}".strip()


def _spread(scene: Scene, key: str, value: Interval) -> str:
    """A number, with its bounds where they differ in print."""
    low, best, high = scene.figure(value.low), scene.figure(value.best), scene.figure(value.high)
    if low == high:
        return scene.phrases.say("more", key, value=best)
    return scene.phrases.say("more", f"{key}_range", value=best, low=low, high=high)


def measure_rows(scene: Scene) -> Iterator[dict[str, str]]:
    """Each measure that the recipe gives: its name, value, unit, low and high as they are printed."""
    phrases = scene.phrases
    for name in MEASURES:
        value: Interval | None = getattr(scene.assessment.measures, name)
        if value is None or (name in SHARES and value.high == 0):
            continue
        low, best, high = scene.figure(value.low), scene.figure(value.best), scene.figure(value.high)
        if name == "preservative_effective":
            best = low = high = phrases.raw("more", "yes" if value.best > 0 else "no")
        unit, label = phrases.raw("measure_unit", name), phrases.raw("measure", name)
        yield {"name": label, "value": best, "unit": unit, "low": low, "high": high}


def _measures(scene: Scene) -> Iterator[str]:
    for row in measure_rows(scene):
        yield scene.phrases.say("more", "measure" if row["low"] == row["high"] else "measure_range", **row)


def _finding(scene: Scene, finding: Finding) -> str:
    phrases = scene.phrases
    severity = phrases.raw("severity", finding.severity)
    return phrases.say(
        "more",
        "finding",
        severity=severity,
        reason=reason(scene, finding),
        instead=instead(scene, finding),
        sources="; ".join(source_names(scene, finding)) or phrases.raw("more", "no_source"),
    ).replace("  ", " ")


def source_names(scene: Scene, finding: Finding) -> list[str]:
    """The sources by title, each with its mark where it is common practice or was not read again."""
    named = []
    for source_id in finding.sources:
        source = load_sources().get(source_id)
        if source is None:
            named.append(source_id)
        elif source.checked is Checked.MEMORY:
            title = scene.phrases.word_of(source.title)
            named.append(f"{title} ({scene.phrases.raw('more', 'from_memory')})")
        else:
            named.append(scene.phrases.word_of(source.title))
    return named


def _virtues(scene: Scene) -> Iterator[str]:
    for sound in scene.assessment.virtues:
        if text := virtue(scene, sound):
            yield scene.phrases.say("more", "virtue", reason=text)


def _question(scene: Scene) -> str:
    text = question(scene)
    return scene.phrases.say("more", "question", question=cut(text, 300)) if text else ""
