"""What is sound in a recipe, and why."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Virtue
from rules.case import Case
from rules.catalogue import Role
from rules.chemistry.chemistry import Mixing, Preserved
from rules.hazards.colourants import STRICT
from rules.law import Listing, place
from rules.recipe import Keeping, Site

DRY_PERCENT = 2.0
SLIPPERY_PERCENT = 5.0  # of oil in what is used in bath or shower: common practice


def _water(case: Case) -> Iterator[Virtue]:
    status = case.chemistry.preservation.status
    if case.chemistry.water_percent.best < DRY_PERCENT:
        yield Virtue(reason="no_water")
    elif case.dry:
        yield Virtue(reason="dries_off")
    elif case.keeping is Keeping.SINGLE_USE:
        yield Virtue(reason="made_fresh")
    elif status is Preserved.EFFECTIVE:
        names = ", ".join(_preservatives(case))
        yield Virtue(reason="preserved" if names else "preserves_itself", facts={"preservatives": names})
    elif status is Preserved.NOT_NEEDED:
        yield Virtue(reason="too_dry_for_growth")


def _preservatives(case: Case) -> list[str]:
    """A blend by the name of its bottle, without the parts that came in it."""
    found = [case.catalogue[preservative] for preservative in case.chemistry.preservation.preservatives]
    parts = {part for blend in found for part in blend.contains}
    return [preservative.name for preservative in found if preservative.id not in parts]


def _colours(case: Case) -> Iterator[Virtue]:
    law = case.law
    site = next((s for s in case.sites if s in STRICT), case.sites[0] if case.sites else None)
    for colour in case.with_role(Role.COLOURANT):
        row = law.colour(colour.substance.id, case.jurisdiction)
        if row is None or site is None or colour.loose:
            continue
        if getattr(row, place(site)) is Listing.YES:
            yield Virtue(reason="listed_colour", facts={"substance": colour.substance.id, "site": site.value})
            return


def _extras(case: Case) -> Iterator[Virtue]:
    """Short advice that the tables carry and that is no fault of the recipe."""
    dry = case.chemistry.water_percent.best < DRY_PERCENT
    if dry and any(i.substance.id.startswith("tocopher") for i in case.ingredients):
        yield Virtue(reason="vitamin_e_for_oil")
    washed = not case.left_on or case.at(Site.BATH)
    if washed and case.chemistry.oil_percent.best >= SLIPPERY_PERCENT and (
        case.at(Site.BATH) or case.made_as("scrub", "sugar_scrub", "foot_scrub", "salt_scrub", "bath_oil")
    ):  # fmt: skip
        yield Virtue(reason="slippery_tub")


def virtues(case: Case) -> tuple[Virtue, ...]:
    """In the order in which they are worth saying."""
    found = [*_water(case), *_colours(case)]
    if case.chemistry.emulsion.mixing is Mixing.HOLDS and case.kept:
        found.append(Virtue(reason="stays_mixed"))
    return (*found, *_extras(case))
