"""Which mentions become lines: named with an amount, listed, or put in by a verb; each ingredient once."""

from __future__ import annotations

from bisect import bisect_left

from nlp.draft import Draft, Entry
from nlp.mention import Found
from nlp.tokens import Words
from rules.catalogue import Phase
from rules.recipe import Unit

_BEFORE = frozenset(
    {"•", "-", "*", ",", "+", ";", ":", "(", ")", "&", "and", "/", "_", "#", "|", "or", '"', ">", "plus", "with", "."}
)
_AFTER = frozenset(
    {",", "(", ")", "•", "+", "&", "and", "or", "-", "*", ";", ":", "/", ".", "|", '"', "plus", "[", "!", "=", ">"}
)
_POINTS_BACK = frozenset({"the", "each", "that", "your", "this"})
_BULLETS = frozenset({"•", "-", "*", "optional", "(", ")", "_", "+", "#", "?"})
_ENDS = frozenset({".", "!", "?", ";"})
_WITHOUT_FIGURE = frozenset({"desired", "amount", "of", "any", "an", "some", "quantity", "touch"})
_ONE = frozenset({"a", "an", "one", "1", "half", "the"})
_SENTENCE = 25  # words looked at
_FRAGMENT = 12  # words
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
        for one in (_lost_head(entry, wanted), entry):
            if one is not None:
                wanted.append(one)
                by_key[draft.key(one)] = one
        last = entry
    kept = {id(entry) for entry in wanted}
    for entry in wanted:
        if entry.head is not None and id(entry.head) not in kept:
            entry.head = None
    return wanted


def _lost_head(entry: Entry, wanted: list[Entry]) -> Entry | None:
    """The first of "A or B" where only B stands in the list by itself."""
    head = entry.head
    usable = head is not None and not (head.dropped or head.negated) and head.mention.substance is not None
    return head if usable and all(head is not other for other in wanted) else None


def _stands(draft: Draft, entry: Entry) -> bool:
    if entry.measure is not None:
        return True
    if entry.head is not None:
        return True
    if entry.mention.found is Found.BARE:
        return False
    if entry.mention.found is Found.UNKNOWN:
        return _leads(draft, entry)
    return _listed(draft, entry) or _put_in(draft, entry) or draft.words.at(entry.start - 1) == "per"


def _leads(draft: Draft, entry: Entry) -> bool:
    """Nothing but bullets and grade words stands before it on its line, in its list or behind a colon."""
    words, task = draft.words, draft.lexicon.words["task"]
    loose = draft.lexicon.words["grade"] | draft.lexicon.words["form"] | draft.lexicon.words["colour"]
    at = entry.start - 1
    if words.at(at) == "of" and words.at(at - 1) in _WITHOUT_FIGURE:
        while words.at(at) in _WITHOUT_FIGURE:
            at -= 1
    while words.at(at) in loose or words.at(at) in _BULLETS or (words.at(at + 1) == "(" and words.at(at) in task):
        at -= 1
    if words.at(at) in draft.lexicon.words["container"] and words.at(at - 1) in _ONE:
        at -= 2  # "1 tube hydroquinone 4 %": a bought thing by the pack
    return words.is_break(at) or words.at(at) in (",", ";", "|", ":") or _numbered(draft, at)


def _numbered(draft: Draft, at: int) -> bool:
    return draft.words.at(at) in (".", ")") and draft.words.at(at - 1).isdigit() and draft.words.is_break(at - 2)


def _listed(draft: Draft, entry: Entry) -> bool:
    words = draft.words
    if _fragment(draft, entry):
        return True
    ends = (
        words.is_break(entry.end)
        or words.at(entry.end) in _AFTER
        or words.at(entry.end) in ("of", "optional", "to", "for", "as", "until", "enough", "if", "q", "in", "from")
    )
    if not (ends and _leads(draft, entry)):
        return False
    first = entry.start
    while not words.is_break(first - 1) and first > entry.start - 40:
        first -= 1
    return words.at(first) not in draft.lexicon.words["method"] or first == entry.start


def _fragment(draft: Draft, entry: Entry) -> bool:
    """A sentence of nothing but names: "Lemon juice and honey!"."""
    words, sentence = draft.words, draft.layout.sentence
    first, last = entry.start, entry.end
    while first > 0 and sentence[first - 1] == sentence[entry.start] and entry.start - first < _FRAGMENT:
        first -= 1
    while last < len(words) and sentence[last] == sentence[entry.start] and last - entry.end < _FRAGMENT:
        last += 1
    if words.at(last - 1) not in _ENDS or words.at(first - 1) not in _ENDS:
        return False
    inside = draft.entries[bisect_left(draft.starts, first) : bisect_left(draft.starts, last)]
    named = {at for other in inside for at in range(other.start, other.end)}
    rest = [words.norm[at] for at in range(first, last - 1) if at not in named]
    return len(inside) > 1 and all(word in ("and", ",", "&", "+") for word in rest)


