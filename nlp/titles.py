"""Names that head a message or a part of it ("Lip balm", "Oils:") and are not put into anything."""

from __future__ import annotations

from collections.abc import Set

from nlp.draft import Draft, Entry
from nlp.tokens import Words

_OWN = frozenset(
    {
        "my",
        "this",
        "that",
        "a",
        "an",
        "the",
        "homemade",
        "diy",
        "our",
        "your",
        "for",
        "into",
        "as",
        "natural",
        "new",
        "best",
        "easy",
        "simple",
        "like",
        "favorite",
        "made",
        "making",
        "make",
        "it's",
        "is",
        "called",
    }
)
_LONGEST_AMOUNT = 14  # tokens, a second notation in brackets included
_PLACING = frozenset({"in", "into", "for"})
_SUNK = frozenset({"soak", "dip", "dissolve", "crush", "mix", "stir"})
_SUNK_REACH = 6  # words from "soak" or "crush" to what it goes into
_VESSELS = frozenset({"pot", "tube", "tin", "jar", "batch", "bottle"})
_BEHIND = 9  # words from a product name to an amount that belongs to it
_AMONG = 4  # words back from a product name in which an amount makes an ingredient of it


def product_is_named(
    words: Words,
    start: int,
    end: int,
    begins: Set[int],
    ends: Set[int],
    adding: frozenset[str],
) -> bool:
    """Whether the name of a product says what is made, and not what is put in."""
    if words.at(start) in _PLACING:
        return True  # "a drop of oil in each eye": no such name can be an ingredient
    if _goes_on(words, start, end, ends):
        return False
    if words.is_break(start - 1) and words.is_break(end):
        below = _next(ends, end)
        return end + 1 not in begins or not words.is_break(below)  # a line of its own, with no amount alone below
    if _has_amount_behind(words, end, begins, ends):
        return False
    for at in range(start, max(-1, start - _AMONG), -1):
        if at in ends:
            return False
        if (words.at(at - 1) == "-" and at - 1 in ends) or (words.at(at - 1) == "," and at - 2 in ends):
            return False  # "1 tsp - lotion", "1 tsp gentle, unscented lotion"
        if words.is_break(at - 1) or words.at(at - 1) in (",", ".", ";", "+", "&", "-"):
            break
    before, after = words.at(start - 1), words.at(end)
    if words.is_break(start - 1) or before in _OWN or after in (":", "recipe") or before in ("•", "#", "*", "-", "@"):
        first_line = not any(words.is_break(at) for at in range(start)) if start < 12 else False
        return first_line or after in (":", "recipe") or before in _OWN or before == "#" or not words.is_break(end)
    if before == "of" and words.at(start - 2) in _VESSELS and _heads_for(words, start):
        return True  # "For a small pot of lip gloss melt ..."
    return before not in adding and before not in (",", "and", "&", "+", "with", "of", "or", "some", "your", "/")


def _goes_on(words: Words, start: int, end: int, ends: Set[int]) -> bool:
    """ "toothpaste on spots overnight", "soak the feet in mouthwash": a bought thing that is put to another use."""
    if not ends and start == 0 and words.at(end) == "on":
        return True
    at = start - 1
    while words.at(at) in ("a", "an", "clear", "plain", "cheap", "old", "white", "blue"):
        at -= 1
    if words.at(at) == "crush":
        return True
    return words.at(at) in ("in", "into") and any(words.at(back) in _SUNK for back in range(at - _SUNK_REACH, at))


def _next(ends: Set[int], at: int) -> int:
    """Where the amount that begins at or behind `at` ends; `at` itself where none ends soon."""
    return next((stop for stop in range(at + 1, at + _LONGEST_AMOUNT) if stop in ends), at)


def _heads_for(words: Words, start: int) -> bool:
    at = start - 3
    while start - at < 8 and words.is_word(at):
        if words.at(at) in ("for", "make"):
            return True
        at -= 1
    return False


def _has_amount_behind(words: Words, end: int, begins: Set[int], ends: Set[int]) -> bool:
    """ "Conditioner of your choice - 1 tbsp": the line closes with an amount behind a dash or in a bracket."""
    for at in range(end, end + _BEHIND):
        if words.is_break(at) or at in begins:
            signed = words.at(at - 1) in ("-", ":", "(", "=") and at in begins
            close = _next(ends, at)
            return signed and (words.is_break(close) or words.at(close) in (".", "(", ")", ","))
    return False


def drop_titles(draft: Draft) -> None:
    """Products that are made, and headings with a colon whose line, or the next, names the ingredients themselves."""
    entries = draft.entries
    made = {hit.start for hit in draft.named}
    for entry in entries:
        entry.dropped = entry.dropped or (entry.start in made and entry.measure is None)
    _drop_from_title(draft)
    _drop_bare_title(draft)
    for entry, following in zip(entries, [*entries[1:], None], strict=False):
        sign = _sign_behind(draft, entry)
        if entry.measure is not None or sign is None:
            continue
        heads_line = draft.words.at(entry.end) == ":" and draft.words.is_break(entry.end + 1)
        listed = (
            following is not None
            and following.measure is not None
            and sign < following.measure.start < following.start
            and (draft.words.at(sign) == ":" or following.measure.start == sign + 1)
            and draft.layout.line[entry.start] == draft.layout.line[following.start]
        )
        if listed or (heads_line and _is_general(entry)):
            entry.dropped = True


def _sign_behind(draft: Draft, entry: Entry) -> int | None:
    """The colon or dash that makes a label of a name: "Rose -", "Henna for beards:"."""
    words = draft.words
    if words.at(entry.end) in (":", "-", "="):
        return entry.end
    at = entry.end
    while at - entry.end < 3 and words.is_word(at):
        at += 1
    heads = words.is_break(entry.start - 1) or words.at(entry.start - 1) in ("•", "-", "*")
    return at if heads and words.at(at) == ":" else None


def _drop_from_title(draft: Draft) -> None:
    """ "Honey & oat body wash" over a list of amounts: the flavour of a title is no first mention."""
    for hit in draft.named:
        line = draft.layout.line[hit.start]
        mates = draft.on_line.get(line, [])
        end = hit.end + (draft.words.at(hit.end) in (":", "!", "recipe"))
        if not mates or any(entry.measure is not None for entry in mates) or not draft.words.is_break(end):
            continue
        listed = sum(1 for e in draft.entries if e.measure is not None and draft.layout.line[e.start] > line)
        if listed >= 2:
            for entry in mates:
                entry.dropped = True


def _drop_bare_title(draft: Draft) -> None:
    """ "Fragrance for him" over a list of amounts: the first line, with a generic word and no amount."""
    first = draft.on_line.get(0, [])
    if not first or not _is_general(first[0]) or any(entry.measure is not None for entry in first):
        return
    end = first[0].end
    while not draft.words.is_break(end):
        end += 1
    more = end - first[0].end
    listed = sum(1 for entry in draft.entries if entry.measure is not None and draft.layout.line[entry.start] > 0)
    if listed >= 3 and 0 < more < 6 and draft.words.is_break(first[0].start - 1) and len(first) == 1:
        first[0].dropped = True


def _is_general(entry: Entry) -> bool:
    return entry.mention.generic or entry.mention.substance is None
