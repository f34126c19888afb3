"""A case from a recipe: what the message leaves open is settled by the kind of product."""

from __future__ import annotations

from rules.assessment import Jurisdiction
from rules.case import Case
from rules.catalogue import Phase, Role, Shelf, load_catalogue
from rules.chemistry.chemistry import analyse
from rules.chemistry.composition import Composition, compose
from rules.products import Product, load_products
from rules.recipe import Contact, Keeping, Recipe, Site

CREAM_EMULSIFIER = 1.5  # percent of emulsifier, and of water, from which on a mix is a cream: common practice
# Kinds that are often stirred together and used up, although a jar of them can be kept too.
AT_THE_SINK = frozenset(
    {"face_scrub", "scrub", "hand_scrub", "foot_scrub", "scalp_scrub", "shampoo", "conditioner", "hair_rinse"}
)
CREAM_WATER = 25.0
# Stirred for one evening and washed off; what is more than a party wears is meant to be kept.
FOR_ONE_OCCASION = frozenset({"face_paint", "costume_blood", "body_paint", "temporary_tattoo"})
ONE_PARTY_GRAMS = 400.0


def _product(recipe: Recipe) -> Product | None:
    return load_products().get(recipe.product) if recipe.product is not None else None


def _is_cream(composition: Composition) -> bool:
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


def _fresh(composition: Composition) -> bool:
    return any(p.substance is not None and Role.PERISHABLE in p.substance.roles for p in composition.portions)


def _mixed_at_the_sink(product: Product | None, composition: Composition) -> bool:
    """Oats, honey, soda, vinegar and water, washed off: stirred for one use, whatever the kind is otherwise."""
    if product is None or product.id not in AT_THE_SINK:
        return False
    known = [p.substance for p in composition.portions if p.substance is not None]
    kitchen = all(s.shelf is Shelf.FOOD or s.id == "water" for s in known)
    return kitchen and len(known) == len(composition.portions) and not _fresh(composition)


def _contact(recipe: Recipe, product: Product | None, composition: Composition, sites: tuple[Site, ...]) -> Contact:
    said = recipe.contact or (product.contact if product else None)
    if said is not None:
        return said
    washed = not {Site.BATH, Site.MOUTH}.isdisjoint(sites)
    return Contact.RINSE_OFF if washed or _fresh(composition) else Contact.LEAVE_ON


def _keeping(recipe: Recipe, product: Product | None, composition: Composition, contact: Contact) -> Keeping:
    said = recipe.keeping or (product.keeping if product else None)
    if said is Keeping.SINGLE_USE and _is_cream(composition):
        return Keeping.KEPT
    if said is Keeping.KEPT and contact is Contact.RINSE_OFF and _mixed_at_the_sink(product, composition):
        return Keeping.SINGLE_USE
    if recipe.keeping is None and product is not None and product.id in FOR_ONE_OCCASION:
        total = composition.total
        if total is not None and total.best <= ONE_PARTY_GRAMS and not _is_cream(composition):
            return Keeping.SINGLE_USE
    if said is not None:
        return said
    once = _fresh(composition) and contact is Contact.RINSE_OFF
    return Keeping.SINGLE_USE if once else Keeping.KEPT


def settle(recipe: Recipe, jurisdiction: Jurisdiction, sites: tuple[Site, ...]) -> Case:
    """The case: what the message leaves open is taken from the kind of product, else the stricter reading."""
    catalogue = load_catalogue()
    product = _product(recipe)
    composition = compose(recipe, catalogue)
    contact = _contact(recipe, product, composition, sites)
    return Case(
        recipe=recipe,
        product=product,
        sites=sites,
        contact=contact,
        keeping=_keeping(recipe, product, composition, contact),
        composition=composition,
        chemistry=analyse(recipe, composition, catalogue),
        catalogue=catalogue,
        jurisdiction=jurisdiction,
        guessed=recipe.guessed,
    )


def sites_of(recipe: Recipe) -> tuple[Site, ...]:
    product = _product(recipe)
    return recipe.sites or (product.sites if product else ())
