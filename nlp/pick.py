"""Which mentions become lines: named with an amount, listed, or put in by a verb; each ingredient once."""

from __future__ import annotations

from nlp.draft import Draft, Entry
from nlp.mention import Found
from rules.recipe import Unit

_BEFORE = frozenset(
    {"•", "-", "*", ",", "+", ";", ":", "(", ")", "&", "and", "/", "_", "#", "|", "or", '"', ">", "plus", "with", "."}
)
_AFTER = frozenset(
    {",", "(", ")", "•", "+", "&", "and", "or", "-", "*", ";", ":", "/", ".", "|", '"', "plus", "[", "!", "=", ">"}
)
_POINTS_BACK = frozenset({"the", "each", "that", "your", "this"})
_BULLETS = frozenset({"•", "-", "*", "optional", "(", ")", "_", "+", "#"})
_VERB_REACH = 7  # words between "add" and the name


def pick(draft: Draft, entries: list[Entry]) -> list[Entry]:
    """The entries that are ingredients, first mention first."""
    wanted: list[Entry] = []
    by_key: dict[str, Entry] = {}
    last: Entry | None = None
    for entry in entries:
        if entry.dropped or entry.negated:
            last = None if entry.negated else last
            continue
        earlier = by_key.get(draft.key(entry)) or _general_repeat(draft, entry, wanted)
        if earlier is not None and not _adds(draft, earlier, entry):
            _fill(earlier, entry)
            last = earlier
            continue
        if not (_stands(draft, entry) or _carried(draft, last, entry)):
            continue
        wanted.append(entry)
        by_key[draft.key(entry)] = entry
        last = entry
    kept = {id(entry) for entry in wanted}
    for entry in wanted:
        if entry.head is not None and id(entry.head) not in kept:
            entry.head = None
    return wanted


def _stands(draft: Draft, entry: Entry) -> bool:
    if entry.measure is not None:
        return True
    if entry.head is not None:
        return True
    if entry.mention.found is Found.BARE:
        return False
    if entry.mention.found is Found.UNKNOWN:
        return _leads(draft, entry)
    return _listed(draft, entry) or _put_in(draft, entry)


def _leads(draft: Draft, entry: Entry) -> bool:
    """Nothing but bullets and grade words stands before it on its line, in its list or behind a colon."""
    at = entry.start - 1
    while draft.words.at(at) in draft.lexicon.words["grade"] or draft.words.at(at) in _BULLETS:
        at -= 1
    return draft.words.is_break(at) or draft.words.at(at) in (",", ";", "|", ":") or _numbered(draft, at)


def _numbered(draft: Draft, at: int) -> bool:
    return draft.words.at(at) in (".", ")") and draft.words.at(at - 1).isdigit() and draft.words.is_break(at - 2)


def _listed(draft: Draft, entry: Entry) -> bool:
    words = draft.words
    ends = (
        words.is_break(entry.end)
        or words.at(entry.end) in _AFTER
        or words.at(entry.end) in ("of", "optional", "to", "for", "as", "until", "enough", "if", "q", "in")
    )
    if not (ends and _leads(draft, entry)):
        return False
    first = entry.start
    while not words.is_break(first - 1) and first > entry.start - 40:
        first -= 1
    return words.at(first) not in draft.lexicon.words["method"] or first == entry.start


def _put_in(draft: Draft, entry: Entry) -> bool:
    """ "add", "mix in", "fill up with" shortly before it in the same sentence, and not "the" known thing."""
    words = draft.words
    if words.at(entry.start - 1) in ("the", "your", "this", "that"):
        return False
    for at in range(entry.start - 1, max(-1, entry.start - 1 - _VERB_REACH), -1):
        if draft.layout.sentence[at] != draft.layout.sentence[entry.start]:
            return False
        if words.norm[at] in draft.lexicon.words["adding"]:
            return True
    return False


def _carried(draft: Draft, last: Entry | None, entry: Entry) -> bool:
    """Joined by a comma or "and" to a name that is an ingredient."""
    if last is None or entry.start < last.end or entry.mention.found in (Found.UNKNOWN, Found.BARE):
        return False
    between = draft.words.norm[last.end : entry.start]
    return 0 < len(between) <= 4 and all(word in _BEFORE or word in draft.lexicon.words["grade"] for word in between)


def _general_repeat(draft: Draft, entry: Entry, wanted: list[Entry]) -> Entry | None:
    """ "the wax", "the oils" where beeswax and coconut oil stand in the list already."""
    norm = draft.words.norm
    said = norm[entry.start : entry.end]
    back = norm[entry.start - 1] in _POINTS_BACK
    loose = len(said) == 1 and (entry.mention.generic or entry.mention.found is Found.BARE)
    for other in wanted[-30:]:
        words = norm[other.start : other.end]
        if (
            entry.measure is not None
            and other.measure is not None
            and not back
            and not (loose and not _heads_line(draft, entry))
        ):
            continue
        if (loose and words[-1].endswith(said[-1])) or (len(said) < len(words) and all(word in words for word in said)):
            return other
    return None


def _adds(draft: Draft, earlier: Entry, entry: Entry) -> bool:
    """A second line of the list, or another choice, though the catalogue has one substance for both."""
    if (
        entry.head is not None
        and draft.words.norm[entry.start : entry.end] != draft.words.norm[earlier.start : earlier.end]
    ):
        return entry.head is earlier or entry.head is earlier.head
    if entry.measure is None or earlier.measure is None or not _heads_line(draft, entry):
        return False
    return draft.words.at(entry.start - 1) not in _POINTS_BACK and entry.measure.unit is not Unit.PERCENT


def _heads_line(draft: Draft, entry: Entry) -> bool:
    """The amount begins its line, so that this is an item of the list and no step of the method."""
    if entry.measure is None or entry.measure.end > entry.start:
        return False
    at = entry.measure.start - 1
    while draft.words.at(at) in ("•", "-", "*", "~", "about"):
        at -= 1
    return draft.words.is_break(at)


def _fill(earlier: Entry, entry: Entry) -> None:
    """A repeat makes no new line, but it may tell the amount that the list did not."""
    told = earlier.measure is None or (
        earlier.measure.shared and entry.measure is not None and not entry.measure.shared
    )
    if told and entry.measure is not None and not earlier.example:
        earlier.measure = entry.measure
