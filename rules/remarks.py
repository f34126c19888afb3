"""What is said beside an answer: grams and drops in a batch, what a preservative needs, sun, babies, lye for a fat."""

from __future__ import annotations

from collections.abc import Collection

from rules.answer import Answer
from rules.catalogue import Catalogue, Role, load_catalogue
from rules.chemistry.measuring import density_of, grams_of, volume_of_one
from rules.chemistry.preservatives import preservatives
from rules.chemistry.saponification import LYES, NAOH_PER_KOH, POTASH_PURITY, SUPERFAT, saponification_rows
from rules.hazards.delicate import RETINOIDS
from rules.law import load_law
from rules.recipe import Amount, Circumstance, Contact, Site, Unit

ALSO_FOR_SKIN = ("salicylic_acid", "sodium_salicylate")  # asked about as an exfoliant, not as a preservative


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


def constituent_bound(substance_id: str, site: Site | None, contact: Contact | None) -> Answer | None:
    """The percent of an oil at which a limited constituent reaches its limit, by the published range of its share."""
    row = load_law().constituents.get(substance_id)
    if row is None or contact is Contact.RINSE_OFF:
        return None
    bound = row.bound(lips=site is Site.LIPS)
    limit = row.lips if site is Site.LIPS else row.leave_on
    return Answer(
        reason="constituent_bound" if row.low < row.high else "constituent_point",
        yes=None,
        facts={
            "constituent": row.constituent, "share_low": row.low, "share_high": row.high, "limit": limit,
            "low": round(bound.low, 2), "high": round(bound.high, 2),
        },
        sources=(row.source, row.share_source),
    )  # fmt: skip


def not_for(substance_id: str, circumstances: Collection[Circumstance]) -> Answer | None:
    """What is left out for a baby or in pregnancy, wherever it goes."""
    roles = load_catalogue()[substance_id].roles
    if Circumstance.INFANT in circumstances and Role.ESSENTIAL_OIL in roles:
        return Answer(reason="oil_on_infant", yes=False, sources=("common_practice",))
    if Circumstance.PREGNANCY in circumstances and substance_id in RETINOIDS:
        return Answer(reason="retinoid_in_pregnancy", yes=False, sources=("common_practice",))
    return None


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


def lye_for(lye: str, fat: str, batch: Amount | None, catalogue: Catalogue) -> Answer | None:
    """g of lye for a mass of one fat with 5 % of it to spare: mass * g NaOH for 1 g * 0.95, more of potash."""
    row, whole = saponification_rows().get(fat), None if batch is None else grams_of(batch, catalogue.get(fat))
    if lye not in LYES or row is None or row.naoh == 0 or whole is None:
        return None
    grams = whole.best * row.naoh * (1 - SUPERFAT) / (NAOH_PER_KOH * POTASH_PURITY if lye == LYES[1] else 1)
    facts: dict[str, str | float] = {"substance": lye, "second": fat, "grams": _rounded(grams)}
    return Answer(reason="lye_for_fat", yes=None, facts=facts, sources=("soap_charts",))


def _rounded(grams: float) -> float:
    return round(grams, 1) if grams >= 1 else round(grams, 2)
