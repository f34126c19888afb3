"""Amounts that several names share: "equal parts A, B and C", "1 tbsp each of A and B", "A, B and C 2:1:1"."""

from __future__ import annotations

from nlp.draft import Draft, Entry

_LIST = frozenset({",", "or", "/", "and", "&", "+", "with", "then", "-", ":", "plus"})


def share_amounts(draft: Draft) -> None:
    for index, entry in enumerate(draft.entries):
        measure = entry.measure
        if measure is None or not (measure.shared or measure.ratio) or entry.head is not None:
            continue
        behind = measure.start >= entry.end
        mates = _mates(draft, index, -1 if behind else 1)
        if entry.mention.generic and not mates and not measure.ratio:
            _of_each_kind(draft, index)
            continue
        if entry.mention.generic and not mates and measure.ratio:
            entry.dropped = True  # "50/50 of the oils": the oils are named elsewhere
            continue
        order = [*reversed(mates), entry] if behind else [entry, *mates]
        for place, mate in enumerate(order):
            mate.measure = measure.share(place)


def _mates(draft: Draft, index: int, step: int) -> list[Entry]:
    """Neighbours in the same list without an amount of their own."""
    mates: list[Entry] = []
    at, last = index + step, draft.entries[index]
    while 0 <= at < len(draft.entries):
        entry = draft.entries[at]
        first, second = (last, entry) if step > 0 else (entry, last)
        between = draft.words.norm[first.end : second.start]
        joined = len(between) < 8 and all(word in _LIST or word in draft.lexicon.words["grade"] for word in between)
        if entry.measure is not None or entry.dropped or not joined:
            break
        mates.append(entry)
        at, last = at + step, entry
    return mates


def _of_each_kind(draft: Draft, index: int) -> None:
    """ "1-2 tbsp of each oil": the class word points back at all of its kind that have no amount."""
    entry = draft.entries[index]
    last = draft.words.norm[entry.end - 1]
    earlier = [
        other
        for other in draft.entries[max(0, index - 20) : index]
        if other.measure is None and not other.dropped and draft.words.norm[other.end - 1] == last
    ]
    for other in earlier:
        other.measure = entry.measure
    entry.dropped = bool(earlier)
