"""How well readings agree with the annotated corpus: counting only, nothing is read from disk here."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field

from nlp.reading import Kind, Reading
from nlp.training.annotated import Gold, Message
from rules.recipe import Amount, Line, Unit

LEAST_OVERLAP = 0.5  # of the shorter of the two spans
AMOUNT_TOLERANCE = 0.02
_COUNTED = {None, Unit.PIECE, Unit.HANDFUL, Unit.SPLASH, Unit.SQUIRT, Unit.SPOONFUL}


@dataclass
class Tally:
    """Counts and, by class, the cases that went wrong as (message id, what)."""

    counts: Counter[str] = field(default_factory=Counter)
    errors: defaultdict[str, list[tuple[str, str]]] = field(default_factory=lambda: defaultdict(list))

    def check(self, name: str, message: Message, right: bool, said: str) -> None:
        self.counts[name] += 1
        self.counts[f"{name} right"] += right
        if not right:
            self.errors[name].append((message.id, said))

    def share(self, name: str) -> float | None:
        """Right answers among the asked ones; None where nothing was asked."""
        return self.ratio(f"{name} right", name)

    def ratio(self, part: str, whole: str) -> float | None:
        return round(self.counts[part] / self.counts[whole], 4) if self.counts[whole] else None


def overlap(one: tuple[int, int], other: tuple[int, int]) -> float:
    """Shared characters as a share of the shorter span."""
    shared = min(one[1], other[1]) - max(one[0], other[0])
    return max(0, shared) / max(1, min(one[1] - one[0], other[1] - other[0]))


def pair(golds: tuple[Gold, ...], lines: tuple[Line, ...]) -> dict[int, int]:
    """Index of the line that reads each gold, each line used once; golds choose in the order of the text."""
    paired: dict[int, int] = {}
    free = set(range(len(lines)))
    for i, gold in enumerate(golds):
        best = max(free, key=lambda j: overlap(gold.span, lines[j].span), default=None)
        if best is not None and overlap(gold.span, lines[best].span) >= LEAST_OVERLAP:
            paired[i] = best
            free.discard(best)
    return paired


def same_amount(gold: Gold, amount: Amount | None) -> bool:
    """Figures within 2 % and the same unit; a bare count and home measures such as a handful are one unit."""
    written = amount.written if amount else None
    unit = amount.unit if amount else None
    if (gold.figures is None) != (written is None):
        return False
    if gold.figures and written:
        pairs = zip(gold.figures, written, strict=True)
        if any(abs(a - b) > AMOUNT_TOLERANCE * max(a, b, 0.01) for a, b in pairs):
            return False
    return gold.unit == unit or {gold.unit, unit} <= _COUNTED


def score(pairs: Iterable[tuple[Message, Reading]]) -> Tally:
    """Counts over messages and their readings."""
    tally = Tally()
    for message, reading in pairs:
        _score_message(tally, message, reading)
        if message.kind is Kind.RECIPE and message.language != "other":
            _score_lines(tally, message, tuple(line for r in reading.recipes for line in r.lines))
            _score_use(tally, message, reading)
    return tally


def _score_message(tally: Tally, message: Message, reading: Reading) -> None:
    head = message.text[:70].replace("\n", " / ")
    tally.check("kind", message, reading.kind is message.kind, f"{message.kind} read as {reading.kind}: {head}")
    tally.check("language", message, reading.language == message.language, f"{reading.language}: {head}")
    if message.kind is Kind.URGENT:
        tally.check("urgent", message, reading.kind is Kind.URGENT, f"{reading.kind}: {head}")
        tally.check("emergency", message, reading.emergency == message.emergency, f"{reading.emergency}: {head}")
    else:
        tally.check("not urgent", message, reading.kind is not Kind.URGENT, head)


def _score_lines(tally: Tally, message: Message, lines: tuple[Line, ...]) -> None:
    paired = pair(message.golds, lines)
    tally.counts["lines read"] += len(lines)
    tally.counts["lines found"] += len(paired)
    for j in sorted(set(range(len(lines))) - set(paired.values())):
        tally.errors["extra line"].append((message.id, message.text[slice(*lines[j].span)]))
    for i, gold in enumerate(message.golds):
        line = lines[paired[i]] if i in paired else None
        tally.check("ingredient", message, line is not None, gold.name)
        tally.check("exact span", message, line is not None and line.span == gold.span, _spans(gold, line))
        if gold.figures:
            right = line is not None and same_amount(gold, line.amount)
            tally.check("triple", message, right, f"{gold.name}: {gold.figures} {gold.unit}, {_amount(line)}")
        if line is not None:
            tally.check("known", message, line.substance is not None, line.name)
            tally.check("optional", message, line.optional == gold.optional, f"{gold.name}: {gold.optional}")
            if not gold.figures:
                tally.check("no amount", message, same_amount(gold, line.amount), f"{gold.name}: {_amount(line)}")
    _score_choices(tally, message, lines, paired)


def _score_choices(tally: Tally, message: Message, lines: tuple[Line, ...], paired: dict[int, int]) -> None:
    """Each member of a choice but its first must point at another line; a line outside a choice at none."""
    met: set[str] = set()
    for i, gold in enumerate(message.golds):
        later = gold.group is not None and gold.group in met
        met |= {gold.group} if gold.group else set()
        if i in paired:
            points = lines[paired[i]].alternative_of is not None
            tally.check("choice" if later else "no choice", message, points == later, gold.name)


def _score_use(tally: Tally, message: Message, reading: Reading) -> None:
    if message.sites:
        sites = [site for recipe in reading.recipes for site in recipe.sites]
        said = f"{','.join(message.sites)} read as {','.join(sites) or 'none'}: {message.text[:60]!r}"
        tally.check("site", message, bool(set(sites) & set(message.sites)), said)
        tally.check("main site", message, sites[:1] == list(message.sites[:1]), said)
    if message.contact:
        contacts = {recipe.contact for recipe in reading.recipes}
        said = f"{message.contact} read as {[str(c) for c in contacts]}: {message.text[:60]!r}"
        tally.check("contact", message, message.contact in contacts, said)
    wanted = max((gold.recipe for gold in message.golds), default=1)
    tally.check("recipes", message, len(reading.recipes) == wanted, f"{wanted} read as {len(reading.recipes)}")


def _spans(gold: Gold, line: Line | None) -> str:
    return f"{gold.name!r} read as {line.name if line else None!r}"


def _amount(line: Line | None) -> str:
    if line is None:
        return "not found"
    return f"read {line.amount.written} {line.amount.unit}" if line.amount else "read none"
