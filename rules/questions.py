"""Answers from the tables: is X ok on Y, how much X, can Y replace X. "I don't know" is an answer."""

from __future__ import annotations

from collections.abc import Iterator

from pydantic import Field

from rules.assessment import Basis, Jurisdiction
from rules.catalogue import Catalogue, Phase, Role, Shelf, Substance, load_catalogue
from rules.hazards.fragrance import BODY_CEILING, FACE_CEILING
from rules.law import Listing, load_law, place
from rules.recipe import Contact, Frozen, Site
from rules.sources import load_sources

STRICT_SITES = (Site.LIPS, Site.EYE_AREA, Site.FACE, Site.MOUTH)


class Answer(Frozen):
    """`reason` is a key of the phrase table [answer]. `yes` is None where it depends."""

    reason: str
    yes: bool | None
    facts: dict[str, str | float] = Field(default_factory=dict)
    sources: tuple[str, ...] = ()
    basis: Basis | None = None


UNKNOWN = Answer(reason="not_known", yes=None)


def _answer(reason: str, yes: bool | None, *sources: str, **facts: str | float) -> Answer:
    basis = load_sources()[sources[0]].basis if sources else None
    return Answer(reason=reason, yes=yes, facts=facts, sources=sources, basis=basis)


def _of_law(substance: Substance, site: Site, region: Jurisdiction) -> Iterator[Answer]:
    """What bans and colour lists say."""
    law = load_law()
    for ban in law.bans_in(substance.id, region):
        if (not ban.sites or site in ban.sites) and not ban.sprayed:
            yield _answer(
                "not_permitted",
                False,
                ban.source,
                substance=substance.id,
                site=site.value,
                where=region.value.upper(),
                locator=ban.locator,
            )
    row = law.colour(substance.id, region)
    if row is not None:
        listing: Listing = getattr(row, place(site))
        said = {
            Listing.YES: ("colour_listed", True),
            Listing.NO: ("colour_not_listed", False),
            Listing.LIMITED: ("colour_limited", None),
        }[listing]
        yield _answer(
            said[0],
            said[1],
            row.source,
            substance=substance.id,
            site=site.value,
            where=region.value.upper(),
            locator=row.locator,
            note=row.note,
        )


def _of_kind(substance: Substance, site: Site, contact: Contact) -> Iterator[Answer]:
    """What the kind of material says."""
    facts: dict[str, str | float] = {"substance": substance.id, "site": site.value}
    left_on = contact is Contact.LEAVE_ON
    if substance.shelf in (Shelf.CRAFT, Shelf.HOUSEHOLD, Shelf.GARDEN):
        yield _answer("not_made_for_skin", False, "fda_novelty_makeup", **facts)
    if Role.UV_FILTER in substance.roles and not load_law().is_colour(substance.id):
        yield _answer("no_home_sunscreen", False, "home_sunscreen_study", **facts)
    if Role.IRRITANT_SPICE in substance.roles and (left_on or site in STRICT_SITES):
        yield _answer("spice_irritates", False, "common_practice", **facts)
    if Role.PHOTOTOXIC_JUICE in substance.roles:
        yield _answer("juice_and_sun", False, "lemon_burns", **facts)
    if Role.PERISHABLE in substance.roles:
        yield _answer("fresh_once", None, "fridge_life", **facts)


def may_go(
    substance_id: str,
    site: Site,
    jurisdiction: Jurisdiction = Jurisdiction.US,
    contact: Contact = Contact.LEAVE_ON,
    catalogue: Catalogue | None = None,
) -> Answer:
    """Is this substance ok there? The first rule that speaks answers; a dose rule answers "up to"."""
    substance = (catalogue or load_catalogue()).get(substance_id)
    if substance is None:
        return UNKNOWN
    for answer in _of_law(substance, site, jurisdiction):
        return answer
    for answer in _of_kind(substance, site, contact):
        return answer
    dose = how_much(substance_id, site, jurisdiction, contact, catalogue)
    if dose.reason != "not_known":
        return dose
    if substance.shelf is Shelf.COSMETIC and substance.inci is not None and not substance.generic:
        return _answer("no_rule_against", None, substance=substance.id, site=site.value)
    return UNKNOWN


def how_much(
    substance_id: str,
    site: Site,
    jurisdiction: Jurisdiction = Jurisdiction.US,
    contact: Contact = Contact.LEAVE_ON,
    catalogue: Catalogue | None = None,
) -> Answer:
    """The ceiling in w/w % of the finished product, with its source."""
    substance = (catalogue or load_catalogue()).get(substance_id)
    if substance is None:
        return UNKNOWN
    law = load_law()
    facts: dict[str, str | float] = {"substance": substance.id, "site": site.value}
    rows = law.limits(substance.id, jurisdiction, (site,), contact, None)
    if rows:
        row = min(rows, key=lambda r: r.percent)
        counted = row.as_what or substance.name
        limit = round(row.percent / row.factor, 3)
        return _answer("at_most", None, row.source, limit=limit, as_what=counted, locator=row.locator, **facts)
    return _of_oil(substance, site, contact)


def _of_oil(substance: Substance, site: Site, contact: Contact) -> Answer:
    """The published maximum of an essential oil, else the usual ceiling for all of them."""
    facts: dict[str, str | float] = {"substance": substance.id, "site": site.value}
    oil = load_law().oils.get(substance.id)
    if oil is not None and contact is Contact.LEAVE_ON:
        limits = [value for value in (oil.leave_on, oil.phototoxic) if value is not None]
        if limits:
            return _answer(
                "at_most",
                None,
                oil.source,
                limit=min(limits),
                as_what=substance.name,
                locator=oil.locator,
                **facts,
            )
    if Role.ESSENTIAL_OIL in substance.roles:
        ceiling = FACE_CEILING if site in STRICT_SITES else BODY_CEILING
        return _answer("usual_ceiling", None, "common_practice", limit=ceiling, **facts)
    return UNKNOWN


def _same_work(old: Substance, new: Substance) -> bool:
    """Whether they do the same job: one phase, and a shared role where the old one has any that matters."""
    if old.phase is not new.phase:
        return False
    return not old.roles or not old.roles.isdisjoint(new.roles)


def swap(old_id: str, new_id: str, site: Site, jurisdiction: Jurisdiction = Jurisdiction.US) -> Answer:
    """Can the new one take the place of the old one there?"""
    catalogue = load_catalogue()
    old, new = catalogue.get(old_id), catalogue.get(new_id)
    if old is None or new is None:
        return UNKNOWN
    allowed = may_go(new_id, site, jurisdiction)
    if allowed.yes is False:
        return allowed
    facts: dict[str, str | float] = {"substance": new.id, "second": old.id, "site": site.value}
    if Role.PRESERVATIVE in old.roles and Role.PRESERVATIVE not in new.roles:
        return _answer("swap_loses_preservative", False, "iso_29621", **facts)
    if Phase.WATER in (old.phase, new.phase) and old.phase is not new.phase:
        return _answer("swap_changes_water", False, "common_practice", **facts)
    if _same_work(old, new):
        return _answer("swap_same_work", True, "common_practice", **facts)
    return _answer("swap_other_work", None, "common_practice", **facts)
