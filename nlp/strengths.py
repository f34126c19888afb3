"""How strong a solution is: "lactic acid (80 %) 2 g", "1 cup vinegar, 5 % acidity", "20 ml of a 30 % urea solution"."""

from __future__ import annotations

from bisect import bisect_left

from nlp.draft import Draft, Entry
from nlp.measure import Measure
from rules.catalogue import Role, Substance
from rules.recipe import Unit

_BEHIND_NAME = frozenset({"(", "[", ",", "-", ":", "about", "~", "at", "a", "@", "of", "solution", "strength", "="})
_BEFORE_NAME = frozenset({"of", "solution", "strength", ")", "aqueous", "concentrated", "a", "the", "w", "/", "v"})
_SOLUTIONS = frozenset({"solution", "strength", "acidity", "dilution", "aqueous", "serum", "diluted", "concentration"})
_PURE = frozenset({"pure", "purity", "natural", "organic", "real", "raw"})
_DRY = frozenset({"powder", "powdered", "crystal", "flake", "pellet", "bead", "granule", "dry"})
_LEAST = 0.02  # a smaller figure beside an amount is the share in the batch, written twice, unless a solution is named
_REACH = 4  # tokens between figure and name
_WHOLE = 0.9, 1.1  # what shares of a batch add up to
_PROOF = 200.0  # degrees of proof of pure alcohol
_LIKE = 0.6, 1.6  # how far a figure may be from what the catalogue's solution holds, to be its strength and no amount
_STRONG = 0.3  # no kitchen recipe in spoons is to this share one acid or one lye
_MEASURED = frozenset({Unit.PERCENT, Unit.PART, None})
_DISSOLVED = frozenset({Role.ACID, Role.ALKALI, Role.OXIDISER, Role.DISSOLVES_SKIN})


def mark_strengths(draft: Draft) -> None:
    """A percentage that no line needs for its amount tells the strength of the name beside it."""
    taken = {id(entry.measure) for entry in draft.entries}
    found: list[tuple[Entry, float]] = []
    for measure in draft.told:
        share = None if id(measure) in taken else _share(draft, measure)
        entry = None if share is None else _owner(draft, measure)
        if share is not None and entry is not None and _is_strength(draft, entry, measure, share):
            found.append((entry, share))
    if len(found) < 3 or not _WHOLE[0] <= sum(share for _, share in found) <= _WHOLE[1]:
        for entry, share in found:
            entry.strength = share
    _without_amount(draft)


def _share(draft: Draft, measure: Measure) -> float | None:
    """The upper end where a range is told: the stronger solution."""
    if measure.unit is Unit.PERCENT:
        return measure.high / 100 if 0 < measure.high < 99.5 else None
    if draft.words.at(measure.end - 1) == "proof" and 0 < measure.high < _PROOF:
        return measure.high / _PROOF
    return None


def _owner(draft: Draft, measure: Measure) -> Entry | None:
    index = bisect_left(draft.starts, measure.end)
    grade = draft.lexicon.words["grade"]
    after = draft.entries[index] if index < len(draft.entries) else None
    if after is not None and _joined(draft, measure.end, after.start, _BEFORE_NAME | grade):
        return after
    before = draft.last_before(measure.start)
    return before if before is not None and _joined(draft, before.end, measure.start, _BEHIND_NAME | grade) else None


def _joined(draft: Draft, start: int, end: int, links: frozenset[str]) -> bool:
    return 0 <= end - start <= _REACH and all(word in links for word in draft.words.norm[start:end])


def _is_strength(draft: Draft, entry: Entry, measure: Measure, share: float) -> bool:
    if entry.measure is None and measure.unit is Unit.PERCENT and not _says_solution(draft, measure):
        return False
    around = {draft.words.at(at) for at in (measure.end, measure.end + 1, entry.end, entry.end - 1)}
    if around & _PURE or around & _DRY:
        return False
    return share >= _LEAST or _says_solution(draft, measure)


def _says_solution(draft: Draft, measure: Measure) -> bool:
    return any(draft.words.at(at) in _SOLUTIONS for at in range(measure.start - 2, measure.end + 4))


def _without_amount(draft: Draft) -> None:
    """ "2 cups water, vinegar 5 %": among spoons and grams the percentage of a bottle is no amount."""
    if not any(e.measure is not None and e.measure.unit not in _MEASURED for e in draft.entries):
        return
    for entry in draft.entries:
        measure = entry.measure
        if measure is None or measure.unit is not Unit.PERCENT or entry.strength is not None:
            continue
        share, substance = _share(draft, measure), draft.names.catalogue.get(entry.mention.substance)
        if share is not None and substance is not None and _bottled_at(draft, substance, share):
            entry.strength, entry.measure = share, None


def _bottled_at(draft: Draft, substance: Substance, share: float) -> bool:
    held = [draft.names.catalogue.get(part) for part in substance.contains if part != "water"]
    if len(held) == 1 and held[0] is not None and "water" in substance.contains:
        usual = substance.contains[held[0].id]
        return bool(_DISSOLVED & held[0].roles) and _LIKE[0] * usual <= share <= _LIKE[1] * usual
    return not substance.contains and bool(_DISSOLVED & substance.roles) and share >= _STRONG
