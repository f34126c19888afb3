"""The pictures of one recipe: what it is made of, and its numbers held against published ranges."""

from __future__ import annotations

from collections.abc import Iterable

from bot.brief.paint import GREY, WIDTH, Picture, Sheet, box, write
from bot.brief.scale import Range, Scale, halvings, straight
from bot.words.clean import cut
from bot.words.figures import short
from bot.words.finding import Scene
from bot.words.reply import deciding
from rules.assessment import Hazard
from rules.catalogue import Phase
from rules.chemistry.low_risk import growth_minima
from rules.chemistry.preservatives import preservatives
from rules.interval import Interval

SHOWN = 8  # rows of the composition; the rest is summed up in one
ROW, HEAD = 18.0, 22.0
NAME_WIDTH, FIGURE_WIDTH = 106.0, 46.0
NAME = 20
SKIN_PH = (4.1, 5.8)  # the skin's surface: source skin_ph of sources.toml, from memory
SETTLING_PATH = (0.1, 43_200.0)  # minutes on the axis: six seconds to thirty days
LEAST_LAYER, JAR = 4.0, 72.0


def pictures(scene: Scene) -> list[Picture]:
    """All pictures that the recipe gives numbers for, the composition first."""
    makers = (composition, water_activity, ph, settling, emulsion)
    return [picture for make in makers if (picture := make(scene)) is not None]


def card(scene: Scene) -> list[Picture]:
    """What a chat card carries: the composition, and the scale of the number that decides."""
    by_hazard = {
        Hazard.NEEDS_PRESERVATIVE: water_activity,
        Hazard.PH_TOO_LOW: ph,
        Hazard.PH_TOO_HIGH: ph,
        Hazard.SETTLES_OR_CLOGS: settling,
        Hazard.SEPARATES: emulsion,
    }
    found = [composition(scene), *(by_hazard[f.hazard](scene) for f in deciding(scene) if f.hazard in by_hazard)]
    return [picture for picture in found if picture is not None][:2]


def deciding_lines(scene: Scene) -> frozenset[int]:
    """The lines that stand behind the verdict; for a missing preservative the water."""
    lines = scene.recipe.lines
    found = set()
    for finding in deciding(scene):
        if finding.line is not None:
            found.add(finding.line)
        elif finding.substance is not None:
            found |= {i for i, line in enumerate(lines) if line.substance == finding.substance}
        elif finding.hazard is Hazard.NEEDS_PRESERVATIVE:
            found |= {i for i, line in enumerate(lines) if _is_water(scene, line.substance)}
    return frozenset(found)


def _is_water(scene: Scene, substance: str | None) -> bool:
    known = scene.catalogue.get(substance)
    return known is not None and known.phase is Phase.WATER


def shares(scene: Scene) -> list[tuple[int, Interval]]:
    """Lines with a share, the largest first."""
    found = [(i, share.percent) for i, share in enumerate(scene.assessment.shares) if share.percent is not None]
    counted = [(i, percent) for i, percent in found if percent.high > 0]
    return sorted(counted, key=lambda pair: -pair[1].best)


def composition(scene: Scene) -> Picture | None:
    """Bars of w/w %; the part that decides is hatched and named so."""
    rows = shares(scene)
    if not rows:
        return None
    words, decides = scene.phrases, deciding_lines(scene)
    # What decides is shown, however little it is.
    shown = sorted(rows, key=lambda pair: (pair[0] not in decides, -pair[1].best))[:SHOWN]
    shown.sort(key=lambda pair: -pair[1].best)
    bars = [(scene.line_name(scene.recipe.lines[i]), p.best, i in decides) for i, p in shown]
    rest = len(rows) - len(shown)
    if rest:
        left = sum(p.best for _, p in rows) - sum(p.best for _, p in shown)
        bars.append((words.say("picture", "rest", count=rest), left, False))
    parts = [
        words.say("picture", "part_decides" if mark else "part", name=name, value=short(percent))
        for name, percent, mark in bars
    ]
    title = words.raw("picture", "composition")
    height = HEAD + ROW * len(bars) + (12 if decides else 2)

    def paint(sheet: Sheet) -> None:
        write(sheet, 4, height - 10, title, bold=True)
        room = WIDTH - NAME_WIDTH - FIGURE_WIDTH
        for number, (name, percent, mark) in enumerate(bars):
            bottom = height - HEAD - ROW * (number + 1)
            write(sheet, 4, bottom + ROW / 2, cut(name, NAME), size=9, bold=mark)
            width = max(1.0, room * min(100.0, percent) / 100)
            box(sheet, NAME_WIDTH, bottom + 3, width, ROW - 6, fill=GREY if mark else "#ffffff", hatch="////" * mark)
            write(sheet, NAME_WIDTH + width + 4, bottom + ROW / 2, f"{short(percent)} %", size=9, bold=mark)
        if decides:
            write(sheet, 4, 6, words.raw("picture", "hatched_decides"), size=8.5)

    return Picture(
        title=title, alt=words.say("picture", "composition_alt", parts="; ".join(parts)), height=height, paint=paint
    )


def _scale(scene: Scene, key: str, scale: Scale, sources: Iterable[str] = ()) -> Picture:
    words = scene.phrases
    reached = [row.name for row in scale.ranges if row.reached]
    not_reached = [row.name for row in scale.ranges if not row.reached]
    alt = words.say(
        "picture",
        f"{key}_alt",
        value=scale.label,
        reached=", ".join(reached) or words.raw("picture", "nothing"),
        others=", ".join(not_reached) or words.raw("picture", "nothing"),
    )
    named = "; ".join(dict.fromkeys(sources))
    source = words.say("picture", "ranges_from", sources=named) if named else ""
    return Picture(title=scale.heading, alt=alt, height=scale.height, paint=scale.paint, source=source)


