"""What the words around a name say of its grade or form."""

from __future__ import annotations

from bisect import bisect_right

from nlp.draft import Draft, Entry
from rules.recipe import Quality

_BEHIND = 6  # words behind the name in which a grade may follow, in a bracket or after a comma
_STOPS = frozenset({"and", "&", "+", "plus", "with", "or", ";", "."})


def mark_qualities(draft: Draft) -> None:
    """A grade belongs to the name that it stands in or before, else to the one right before it on its line."""
    starts = [entry.start for entry in draft.entries]
    for cue in draft.cues:
        group, _, name = cue.label.partition(".")
        if group != "quality" or not draft.entries:
            continue
        after = bisect_right(starts, cue.end - 1)
        inside = draft.entries[after - 1] if after else None
        follows = draft.entries[after] if after < len(starts) else None
        owner = _owner(draft, inside, follows, cue.start, cue.end)
        if owner is not None:
            owner.qualities = owner.qualities | {Quality(name)}


def _owner(draft: Draft, before: Entry | None, follows: Entry | None, start: int, end: int) -> Entry | None:
    if before is not None and before.start <= start < before.end:
        return before
    norm = draft.words.norm
    if follows is not None and draft.layout.line[follows.start] == draft.layout.line[start]:
        between = norm[end : follows.start]
        if len(between) <= 4 and not any(word in _STOPS or word in (",", "(", ")") for word in between):
            return follows
    if before is not None and draft.layout.line[before.start] == draft.layout.line[start]:
        between = norm[before.end : start]
        if len(between) <= _BEHIND and not any(word in _STOPS for word in between):
            return before
    return None
