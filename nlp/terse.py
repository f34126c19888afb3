"""A recipe told in one breath, without a list and often without an amount: "kefir and matcha mask, 12 min"."""

from __future__ import annotations

from itertools import pairwise

from nlp.draft import Draft, Entry
from nlp.grave import is_grave

_WORDS = 24  # at most; whoever tells more writes a list or a method
_USES = ("site.", "contact.", "claim.", "circumstance.")


def told_in_one_breath(draft: Draft) -> list[Entry]:
    """What a short message puts on a named place or makes into a named product; nothing where it only talks or asks.

    What was never made for skin or acts on it strongly counts in a message of any length that applies it ("super
    glue for my lashes"): taken for talk, nobody would be warned.
    """
    lexicon = draft.lexicon.words
    left_on = {at for cue in draft.cues_with("contact.leave_on") for at in range(cue.start, cue.end)}
    said = {word for at, word in enumerate(draft.words.norm) if at not in left_on}  # "don't rinse" warns of nothing
    if not said.isdisjoint(lexicon["warning"]):
        return []
    found: dict[str, Entry] = {}
    for entry in draft.entries:
        flavours = entry.dropped and draft.words.at(entry.start - 1) not in draft.lexicon.words["joins"]
        if entry.mention.substance is not None and not (entry.negated or flavours):
            found.setdefault(entry.mention.substance, entry)
    entries = list(found.values())
    grave = is_grave(found, draft.names.catalogue) and not said.isdisjoint(lexicon["applying"])
    talk = len(draft.words) > _WORDS or not said.isdisjoint(lexicon["telling"]) or _asks(draft)
    used = _says_use(draft) or _joined(draft, entries)
    return entries if used and (grave or not (talk or _pointed_at(draft, entries))) else []


def _joined(draft: Draft, entries: list[Entry]) -> bool:
    """ "vitamin C tablets dissolved in rosewater": two things put together, wherever they go."""
    into = draft.lexicon.words["joins"] | draft.lexicon.words["into"]
    pairs = ((one, other, draft.between(one, other)) for one, other in pairwise(entries))
    return any(one.end < other.start and into.issuperset(between) for one, other, between in pairs)


def _pointed_at(draft: Draft, entries: list[Entry]) -> bool:
    """ "that orange is a crime", "my beeswax melted": a thing that is there already, and nothing is made of it."""
    return any(draft.words.at(entry.start - 1) in ("that", "this", "my", "those") for entry in entries)


def _says_use(draft: Draft) -> bool:
    return bool(draft.named) or any(cue.label.startswith(_USES) for cue in draft.cues)


def _asks(draft: Draft) -> bool:
    opening = [word for word in draft.words.norm if word[0].isalpha()][:2]
    return "?" in draft.words.norm or not draft.lexicon.words["asks"].isdisjoint(opening)
