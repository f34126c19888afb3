"""Water that is meant to be kept and that nothing, or too little, preserves."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case, Ingredient
from rules.catalogue import Phase, Role, Shelf
from rules.chemistry.chemistry import Preserved
from rules.hazards.evidence import finding
from rules.interval import Interval
from rules.recipe import Circumstance, Site

# Why the chemistry finds it unpreserved, as our phrase keys.
TOO_WEAK = {
    "below_floor": "preservative_below_dose",
    "ph_switches_off": "preservative_off_at_ph",
    "diluted": "preservative_diluted",
    "dilution_not_assured": "preservative_diluted",
}
# Strong vinegar keeps itself although its pH is not wholly below 3: common practice of pickling.
DOSE_PERCENT = 3.0  # the most that a preservative blend is dosed at
MASH_PERCENT = 20.0  # so much fresh food that nobody means to keep it: the rule of food speaks
PICKLE_PH = 3.3
PICKLE_PERCENT = 1.0
# Peroxide of this strength in the water kills what gets in for as long as it lasts; that it does not last is said by
# the rule of what reacts. Common practice, no source.
PEROXIDE_PERCENT = 0.5
# Most moulds stop at this water activity, every bacterium before (growth table of the chemistry).
BRINE_ACTIVITY = 0.8
UNITS = {"share_of_floor": "of the needed strength", "dilution": "times thinned"}


def _grave(case: Case) -> bool:
    """An infection there is grave: a kept leave-on product for the eye, or an infant's eyes or mouth."""
    mash = sum(i.percent.best for i in case.with_role(Role.PERISHABLE)) > MASH_PERCENT
    if case.sites[:1] == (Site.EYE_AREA,) and case.left_on and not mash:
        return True
    return case.when(Circumstance.INFANT) and case.at(Site.EYE_AREA, Site.MOUTH)


def _names(case: Case, substances: tuple[str, ...]) -> str:
    return ", ".join(case.catalogue[s].name for s in substances)


def _reason(case: Case, grave: bool) -> str:
    found = case.chemistry.preservation
    if found.status is Preserved.TOO_WEAK:
        return TOO_WEAK.get(found.reason, "preservative_below_dose")
    if grave:
        return "eye_water_unpreserved"
    if found.reason == "alcohol_too_weak":
        return "alcohol_too_weak"
    if found.lookalikes:
        return "lookalike_is_no_preservative"
    return "water_unpreserved" if found.value is not None else "water_unpreserved_unmeasured"


def _unpreserved(case: Case) -> Finding:
    found = case.chemistry.preservation
    grave = _grave(case)
    sure = found.reason != "dilution_not_assured" or case.at(Site.EYE_AREA)
    return finding(
        Hazard.NEEDS_PRESERVATIVE,
        Severity.AVOID if grave else Severity.FIX if sure else Severity.NOTE,
        _reason(case, grave),
        "eye_make_it_dry" if grave else "use_up_or_preserve",
        Basis.COMPUTED,
        *(("iso_29621", "mascara_keratitis") if grave else ("iso_29621",)),
        value=found.value,
        limit=found.limit,
        unit=UNITS.get(found.unit or "", (found.unit or "").replace("_", " ")) or None,
        water=round(case.chemistry.water_percent.best),
        dose=_dose(found.value),
        times=_times(found.value),
        lookalikes=_names(case, found.lookalikes),
        preservatives=_names(case, found.preservatives) or "the preservative of the bought product",
    )


def _dose(value: Interval | None) -> float:
    """The deciding ratio as percent of the dose that is needed."""
    return 0.0 if value is None else float(max(1, round(100 * value.best)))


def _times(value: Interval | None) -> float:
    """The deciding ratio as how many times a bought product is thinned."""
    return 0.0 if value is None else round(value.best, 1 if value.best < 3 else None)


def _note(severity: Severity, reason: str, instead: str, cause: Ingredient | None = None) -> Finding:
    return finding(Hazard.NEEDS_PRESERVATIVE, severity, reason, instead, Basis.STANDARD, "iso_29621", cause=cause)


