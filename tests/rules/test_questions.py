"""Short questions are answered from the tables, or with "I don't know"."""

from __future__ import annotations

import string
from importlib.resources import files

import pytest
import tomli
from hypothesis import given, settings
from hypothesis import strategies as st

from rules.assessment import Jurisdiction
from rules.catalogue import load_catalogue
from rules.questions import Answer, how_much, may_go, swap
from rules.recipe import Contact, Site
from rules.sources import load_sources

PHRASES: dict[str, str] = tomli.loads(files("bot.words").joinpath("en", "answers.toml").read_text("utf-8"))["answer"]
SUBSTANCES = sorted(s.id for s in load_catalogue())


@pytest.mark.parametrize(
    ("substance", "site", "yes", "reason"),
    [
        ("ultramarine_blue", Site.LIPS, False, "colour_not_listed"),  # 21 CFR 73.2725
        ("ultramarine_blue", Site.EYE_AREA, True, "colour_listed"),
        ("mica", Site.LIPS, True, "colour_listed"),  # 21 CFR 73.2496
        ("crayon", Site.LIPS, False, "not_made_for_skin"),
        ("bleach", Site.HAIR, False, "not_made_for_skin"),
        ("hydroquinone", Site.FACE, False, "not_permitted"),
        ("cinnamon_powder", Site.LIPS, False, "spice_irritates"),
        ("lemon_juice", Site.FACE, False, "juice_and_sun"),
        ("egg", Site.HAIR, None, "fresh_once"),
        ("bergamot_essential_oil", Site.BODY, None, "at_most_by_opinion"),
        ("jojoba_oil", Site.FACE, None, "no_rule_against"),
    ],
)
def test_is_it_ok_there(substance: str, site: Site, yes: bool | None, reason: str) -> None:
    answer = may_go(substance, site)
    assert (answer.yes, answer.reason) == (yes, reason)


def test_how_much_names_the_ceiling_and_its_source() -> None:
    answer = how_much("bergamot_essential_oil", Site.BODY)
    assert answer.facts["limit"] == 0.4
    assert answer.sources == ("handbook_phototoxic",)
    assert how_much("lavender_essential_oil", Site.FACE).facts["limit"] == 1.0
    assert how_much("sodium_benzoate", Site.BODY, Jurisdiction.EU).facts["limit"] == pytest.approx(0.59)


def test_what_is_not_known_is_said_so() -> None:
    assert may_go("moon_dust", Site.FACE).reason == "not_known"
    assert how_much("jojoba_oil", Site.FACE).reason == "not_known"
    assert swap("moon_dust", "jojoba_oil", Site.FACE).reason == "not_known"


def test_swaps() -> None:
    assert swap("sweet_almond_oil", "jojoba_oil", Site.BODY).yes is True
    assert swap("phenoxyethanol", "tocopherol", Site.FACE).reason == "swap_loses_preservative"
    assert swap("iron_oxide_red", "crayon", Site.LIPS).reason == "not_made_for_skin"
    assert swap("iron_oxide_red", "ultramarine_blue", Site.LIPS).yes is False
    assert swap("olive_oil", "rose_water", Site.FACE).reason == "swap_changes_water"


def sayable(answer: Answer) -> None:
    gaps = {name for _, name, _, _ in string.Formatter().parse(PHRASES[answer.reason]) if name}
    assert gaps <= set(answer.facts), answer
    assert set(answer.sources) <= set(load_sources())


@given(
    st.sampled_from(SUBSTANCES),
    st.sampled_from(SUBSTANCES),
    st.sampled_from(list(Site)),
    st.sampled_from(list(Contact)),
    st.sampled_from(list(Jurisdiction)),
)
@settings(max_examples=200, deadline=None)
def test_every_answer_can_be_said(one: str, other: str, site: Site, contact: Contact, region: Jurisdiction) -> None:
    sayable(may_go(one, site, region, contact))
    sayable(how_much(one, site, region, contact))
    sayable(swap(one, other, site, region))
