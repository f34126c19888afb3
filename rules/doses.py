"""How much of something, in w/w % of the finished product: the first rule that speaks."""

from __future__ import annotations

from rules.answer import UNKNOWN, Answer, Asked, about, first
from rules.assessment import Basis, Jurisdiction
from rules.catalogue import Catalogue, Role, Shelf, load_catalogue
from rules.chemistry.balance import typical_share
from rules.hazards.alkaline import SODA_PERCENT
from rules.hazards.fragrance import BODY_CEILING, FACE_CEILING, RINSE_CEILING
from rules.hazards.never_at_home import GROWTHS, STERILE
from rules.hazards.strong import load_strong
from rules.law import BanRow, LimitRow, Listing, load_law, place
from rules.recipe import Contact, Site

STRICT_SITES = (Site.LIPS, Site.EYE_AREA, Site.FACE, Site.MOUTH)


def how_much(
    substance_id: str,
    site: Site | None,
    jurisdiction: Jurisdiction = Jurisdiction.US,
    contact: Contact | None = Contact.LEAVE_ON,
    catalogue: Catalogue | None = None,
    product: str | None = None,
) -> Answer:
    """The ceiling in w/w % of the finished product, with its source."""
    asked = about(substance_id, site, jurisdiction, contact, catalogue, product)
    return UNKNOWN if asked is None else first(asked, RULES)


def ban_at(asked: Asked) -> BanRow | None:
    """The ban that holds at the place; one of sprays alone, or for other places, does not."""
    for ban in load_law().bans_in(asked.substance.id, asked.region):
        everywhere = not ban.sites or (asked.site is not None and asked.site in ban.sites)
        if everywhere and not ban.sprayed and (asked.product is None or asked.product not in ban.exempt):
            return ban
    return None


def of_ban(asked: Asked) -> Answer | None:
    ban = ban_at(asked)
    return None if ban is None else asked.answer("not_permitted", False, ban.source, locator=ban.locator)


def of_sterile(asked: Asked) -> Answer | None:
    """Eye drops and the like are not made at home, whatever goes in."""
    if asked.product in GROWTHS:
        return asked.answer("never_at_home", False, "fda_moles")
    return asked.answer("never_at_home", False, "fda_saline") if asked.product in STERILE else None


def of_kind(asked: Asked) -> Answer | None:
    """What the kind of material says."""
    substance, site = asked.substance, asked.site
    left_on = asked.contact is not Contact.RINSE_OFF
    if substance.shelf in (Shelf.CRAFT, Shelf.HOUSEHOLD, Shelf.GARDEN):
        return asked.answer("not_made_for_skin", False, "fda_novelty_makeup")
    if Role.UV_FILTER in substance.roles and not load_law().is_colour(substance.id):
        return asked.answer("no_home_sunscreen", False, "home_sunscreen_study")
    spice = Role.IRRITANT_SPICE in substance.roles and Role.ESSENTIAL_OIL not in substance.roles
    if spice and (left_on or site in STRICT_SITES):
        return asked.answer("spice_irritates", False, "common_practice")
    if Role.ESSENTIAL_OIL in substance.roles and site is Site.EYE_AREA:
        return asked.answer("scent_at_eye", False, "common_practice")
    if Role.PHOTOTOXIC_JUICE in substance.roles:
        return asked.answer("juice_and_sun", False, "lemon_burns")
    if Role.PERISHABLE in substance.roles:
        return asked.answer("fresh_once", None, "fridge_life")
    return None


def _of_limit(asked: Asked) -> Answer | None:
    """The law's ceiling; a figure that is no law of the region is said as an opinion."""
    rows = load_law().limits(asked.substance.id, asked.region, asked.sites, asked.contact, asked.product)
    return None if not rows else _ceiling(asked, min(rows, key=lambda row: row.percent))


def _by_place(asked: Asked) -> Answer | None:
    """The law speaks of some places only, and none was named."""
    law, name = load_law(), asked.substance.id
    if asked.site is None and any(law.limits(name, asked.region, (s,), asked.contact, asked.product) for s in Site):
        return asked.answer("by_place", None)
    return None


def _ceiling(asked: Asked, row: LimitRow) -> Answer:
    counted = row.as_what or asked.substance.name
    reason = "at_most" if row.basis is Basis.LAW else "at_most_by_opinion"
    if row.percent == 0:
        return asked.answer("none_there", False, row.source, locator=row.locator)
    if row.basis is Basis.COMMON_PRACTICE:
        return asked.answer("usual_ceiling", None, row.source, limit=row.percent)
    limit = round(row.percent / row.factor, 3)
    return asked.answer(reason, None, row.source, limit=limit, as_what=counted, locator=row.locator)


def of_colour(asked: Asked) -> Answer | None:
    """A colour that is not listed for the place, or only up to a percent or in one use."""
    row = load_law().colour(asked.substance.id, asked.region)
    if row is None:
        return None
    if asked.site is None:
        everywhere = {row.eye_area, row.lips, row.external} == {Listing.YES}
        return None if everywhere else asked.answer("by_place", None)
    listing: Listing = getattr(row, place(asked.site))
    limit = row.lips_percent if place(asked.site) == "lips" else row.external_percent
    if listing is Listing.YES:
        return None
    if listing is Listing.NO:
        return asked.answer("colour_not_listed", False, row.source, locator=row.locator)
    if limit is None:
        return asked.answer("colour_limited", None, row.source, locator=row.locator, note=row.note)
    name = asked.substance.name
    return asked.answer("at_most", None, row.source, limit=limit, as_what=name, locator=row.locator)


