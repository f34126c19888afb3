"""From written amounts to shares: what a fan would get wrong figures from."""

from __future__ import annotations

import pytest

from rules.catalogue import Role
from rules.chemistry.composition import compose
from rules.chemistry.measuring import Spoons
from rules.recipe import Circumstance
from tests.rules.chemistry.shelf import SHELF, analysed, composed, line, recipe


def bests(mix):
    return [portion.percent.best for portion in mix.portions]


def test_percents_stand_as_written():
    mix = composed((80, "percent", "water"), (15, "percent", "olive_oil"), (5, "percent", "emulsifying_wax"))

    assert bests(mix) == pytest.approx([80, 15, 5])
    assert mix.total is None
    assert mix.statements == ()


def test_water_to_make_up_takes_the_remainder():
    mix = composed((None, None, "water"), (5, "percent", "glycerin"), (1, "percent", "phenoxyethanol"))

    assert bests(mix) == pytest.approx([94, 5, 1])
    assert mix.portions[0].estimated


def test_percents_beside_grams_are_percents_of_the_whole():
    mix = composed((99, "g", "water"), (1, "percent", "phenoxyethanol"))

    assert mix.parts["phenoxyethanol"].best == pytest.approx(1)
    assert mix.total is not None
    assert mix.total.best == pytest.approx(100)


def test_percents_over_100_are_said_and_brought_to_100():
    mix = composed((90, "percent", "water"), (30, "percent", "olive_oil"))

    assert "over_100_percent" in mix.statements
    assert sum(bests(mix)) == pytest.approx(100)
    assert mix.portions[1].percent.high >= 30


def test_percents_under_100_with_nothing_to_fill_up_are_said():
    mix = composed((60, "percent", "water"), (20, "percent", "olive_oil"))

    assert "under_100_percent" in mix.statements
    assert sum(bests(mix)) == pytest.approx(100)


def test_percents_over_100_beside_grams_are_read_on_top_of_the_grams():
    mix = composed((100, "g", "water"), (150, "percent", "olive_oil"))

    assert "over_100_percent" in mix.statements
    assert bests(mix) == pytest.approx([40, 60])


def test_parts_are_poured_and_span_the_weighed_reading():
    mix = composed((2, "part", "coconut_oil"), (1, "part", "glycerin"))
    poured = 2 * 0.921 / (2 * 0.921 + 1.261) * 100

    assert mix.portions[0].percent.best == pytest.approx(poured)
    assert mix.portions[0].percent.low <= 200 / 3 <= mix.portions[0].percent.high
    assert mix.total is None


def test_parts_are_weighed_in_a_recipe_that_weighs():
    mix = composed((2, "part", "coconut_oil"), (1, "part", "glycerin"), (0.0001, "g", "tocopherol"))

    assert mix.portions[0].percent.best == pytest.approx(200 / 3, abs=0.01)


def test_drops_beside_parts_say_that_the_size_of_a_part_is_unknown():
    mix = composed((2, "part", "coconut_oil"), (1, "part", "beeswax"), (5, "drop", "lavender_essential_oil"))

    assert "part_size_unknown" in mix.statements
    scent = mix.parts["lavender_essential_oil"]
    assert scent.high / scent.low > 5
    assert mix.portions[2].estimated
    # the parts among themselves are as sure as without the drops
    alone = composed((2, "part", "coconut_oil"), (1, "part", "beeswax")).portions[0].percent
    assert mix.portions[0].percent.low == pytest.approx(alone.low, abs=3)


def test_an_ounce_of_a_liquid_spans_weight_and_volume():
    mix = composed((1, "oz", "olive_oil"))
    grams = mix.portions[0].grams

    assert grams is not None
    assert grams.low <= 29.5735 * 0.913 <= grams.high
    assert grams.low <= 28.3495 <= grams.high


def test_an_ounce_of_wax_is_a_weight():
    mix = composed((1, "oz", "beeswax"))

    assert mix.total is not None
    assert mix.total.is_exact


@pytest.mark.parametrize(("unit", "least"), [("pinch", 3), ("handful", 3), ("splash", 10), ("squirt", 4)])
def test_rough_measures_are_wide_and_marked_as_estimated(unit, least):
    portion = composed((1, unit, "water"), (1, "cup", "olive_oil")).portions[0]

    assert portion.estimated
    assert portion.grams is not None
    assert portion.grams.high / portion.grams.low >= least


