"""How much a recipe is worth the creator's time, from 0 to 1, with every part shown."""

from __future__ import annotations

import math

from pydantic import Field

from bot.queue.likeness import Sketch
from bot.queue.variant import Variant, variant_words
from bot.words.figures import short
from bot.words.phrases import Phrases
from rules.assessment import Assessment, Severity, Verdict
from rules.recipe import Frozen, Recipe

# Weights and marks are our own choice, to be set by the creator; no source stands behind them.
SEVERITY = {Verdict.AVOID: 1.0, Verdict.FIX: 0.6, Verdict.UNCLEAR: 0.5, Verdict.FINE: 0.1}
CROWD = 32  # so many distinct people make the full mark for demand
THRESHOLD = 0.45  # from this score on a case is worth a look
RECENT_CROWD = 8  # so many people among the latest tags make the full mark for a rush
RUSH = 0.25  # what a rush adds to the mark for demand
STALE = 0.3  # what a hazard teaches that an episode showed not long ago
LESSON = 3  # so many different hazards make the full mark for teaching


class Weights(Frozen):
    """How much each part counts; only their proportions matter."""

    demand: float = Field(default=0.30, ge=0)
    novelty: float = Field(default=0.15, ge=0)
    severity: float = Field(default=0.25, ge=0)
    uncertainty: float = Field(default=0.15, ge=0)
    teaching: float = Field(default=0.15, ge=0)


class Part(Frozen):
    """One part of the score: its name, its mark 0..1, the points it brings, and why in words."""

    name: str
    mark: float
    points: float
    reason: str


class Interest(Frozen):
    """The score 0..1, whether it is worth a look, and the parts, the weightiest first."""

    queued: bool
    score: float
    parts: tuple[Part, ...] = ()
    why: tuple[str, ...] = ()


NO_INTEREST = Interest(queued=False, score=0.0)


class History(Frozen):
    """What is known of a recipe before this message: distinct people, and how like it is to one already
    taken. `recent` counts people among the latest tags; `lately` are hazards that the last episodes showed."""

    people: int = 0
    recent: int = 0
    lately: frozenset[str] = frozenset()
    covered: float = 0.0
    dropped: bool = False
    taken: bool = False
    variant: Variant | None = None


def interest(
    recipe: Recipe,
    assessment: Assessment,
    known: Sketch,
    history: History,
    weights: Weights,
    threshold: float,
    phrases: Phrases,
) -> Interest:
    """Scores one recipe; `history.people` counts this message's author."""
    marks = {
        "demand": _demand(history, phrases),
        "novelty": _novelty(history, phrases),
        "severity": (SEVERITY[assessment.verdict], phrases.raw("why", f"severity_{assessment.verdict}")),
        "uncertainty": _uncertainty(recipe, assessment, phrases),
        "teaching": _teaching(assessment, known, history, phrases),
    }
    total = sum(getattr(weights, name) for name in marks) or 1.0
    parts = [
        Part(name=name, mark=mark, points=getattr(weights, name) * mark / total, reason=why)
        for name, (mark, why) in marks.items()
    ]
    parts.sort(key=lambda part: -part.points)
    score = round(min(1.0, sum(part.points for part in parts)), 4)
    why = [
        phrases.say("why", "share", reason=part.reason, points=short(part.points))
        for part in parts
        if part.points > 0 and part.reason
    ]
    if history.variant is not None:
        why.append(variant_words(history.variant, phrases))
    if history.dropped or history.taken:
        why.append(phrases.raw("why", "dropped" if history.dropped else "taken"))
    queued = score >= threshold and not history.dropped and not history.taken
    return Interest(queued=queued, score=score, parts=tuple(parts), why=tuple(why))


def _demand(history: History, phrases: Phrases) -> tuple[float, str]:
    """Each doubling of the number of people counts the same."""
    people = max(1, history.people)
    words = phrases.say("why", "demand", people=people) if people > 1 else phrases.raw("why", "demand_one")
    rush = RUSH * min(1.0, math.log2(max(1, history.recent)) / math.log2(RECENT_CROWD))
    return min(1.0, math.log2(people) / math.log2(CROWD) + rush), words


def _novelty(history: History, phrases: Phrases) -> tuple[float, str]:
    key = "covered" if history.covered > 0 else "novelty"
    return 1.0 - history.covered, phrases.raw("why", key)


def _uncertainty(recipe: Recipe, assessment: Assessment, phrases: Phrases) -> tuple[float, str]:
    lines = max(1, len(recipe.lines))
    unknown = sum(line.substance is None for line in recipe.lines)
    estimated = sum(share.estimated for share in assessment.shares)
    undecided = 0.6 if assessment.verdict is Verdict.UNCLEAR else 0.0
    mark = min(1.0, undecided + unknown / lines + 0.3 * estimated / lines)
    if unknown:
        return mark, phrases.say("why", "uncertainty", unknown=unknown, lines=lines)
    if undecided:
        return mark, phrases.raw("why", "uncertainty_verdict")
    return mark, phrases.say("why", "uncertainty_amounts", estimated=estimated, lines=lines)


def _teaching(assessment: Assessment, known: Sketch, history: History, phrases: Phrases) -> tuple[float, str]:
    """A number held against a limit teaches more than a word; a sound recipe is the contrast."""
    hazards = known.hazards
    if not hazards:
        explained = bool(assessment.virtues) and assessment.verdict is Verdict.FINE
        return (0.4, phrases.raw("why", "teaching_fine")) if explained else (0.0, "")
    grave = [f for f in assessment.findings if f.severity is not Severity.NOTE]
    numbered = any(f.value is not None and f.limit is not None for f in grave)
    fresh = sum(STALE if hazard in history.lately else 1.0 for hazard in hazards)
    mark = min(1.0, fresh / LESSON + (0.2 if numbered else 0.0))
    names = ", ".join(phrases.word("hazard_name", hazard) for hazard in hazards[:3])
    return mark, phrases.say("why", "teaching", hazards=names)
