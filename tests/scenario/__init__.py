"""Recipes of Lantern Quay, our invented town, with the verdict that we expect and why."""

from __future__ import annotations

import re
from importlib.resources import files
from typing import Any

import tomli

from rules.catalogue import load_catalogue
from rules.interval import Interval
from rules.recipe import Amount, Circumstance, Claim, Contact, Keeping, Line, Quality, Recipe, Site, Unit

LINE = re.compile(
    r"(?P<optional>\?(?!\?))?\s*(?:(?P<amount>[\d.]+)\s+)?(?:(?P<unit>[a-z]+)\s+)?"
    r"(?P<name>[a-z0-9_?]+)(?P<qualities>(?:\+[a-z_]+)*)(?:\|(?P<instead_of>\d+))?"
)


def line_of(text: str) -> Line:
    """One line of the data file: "2 tbsp beeswax", "?3 drop peppermint_essential_oil", "10 g mica+craft_grade|0"."""
    found = LINE.fullmatch(text)
    assert found is not None, text
    name = found["name"]
    substance = None if name == "???" else name
    assert substance is None or substance in load_catalogue(), name
    amount = None
    if found["amount"]:
        value = float(found["amount"])
        amount = Amount(quantity=Interval.exact(value), unit=Unit(found["unit"]), written=(value, value))
    return Line(
        as_written=text,
        name=name.replace("_", " "),
        span=(0, len(name)),
        substance=substance,
        amount=amount,
        optional=found["optional"] is not None,
        alternative_of=None if found["instead_of"] is None else int(found["instead_of"]),
        qualities=frozenset(Quality(q) for q in found["qualities"].split("+") if q),
    )


def recipe_of(row: dict[str, Any]) -> Recipe:
    return Recipe(
        lines=tuple(line_of(text) for text in row["lines"]),
        product=row.get("of"),
        sites=tuple(Site(s) for s in row.get("sites", ())),
        contact=Contact(row["contact"]) if "contact" in row else None,
        keeping=Keeping(row["keeping"]) if "keeping" in row else None,
        claims=frozenset(Claim(c) for c in row.get("claims", ())),
        circumstances=frozenset(Circumstance(c) for c in row.get("with", ())),
    )


def rows() -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = tomli.loads(files("tests.scenario").joinpath("lantern_quay.toml").read_text("utf-8"))[
        "recipe"
    ]
    return found


def messages() -> list[dict[str, str]]:
    """The messages whose danger no list shows: id, least, text."""
    found: list[dict[str, str]] = tomli.loads(files("tests.scenario").joinpath("hidden.toml").read_text("utf-8"))[
        "message"
    ]
    return found
