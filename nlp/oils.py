"""Which "lavender" is meant: the oil that is counted in drops, or the flower that is weighed."""

from __future__ import annotations

from dataclasses import replace

from nlp.choices import call_by, heads_of
from nlp.draft import Draft, Entry
from nlp.mention import Found
from rules.catalogue import Phase, Role
from rules.recipe import Unit

# What a scrub is made of.
_GRAINS = frozenset({"sucrose", "brown_sugar", "coconut_sugar", "jaggery", "sea_salt", "sodium_chloride", "epsom_salt"})


def settle_names(draft: Draft) -> None:
    """Names of plants become oils where drops are counted, or where they are examples of an essential oil."""
    for entry in draft.entries:
        counted = entry.measure is not None and entry.measure.unit is Unit.DROP
        scented = counted or (entry.head is not None and heads_of(draft, entry.head)[0] == "essential oil")
        if scented and not _is_oil(draft, entry):
            call_by(draft, entry, ["essential oil"])
        if _is_dry_coffee(draft, entry):
            entry.mention = replace(entry.mention, substance="coffee_grounds")
        pieces = entry.measure is not None and entry.measure.unit is None
        if entry.mention.found is Found.BARE and not pieces:
            call_by(draft, entry, ["essential oil", "oil"] if counted else ["oil", "butter", "essential oil"])


def _is_dry_coffee(draft: Draft, entry: Entry) -> bool:
    """Bare "coffee" with sugar or salt, or with fat and no water: nobody pours a cup of it there."""
    if draft.words.norm[entry.start : entry.end] != ["coffee"]:
        return False
    others = [draft.names.catalogue.get(e.mention.substance) for e in draft.entries if e is not entry and not e.dropped]
    known = [substance for substance in others if substance is not None]
    wet = any(substance.phase in (Phase.WATER, Phase.EMULSION, Phase.SURFACTANT) for substance in known)
    grainy = any(substance.id in _GRAINS for substance in known)
    return grainy or (not wet and any(substance.phase is Phase.OIL for substance in known))


def _is_oil(draft: Draft, entry: Entry) -> bool:
    substance = draft.names.catalogue.get(entry.mention.substance)
    return substance is not None and (Role.ESSENTIAL_OIL in substance.roles or substance.phase == "oil")
