"""A case from a recipe: what the message leaves open is settled by the kind of product."""

from __future__ import annotations

from rules.assessment import Jurisdiction
from rules.case import Case
from rules.catalogue import load_catalogue
from rules.chemistry.chemistry import analyse
from rules.chemistry.composition import Composition, compose
from rules.keeping import has_fresh_food, keeping_of
from rules.law import Law, load_law
from rules.products import Product, load_products
from rules.recipe import Contact, Recipe, Site


def _product(recipe: Recipe) -> Product | None:
    return load_products().get(recipe.product) if recipe.product is not None else None


def _contact(recipe: Recipe, product: Product | None, composition: Composition, sites: tuple[Site, ...]) -> Contact:
    said = recipe.contact or (product.contact if product else None)
    if said is not None:
        return said
    washed = not {Site.BATH, Site.MOUTH}.isdisjoint(sites)
    return Contact.RINSE_OFF if washed or has_fresh_food(composition) else Contact.LEAVE_ON


def settle(recipe: Recipe, jurisdiction: Jurisdiction, sites: tuple[Site, ...], law: Law | None = None) -> Case:
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
        keeping=keeping_of(recipe, product, composition, contact, sites),
        composition=composition,
        chemistry=analyse(recipe, composition, catalogue),
        catalogue=catalogue,
        jurisdiction=jurisdiction,
        law=law or load_law(),
    )


def sites_of(recipe: Recipe) -> tuple[Site, ...]:
    product = _product(recipe)
    return recipe.sites or (product.sites if product else ())