def spread(value: Interval) -> str:
    """A number with its bounds, where they differ in print."""
    low, best, high = short(value.low), short(value.best), short(value.high)
    return best if low == high else f"{best} ({low}–{high})"


def water_activity(scene: Scene) -> Picture | None:
    """Who can grow from which water activity on (published lowest values)."""
    value = scene.assessment.measures.water_activity
    if value is None:
        return None
    words = scene.phrases
    ranges = tuple(
        Range(
            words.say("picture", "from", name=words.word("organism", key), value=short(row.lowest_water_activity)),
            row.lowest_water_activity,
            1.0,
            value.best >= row.lowest_water_activity,
        )
        for key, row in growth_minima().items()
        if row.matters
    )
    ticks = tuple((tick, f"{tick:.1f}") for tick in (0.6, 0.7, 0.8, 0.9, 1.0))
    scale = Scale(
        heading=words.raw("picture", "water_activity"),
        label=words.say("picture", "this_recipe", value=spread(value)),
        value=value,
        ranges=ranges,
        ticks=ticks,
        place=straight(0.55, 1.0),
    )
    return _scale(scene, "water_activity", scale, (row.source for row in growth_minima().values() if row.matters))


def ph(scene: Scene) -> Picture | None:
    """The pH against the skin's and against where each preservative in it works."""
    value = scene.assessment.measures.ph
    if value is None:
        return None
    words = scene.phrases
    rows = [(words.raw("picture", "skin"), *SKIN_PH)]
    sources = [words.raw("picture", "skin_source")]
    for line in scene.recipe.lines:
        row = preservatives().get(line.substance or "")
        if row is not None and len(rows) < 5:
            rows.append((scene.line_name(line), 0.0, row.highest_ph))
            sources.append(row.source)
    ranges = tuple(
        Range(
            words.say("picture", "span", name=name, low=short(low), high=short(high))
            if low
            else words.say("picture", "up_to", name=name, high=short(high)),
            low,
            high,
            low <= value.best <= high,
        )
        for name, low, high in rows
    )
    scale = Scale(
        heading=words.raw("picture", "ph"),
        label=words.say("picture", "this_recipe", value=spread(value)),
        value=value,
        ranges=ranges,
        ticks=tuple((float(tick), str(tick)) for tick in range(0, 15, 2)),
        place=straight(0, 14),
    )
    return _scale(scene, "ph", scale, sources)


def settling(scene: Scene) -> Picture | None:
    """How long the powder takes to the bottom, on a scale of factors."""
    value = scene.assessment.measures.settling_minutes
    if value is None or value.best <= 0:
        return None
    words = scene.phrases
    marks = ((1.0, "minute"), (60.0, "hour"), (1440.0, "day"), (43_200.0, "month"))
    scale = Scale(
        heading=words.raw("picture", "settling"),
        label=words.say("picture", "minutes", value=spread(value)),
        value=value,
        ranges=(Range(words.raw("picture", "sinks_in"), value.low, value.high, reached=True),),
        ticks=tuple((minutes, words.raw("picture", name)) for minutes, name in marks),
        place=halvings(*SETTLING_PATH),
    )
    return _scale(scene, "settling", scale)


def emulsion(scene: Scene) -> Picture | None:
    """Two jars: freshly shaken, and left to stand."""
    parts = any(f.hazard is Hazard.SEPARATES for f in scene.assessment.findings)
    holds = any(v.reason == "stays_mixed" for v in scene.assessment.virtues)
    oil, water = scene.assessment.measures.oil_percent, scene.assessment.measures.water_percent
    if not (parts or holds) or oil is None or water is None or oil.best + water.best <= 0:
        return None
    words, title = scene.phrases, scene.phrases.raw("picture", "emulsion")
    facts = {"oil": short(oil.best), "water": short(water.best)}
    alt = words.say("picture", "emulsion_parts_alt" if parts else "emulsion_holds_alt", **facts)
    height = 142.0

    def paint(sheet: Sheet) -> None:
        write(sheet, 4, height - 10, title, bold=True)
        for x, label in ((8.0, "shaken"), (92.0, "stood")):
            write(sheet, x, 8, words.raw("picture", label), size=9)
            box(sheet, x, 18, JAR, 100)
        box(sheet, 8, 18, JAR, 92, hatch="..", fill=GREY)
        if not parts:
            box(sheet, 92, 18, JAR, 92, hatch="..", fill=GREY)
            write(sheet, 170, 64, words.raw("picture", "one_phase"), size=9)
            return
        layer = min(92 - LEAST_LAYER, max(LEAST_LAYER, 92 * oil.best / (oil.best + water.best)))
        box(sheet, 92, 18, JAR, 92 - layer, hatch="---")
        box(sheet, 92, 110 - layer, JAR, layer, hatch="////", fill=GREY)
        write(sheet, 170, min(104.0, 110 - layer / 2), words.say("picture", "oil", **facts), size=9)
        write(sheet, 170, max(24.0, 18 + (92 - layer) / 2 - 8), words.say("picture", "water", **facts), size=9)

    return Picture(title=title, alt=alt, height=height, paint=paint)
