"""The name of "juice of half a lemon", which is counted in lemons."""

from __future__ import annotations

from dataclasses import replace

from nlp.draft import Draft, Entry
from nlp.mention import Found

_LINKS = frozenset({"of", "from", "a", "fresh", "freshly"})


def join_squeezed(draft: Draft) -> None:
    """Takes "juice of" and the amount between into the name; the substance is the juice where the catalogue has it."""
    for entry in draft.entries:
        at = _part(draft, entry)
        if at is None:
            continue
        word = draft.words.norm[at]
        found = draft.names.find([*draft.words.norm[entry.start : entry.end], word])
        entry.mention = replace(
            entry.mention,
            start=at,
            substance=found.id if found else None,
            found=Found.NAME if found else Found.UNKNOWN,
        )


def _part(draft: Draft, entry: Entry) -> int | None:
    """The token "juice" before "of half a lemon", if that is what stands there."""
    at = entry.start - 1
    linked = False
    for _ in range(7):
        word = draft.words.at(at)
        if word in draft.lexicon.words["squeezed"]:
            return at if linked else None
        measured = entry.measure is not None and entry.measure.start <= at < entry.measure.end
        linked = linked or word in ("of", "from")
        if not (measured or word in _LINKS or word in draft.lexicon.words["grade"]):
            return None
        at -= 1
    return None
