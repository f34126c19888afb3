"""What a line says of its ingredient behind a colon or a dash: "Honey: soothes", "Yogurt - lactic acid, softens"."""

from __future__ import annotations

from dataclasses import dataclass

from nlp.draft import Draft, Entry
from rules.catalogue import Shelf

_SIGNS = frozenset({":", "-", "=", ","})
_LABELS = frozenset({":", "-", "="})
_MORE = frozenset({"or", "and", "plus", "with", "+", "&", "/", "optional", "instead", "if"})
_LISTING = frozenset({",", "and", "&", "+", "/", "(", ")", "."})
_SHELVES = frozenset({Shelf.CRAFT, Shelf.HOUSEHOLD, Shelf.GARDEN})
_FEWEST = 2  # lines of this form that make it a form


@dataclass(frozen=True, slots=True)
class _Remark:
    """The names in the remark of one line. `prose`: other words stand there too. `sure`: the line has its amount."""

    names: list[Entry]
    prose: bool
    sure: bool


def drop_benefits(draft: Draft) -> None:
    """Drops names in remarks where the line has its own amount, or where several lines are written in this form."""
    remarks = [remark for line in draft.on_line if (remark := _remark(draft, line)) is not None]
    form = len(remarks) >= _FEWEST and any(remark.prose for remark in remarks)
    for remark in remarks:
        if form or (remark.sure and remark.prose):
            for entry in remark.names:
                entry.dropped = True


def _remark(draft: Draft, line: int) -> _Remark | None:
    """The remark behind the first name of a line; None where the line goes on with ingredients."""
    words, (first, *rest) = draft.words, draft.on_line[line]
    if first.mention.substance is None or first.mention.generic or first.dropped or not _heads(draft, first):
        return None
    behind = first.measure is not None and first.measure.start >= first.end
    begin = first.measure.end if first.measure is not None and behind else first.end
    signs = _SIGNS if first.measure is not None and not behind else _LABELS
    if words.at(begin) not in signs or words.at(begin + 1) in _MORE or words.is_break(begin + 1):
        return None
    end = begin + 1
    while not words.is_break(end):
        end += 1
    said = [words.norm[at] for at in range(begin + 1, end)]
    goes_on = any(m.start >= begin and m.start < end for m in draft.told) or any(e.measure is not None for e in rest)
    if goes_on or draft.lexicon.words["adding"].intersection(said) or _MORE.intersection(said[:1]):
        return None
    if any(_never_made_for_skin(draft, entry) for entry in rest):
        return None
    inside = {at for entry in rest for at in range(entry.start, entry.end)}
    plain = [at for at in range(begin + 1, end) if at not in inside and words.norm[at] not in _LISTING]
    return _Remark(rest, len(plain) >= 1, first.measure is not None)


def _never_made_for_skin(draft: Draft, entry: Entry) -> bool:
    """Such a thing is never left out of a recipe for a mere colon."""
    substance = draft.names.catalogue.get(entry.mention.substance)
    return substance is not None and substance.shelf in _SHELVES


def _heads(draft: Draft, entry: Entry) -> bool:
    """Nothing but its amount, a bullet and grades stands before it on its line."""
    grade = draft.lexicon.words["grade"]
    measured = range(entry.measure.start, entry.measure.end) if entry.measure is not None else range(0)
    at = entry.start - 1
    while not draft.words.is_break(at):
        if at not in measured and draft.words.norm[at] not in grade and draft.words.is_word(at):
            return False
        at -= 1
    return True
