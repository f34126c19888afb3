"""Hand-made readings and assessments: the bot is tested against the frozen models, whatever reads or
judges."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import UTC, datetime

from bot.tag import Tag
from nlp.reading import Emergency, Kind, Note, Question, Reading
from rules.assessment import (
    Assessment,
    Basis,
    Finding,
    Hazard,
    Jurisdiction,
    Measures,
    Severity,
    Share,
    Verdict,
    Virtue,
)
from rules.interval import Interval
from rules.recipe import Amount, Line, Recipe, Site, Unit

WHEN = datetime(2026, 3, 14, 18, 0, tzinfo=UTC)


def line(substance: str | None, grams: float | None = None, name: str | None = None) -> Line:
    """One line in grams; `substance` None with a name is an unknown ingredient."""
    called = name or (substance or "").replace("_", " ")
    amount = None
    if grams is not None:
        amount = Amount(quantity=Interval.exact(grams), unit=Unit.G, written=(grams, grams))
    return Line(as_written=called, name=called, span=(0, len(called)), substance=substance, amount=amount)


def recipe(*lines: Line, sites: tuple[Site, ...] = (Site.FACE,), product: str | None = None) -> Recipe:
    return Recipe(lines=lines, sites=sites, product=product)


MIST = recipe(line("water", 90), line("glycerin", 10))
BALM = recipe(line("beeswax", 10), line("coconut_oil", 30), sites=(Site.LIPS,))


def finding(
    severity: Severity = Severity.FIX, hazard: Hazard = Hazard.NEEDS_PRESERVATIVE, **changes: object
) -> Finding:
    row = {
        "hazard": hazard,
        "severity": severity,
        "reason": "no_such_phrase",
        "instead": "no_such_phrase",
        "basis": Basis.COMPUTED,
        "sources": (),
        "value": Interval.exact(0.98),
        "limit": Interval.exact(0.91),
        "unit": "water_activity",
    }
    return Finding.model_validate({**row, **changes})


def assessment(made: Recipe, verdict: Verdict, *findings: Finding, virtues: tuple[Virtue, ...] = ()) -> Assessment:
    """Shares by the grams of the lines; lines without an amount weigh nothing."""
    grams = [row.amount.quantity.best if row.amount else 0.0 for row in made.lines]
    whole = sum(grams) or 1.0
    shares = tuple(
        Share(grams=Interval.exact(g), percent=Interval.exact(100 * g / whole), estimated=False) for g in grams
    )
    unknown = tuple(i for i, row in enumerate(made.lines) if row.substance is None)
    return Assessment(
        shares=shares,
        measures=Measures(),
        findings=findings,
        virtues=virtues,
        verdict=verdict,
        not_understood=unknown,
    )


def reading(text: str, kind: Kind = Kind.RECIPE, *recipes: Recipe, **changes: object) -> Reading:
    return Reading.model_validate({"text": text, "language": "en", "kind": kind, "recipes": recipes, **changes})


class ScriptedReader:
    """Reads by a script: a word in the text chooses the reading; a word "boom" is a text that breaks a
    reader."""

    def __init__(self, **by_word: Recipe) -> None:
        self.by_word = {"mist": MIST, "balm": BALM, **by_word}
        self.read_texts: list[str] = []

    def read(self, text: str) -> Reading:
        self.read_texts.append(text)
        if "boom" in text:
            raise RuntimeError("cannot read boom")
        if "eye hurts" in text:
            return reading(text, Kind.URGENT, emergency=Emergency.EYE)
        if "I meant" in text:
            return reading(text, Kind.CORRECTION, recipe(line("glycerin", 20), sites=()))
        if "hola" in text:
            return reading(text, Kind.RECIPE, language="other", notes=frozenset({Note.UNKNOWN_LANGUAGE}))
        if "is mica ok" in text:
            return reading(text, Kind.QUESTION, question=Question(substances=("mica",), sites=(Site.LIPS,)))
        found = tuple(known for word, known in self.by_word.items() if word in text)
        return reading(text, Kind.RECIPE if found else Kind.CHATTER, *found)

    def read_many(self, texts: Iterable[str]) -> Iterator[Reading]:
        return (self.read(text) for text in texts)


def judge(made: Recipe, _: Jurisdiction) -> Assessment:
    """Water without more is to be fixed, a crayon is to be avoided, an unknown is unclear, all else is
    fine."""
    substances = {row.substance for row in made.lines}
    if "crayon" in substances:
        craft = finding(Severity.AVOID, Hazard.NON_COSMETIC_MATERIAL, value=None, limit=None)
        return assessment(made, Verdict.AVOID, craft)
    if "water" in substances and "phenoxyethanol" not in substances:
        return assessment(made, Verdict.FIX, finding())
    return assessment(made, Verdict.UNCLEAR if None in substances else Verdict.FINE)


def tag(number: int, text: str, author: str = "tidewick", channel: str = "quay", urgent: bool = False) -> Tag:
    return Tag(message_id=f"m{number}", channel=channel, author=author, text=text, received_at=WHEN, urgent=urgent)
