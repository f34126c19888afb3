"""The batch contract: one message's triage as plain data for a JSON line."""

from __future__ import annotations

from typing import Any

from bot.triage import Item, Triage
from bot.words.figures import nearest_edge
from bot.words.finding import Scene, instead, reason
from bot.words.phrases import Phrases, load_phrases
from rules.assessment import Finding, Measures
from rules.interval import Interval
from rules.recipe import Amount, Line, Unit

INTERNAL_UNITS = frozenset({Unit.HANDFUL, Unit.SPLASH, Unit.SQUIRT, Unit.SPOONFUL})
MEASURES = tuple(name for name in Measures.model_fields if name != "statements")
PLACES = 4


def message_row(message_id: str, found: Triage) -> dict[str, Any]:
    phrases = load_phrases(found.reading.language)
    interest = found.interest
    return {
        "id": message_id,
        "kind": found.reading.kind.value,
        "language": found.reading.language,
        "reply": found.reply,
        "queue": {"queued": interest.queued, "score": interest.score, "why": list(interest.why)},
        "recipes": [_recipe(item, phrases) for item in found.items],
    }


def error_row(message_id: str | None, error: str) -> dict[str, Any]:
    return {"id": message_id, "error": error}


def _recipe(item: Item, phrases: Phrases) -> dict[str, Any]:
    scene = Scene.of(item.recipe, item.assessment, phrases)
    measures = item.assessment.measures
    contact = item.assessment.contact or item.recipe.contact
    return {
        "product": item.recipe.product,
        "sites": [site.value for site in item.assessment.sites or item.recipe.sites],
        "contact": contact.value if contact is not None else None,
        "lines": [_line(scene, index, line) for index, line in enumerate(item.recipe.lines)],
        "measures": {name: _spread(getattr(measures, name)) for name in MEASURES},
        "findings": [_finding(scene, finding) for finding in scene.ranked()],
        "verdict": item.assessment.verdict.value,
    }


def _line(scene: Scene, index: int, line: Line) -> dict[str, Any]:
    known = scene.catalogue.get(line.substance)
    share = scene.assessment.shares[index] if index < len(scene.assessment.shares) else None
    amount, amount_high = written(line.amount)
    guessed = line.amount is not None and line.amount.estimated
    return {
        "as_written": line.as_written,
        "span": list(line.span),
        "name": known.name if known is not None else line.name,
        "substance": line.substance,
        "inci": known.inci if known is not None else None,
        "amount": amount,
        "amount_high": amount_high,
        "unit": unit_word(line.amount),
        "optional": line.optional,
        "alternative_of": line.alternative_of,
        "grams": _best(share.grams) if share is not None else None,
        "percent": _best(share.percent) if share is not None else None,
        "estimated": guessed or (share is not None and share.estimated),
    }


def written(amount: Amount | None) -> tuple[float | None, float | None]:
    """The figures of the text: one number, or two for a range; none for "a few"."""
    if amount is None or amount.written is None:
        return None, None
    low, high = amount.written
    return low, high if high != low else None


def unit_word(amount: Amount | None) -> str | None:
    """The contract's unit; home measures that it does not name are pieces."""
    if amount is None or amount.unit is None:
        return None
    return Unit.PIECE.value if amount.unit in INTERNAL_UNITS else amount.unit.value


def _finding(scene: Scene, finding: Finding) -> dict[str, Any]:
    limit = finding.limit
    return {
        "hazard": finding.hazard.value,
        "severity": finding.severity.value,
        "substance": finding.substance,
        "value": _best(finding.value),
        "limit": None if limit is None else round(nearest_edge(limit, finding.value), PLACES),
        "unit": finding.unit,
        "because": reason(scene, finding),
        "instead": instead(scene, finding),
        "sources": list(finding.sources),
    }


def _best(value: Interval | None) -> float | None:
    return None if value is None else round(value.best, PLACES)


def _spread(value: Interval | None) -> dict[str, float] | None:
    if value is None:
        return None
    return {name: round(getattr(value, bound), PLACES) for name, bound in SPREAD}


SPREAD = (("value", "best"), ("low", "low"), ("high", "high"))
