"""Answers from the tables: is X ok on Y, how much X, can Y replace X. "I don't know" is an answer."""

from __future__ import annotations

from rules.answer import UNKNOWN, Answer, Asked, about, first
from rules.assessment import Jurisdiction
from rules.catalogue import Catalogue, Phase, Role, Shelf, Substance, load_catalogue
from rules.chemistry.saponification import LYES, NAOH_PER_KOH, POTASH_PURITY, saponification_rows
from rules.doses import how_much, of_ban, of_colour, of_kind, of_sterile
from rules.hazards.colourants import MAKE_UP
from rules.law import Listing, load_law, place
from rules.recipe import Contact, Site

__all__ = ["UNKNOWN", "Answer", "banned_in_eu", "how_much", "may_go", "stand_ins", "swap"]
SOAP_SPREAD = 0.03  # of the lye that a fat takes up: less needs no new sum
STRENGTH = frozenset({Role.ACID, Role.ALKALI, Role.CARBONATE})  # swapped by what they do to the pH, not by weight
SOAPS = ("soap", "shampoo_bar")
# What is commonly taken in a role, by what the old thing was for; each is judged at the place before it is named.
STAND_INS: dict[Role, tuple[str, ...]] = {
    Role.PRESERVATIVE: ("phenoxyethanol", "sodium_benzoate", "potassium_sorbate"),
    Role.EMULSIFIER: ("emulsifying_wax", "polysorbate_20"),
    Role.COLOURANT: ("iron_oxide_red", "mica", "titanium_dioxide"),
    Role.HUMECTANT: ("glycerin", "propanediol", "sodium_lactate"),
    Role.ESSENTIAL_OIL: ("lavender_essential_oil", "sweet_orange_essential_oil"),
    Role.THICKENER: ("xanthan_gum", "hydroxyethylcellulose"),
    Role.ANTIOXIDANT: ("tocopherol", "rosemary_extract"),
}
SAME_STUFF = (
    "jojoba_oil", "sweet_almond_oil", "sunflower_oil", "shea_butter", "cocoa_butter", "beeswax", "candelilla_wax",
)  # fmt: skip


def may_go(
    substance_id: str,
    site: Site,
    jurisdiction: Jurisdiction = Jurisdiction.US,
    contact: Contact | None = Contact.LEAVE_ON,
    catalogue: Catalogue | None = None,
    product: str | None = None,
    *,
    sun: bool = False,
) -> Answer:
    """Is this substance ok there? The first rule that speaks answers; a dose rule answers "up to".

    sun: it is meant as protection from the sun.
    """
    asked = about(substance_id, site, jurisdiction, contact, catalogue, product)
    if asked is None:
        return UNKNOWN
    if sun and Role.UV_FILTER in asked.substance.roles:
        return asked.answer("no_home_sunscreen", False, "home_sunscreen_study")
    dose = how_much(substance_id, site, jurisdiction, contact, catalogue, product)
    ceiling = dose if dose.known and dose.reason != "usual_share" else None
    return first(
        asked, (of_ban, of_sterile, _of_listing, of_kind, lambda _: ceiling, _of_nothing_against, _of_colouring)
    )


def _of_listing(asked: Asked) -> Answer | None:
    """What the colour list of the region says of the place."""
    row = load_law().colour(asked.substance.id, asked.region)
    if row is None or asked.site is None:
        return None
    if getattr(row, place(asked.site)) is not Listing.YES:
        return of_colour(asked)
    return asked.answer("colour_listed", True, row.source, locator=row.locator)


def _of_nothing_against(asked: Asked) -> Answer | None:
    """An ordinary cosmetic ingredient that no table speaks against."""
    substance = asked.substance
    ordinary = substance.shelf is Shelf.COSMETIC and substance.inci is not None and not substance.generic
    return asked.answer("no_rule_against", None) if ordinary else None


def _of_colouring(asked: Asked) -> Answer | None:
    """A colouring without a listing of its own, and a kitchen powder as make-up: not the certified lot."""
    food = asked.substance.shelf is Shelf.FOOD and asked.product in MAKE_UP
    if Role.COLOURANT not in asked.substance.roles and not food:
        return None
    return asked.answer("colour_not_the_lot", None, "cfr_70_5")


