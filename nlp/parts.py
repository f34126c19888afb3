"""Where a message begins a second recipe."""

from __future__ import annotations

from bisect import bisect_right

from nlp.draft import Draft, Entry
from nlp.phrases import Hit

_HEAD = 5  # words in which a heading names its product
_AFTER = frozenset({":", "-", "=", "•", "(", "!", "recipe"})
_COUNTED = frozenset({"two", "2", "three", "3", "second", "another", "four", "4"})


def split_entries(draft: Draft, named: list[Hit[str]]) -> list[list[Entry]]:
    """The entries by recipe; one list where nothing says that a second recipe begins."""
    starts = [0, *_headings(draft, named)]
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