def _put_in(draft: Draft, entry: Entry) -> bool:
    """ "add", "mix in", "fill up with" shortly before it in the same sentence, and not "the" known thing."""
    words = draft.words
    if words.at(entry.start - 1) in ("your", "this", "that", "until", "till", "til") or _asked(draft, entry):
        return False
    for at in range(entry.start - 1, max(-1, entry.start - 1 - _VERB_REACH), -1):
        if draft.layout.sentence[at] != draft.layout.sentence[entry.start]:
            return False
        if words.norm[at] in draft.lexicon.words["adding"] and not _only_tells(words, at):
            return True
    return False


def _asked(draft: Draft, entry: Entry) -> bool:
    """ "Can I use water instead?": the sentence asks, and puts nothing in."""
    words, sentence = draft.words, draft.layout.sentence
    first = last = entry.start
    while first > 0 and sentence[first - 1] == sentence[entry.start] and entry.start - first < _SENTENCE:
        first -= 1
    while last < len(words) - 1 and sentence[last + 1] == sentence[entry.start] and last - entry.start < _SENTENCE:
        last += 1
    asks = {words.at(first), words.at(first + 1), words.at(first + 2)} & draft.lexicon.words["asks"]
    return words.at(last) == "?" and bool(asks)


def _only_tells(words: Words, at: int) -> bool:
    """ "has been used for ages as the base of": says what a thing is for, and puts nothing in."""
    return words.norm[at] in ("used", "use", "made") and words.at(at + 1) in ("for", "as", "in", "to", "by")


def _carried(draft: Draft, last: Entry | None, entry: Entry) -> bool:
    """Joined by a comma or "and" to a name that is an ingredient."""
    if last is None or entry.start < last.end or entry.mention.found in (Found.UNKNOWN, Found.BARE):
        return False
    between = draft.words.norm[last.end : entry.start]
    return 0 < len(between) <= 4 and all(word in _BEFORE or word in draft.lexicon.words["grade"] for word in between)


def _general_repeat(draft: Draft, entry: Entry, wanted: list[Entry]) -> Entry | None:
    """ "the wax", "the oils" where beeswax and coconut oil stand in the list already."""
    norm = draft.words.norm
    if norm[entry.start - 1] == "the" and entry.measure is None and (same := _same_role(draft, entry, wanted)):
        return same
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


def _same_role(draft: Draft, entry: Entry, wanted: list[Entry]) -> Entry | None:
    """ "the essential oil", "the preservative": what the list has of that role."""
    substance = draft.names.catalogue.get(entry.mention.substance)
    if substance is None or not substance.generic:
        return None
    for other in wanted[-30:]:
        listed = draft.names.catalogue.get(other.mention.substance)
        if listed is not None and (substance.roles & listed.roles or substance.phase == listed.phase == Phase.OIL):
            return other
    return None


def _adds(draft: Draft, earlier: Entry, entry: Entry) -> bool:
    """A second line of the list, or another choice, though the catalogue has one substance for both."""
    if (
        entry.head is not None
        and draft.words.norm[entry.start : entry.end] != draft.words.norm[earlier.start : earlier.end]
    ):
        return entry.head is earlier or entry.head is earlier.head
    if entry.measure is None or earlier.measure is None:
        return False
    if _fills_line(draft, earlier) and _fills_line(draft, entry):
        return draft.layout.line[earlier.start] != draft.layout.line[entry.start]
    if _looks(draft, earlier) != _looks(draft, entry) and _looks(draft, entry):
        return True
    if not _heads_line(draft, entry):
        return False
    return draft.words.at(entry.start - 1) not in _POINTS_BACK and entry.measure.unit is not Unit.PERCENT


def _looks(draft: Draft, entry: Entry) -> list[str]:
    """The colours named right before it or as its first words: red and green dye are two."""
    colours = draft.lexicon.words["colour"]
    return [word for word in draft.words.norm[max(0, entry.start - 2) : entry.start + 1] if word in colours]


def _fills_line(draft: Draft, entry: Entry) -> bool:
    """ "Rose clay - 2 tsp." alone on its line, name first and amount last."""
    words, measure = draft.words, entry.measure
    if measure is None or measure.start < entry.end or not words.is_break(measure.end + (words.at(measure.end) == ".")):
        return False
    at = entry.start - 1
    while entry.start - at < 6 and not words.is_break(at):
        at -= 1
    return words.is_break(at)


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
        for member in (earlier, earlier.head):
            if member is not None and (member.measure is None or member is earlier):
                member.measure = entry.measure
