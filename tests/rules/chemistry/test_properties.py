"""What must hold for every recipe, whatever the amounts."""

from __future__ import annotations

import math

from hypothesis import given, settings
from hypothesis import strategies as st

from rules.chemistry.charge_balance import Weak, solve
from rules.chemistry.chemistry import Preserved, analyse
from rules.chemistry.composition import compose
from rules.chemistry.water_activity import activity_of, water_activity
from rules.interval import Interval
from rules.recipe import Recipe
from tests.rules.chemistry.shelf import SHELF, line, recipe

IDS = [row.id for row in SHELF]
UNITS = [
    "g",
    "tsp",
    "tbsp",
    "cup",
    "ml",
    "drop",
    "oz",
    "floz",
    "lb",
    "pinch",
    "handful",
    "part",
    "percent",
    "piece",
]
MEASURED = ["g", "tsp", "tbsp", "cup", "ml", "oz"]
quantities = st.floats(0.01, 500, allow_nan=False)
any_line = st.tuples(st.one_of(st.none(), quantities), st.sampled_from(UNITS), st.sampled_from([*IDS, None]))
measured_line = st.tuples(quantities, st.sampled_from(MEASURED), st.sampled_from(IDS))
recipes = st.lists(any_line, min_size=1, max_size=10)
measured = st.lists(measured_line, min_size=1, max_size=8)


def holds(interval: Interval | None, other: Interval | None, slack: float = 1e-6) -> bool:
    if interval is None or other is None:
        return interval is other
    pairs = ((interval.low, other.low), (interval.best, other.best), (interval.high, other.high))
    return all(math.isclose(a, b, rel_tol=slack, abs_tol=slack) for a, b in pairs)


@given(recipes)
def test_no_mass_is_made_or_lost(lines):
    mix = compose(recipe(*lines), SHELF)

    assert math.isclose(sum(p.percent.best for p in mix.portions), 100, abs_tol=1e-9)
    assert sum(share.best for share in mix.parts.values()) <= 100 + 1e-9
    for portion in mix.portions:
        assert 0 <= portion.percent.low <= portion.percent.best <= portion.percent.high <= 100


@given(recipes)
@settings(deadline=None)
def test_every_recipe_can_be_analysed(lines):
    written = recipe(*lines)
    chemistry = analyse(written, compose(written, SHELF), SHELF)

    activity = chemistry.water_activity
    assert activity is None or 0 <= activity.low <= activity.best <= activity.high <= 1
    assert chemistry.ph is None or chemistry.ph.low <= chemistry.ph.best <= chemistry.ph.high


@given(measured, st.randoms(use_true_random=False))
@settings(deadline=None)
def test_the_order_of_the_lines_changes_nothing(lines, random):
    mixed = list(lines)
    random.shuffle(mixed)
    first, second = compose(recipe(*lines), SHELF), compose(recipe(*mixed), SHELF)

    assert first.parts.keys() == second.parts.keys()
    assert all(holds(first.parts[part], second.parts[part]) for part in first.parts)


@given(measured, st.floats(0.1, 20))
@settings(deadline=None)
def test_a_double_batch_has_the_same_chemistry(lines, factor):
    bigger = [(quantity * factor, unit, substance) for quantity, unit, substance in lines]
    small, large = recipe(*lines), recipe(*bigger)
    one, two = (analyse(r, compose(r, SHELF), SHELF) for r in (small, large))

    assert holds(one.water_activity, two.water_activity)
    assert holds(one.ph, two.ph, slack=1e-2)
    assert one.preservation.status is two.preservation.status
    assert one.emulsion.mixing is two.emulsion.mixing


@given(st.lists(st.tuples(quantities, st.sampled_from(IDS)), min_size=1, max_size=8))
def test_grams_or_kilograms_make_no_difference(lines):
    grams = compose(recipe(*((q, "g", s) for q, s in lines)), SHELF)
    kilograms = compose(recipe(*((q / 1000, "kg", s) for q, s in lines)), SHELF)

    assert all(holds(grams.parts[part], kilograms.parts[part]) for part in grams.parts)


