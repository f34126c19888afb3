"""From a recipe to its assessment: options, doubts, guesses, bad input."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rules.assess import assess
from rules.assessment import Assessment, Condition, Jurisdiction, Severity, Verdict
from tests.scenario import recipe_of


def judged(*lines: str, region: Jurisdiction = Jurisdiction.US, **row: Any) -> Assessment:
    return assess(recipe_of({"lines": list(lines), **row}), region)


BALM = ("10 g beeswax", "30 g olive_oil")
WORSE = {Verdict.FINE: 0, Verdict.UNCLEAR: 1, Verdict.FIX: 2, Verdict.AVOID: 3}


def test_an_optional_crayon_is_said_as_an_if_and_raises_the_verdict_to_fix_at_most() -> None:
    result = judged(*BALM, "?1 piece crayon", of="lip_balm")
    assert result.verdict is Verdict.FIX
    assert {f.condition for f in result.findings if f.severity is Severity.FIX} == {Condition.IF_ADDED}


def test_a_spice_that_can_be_chosen_instead_leaves_the_verdict_and_is_mentioned() -> None:
    result = judged("3 tbsp cornstarch", "1 tbsp cocoa_powder", "cinnamon_powder|1", of="dry_shampoo")
    assert result.verdict is Verdict.FINE
    chosen = [f for f in result.findings if f.condition is Condition.IF_CHOSEN and f.reason == "hot_spice"]
    assert [f.line for f in chosen] == [2]


def test_an_alternative_carries_the_share_it_would_have() -> None:
    result = judged("50 g sweet_almond_oil", "jojoba_oil|0", "50 g beeswax", of="lotion_bar")
    share = result.shares[1].percent
    assert share is not None
    assert share.best == pytest.approx(50, abs=5)


def test_an_unknown_ingredient_is_never_fine_and_is_named() -> None:
    result = judged(*BALM, "5 g ???", of="lip_balm")
    assert result.verdict is Verdict.UNCLEAR
    assert result.not_understood == (2,)
    assert result.question == "what_is_the_unknown"


def test_an_empty_recipe_cannot_be_told() -> None:
    result = judged(of="toner")
    assert (result.verdict, result.question) == (Verdict.UNCLEAR, "what_is_in_it")


def test_a_recipe_without_amounts_is_judged_where_the_verdict_does_not_hang_on_them() -> None:
    assert judged("beeswax", "olive_oil", of="lip_balm").verdict is Verdict.FINE
    assert judged("crayon", "olive_oil", of="lipstick").verdict is Verdict.AVOID
    assert judged("water", "glycerin", of="toner").verdict is Verdict.FIX


def test_contradictory_places_are_judged_by_the_stricter_one() -> None:
    result = judged("5 g ultramarine_blue", "10 g castor_oil", sites=["eye_area", "lips"], contact="leave_on")
    assert result.verdict is Verdict.AVOID


def test_a_guess_of_the_product_says_that_it_is_one() -> None:
    said = recipe_of({"lines": list(BALM), "of": "lip_balm"})
    assert assess(said).taken_for is None
    assert assess(said.model_copy(update={"guessed": True})).taken_for == "lip_balm"


def test_something_grave_that_is_named_but_not_listed_is_asked_and_never_passed() -> None:
    balm = recipe_of({"lines": list(BALM), "of": "lip_balm"})
    result = assess(balm.model_copy(update={"aside": ("crayon",)}))
    assert result.verdict is Verdict.UNCLEAR
    assert result.question == "is_it_in_it"
    assert assess(balm.model_copy(update={"aside": ("honey",)})).verdict is Verdict.FINE


def test_the_region_changes_what_is_prohibited_and_is_named() -> None:
    cream = (
        "1 g borax",
        "40 g water",
        "80 g olive_oil",
        "20 g beeswax",
        "2 g phenoxyethanol_ethylhexylglycerin",
    )
    american = [f for f in judged(*cream, of="cold_cream").findings if f.reason.startswith("prohibited")]
    european = [
        f for f in judged(*cream, of="cold_cream", region=Jurisdiction.EU).findings if f.reason.startswith("prohibited")
    ]
    assert [(f.severity, f.region) for f in american] == [(Severity.NOTE, Jurisdiction.EU)]
    assert [(f.severity, f.region) for f in european] == [(Severity.AVOID, Jurisdiction.EU)]


def test_the_same_recipe_is_judged_the_same_twice() -> None:
    recipe = recipe_of({"of": "toner", "lines": ["1 cup green_tea", "?3 drop tea_tree_essential_oil"]})
    assert assess(recipe) == assess(recipe)


SOUND = ["10 g beeswax", "30 g olive_oil", "20 g shea_butter", "5 g cornstarch", "10 g jojoba_oil"]
BAD = ["1 piece crayon", "50 g water", "5 g ???", "10 g lemon_juice", "2 g cinnamon_powder", "3 g super_glue"]


@given(st.permutations(SOUND), st.sampled_from(BAD))
@settings(max_examples=40, deadline=None)
def test_adding_something_bad_never_makes_the_verdict_milder(lines: list[str], bad: str) -> None:
    before = judged(*lines[:3], of="lip_balm").verdict
    after = judged(*lines[:3], bad, of="lip_balm").verdict
    assert WORSE[after] >= WORSE[before]


@given(st.floats(0.1, 50))
@settings(max_examples=30, deadline=None)
def test_a_batch_of_another_size_gets_the_same_verdict(factor: float) -> None:
    lines = [(80, "rose_water"), (15, "glycerin"), (2, "potassium_sorbate")]
    one = judged(*(f"{g} g {name}" for g, name in lines), of="toner")
    other = judged(*(f"{g * factor:.6f} g {name}" for g, name in lines), of="toner")
    assert one.verdict is other.verdict
    assert {f.reason for f in one.findings} == {f.reason for f in other.findings}
