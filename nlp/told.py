"""What a message tells of harm: each finding with what takes it back. Nothing is decided here."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate

from nlp.hurt import load_hurt
from nlp.phrases import Hit

# How far a word takes back what follows it: so many tokens, None to the end of the clause.
_REACH: dict[str, int | None] = {"deny": 4, "purpose": 5, "thing": 4, "suppose": None, "advice": None}
_CLAUSE = frozenset({"habit", "mild", "food"})  # these also reach back to the beginning of the clause
_IDIOM = 3  # tokens behind an idiom, which holds the word itself
_ONLY = {"food": "event.ingest", "thing": "sign."}  # what is eaten takes back eating, and no pain
SPOKEN = frozenset({"calm.idle", "calm.laugh"})  # take nothing back: people in pain write "lol"
_TAKEN = ("sign.", "event.", "into.", "body.")
_NAMED = ("body.", "who.infant")  # a hand cream is no hand, and baby shampoo no baby
_BREAKS = frozenset({"but", "now", "because", "since", "-", ":", "though", "still"})


@dataclass(frozen=True, slots=True)
class Told:
    """Tokens start..end are a word of `label` (group and name); `taken`: kinds of words that take it back."""

    label: str
    start: int
    end: int
    sentence: int
    taken: frozenset[str] = frozenset()


def told(norm: Sequence[str], sentence: Sequence[int], language: str, things: Collection[int] = ()) -> list[Told]:
    """Everything that the table finds, in the order of the text; time linear in its length.

    norm: mended words. things: tokens of names of products, where a hand is none.
    """
    table = load_hurt(language)
    kept = [at for at, word in enumerate(norm) if word not in table.small]
    full = table.full.find_longest(norm)
    hits = [(hit.value, hit.start, hit.end) for hit in full]
    lean = _longest_of_group(table.lean.find([norm[at] for at in kept]))
    hits += [(hit.value, kept[hit.start], kept[hit.end - 1] + 1) for hit in lean]
    taken = _taken(norm, sentence, full)
    return [
        Told(label, start, end, sentence[start], _of(label, taken.get(start, frozenset())))
        for label, start, end in sorted(hits, key=lambda hit: hit[1:])
        if not (start in things and label.startswith(_NAMED))
    ]


def _of(label: str, kinds: frozenset[str]) -> frozenset[str]:
    if not kinds or not label.startswith(_TAKEN):
        return frozenset()
    return frozenset(kind for kind in kinds if label.startswith(_ONLY.get(kind, "")))


def _longest_of_group(hits: Iterable[Hit[str]]) -> Iterator[Hit[str]]:
    """Within one group a phrase inside a longer one does not count."""
    reach: dict[str, int] = {}
    for hit in hits:
        group = hit.value.partition(".")[0]
        if hit.end > reach.get(group, 0):
            reach[group] = hit.end
            yield hit


def _taken(norm: Sequence[str], sentence: Sequence[int], hits: Iterable[Hit[str]]) -> dict[int, frozenset[str]]:
    """The kinds of words that take a token back, for tokens that any reaches."""
    calm = [hit for hit in hits if hit.value.startswith("calm.") and hit.value not in SPOKEN]
    if not calm:
        return {}
    bounds = _bounds(norm, sentence)
    steps: dict[str, list[int]] = {}  # +1 where a reach begins, -1 behind its end
    for hit in calm:
        kind = hit.value.removeprefix("calm.")
        low, high = _reach(kind, hit, *bounds[hit.end - 1])
        step = steps.setdefault(kind, [0] * (len(norm) + 1))
        step[low] += 1
        step[max(low, high)] -= 1
    over = {kind: list(accumulate(step)) for kind, step in steps.items()}
    found = {at: frozenset(kind for kind, depth in over.items() if depth[at]) for at in range(len(norm))}
    return {at: kinds for at, kinds in found.items() if kinds}


def _reach(kind: str, hit: Hit[str], sentence: tuple[int, int], clause: tuple[int, int]) -> tuple[int, int]:
    """First token that is taken back, and the first that is not."""
    if kind == "past":
        return sentence
    if kind == "joke":
        return hit.start, min(clause[1], hit.end + _IDIOM)
    if kind in _CLAUSE:
        return clause
    reach = _REACH[kind]
    return hit.end, clause[1] if reach is None else min(clause[1], hit.end + reach)


def _bounds(norm: Sequence[str], sentence: Sequence[int]) -> list[tuple[tuple[int, int], tuple[int, int]]]:
    """For each token the bounds of its sentence and of its clause."""
    edges: list[list[int]] = [[0], [0]]  # where sentences begin, where clauses do
    for at in range(1, len(norm)):
        if sentence[at] != sentence[at - 1]:
            edges[0].append(at)
        if sentence[at] != sentence[at - 1] or norm[at] in _BREAKS:
            edges[1].append(at)
    spans = []
    for starts in edges:
        ends = [*starts[1:], len(norm)]
        spans.append([(low, high) for low, high in zip(starts, ends, strict=True) for _ in range(low, high)])
    return list(zip(*spans, strict=True))