def _of_oil(asked: Asked) -> Answer | None:
    """The published maximum of an essential oil, else the usual ceiling for all of them together."""
    if asked.site is Site.BATH and Role.ESSENTIAL_OIL in asked.substance.roles:
        return asked.answer("oil_in_bath", None, "common_practice", limit=BODY_CEILING)
    oil = load_law().oils.get(asked.substance.id)
    if oil is not None and asked.contact is not Contact.RINSE_OFF:
        limits = [value for value in (oil.leave_on, oil.phototoxic) if value is not None]
        if limits and min(limits) == 0:
            return asked.answer("none_there", False, oil.source, locator=oil.locator)
        usual = BODY_CEILING if asked.site is not None and asked.site not in STRICT_SITES else FACE_CEILING
        if limits and min(limits) <= usual:
            name = asked.substance.name
            return asked.answer(
                "at_most_by_opinion", None, oil.source, limit=min(limits), as_what=name, locator=oil.locator
            )
    if Role.ESSENTIAL_OIL not in asked.substance.roles:
        return None
    if asked.contact is Contact.RINSE_OFF:
        return _or_europes(asked, RINSE_CEILING)
    if asked.site is None:
        return asked.answer("usual_ceilings", None, "common_practice", limit=FACE_CEILING, body=BODY_CEILING)
    return _or_europes(asked, FACE_CEILING if asked.site in STRICT_SITES else BODY_CEILING)


def _or_europes(asked: Asked, usual: float) -> Answer:
    """The usual ceiling, or Europe's figure where that is lower."""
    europe = _elsewhere(asked)
    if europe is not None and float(europe.facts["limit"]) < usual:
        return europe
    return asked.answer("usual_ceiling", None, "common_practice", limit=usual)


def _of_strong(asked: Asked) -> Answer | None:
    """The usual ceiling of a strong chemical; 0 = not for home mixing."""
    row = load_strong().get(asked.substance.id)
    if row is None:
        return None
    limit = row.rinse_off if asked.contact is Contact.RINSE_OFF else row.leave_on
    limit = min(limit, row.eye_lips) if asked.site in (Site.EYE_AREA, Site.LIPS) else limit
    if limit == 0:
        return asked.answer("not_at_home", False, row.source)
    return asked.answer("usual_ceiling", None, row.source, limit=limit)


def _of_soda(asked: Asked) -> Answer | None:
    """Bicarbonate that stays on skin: the ceiling of the rule for alkaline things."""
    if asked.substance.id != "sodium_bicarbonate" or asked.contact is Contact.RINSE_OFF or asked.site is Site.BATH:
        return None
    return asked.answer("usual_ceiling", None, "common_practice", limit=SODA_PERCENT)


def _strictest(asked: Asked) -> Answer | None:
    """The usual ceiling of a strong chemical, or Europe's figure where that is lower or the same."""
    usual, europe = _of_strong(asked), _elsewhere(asked)
    if usual is None or europe is None:
        return usual or europe
    figures = [float(found.facts.get("limit", 0)) for found in (usual, europe)]
    return europe if figures[1] <= figures[0] else usual


def _of_part(asked: Asked) -> Answer | None:
    """A bottle that holds something limited: as much of it as brings that to its ceiling. Not a finished cream."""
    if load_catalogue().family(asked.substance.id) == "finished_products":
        return None
    for part, share in sorted(asked.substance.contains.items(), key=lambda pair: -pair[1]):
        inner = about(part, asked.site, asked.region, asked.contact, product=asked.product)
        found = UNKNOWN if inner is None else first(inner, PART_RULES)
        if found.reason == "by_place":
            return found
        limit = found.facts.get("limit")
        if inner is None or not isinstance(limit, float | int) or share <= 0:
            continue
        most = float(limit) / share
        reason = "part_at_most" if most < WHOLE else "part_within"
        facts: dict[str, str | float] = {"part": part, "part_limit": float(limit)}
        if most < WHOLE:
            facts["limit"] = round(most, 2)
        return asked.answer(reason, None, *found.sources, **facts)
    return None


def _elsewhere(asked: Asked) -> Answer | None:
    """Where the region has no figure, the European one is told as what it is."""
    if asked.region is not Jurisdiction.US:
        return None
    rows = load_law().limits(asked.substance.id, Jurisdiction.EU, asked.sites, asked.contact, asked.product)
    rows = [row for row in rows if row.percent > 0 and row.basis is not Basis.COMMON_PRACTICE]
    if not rows:
        return None
    row = min(rows, key=lambda row: row.percent)
    limit, counted = round(row.percent / row.factor, 3), row.as_what or asked.substance.name
    return asked.answer("at_most_in_eu", None, row.source, limit=limit, as_what=counted)


def _of_usual(asked: Asked) -> Answer | None:
    """The usual share of what does this work, where no table has a ceiling."""
    share = typical_share(asked.substance)
    if share is None or asked.substance.roles.isdisjoint(USUAL):
        return None
    return asked.answer("usual_share", None, "common_practice", low=share.low, high=share.high)


WHOLE = 100.0  # percent
PART_RULES = (_of_limit, _by_place, _strictest)
USUAL = (Role.ANTIOXIDANT, Role.EMULSIFIER, Role.SOLUBILISER, Role.THICKENER, Role.COLOURANT)
RULES = (
    of_ban,
    of_sterile,
    of_kind,
    _of_limit,
    _by_place,
    of_colour,
    _of_oil,
    _of_soda,
    _strictest,
    _of_part,
    _of_usual,
)
