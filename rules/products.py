"""Kinds of product: where they go, whether they stay on, whether they are kept. Table beside this file."""

from __future__ import annotations

from functools import lru_cache
from importlib.resources import files

import tomli

from rules.catalogue.substance import Id
from rules.recipe import Circumstance, Contact, Frozen, Keeping, Site


class Product(Frozen):
    """What a kind of product implies where the message does not say.

    `aliases` are lower-case English names; `implies`: what the kind says by itself of who wears it and how.
    """

    id: Id
    name: str
    aliases: tuple[str, ...]
    sites: tuple[Site, ...]
    contact: Contact
    keeping: Keeping
    sprayed: bool = False
    powder: bool = False
    sun_protection: bool = False
    implies: frozenset[Circumstance] = frozenset()


@lru_cache(maxsize=1)
def load_products() -> dict[str, Product]:
    """Product kinds by id, in table order. Raises pydantic.ValidationError for a faulty row."""
    rows = tomli.loads(files("rules").joinpath("products.toml").read_text("utf-8"))["product"]
    products = {row["id"]: Product.model_validate(row) for row in rows}
    if len(products) != len(rows):
        raise ValueError("products.toml: an id stands twice")
    return products
