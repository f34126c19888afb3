"""What a bracket says of the name before it: another choice, an example, a synonym, or the parts of a blend."""

from __future__ import annotations

from dataclasses import replace

from nlp.choices import complete, exemplify, is_class_word
from nlp.draft import Draft, Entry

_OPENS_CHOICE = frozenset({"or", "/", "alternatively", "sub"})
_TOTAL = frozenset({"total", "altogether"})
_OPENS_MORE = frozenset({"plus", "and", "with", "+", "add"})


def link_brackets(draft: Draft) -> None:
    examples = {cue.end for cue in draft.cues_with("line.example")}
    swapped = {draft.layout.bracket[cue.start] for cue in draft.cues_with("line.swap")} - {0}
    for number, (start, end) in enumerate(draft.layout.brackets, 1):
        inside = [entry for entry in draft.in_bracket.get(number, ()) if not entry.dropped]
        head = _head_before(draft, start) if inside else None
        if head is None:
            continue
        opening = draft.words.at(start + 1)
        exampled = any(at in examples for at in range(start + 1, min(end, inside[0].start + 1)))
        if opening in _OPENS_CHOICE:
            _choices(draft, head, inside, examples)
        elif number in swapped:
            _choices(draft, head, [e for e in inside if draft.key(e) != draft.key(head)], examples)
            _drop([e for e in inside if draft.key(e) == draft.key(head)])
        elif any(entry.measure is not None for entry in inside) and not exampled:
            _parts(draft, head, inside, opening)
        elif is_class_word(draft, head) or head.mention.generic:
            exemplify(draft, head, inside)
        elif not exampled or draft.key(inside[0]) == draft.key(head):
            _drop(inside)
        else:
            _choices(draft, head, inside, examples)


def total_in_bracket(draft: Draft) -> None:
    """ "essential oils (lavender, orange) (about 30 drops total)": the amount of a class word that has no other."""
    for measure in draft.told:
        bounds = draft.layout.inside(measure.start)
        if bounds is None or not measure.size or draft.words.at(measure.end - 1) not in _TOTAL:
            continue
        last = draft.last_before(bounds[0])
        around = None if last is None else draft.layout.inside(last.start)
        end = bounds[0] if last is None else last.end if around is None else around[1]
        head = None if last is None or bounds[0] - end > 1 else last.head or last
        if head is not None and head.measure is None and head.mention.generic:
            head.measure = replace(measure, size=False)


def _head_before(draft: Draft, at: int) -> Entry | None:
    """The last name before the bracket, on its line and next to it."""
    entry = draft.last_before(at)
    return entry if entry is not None and at - entry.end <= 3 else None


def _choices(draft: Draft, head: Entry, inside: list[Entry], examples: set[int]) -> None:
    """ "(or B, or C)" share the amount; "(or any liquid oil, like C)" names examples, which have none."""
    exampled = False
    for entry in inside:
        exampled = exampled or any(at in examples for at in range(entry.start - 2, entry.start + 1))
        if is_class_word(draft, entry) and len(inside) > 1:
            entry.dropped = True
            continue
        entry.head, entry.example = head.head or head, exampled
        complete(draft, head, entry)
        if entry.measure is None and not exampled:
            entry.measure = head.measure


def _parts(draft: Draft, head: Entry, inside: list[Entry], opening: str) -> None:
    """Amounts in the bracket: the blend taken apart, or only how the thing before it was made."""
    if is_class_word(draft, head):
        head.dropped = True
    elif not head.mention.generic and opening not in _OPENS_MORE:
        water = next((entry for entry in inside if entry.mention.substance == "water"), None)
        if head.measure is None and water is not None:
            head.measure = water.measure  # "green tea (a bag in 1 cup of hot water)": so much tea it makes
        _drop(inside)


def _drop(entries: list[Entry]) -> None:
    for entry in entries:
        entry.dropped = True
