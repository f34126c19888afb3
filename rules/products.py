"""Kinds of product: where they go, whether they stay on, whether they are kept. Table beside this file."""

from __future__ import annotations

from functools import lru_cache
from importlib.resources import files

import tomli

from rules.catalogue.substance import Id
from rules.recipe import Contact, Frozen, Keeping, Site


class Product(Frozen):
    """What a kind of product implies where the message does not say.

    microbial_risk_site: the product sits where an infection is grave (eye, mouth of an infant), so missing
    preservation is a hard stop. `aliases` are lower-case English names.
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


@lru_cache(maxsize=1)
def load_products() -> dict[str, Product]:
    """Product kinds by id, in table order. Raises pydantic.ValidationError for a faulty row."""
    rows = tomli.loads(files("rules").joinpath("products.toml").read_text("utf-8"))["product"]
    products = {row["id"]: Product.model_validate(row) for row in rows}
    if len(products) != len(rows):
        raise ValueError("products.toml: an id stands twice")
    return products
