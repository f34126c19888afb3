"""Nonsense in a recipe is named in the statements; it never raises and never passes in silence."""

from __future__ import annotations

import pytest

from rules.chemistry.chemistry import Chemistry, Preserved
from rules.interval import Interval
from rules.recipe import Amount, Line, Recipe, Unit
from tests.rules.chemistry.shelf import SHELF, analysed, composed, recipe


@pytest.mark.parametrize(
    ("lines", "statement"),
    [
        ([], "nothing_to_weigh"),
        ([(0, "g", "water"), (10, "g", "olive_oil")], "amount_not_positive"),
        ([(-5, "g", "water"), (10, "g", "olive_oil")], "amount_not_positive"),
        ([(float("inf"), "g", "water"), (10, "g", "olive_oil")], "amount_impossible"),
        ([(999999999, "kg", "water")], "amount_huge"),
        ([(1e308, "kg", "water"), (1, "g", "olive_oil")], "amount_impossible"),
        ([(3, None, "water"), (10, "g", "olive_oil")], "unit_unknown"),
        ([(3, "piece", "olive_oil"), (10, "g", "water")], "piece_weight_unknown"),
        ([(150, "percent", "water")], "over_100_percent"),
        ([(70, "percent", "water"), (70, "percent", "olive_oil")], "over_100_percent"),
        ([(10, "percent", "water")], "under_100_percent"),
        ([(1, "cup", None), (2, "tbsp", None)], "unknown_only"),
        ([(1, "cup", None), (2, "tbsp", "water")], "unknown_share"),
        ([(1, "cup", "water")], "one_ingredient"),
        ([(None, None, "water"), (None, None, "olive_oil")], "no_amounts"),
        ([(None, None, None)], "unknown_only"),
        ([(100, "percent", "water"), (None, None, "olive_oil")], "over_100_percent"),
    ],
)
def test_an_odd_recipe_gets_a_statement_and_a_whole_analysis(lines, statement):
    chemistry = analysed(*lines)

    assert isinstance(chemistry, Chemistry)
    assert statement in chemistry.statements


def test_mass_is_conserved_however_odd_the_amounts():
    mix = composed(
        (100, "percent", "water"), (None, None, "olive_oil"), (5, "percent", "glycerin"), (1, "part", "mica")
    )

    assert sum(p.percent.best for p in mix.portions) == pytest.approx(100, abs=1e-9)


def test_a_recipe_of_unknowns_only_is_not_called_safe():
    assert analysed((1, "cup", None), (2, "tbsp", None)).preservation.status is Preserved.CANNOT_TELL


def test_an_unknown_in_bulk_beside_oil_may_hold_water():
    assert analysed((1, "cup", None), (1, "cup", "olive_oil")).preservation.status is Preserved.CANNOT_TELL


def test_a_substance_that_the_catalogue_lost_is_treated_as_unknown():
    written = Recipe(
        lines=(
            Line(
                as_written="1 cup ether",
                name="ether",
                span=(0, 5),
                substance="no_such_thing",
                amount=Amount(quantity=Interval.exact(1), unit=Unit.CUP, written=(1, 1)),
            ),
        )
    )
    from rules.chemistry.chemistry import analyse
    from rules.chemistry.composition import compose

    assert "unknown_only" in analyse(written, compose(written, SHELF), SHELF).statements


def test_an_amount_that_may_be_nothing_keeps_its_upper_end():
    mix = composed(((-1, 5), "g", "water"), (10, "g", "olive_oil"))

    assert mix.portions[0].grams is not None
    assert mix.portions[0].grams.low == 0
    assert mix.portions[0].grams.high == 5


def test_an_empty_recipe_has_no_water_and_no_numbers():
    chemistry = analysed(*recipe().lines)

    assert chemistry.water_activity is None
    assert chemistry.ph is None
