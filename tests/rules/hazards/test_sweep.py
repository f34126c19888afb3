"""Nothing grave is called fine: every such substance, in a balm, a kept mist and a powder, at every place.

What may be fine all the same stands in `may_be_fine.toml`, with why; the list may not outlive its need.
"""

from __future__ import annotations

from functools import lru_cache
from importlib.resources import files

import pytest
import tomli

from rules.assess import assess
from rules.assessment import Jurisdiction, Verdict
from rules.catalogue import Role, Shelf, Substance, load_catalogue
from rules.law import load_law
from rules.recipe import Contact, Keeping, Recipe, Site
from tests.scenario import line_of

GRAVE = {
    Role.NAIL_MONOMER, Role.GLUE, Role.DRUG, Role.DISSOLVES_SKIN, Role.IRRITANT_SPICE, Role.OXIDISER, Role.GLITTER,
    Role.UV_FILTER, Role.PHOTOTOXIC_JUICE, Role.ALKALI, Role.ACID, Role.PLUMPER, Role.LIGHTENER, Role.PROPELLANT,
}  # fmt: skip
NOT_FOR_SKIN = {Shelf.CRAFT, Shelf.HOUSEHOLD, Shelf.GARDEN}
CARRIERS = {
    "balm": ("20 percent beeswax", "60 percent sunflower_oil"),
    "mist": ("75 percent water", "4 percent glycerin", "1 percent phenoxyethanol_ethylhexylglycerin"),
    "powder": ("60 percent cornstarch", "20 percent kaolin"),
}
SITES = (Site.EYE_AREA, Site.LIPS, Site.FACE, Site.BODY, Site.MOUTH)


@lru_cache(maxsize=1)
def may_be_fine() -> dict[str, str]:
    table = tomli.loads(files("tests.rules.hazards").joinpath("may_be_fine.toml").read_text("utf-8"))
    return {substance: group["why"] for group in table["group"] for substance in group["substances"]}


def grave() -> list[Substance]:
    law = load_law()
    return [s for s in load_catalogue() if s.roles & GRAVE or s.shelf in NOT_FOR_SKIN or law.bans(s.id)]


def fine_at(substance: Substance, carrier: str) -> list[Site]:
    lines = tuple(line_of(text) for text in (*CARRIERS[carrier], f"20 percent {substance.id}"))
    found = []
    for site in SITES:
        recipe = Recipe(lines=lines, sites=(site,), contact=Contact.LEAVE_ON, keeping=Keeping.KEPT)
        if assess(recipe, Jurisdiction.US).verdict is Verdict.FINE:
            found.append(site)
    return found


@pytest.mark.parametrize("carrier", sorted(CARRIERS))
def test_a_fifth_of_something_grave_left_on_is_fine_only_where_we_say_why(carrier: str) -> None:
    wrong = {s.id: fine_at(s, carrier) for s in grave() if s.id not in may_be_fine()}
    assert {name: [str(site) for site in sites] for name, sites in wrong.items() if sites} == {}


def test_every_exception_is_in_the_catalogue_and_is_needed() -> None:
    by_id = {s.id: s for s in grave()}
    assert set(may_be_fine()) <= set(by_id)
    idle = [n for n in may_be_fine() if not any(fine_at(by_id[n], carrier) for carrier in CARRIERS)]
    assert idle == []


LOOKALIKES = [
    s for s in load_catalogue() if Role.LOOKS_LIKE_PRESERVATIVE in s.roles and Role.PRESERVATIVE not in s.roles
]


@pytest.mark.parametrize("lookalike", LOOKALIKES, ids=lambda s: s.id)
def test_what_only_looks_like_a_preservative_does_not_make_a_kept_water_fine(lookalike: Substance) -> None:
    lines = tuple(line_of(text) for text in ("97 percent water", "2 percent glycerin", f"1 percent {lookalike.id}"))
    recipe = Recipe(lines=lines, product="toner", sites=(Site.FACE,), keeping=Keeping.KEPT)
    assert assess(recipe).verdict in (Verdict.FIX, Verdict.AVOID)
