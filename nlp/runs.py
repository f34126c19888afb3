"""A list of names and, apart from it, the list of their amounts: paired in order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from nlp.lexicon import Lexicon
from nlp.measure import Measure
from nlp.mention import Mention
from nlp.tokens import Words

_BETWEEN_NAMES = frozenset({",", "and", "&", "+", "\n", "\n\n", "•", "-", "*", ";", "/"})
_BETWEEN_LISTS = _BETWEEN_NAMES | frozenset({":", "=", "(", "respectively", "of", "|"})
_FEWEST = 2

Item = Measure | Mention


def paired_runs(words: Words, lexicon: Lexicon, items: Sequence[Item]) -> dict[int, Measure]:
    """ "beeswax, shea, olive oil: 20 g, 30 g, 50 g": the amount by the first token of each name.

    Both lists must be of the same length, of at least two, and nothing may stand between but commas, breaks and grades.
    """
    if alternating := _names_first(words, items):
        return alternating
    grade = lexicon.words["grade"] | lexicon.words["colour"]
    runs = list(_runs(words, items, grade))
    pairs: dict[int, Measure] = {}
    for place, (names, amounts) in enumerate(pairwise(runs)):
        if not isinstance(names[0], Mention) or len(names) != len(amounts) or len(names) < _FEWEST:
            continue
        before = runs[place - 1][-1] if place else None
        if before is not None and _joined(words, before.end, names[0].start, grade):
            continue  # "2 tbsp honey, oats 1 cup": the first amount has its own name
        if _joined(words, names[-1].end, amounts[0].start, grade) and _closes(words, amounts[-1].end):
            pairs.update(
                (name.start, amount)
                for name, amount in zip(names, amounts, strict=True)
                if isinstance(name, Mention) and isinstance(amount, Measure)
            )
    return pairs


def _names_first(words: Words, items: Sequence[Item]) -> dict[int, Measure]:
    """ "Water 70 Aloe 20 Glycerin 5 Wax 5": a list without a sign between, each name right before its amount."""
    names, amounts = items[::2], items[1::2]
    if len(amounts) < _FEWEST + 1 or len(names) != len(amounts) or not words.is_break(items[-1].end):
        return {}
    touching = all(one.end == other.start for one, other in pairwise(items))
    opens = words.is_break(items[0].start - 1) or words.at(items[0].start - 1) == ":"
    pairs = {
        name.start: amount
        for name, amount in zip(names, amounts, strict=True)
        if isinstance(name, Mention) and isinstance(amount, Measure)
    }
    return pairs if touching and opens and len(pairs) == len(names) else {}


def _runs(words: Words, items: Sequence[Item], grade: frozenset[str]) -> Iterator[list[Item]]:
    """Neighbours of one sort with nothing else between."""
    run: list[Item] = []
    for item in items:
        if run and (type(item) is not type(run[-1]) or not _parted(words, run[-1].end, item.start, grade)):
            yield run
            run = []
        run.append(item)
    if run:
        yield run


def _parted(words: Words, start: int, end: int, grade: frozenset[str]) -> bool:
    between = words.norm[start:end]
    return any(word in _BETWEEN_NAMES for word in between) and all(w in _BETWEEN_NAMES or w in grade for w in between)


def _joined(words: Words, start: int, end: int, grade: frozenset[str]) -> bool:
    return end - start <= 6 and all(word in _BETWEEN_LISTS or word in grade for word in words.norm[start:end])


def _closes(words: Words, at: int) -> bool:
    return words.is_break(at) or words.at(at) in (".", ")", ";", "!", "respectively", ",")
