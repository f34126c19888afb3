"""Whether it is used up at once, where the message does not say: common practice, no source."""

from __future__ import annotations

from rules.catalogue import Phase, Role, Shelf
from rules.chemistry.composition import Composition
from rules.products import Product
from rules.recipe import Contact, Keeping, Recipe, Site

CREAM_EMULSIFIER = 1.5  # percent of emulsifier, and of water below, from which on a mix is a cream
CREAM_WATER = 25.0
# Kinds that are often stirred together and used up, although a jar of them can be kept too.
AT_THE_SINK = frozenset(
    {
        "face_scrub", "scrub", "hand_scrub", "foot_scrub", "scalp_scrub", "sugar_scrub", "lip_scrub", "shampoo",
        "conditioner", "hair_rinse", "mouthwash", "cuticle_oil", "spot_treatment",
    }
)  # fmt: skip
# From the pantry although the cosmetic shelf has it too.
PANTRY = frozenset({"water", "sodium_chloride", "sea_salt", "epsom_salt", "sodium_bicarbonate", "baking_powder"})
DROPS = {Role.ESSENTIAL_OIL, Role.FRAGRANCE}
# Stirred for one evening and washed off; what is more than a party wears is meant to be kept.
FOR_ONE_OCCASION = frozenset({"face_paint", "costume_blood", "body_paint", "temporary_tattoo"})
ONE_PARTY_GRAMS = 400.0
ONE_WASH_GRAMS = 300.0  # a scrub for the whole body, or a head of hair
ONE_DAB_GRAMS = 20.0  # a good tablespoon: fresh food in so little is for now
ONE_SPOT_GRAMS = 5.0  # a teaspoon of anything but eye and lip colour is used up where it was mixed
FRESH_PERCENT = 1.0


def is_cream(composition: Composition) -> bool:
    """Nobody emulsifies for one use: such a mix is made to be kept."""
    emulsifier = sum(
        p.percent.best
        for p in composition.portions
        if p.substance is not None
        and Role.EMULSIFIER in p.substance.roles
        and p.substance.shelf is Shelf.COSMETIC
        and p.substance.phase is not Phase.EMULSION  # a bought cream, not the wax to make one
        and p.substance.roles.isdisjoint({Role.SOAP, Role.SURFACTANT})
    )
    return emulsifier >= CREAM_EMULSIFIER and composition.percent_of("water").best >= CREAM_WATER


def has_fresh_food(composition: Composition) -> bool:
    return any(p.substance is not None and Role.PERISHABLE in p.substance.roles for p in composition.portions)


def _much_fresh_food(composition: Composition) -> bool:
    fresh = (p.percent.best for p in composition.portions if p.substance and Role.PERISHABLE in p.substance.roles)
    return sum(fresh) >= FRESH_PERCENT


def _foams(composition: Composition) -> bool:
    """Soap or detergent comes in a bottle that stands in the shower."""
    wash = {Role.SOAP, Role.SURFACTANT}
    return any(p.substance is not None and p.substance.roles & wash for p in composition.portions)


def _one_fresh_thing(composition: Composition) -> bool:
    """Slices of cucumber, half an avocado, and nothing else: nobody keeps that as a product."""
    known = [p.substance for p in composition.portions if p.substance is not None]
    whole = all(s.piece_grams is not None and Role.PERISHABLE in s.roles for s in known)
    return len(known) == len(composition.portions) == 1 and whole


def _grams(composition: Composition) -> float:
    return composition.total.best if composition.total is not None else float("inf")


def _one_wash_of_food(composition: Composition) -> bool:
    return _much_fresh_food(composition) and not _foams(composition) and _grams(composition) <= ONE_WASH_GRAMS


def _mixed_at_the_sink(product: Product, composition: Composition) -> bool:
    """Oats, honey, soda, vinegar and water, or lemon and sugar, washed off: stirred for one use."""
    if product.id not in AT_THE_SINK:
        return False
    if _much_fresh_food(composition):
        return _one_wash_of_food(composition)
    known = [p.substance for p in composition.portions if p.substance is not None]
    kitchen = all(s.shelf is Shelf.FOOD or s.id in PANTRY or s.roles & DROPS for s in known)
    return kitchen and len(known) == len(composition.portions)


def _for_now(product: Product, composition: Composition, sites: tuple[Site, ...]) -> bool:
    """A party's worth of costume make-up, or a spoon of something with fresh food in it, not for eyes or lips."""
    if product.id in FOR_ONE_OCCASION:
        return _grams(composition) <= ONE_PARTY_GRAMS
    at_edge = not {Site.EYE_AREA, Site.LIPS}.isdisjoint(sites[:1])
    if _grams(composition) <= ONE_SPOT_GRAMS and not at_edge:
        return True
    dab = _much_fresh_food(composition) or product.id in AT_THE_SINK
    return dab and not at_edge and _grams(composition) <= ONE_DAB_GRAMS


def keeping_of(
    recipe: Recipe, product: Product | None, composition: Composition, contact: Contact, sites: tuple[Site, ...]
) -> Keeping:
    """As the message says; else by the kind of product, how much it is and what goes in; else kept."""
    if recipe.keeping is not None or product is None:
        said = recipe.keeping
    else:
        unsure = recipe.guessed or product.contact is not contact  # the kind is not the one that is meant
        sink = _mixed_at_the_sink(product, composition) or (unsure and _one_wash_of_food(composition))
        once = (
            (contact is Contact.RINSE_OFF and sink)
            or _one_fresh_thing(composition)
            or _for_now(product, composition, sites)
        )
        said = Keeping.SINGLE_USE if once else product.keeping
    if is_cream(composition):
        return Keeping.KEPT
    if said is not None:
        return said
    eaten = has_fresh_food(composition) and contact is Contact.RINSE_OFF
    return Keeping.SINGLE_USE if eaten else Keeping.KEPT
