"""Which "lavender" is meant: the oil that is counted in drops, or the flower that is weighed."""

from __future__ import annotations

from nlp.choices import call_by, heads_of
from nlp.draft import Draft, Entry
from nlp.mention import Found
from rules.catalogue import Role
from rules.recipe import Unit


def settle_names(draft: Draft) -> None:
    """Names of plants become oils where drops are counted, or where they are examples of an essential oil."""
    for entry in draft.entries:
        counted = entry.measure is not None and entry.measure.unit is Unit.DROP
        scented = counted or (entry.head is not None and heads_of(draft, entry.head)[0] == "essential oil")
        if scented and not _is_oil(draft, entry):
            call_by(draft, entry, ["essential oil"])
        pieces = entry.measure is not None and entry.measure.unit is None
        if entry.mention.found is Found.BARE and not pieces:
            call_by(draft, entry, ["essential oil", "oil"] if counted else ["oil", "butter", "essential oil"])


def _is_oil(draft: Draft, entry: Entry) -> bool:
    substance = draft.names.catalogue.get(entry.mention.substance)
    return substance is not None and (Role.ESSENTIAL_OIL in substance.roles or substance.phase == "oil")
