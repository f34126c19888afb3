"""How much of something, in w/w % of the finished product, and what that is in a batch."""

from __future__ import annotations

from rules.answer import UNKNOWN, Answer, Asked, about, first
from rules.assessment import Basis, Jurisdiction
from rules.catalogue import Catalogue, Role
from rules.chemistry.balance import typical_share
from rules.chemistry.measuring import density_of, grams_of, volume_of_one
from rules.chemistry.preservatives import preservatives
from rules.hazards.alkaline import SODA_PERCENT
from rules.hazards.fragrance import BODY_CEILING, FACE_CEILING, RINSE_CEILING
from rules.hazards.never_at_home import EATS_SKIN, STERILE
from rules.hazards.strong import load_strong
from rules.law import BanRow, LimitRow, Listing, load_law, place
from rules.recipe import Amount, Contact, Site, Unit

ALSO_FOR_SKIN = ("salicylic_acid", "sodium_salicylate")  # asked about as an exfoliant, not as a preservative
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
    if asked.product in EATS_SKIN:
        return asked.answer("never_at_home", False, "fda_moles")
    return asked.answer("never_at_home", False, "fda_saline") if asked.product in STERILE else None


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
    """A bottle that holds something limited: as much of it as brings that to its ceiling."""
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
USUAL = (Role.ANTIOXIDANT, Role.CHELATOR, Role.EMULSIFIER, Role.SOLUBILISER, Role.THICKENER, Role.COLOURANT)
RULES = (of_ban, of_sterile, _of_limit, _by_place, of_colour, _of_oil, _of_soda, _strictest, _of_part, _of_usual)


def keeps_from(substance_id: str) -> Answer | None:
    """What a preservative needs to work: a least percent, or for an acid a pH below which it is acid enough."""
    row = preservatives().get(substance_id)
    if row is None or substance_id in ALSO_FOR_SKIN:
        return None
    if row.acid is None:
        return Answer(reason="at_least", yes=None, facts={"floor": row.floor})
    return Answer(reason="acid_enough", yes=None, facts={"ph": row.highest_ph})


def sun_above(substance_id: str, contact: Contact | None) -> Answer | None:
    """An oil that makes skin burn in the sun where it stays on."""
    oil = load_law().oils.get(substance_id)
    if oil is None or oil.phototoxic is None or contact is Contact.RINSE_OFF:
        return None
    return Answer(reason="sun_above", yes=None, facts={"limit": oil.phototoxic}, sources=(oil.source,))


def in_batch(answer: Answer, batch: Amount | None, catalogue: Catalogue) -> Answer | None:
    """The ceiling as grams or drops in a batch of watery product; None where no figure or no size is known.

    mass of the part = percent / 100 * mass of the batch; drops = mass / density / volume of a drop. The interval is
    that of drops (20 to 50 a ml for essential oils, common practice).
    """
    limit = answer.facts.get("limit")
    whole = None if batch is None else grams_of(batch, None if batch.unit is not Unit.CUP else catalogue.get("water"))
    substance = catalogue.get(str(answer.facts.get("substance", "")))
    if not isinstance(limit, float | int) or whole is None or substance is None:
        return None
    grams = limit / 100 * whole.best
    facts: dict[str, str | float] = {"grams": _rounded(grams)}
    drop = volume_of_one(Unit.DROP, substance)
    if Role.ESSENTIAL_OIL not in substance.roles or drop is None:
        return Answer(reason="in_batch_grams", yes=None, facts=facts)
    weight = drop.times(density_of(substance))
    drops = {"low": int(grams / weight.high), "high": int(grams / weight.low)}
    return Answer(reason="in_batch_drops", yes=None, facts=facts | drops)


def _rounded(grams: float) -> float:
    return round(grams, 1) if grams >= 1 else round(grams, 2)