@given(measured)
@settings(deadline=None)
def test_mixing_a_mixture_with_itself_changes_nothing(lines):
    once, twice = compose(recipe(*lines), SHELF), compose(recipe(*lines, *lines), SHELF)

    for part, share in once.parts.items():
        assert math.isclose(share.best, twice.parts[part].best, rel_tol=1e-6, abs_tol=1e-9)


@given(measured)
@settings(deadline=None)
def test_the_interval_holds_every_recipe_inside_the_ranges(lines):
    """Low and high ends of a range give point results that lie in the interval of the range."""
    ranged = [((q * 0.8, q * 1.2), unit, s) for q, unit, s in lines]
    wide = compose(recipe(*ranged), SHELF)
    for factor in (0.8, 1.0, 1.2):
        corner = [(q * (factor if i % 2 else 2 - factor), unit, s) for i, (q, unit, s) in enumerate(lines)]
        point = compose(recipe(*corner), SHELF)
        for wide_portion, portion in zip(wide.portions, point.portions, strict=True):
            assert wide_portion.percent.low - 1e-9 <= portion.percent.best <= wide_portion.percent.high + 1e-9


@given(measured)
@settings(deadline=None)
def test_the_water_activity_of_a_range_holds_that_of_its_ends(lines):
    """A recipe inside the written ranges never has a water activity outside the interval that was shown."""
    ranged = recipe(*(((q * 0.8, q * 1.2), unit, s) for q, unit, s in lines))
    wide = water_activity(compose(ranged, SHELF).parts).value
    for factor in (0.8, 1.0, 1.2):
        corner = [(q * (factor if i % 2 else 2 - factor), unit, s) for i, (q, unit, s) in enumerate(lines)]
        point = water_activity(compose(recipe(*corner), SHELF).parts).value
        if wide is not None and point is not None:
            assert wide.low - 1e-6 <= point.best <= wide.high + 1e-6


SOLUTES = [
    "glycerin",
    "sucrose",
    "glucose",
    "sorbitol",
    "sodium_chloride",
    "magnesium_sulfate",
    "urea",
    "propanediol",
]
solution = st.dictionaries(st.sampled_from(SOLUTES), st.floats(0.01, 80), min_size=1, max_size=5)


@given(solution, st.floats(10, 200), st.floats(1.0, 100))
def test_more_water_never_lowers_water_activity(solutes, water, more):
    assert activity_of({"water": water + more, **solutes}) >= activity_of({"water": water, **solutes}) - 1e-12


@given(
    st.floats(0.05, 3),
    st.floats(1.0, 3),
    st.sampled_from(["phenoxyethanol", "potassium_sorbate", "sodium_benzoate"]),
)
@settings(deadline=None)
def test_more_preservative_never_makes_preservation_worse(grams, factor, preservative):
    rank = {Preserved.NONE: 0, Preserved.TOO_WEAK: 1, Preserved.CANNOT_TELL: 2, Preserved.EFFECTIVE: 3}
    # an acid beside it keeps the pH: without one the salt of an acid lifts the pH and may switch itself off
    base = [(90, "g", "water"), (5, "g", "glycerin"), (3, "g", "citric_acid"), (3, "g", "sodium_bicarbonate")]
    statuses = []
    for dose in (grams, grams * factor):
        written = recipe(*base, (dose, "g", preservative))
        statuses.append(analyse(written, compose(written, SHELF), SHELF).preservation.status)

    assert rank[statuses[1]] >= rank[statuses[0]]


acids = st.lists(
    st.builds(Weak, st.floats(1e-4, 0.5), st.sampled_from([(4.756,), (3.13, 4.76, 6.40), (2.148, 7.198, 12.35)])),
    max_size=3,
)


@given(acids, st.floats(-0.4, 0.4), st.floats(0.001, 0.2))
def test_more_base_never_lowers_the_ph(weak, strong, more):
    assert solve(strong + more, weak).ph >= solve(strong, weak).ph - 1e-3


@given(acids, st.floats(-0.4, 0.4))
def test_a_ph_is_always_found(weak, strong):
    assert -1.5 <= solve(strong, weak).ph <= 15.5


@given(recipes)
@settings(deadline=None)
def test_composing_is_repeatable(lines):
    written: Recipe = recipe(*(line(*one) for one in lines))

    assert compose(written, SHELF) == compose(written, SHELF)
