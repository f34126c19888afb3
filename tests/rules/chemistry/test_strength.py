"""A bottle's strength: what somebody would over- or underdose if the percentage on the bottle were not counted."""

from __future__ import annotations

import pytest

from rules.catalogue import load_catalogue
from rules.chemistry.composition import Composition, compose
from tests.rules.chemistry.shelf import line, recipe

CATALOGUE = load_catalogue()


def mixed(strength: float | None, substance: str, quantity: float, unit: str, rest: float) -> Composition:
    lines = (line(quantity, unit, substance, strength=strength), line(rest, unit, "water"))
    return compose(recipe(*lines), CATALOGUE)


@pytest.mark.parametrize(
    ("strength", "substance", "part"),
    [(0.18, "sodium_hydroxide", "sodium_hydroxide"), (0.8, "lactic_acid", "lactic_acid"),
     (0.12, "hydrogen_peroxide_3", "hydrogen_peroxide"), (0.1, "vinegar", "acetic_acid")],
)  # fmt: skip
def test_a_solution_brings_its_strength_times_its_mass(strength: float, substance: str, part: str) -> None:
    """Mass balance: 10 g of a solution of strength s in 100 g are 10 s per cent, and the rest is water."""
    mix = mixed(strength, substance, 10, "g", 90)
    assert mix.percent_of(part).best == pytest.approx(10 * strength)
    assert mix.percent_of("water").best == pytest.approx(90 + 10 * (1 - strength))


@pytest.mark.parametrize(("by_volume", "by_mass"), [(0.5, 0.4243), (0.6, 0.5209), (0.8, 0.7348)])
def test_a_spirit_is_told_by_volume_and_counts_by_mass(by_volume: float, by_mass: float) -> None:
    """Per cent by volume and by mass at 20 degrees C: OIML R 22 alcoholometric tables, from memory."""
    mix = mixed(by_volume, "ethanol", 50, "g", 50)
    assert mix.percent_of("ethanol").best / 50 == pytest.approx(by_mass, abs=0.03)


@pytest.mark.parametrize(
    ("strength", "substance"),
    [(0.99, "aloe_vera_gel"), (0.02, "milk"), (0.86, "witch_hazel"), (0.02, "peppermint_essential_oil"),
     (0.2, "zinc_oxide"), (0.01, "phenoxyethanol"), (0.7, "rubbing_alcohol_70"), (0.05, "vinegar")],
)  # fmt: skip
def test_a_figure_that_tells_nothing_new_changes_nothing(strength: float, substance: str) -> None:
    assert mixed(strength, substance, 10, "g", 30).parts == mixed(None, substance, 10, "g", 30).parts


def test_the_share_in_the_batch_written_beside_the_grams_does_not_make_the_acid_vanish() -> None:
    """ "lactic acid 5 %, 5 g" in 100 g: dangerous if the 5 % were taken twice."""
    assert mixed(0.05, "lactic_acid", 5, "g", 95).percent_of("lactic_acid").best == pytest.approx(5)


def test_percents_alone_stay_as_written() -> None:
    assert mixed(None, "lactic_acid", 6, "percent", 94).percent_of("lactic_acid").best == pytest.approx(6)