def banned_in_eu(substance_id: str, site: Site | None, region: Jurisdiction) -> Answer | None:
    """Told beside the answer to somebody in the US."""
    asked = about(substance_id, site, Jurisdiction.EU, None)
    found = None if asked is None or region is not Jurisdiction.US else of_ban(asked)
    return None if found is None else found.model_copy(update={"reason": "banned_in_eu"})


def _same_work(old: Substance, new: Substance) -> bool:
    """Whether they do the same job: one phase, and a shared role where the old one has any that matters."""
    if old.phase is not new.phase:
        return False
    return not old.roles or not old.roles.isdisjoint(new.roles)


def swap(
    old_id: str,
    new_id: str,
    site: Site | None,
    jurisdiction: Jurisdiction = Jurisdiction.US,
    contact: Contact | None = Contact.LEAVE_ON,
    product: str | None = None,
) -> Answer:
    """Can the new one take the place of the old one there?"""
    catalogue = load_catalogue()
    old = catalogue.get(old_id)
    asked = about(new_id, site, jurisdiction, contact, catalogue, product)
    if old is None or asked is None:
        return UNKNOWN
    refused = may_go(new_id, site or Site.BODY, jurisdiction, contact, catalogue, product)
    if refused.yes is False:
        return refused
    new, second = asked.substance, old.id
    if Role.PRESERVATIVE in old.roles and Role.PRESERVATIVE not in new.roles:
        return asked.answer("swap_loses_preservative", False, "iso_29621", second=second)
    if (ratio := _lye_for_lye(old.id, new.id)) is not None:
        return asked.answer("swap_lye", None, "computed", second=second, ratio=ratio)
    if not STRENGTH.isdisjoint(old.roles | new.roles):
        return asked.answer("swap_by_ph", None, "common_practice", second=second)
    if Role.PRESERVATIVE in old.roles:
        return asked.answer("swap_preservatives", None, "common_practice", second=second)
    if Phase.WATER in (old.phase, new.phase) and old.phase is not new.phase:
        return asked.answer("swap_changes_water", False, "common_practice", second=second)
    if product in SOAPS and (lye := _lye_differs(old, new)) is not None:
        return asked.answer("swap_changes_lye", None, "soap_charts", second=second, before=lye[0], after=lye[1])
    if _same_work(old, new):
        return asked.answer("swap_same_work", True, "common_practice", second=second)
    return asked.answer("swap_other_work", None, "common_practice", second=second)


def _lye_for_lye(old: str, new: str) -> float | None:
    """g of the new lye for 1 g of the old one: 56.1 and 40.0 g/mol, potash as sold 90 %."""
    if {old, new} != set(LYES):
        return None
    return round(1 / (NAOH_PER_KOH * POTASH_PURITY), 2) if new == "potassium_hydroxide" else round(
        NAOH_PER_KOH * POTASH_PURITY, 2
    )  # fmt: skip


def _lye_differs(old: Substance, new: Substance) -> tuple[float, float] | None:
    """g of NaOH for 1 g of each fat, where they are known and not near each other."""
    rows = saponification_rows()
    if old.id not in rows or new.id not in rows:
        return None
    before, after = rows[old.id].naoh, rows[new.id].naoh
    return (before, after) if abs(after - before) > SOAP_SPREAD * before else None


def stand_ins(
    old_id: str, site: Site | None, region: Jurisdiction, contact: Contact | None = Contact.LEAVE_ON
) -> tuple[str, ...]:
    """Up to three things that commonly do the work of the old one and that nothing speaks against at the place."""
    catalogue = load_catalogue()
    old = catalogue.get(old_id)
    if old is None:
        return ()
    wanted = [name for role, names in STAND_INS.items() if role in old.roles for name in names]
    if not wanted:
        wanted = [n for n in SAME_STUFF if old.phase is Phase.OIL and catalogue.family(n) == catalogue.family(old_id)]
    fitting = (n for n in dict.fromkeys(wanted) if n in catalogue and n != old_id)
    return tuple(n for n in fitting if may_go(n, site or Site.BODY, region, contact).yes is not False)[:3]
