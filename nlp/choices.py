"""Which names stand for each other outside brackets: "A or B", "A, B or C", "light oil such as A, B"."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from nlp.draft import Draft, Entry
from nlp.mention import Found
from rules.catalogue import Phase
from rules.recipe import Unit

_OR = frozenset({"or", "/"})
_COMMA = frozenset({",", "and", "&"})
_LOOSE = frozenset({",", ":", ")", "(", "of", "choice", "-", "*", "\n", "\n\n", "else", "maybe", "even", "use", "just"})
_SORTS = frozenset({"light", "liquid", "solid", "other", "another", "hard", "heavy"})
_PLANTS = frozenset({Phase.POWDER, Phase.SOLID, Phase.WATER})
_NEAR = 9  # words between two choices, grade words included


def link_choices(draft: Draft) -> None:
    """Chains of names with "or" between them; the first is the head. Then examples of a class word."""
    entries = [entry for entry in draft.entries if not entry.dropped]
    by_bracket: dict[int, list[Entry]] = {}
    for entry in entries:
        by_bracket.setdefault(draft.layout.bracket[entry.start], []).append(entry)
    for group in by_bracket.values():
        _link_group(draft, group)
    _link_examples(draft, entries)


def _link_group(draft: Draft, entries: list[Entry]) -> None:
    """Entries inside one bracket, or those outside of all."""
    joined = [_joined(draft, a, b) for a, b in pairwise(entries)]
    chain = False
    links = []
    for at in range(len(joined) - 1, -1, -1):
        chain = joined[at] == "or" or (chain and joined[at] == "," and entries[at + 1].measure is None)
        links.append(chain)
    for first, second, link in zip(entries, entries[1:], reversed(links), strict=False):
        if link:
            join(draft, first, second)


def _joined(draft: Draft, first: Entry, second: Entry) -> str:
    """ "or", "," or "" for whatever else stands between two entries."""
    if second.start - first.end > 14:
        return ""
    between = draft.between(first, second)
    starred = "*" in between
    if len(between) > _NEAR or (draft.layout.line[first.start] != draft.layout.line[second.start] and not starred):
        return ""
    grade = draft.lexicon.words["grade"]
    if any(word in _OR for word in between):
        return "or" if all(word in grade or word in _OR or word in _LOOSE for word in between) else ""
    return "," if between and all(word == "," or word in grade for word in between) and "," in between else ""


def join(draft: Draft, first: Entry, second: Entry) -> None:
    """Makes `second` an alternative to `first`; what one of them lacks comes from the other."""
    head = first.head or first
    second.head = head
    complete(draft, first, second)
    if second.measure is None and not head.example:
        second.measure = head.measure
    elif head.measure is None and second.measure is not None and second.measure.start > second.start:
        head.measure = second.measure


def complete(draft: Draft, first: Entry, second: Entry) -> None:
    """ "almond or jojoba oil": the head word of the one completes the other."""
    for bare, full in ((first, second), (second, first)):
        if bare.mention.found is Found.BARE or _shares_head(draft, bare, full):
            call_by(draft, bare, heads_of(draft, full))


def _shares_head(draft: Draft, first: Entry, second: Entry) -> bool:
    """ "cinnamon or peppermint essential oil": a plant right before the other's full name is an oil too."""
    substance = draft.names.catalogue.get(first.mention.substance)
    words = draft.words.norm[second.start : second.end]
    full = words[-1] == "oil" and len(words) > 1 and first.end - first.start == 1
    own = second.measure is not None and second.measure is not first.measure and second.measure.start > first.end
    joined = first.start < second.start and draft.words.norm[first.end : second.start] in (["or"], ["/"])
    return joined and full and not own and substance is not None and substance.phase in _PLANTS


def call_by(draft: Draft, entry: Entry, heads: list[str]) -> None:
    """Takes the entry for the oil (or butter) of that name, where the catalogue has one."""
    found = draft.names.completed(draft.words.norm[entry.start : entry.end], heads)
    if found:
        entry.mention = replace(entry.mention, substance=found.id, found=Found.NAME, generic=found.generic)


def heads_of(draft: Draft, entry: Entry) -> list[str]:
    words = draft.words.norm[entry.start : entry.end]
    if words[-2:] == ["essential", "oil"] or words[-1] in ("eo", "fragrance", "scent", "blend"):
        return ["essential oil", "oil"]
    if words[-1] == "butter":
        return ["butter", "oil"]
    if words[-1] == "wax":
        return ["wax"]
    return ["oil", "essential oil"]


def is_class_word(draft: Draft, entry: Entry) -> bool:
    """ "liquid oil", "humectant", "wax": names a class, and what is put in stands beside it."""
    if entry.measure is not None and entry.measure.unit is Unit.DROP and draft.words.norm[entry.end - 1] == "oil":
        return False  # oils that are counted in drops are essential oils, and go in as such
    words = draft.words.norm[entry.start : entry.end]
    if words in (["oil"], ["carrier", "oil"]) and draft.words.at(entry.start - 1) not in _SORTS:
        return False  # somebody's choice of oil: it goes in as that, and what is named behind it are examples
    return all(word in draft.lexicon.words["category"] for word in words)


def exemplify(draft: Draft, head: Entry, members: list[Entry]) -> None:
    """The members say what the head is: a class word gives way to them, a generic ingredient keeps its amount."""
    heads = heads_of(draft, head)
    for member in members:
        call_by(draft, member, heads)
    if not is_class_word(draft, head):
        for member in members:
            member.head, member.example, member.measure = head.head or head, True, None
        return
    leader, family = head.head or head, members[0]
    for other in (leader, head):
        other.dropped = True
    together = any("and" in draft.between(a, b) or "&" in draft.between(a, b) for a, b in pairwise(members))
    for member in members:
        member.head = None if member is family or together else family
        if member.measure is None and not together:
            member.measure = leader.measure


def _link_examples(draft: Draft, entries: list[Entry]) -> None:
    """ "light oil such as almond, sunflower", "4 drops binder: dimethicone or squalane", outside brackets."""
    ends = {cue.end for cue in draft.cues_with("line.example")}
    at = 0
    while at + 1 < len(entries):
        head, first = entries[at], entries[at + 1]
        at += 1
        if not (head.mention.generic or is_class_word(draft, head)) or first.start - head.end > 8:
            continue
        if first.measure is not None and first.measure.start < first.start and first.measure is not head.measure:
            continue
        same_line = draft.layout.line[head.start] == draft.layout.line[first.start]
        same_bracket = draft.layout.bracket[head.start] == draft.layout.bracket[first.start]
        named = draft.words.at(head.end) == ":" or any(place in ends for place in range(head.end + 1, first.start + 1))
        if same_line and same_bracket and named and (head.measure is not None or head.mention.generic):
            members = _run(draft, entries, at)
            exemplify(draft, head, members)
            at += len(members)


def _run(draft: Draft, entries: list[Entry], at: int) -> list[Entry]:
    """The entry with this index and those joined to it by commas and conjunctions, without amounts of their own."""
    run = [entries[at]]
    for first, second in zip(entries[at:], entries[at + 1 :], strict=False):
        between = draft.between(first, second)
        own = second.measure is not None and second.head is None
        if own or not between or not all(w in _OR or w in _COMMA or w in draft.lexicon.words["grade"] for w in between):
            break
        run.append(second)
    return run
