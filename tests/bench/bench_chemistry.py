"""How long the chemistry of one recipe takes. Aim: ten lines under 0.5 ms, under 3 ms where a pH is solved.

Run: pytest -n 0 tests/bench/bench_chemistry.py --benchmark-only
"""

from __future__ import annotations

from rules.chemistry.chemistry import Chemistry, analyse
from rules.chemistry.composition import compose
from rules.recipe import Recipe
from tests.rules.chemistry.shelf import SHELF, recipe

LOTION = recipe(
    (60, "g", "water"),
    (5, "g", "glycerin"),
    (1, "tbsp", "olive_oil"),
    (2, "tsp", "shea_butter"),
    (6, "g", "emulsifying_wax"),
    (1, "g", "phenoxyethanol"),
    (10, "drop", "lavender_essential_oil"),
    (1, "tsp", "tocopherol"),
    (1, "tbsp", "aloe_vera_gel"),
    (2, "g", "beeswax"),
)
SOUR = recipe(
    (100, "g", "water"),
    (1, "g", "citric_acid"),
    (2, "g", "sodium_bicarbonate"),
    (0.3, "g", "potassium_sorbate"),
    (5, "g", "glycerin"),
    (1, "tbsp", "lemon_juice"),
    (1, "tsp", "ascorbic_acid"),
    (1, "g", "borax"),
    (1, "g", "sodium_chloride"),
    (1, "tbsp", "cider_vinegar"),
)
GRAINS = recipe((100, "g", "water"), (1, "tsp", "mica"), (1, "tsp", "kaolin"), (5, "g", "glycerin"))


def chemistry_of(written: Recipe) -> Chemistry:
    return analyse(written, compose(written, SHELF), SHELF)


def test_ten_lines(benchmark):
    """Composition, water activity, preservation, emulsion."""
    assert benchmark(chemistry_of, LOTION).ph is not None


def test_ten_lines_with_a_solved_ph(benchmark):
    """Three charge balances: best, most acid, most alkaline."""
    assert benchmark(chemistry_of, SOUR).ph is not None


def test_grains_that_settle(benchmark):
    """Terminal velocities from the fluids library."""
    assert benchmark(chemistry_of, GRAINS).settling.minutes is not None
