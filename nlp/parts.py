"""Where a message begins a second recipe."""

from __future__ import annotations

from bisect import bisect_right

from nlp.draft import Draft, Entry
from nlp.phrases import Hit

_HEAD = 5  # words in which a heading names its product
_AFTER = frozenset({":", "-", "=", "•", "(", "!", "recipe"})
_COUNTED = frozenset({"two", "2", "three", "3", "second", "another", "four", "4"})
_STOPS = frozenset({".", ";", "!", ")"})
_JOINS = frozenset({"and", "then"})
_MARKS = frozenset({":", "=", "(", "with"})
_OTHERS = ("other", "other one", "other recipe", "second one", "second recipe", "recipe two", "recipe 2", "number two")
_OTHER = frozenset(tuple(phrase.split()) for phrase in _OTHERS)


def split_entries(draft: Draft, named: list[Hit[str]], met: list[Hit[str]]) -> list[list[Entry]]:
    """The entries by recipe; one list where nothing says that a second recipe begins. met: products, made or not."""
    starts = [0, *sorted({*_headings(draft, named), *_inline(draft, met)})]
    parts: list[list[Entry]] = [[] for _ in starts]
    for entry in draft.entries:
        parts[bisect_right(starts, entry.start) - 1].append(entry)
    return _joined(parts)


def _headings(draft: Draft, named: list[Hit[str]]) -> list[int]:
    """First tokens of lines that read "Scrub:", "LEAVE IN SPRAY", "Recipe two, mask"."""
    words = draft.words
    found = set()
    for hit in named:
        first = hit.start
        while not words.is_break(first - 1) and hit.start - first < _HEAD:
            first -= 1
        if not words.is_break(first - 1):
            continue
        counted = "recipe" in words.norm[first : hit.start] and any(
            w in _COUNTED for w in words.norm[first : hit.start]
        )
        if counted or words.is_break(hit.end) or words.at(hit.end) in _AFTER or words.at(hit.end + 1) in (":", "-"):
            found.add(first)
    return sorted(found)


def _inline(draft: Draft, met: list[Hit[str]]) -> list[int]:
    """First tokens of headings within a line: ". Mask: 2 tbsp", "and lip gloss (", "; the other one: ".

    A product counts only beside another that heads the first list in the same way: a lotion in a list is no heading.
    """
    first = next((entry.start for entry in draft.entries if not entry.dropped), 0)
    heads = [hit for hit in met if _heads(draft, hit)]
    found = [at for at in range(first + 1, len(draft.words)) if _is_other(draft, at)]
    if heads and heads[0].start < first:
        found += [hit.start for hit in heads if hit.start > first]
    return found


def _heads(draft: Draft, hit: Hit[str]) -> bool:
    """It begins the text, a sentence or its next part, and a mark or an amount follows."""
    words, before = draft.words, draft.words.at(hit.start - 1)
    begins = words.is_break(hit.start - 1) or before in _STOPS | _JOINS or before in (":", ",", ">")
    after = words.at(hit.end)
    shouted = after[:1].isdigit() and words.text[hit.start].isupper()
    return begins and (after in _MARKS or shouted)


def _is_other(draft: Draft, at: int) -> bool:
    """ "recipe 2:", "the other one:" from this token on."""
    words = draft.words
    return any(
        tuple(words.norm[at : at + length]) in _OTHER and words.at(at + length) in (":", "=") for length in (1, 2)
    )


def _joined(parts: list[list[Entry]]) -> list[list[Entry]]:
    """A part with fewer than two amounts is no recipe of its own: it belongs to the one before, or after."""
    whole: list[list[Entry]] = []
    for part in parts:
        measured = sum(1 for entry in part if entry.measure is not None and not entry.dropped)
        if whole and (measured < 2 or not _is_whole(whole[-1])):
            whole[-1].extend(part)
        else:
            whole.append(part)
    return whole


def _is_whole(part: list[Entry]) -> bool:
    return sum(1 for entry in part if entry.measure is not None and not entry.dropped) >= 2
