"""One thing alone that a message puts on a body, and that is worth reading as a recipe of one line."""

from __future__ import annotations

from nlp.draft import Draft, Entry
from rules.catalogue import Catalogue, Role, Shelf

_SHELVES = frozenset({Shelf.CRAFT, Shelf.HOUSEHOLD, Shelf.GARDEN})
_ROLES = frozenset(
    {
        Role.DRUG,
        Role.GLUE,
        Role.NAIL_MONOMER,
        Role.DISSOLVES_SKIN,
        Role.OXIDISER,
        Role.PHOTOTOXIC_JUICE,
        Role.EXFOLIANT,
        Role.IRRITANT_SPICE,
        Role.GLITTER,
    }
)


def grave_alone(draft: Draft) -> list[Entry]:
    """ "super glue for my lashes", "lemon on the face overnight": no list and often no amount, yet it must be judged.

    Only what was never made for skin, or acts on it strongly; talk of coconut oil stays talk.
    """
    said = set(draft.words.norm)
    if said.isdisjoint(draft.lexicon.words["applying"]) or not said.isdisjoint(draft.lexicon.words["warning"]):
        return []
    known: dict[str, Entry] = {}
    for entry in draft.entries:
        if entry.mention.substance is not None and not (entry.negated or entry.dropped):
            known.setdefault(entry.mention.substance, entry)
    return list(known.values()) if is_grave(known, draft.names.catalogue) else []


def is_grave(substances: dict[str, Entry], catalogue: Catalogue) -> bool:
    found = (catalogue.get(substance) for substance in substances)
    return any(s is not None and (s.shelf in _SHELVES or not _ROLES.isdisjoint(s.roles)) for s in found)