def _pickled(case: Case) -> bool:
    """A liquid with so much acetic acid at so low a pH that it keeps like a pickle."""
    ph = case.chemistry.ph
    acetic = case.composition.percent_of("acetic_acid").best
    liquid = case.chemistry.water_percent.best > 50
    return liquid and ph is not None and ph.best < PICKLE_PH and acetic >= PICKLE_PERCENT


def _strong_brine(case: Case) -> bool:
    """So much salt or glycerin, and nothing to eat: no bacterium grows there and moulds hardly do."""
    activity = case.chemistry.water_activity
    food = case.with_role(Role.FEEDS_MICROBES, Role.FOOD, Role.PERISHABLE)
    return activity is not None and activity.best <= BRINE_ACTIVITY and not food


def _oxidising(case: Case) -> bool:
    peroxide, water = case.composition.percent_of("hydrogen_peroxide").best, case.chemistry.water_percent.best
    return peroxide > 0 and 100 * peroxide / (peroxide + water) >= PEROXIDE_PERCENT and not _grave(case)


def _perhaps_alcoholic(case: Case) -> bool:
    """Alcohol without amounts: at the usual amount it preserves."""
    found = case.chemistry.preservation
    if found.reason != "alcohol_too_weak" or found.value is None or found.limit is None:
        return False
    return found.value.best >= found.limit


def _keeps_itself(case: Case) -> bool:
    return _pickled(case) or _perhaps_alcoholic(case) or _oxidising(case) or _strong_brine(case)


def _unknown_may_preserve(case: Case) -> bool:
    """A cream with a little of something that we do not know: most often its preservative, by a trade name."""
    small = any(p.substance is None and p.percent.best <= DOSE_PERCENT for p in case.composition.portions)
    made = sum(i.percent.best for i in case.with_role(Role.EMULSIFIER) if i.substance.shelf is Shelf.COSMETIC)
    return small and made >= 1.5


def _held_back(case: Case) -> Iterator[Finding]:
    """Preserved only by what it is: acid that will be raised, soap that food is stirred into."""
    found = case.chemistry.preservation
    if found.reason == "ph_low" and case.left_on:
        yield _note(Severity.NOTE, "acid_holds_growth_back", "use_up_or_preserve")
    if found.reason == "soap_alkaline":
        food = case.with_role(Role.PERISHABLE)
        if food:
            yield _note(Severity.FIX, "soap_holds_growth_back", "use_up_or_preserve", food[0])


def _as_sold(case: Case) -> bool:
    """One bought bottle and nothing in it: witch hazel on a cotton pad."""
    only = case.ingredients[0].substance if len(case.composition.portions) == len(case.ingredients) == 1 else None
    return only is not None and only.shelf is Shelf.COSMETIC and only.id != "water" and not _grave(case)


def _only_bought_water(case: Case) -> bool:
    """A bought, preserved cream among fats and powders: nothing has thinned what preserves it."""
    wet = [i for i in case.ingredients if i.substance.phase in (Phase.WATER, Phase.EMULSION)]
    bought = all(case.catalogue.family(i.substance.id) in ("finished_products", "pharmacy") for i in wet)
    fresh = case.with_role(Role.PERISHABLE, Role.FEEDS_MICROBES)
    unknown = any(p.substance is None for p in case.composition.portions)
    return bool(wet) and bought and not fresh and not unknown and not _grave(case)


def check(case: Case) -> Iterator[Finding]:
    if not case.kept or case.dry or case.made_as("soap") or case.soap_making:
        return
    status = case.chemistry.preservation.status
    if status is Preserved.CANNOT_TELL and case.chemistry.preservation.preservatives:
        yield _note(Severity.NOTE, "preservative_strength_unknown", "preserve_at_full_dose")
    elif status is Preserved.NONE and _keeps_itself(case):
        yield _note(Severity.NOTE, "keeps_itself_if_strong", "use_up_or_preserve")
    elif status is Preserved.NONE and _unknown_may_preserve(case):
        yield _note(Severity.NOTE, "unknown_may_preserve", "preserve_at_full_dose")
    elif status in (Preserved.NONE, Preserved.TOO_WEAK) and not (_only_bought_water(case) or _as_sold(case)):
        yield _unpreserved(case)
    else:
        yield from _held_back(case)
