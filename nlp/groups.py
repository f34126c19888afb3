"""Which names stand for each other: "A or B", "A (or B)", "such as A, B"; and amounts that several names share."""

from __future__ import annotations

from nlp.draft import Draft, Entry
from nlp.mention import Found

_OR = frozenset({"or", "/", "*", "and/or"})
_LIST = frozenset({",", "or", "/", "and", "&"})
_NEAR = 7  # words between two alternatives, grade words and the second amount included


def link_alternatives(draft: Draft) -> None:
    """Chains of names with "or" between them, outside brackets; the first is the head."""
    entries = [e for e in draft.entries if not e.dropped]
    for first, second in zip(entries, entries[1:], strict=False):
        if draft.layout.line[first.start] != draft.layout.line[second.start] and "*" not in draft.between(first, second):
            continue
        if draft.layout.bracket[first.start] != draft.layout.bracket[second.start]:
            continue
        between = draft.between(first, second)
        if len(between) <= _NEAR and _says_or(draft, between):
            _join(draft, first, second)
        elif set(between) == {","} and _list_ends_in_or(draft, entries, second) and second.measure is None:
            _join(draft, first, second)


def _says_or(draft: Draft, between: list[str]) -> bool:
    grade = draft.lexicon.words["grade"]
    return any(word in _OR for word in between) and all(word in grade or word in _OR or word in (",", ":", ")", "(", "\n", "\n\n", "of", "choice")
                                                        for word in between)  # fmt: skip


def _list_ends_in_or(draft: Draft, entries: list[Entry], entry: Entry) -> bool:
    """Whether the comma list that `entry` stands in comes to "or" before it ends."""
    at = entries.index(entry)
    for first, second in zip(entries[at:], entries[at + 1 : at + 8], strict=False):
        between = draft.between(first, second)
        if second.measure is not None or not between or not all(word in _LIST or word in draft.lexicon.words["grade"] for word in between):
            return False
        if "or" in between:
            return True
        if "and" in between:
            return False
    return False


def _join(draft: Draft, first: Entry, second: Entry) -> None:
    head = first.head or first
    second.head = head
    if second.mention.found is Found.BARE or first.mention.found is Found.BARE:
        _complete(draft, first, second)
    if second.measure is None and not head.example:
        second.measure = head.measure
    if head.measure is None and second.measure is not None and second.measure.start < second.start:
        return
    if head.measure is None and second.measure is not None:
        head.measure = second.measure


def _complete(draft: Draft, first: Entry, second: Entry) -> None:
    """ "almond or jojoba oil": the head word of the one completes the other."""
    from dataclasses import replace

    for bare, full in ((first, second), (second, first)):
        if bare.mention.found is not Found.BARE:
            continue
        norm = draft.words.norm
        heads = _heads(draft, full)
        found = draft.names.completed(norm[bare.start : bare.end], heads)
        if found:
            bare.mention = replace(bare.mention, substance=found.id, found=Found.NAME)


def _heads(draft: Draft, entry: Entry) -> list[str]:
    words = draft.words.norm[entry.start : entry.end]
    if words[-2:] == ["essential", "oil"]:
        return ["essential oil", "oil"]
    if words[-1] == "butter":
        return ["butter", "oil"]
    return ["oil", "essential oil"]


def link_brackets(draft: Draft) -> None:
    """What a bracket says of the name before it: another choice, an example, a synonym, or parts of a blend."""
    from dataclasses import replace

    example_ends = {cue.end for cue in draft.cues_with("line.example")}
    for number, (start, end) in enumerate(draft.layout.brackets, 1):
        inside = [e for e in draft.entries if draft.layout.bracket[e.start] == number]
        if not inside:
            continue
        head = _head_before(draft, start)
        if head is None:
            continue
        opening = draft.words.norm[start + 1 : min(end, start + 4)]
        example = any(at in example_ends for at in range(start + 1, inside[0].start + 1))
        if "or" in opening[:1] or (opening[:1] and opening[0] in ("alternatively", "sub", "/")):
            _choices(draft, head, inside, example)
        elif any(e.measure for e in inside):
            if not head.mention.generic and not opening[:1] == ["plus"]:
                for entry in inside:
                    entry.dropped = True
        elif _is_category(draft, head) and not head.mention.generic and not example:
            _replace_category(draft, head, inside)
        elif head.mention.generic or _is_category(draft, head):
            if not head.mention.generic:
                _replace_category(draft, head, inside)
                continue
            for entry in inside:
                entry.head, entry.example = head.head or head, True
                entry.measure = None
                found = draft.names.completed(draft.words.norm[entry.start : entry.end], _heads(draft, head))
                if found:
                    entry.mention = replace(entry.mention, substance=found.id, found=Found.NAME)
        else:
            for entry in inside:
                entry.dropped = True


def _choices(draft: Draft, head: Entry, inside: list[Entry], example: bool) -> None:
    example_cues = {cue.end for cue in draft.cues_with("line.example")}
    generic_seen = False
    for entry in inside:
        if entry.mention.generic and example:
            entry.dropped = generic_seen = True
            continue
        entry.head = head.head or head
        after_example = any(at in example_cues for at in range(entry.start - 2, entry.start + 1))
        entry.example = generic_seen or after_example
        if entry.measure is None and not entry.example:
            entry.measure = head.measure
        _complete(draft, head, entry)


def _is_category(draft: Draft, entry: Entry) -> bool:
    norm = draft.words.norm[entry.start : entry.end]
    return all(word in draft.lexicon.words["category"] or word in ("/", "and") for word in norm)


def _replace_category(draft: Draft, head: Entry, inside: list[Entry]) -> None:
    from dataclasses import replace

    head.dropped = True
    for index, entry in enumerate(inside):
        entry.measure = head.measure if len(inside) == 1 else None
        found = draft.names.completed(draft.words.norm[entry.start : entry.end], _heads(draft, head))
        if found:
            entry.mention = replace(entry.mention, substance=found.id, found=Found.NAME)
        if index and len(inside) > 1:
            continue


def _head_before(draft: Draft, at: int) -> Entry | None:
    before = [e for e in draft.entries if e.end <= at and draft.layout.line[e.start] == draft.layout.line[at] and not e.dropped]
    if not before or at - before[-1].end > 3:
        return None
    return before[-1]


def share_amounts(draft: Draft) -> None:
    """ "equal parts A, B and C", "1 tbsp each of A and B", "A, B and C 2:1:1"."""
    for index, entry in enumerate(draft.entries):
        measure = entry.measure
        if measure is None or not (measure.shared or measure.ratio) or entry.head is not None:
            continue
        behind = measure.start >= entry.end
        mates = _mates(draft, index, -1 if behind else 1)
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
        joined = all(word in _LIST or word in ("+", "with", "then") or word in draft.lexicon.words["grade"]
                     for word in draft.words.norm[first.end : second.start])  # fmt: skip
        if entry.measure is not None or not joined:
            break
        mates.append(entry)
        at, last = at + step, entry
    return mates