def test_a_preservative_without_a_dose_takes_a_typical_share_and_says_so():
    mix = composed((100, "g", "water"), (None, None, "phenoxyethanol"))
    portion = mix.portions[1]

    assert portion.estimated
    assert (portion.percent.low, portion.percent.high) == (0.1, 1)
    assert "amounts_missing" in mix.statements


def test_a_list_without_any_amount_shares_out_the_bulk_and_says_so():
    mix = composed((None, None, "olive_oil"), (None, None, "beeswax"), (None, None, "lavender_essential_oil"))

    assert "no_amounts" in mix.statements
    assert sum(bests(mix)) == pytest.approx(100)
    assert mix.portions[2].percent.best < 2
    assert all(portion.estimated for portion in mix.portions)


def test_unmeasured_water_beside_spoons_counts_as_plenty():
    mix = composed((1, "tbsp", "coconut_oil"), (2, "tsp", "shampoo"), (None, None, "water"))

    assert mix.parts["water"].best > 50


def test_alternatives_do_not_count():
    mix = composed((50, "g", "olive_oil"), line(50, "g", "coconut_oil", alternative_of=0), (50, "g", "beeswax"))

    assert bests(mix) == pytest.approx([50, 50])
    assert [portion.line for portion in mix.portions] == [0, 2]


def test_optional_lines_count_when_asked_for():
    written = recipe((50, "g", "olive_oil"), line(50, "g", "beeswax", optional=True))

    assert bests(compose(written, SHELF)) == pytest.approx([100])
    assert bests(compose(written, SHELF, with_optional=True)) == pytest.approx([50, 50])


def test_flowers_that_are_strained_off_do_not_count():
    mix = composed(
        (1, "cup", "chamomile_flowers"), (1, "cup", "water"), circumstances=frozenset({Circumstance.STRAINED})
    )

    assert mix.strained == (0,)
    assert "strained_off" in mix.statements
    assert mix.parts["water"].best == pytest.approx(100)


def test_juices_and_products_are_taken_apart_and_the_rest_stays_theirs():
    mix = composed((100, "g", "lotion"))

    assert mix.parts["water"].best == pytest.approx(75)
    assert mix.parts["phenoxyethanol"].best == pytest.approx(0.9)
    assert mix.parts["lotion"].best == pytest.approx(2.1)
    assert mix.with_role(Role.PRESERVATIVE, SHELF).best == pytest.approx(0.9)


def test_flour_and_dry_bath_salts_are_not_wet():
    flour = analysed((100, "g", "flour"), (20, "g", "olive_oil"))
    salts = analysed((100, "g", "epsom_salt"), (50, "g", "sodium_chloride"))

    assert flour.water_percent.best == 0
    assert salts.water_percent.best == 0
    assert "epsom_salt" in composed((100, "g", "epsom_salt"), (50, "g", "sodium_chloride")).parts


def test_crystals_in_a_little_water_dissolve_only_in_part():
    mix = composed((100, "g", "epsom_salt"), (20, "g", "water"))

    assert 0 < mix.parts["epsom_salt"].best < 100 * 100 / 120
    assert mix.parts["water"].best > 20 / 1.2


def test_something_watery_of_unknown_content_is_not_dry():
    odd = SHELF["water"].model_copy(update={"id": "tea", "name": "tea", "contains": {}})
    shelf = type(SHELF)({"tea": odd, "water": SHELF["water"]}, {})

    assert compose(recipe((1, "cup", "tea")), shelf).parts["water"].best > 90


def test_metric_spoons_change_the_weight_by_the_ratio_of_the_spoons():
    written = recipe((1, "tbsp", "water"))
    american = compose(written, SHELF).total
    australian = compose(written, SHELF, spoons=Spoons.AUSTRALIAN).total

    assert american is not None
    assert australian is not None
    assert australian.best / american.best == pytest.approx(20 / 14.78676, rel=1e-5)


def test_spirit_says_that_it_evaporates():
    assert "evaporates" in composed((1, "cup", "vodka"), (1, "cup", "water")).statements
