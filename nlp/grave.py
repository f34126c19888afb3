"""What must never be passed over as talk: it was not made for skin, or acts on it strongly."""

from __future__ import annotations

from collections.abc import Iterable

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


def is_grave(substances: Iterable[str | None], catalogue: Catalogue) -> bool:
    """Whether one of them is."""
    found = map(catalogue.get, substances)
    return any(s is not None and (s.shelf in _SHELVES or not _ROLES.isdisjoint(s.roles)) for s in found)
