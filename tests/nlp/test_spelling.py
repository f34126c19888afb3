"""A slip of the pen still finds its name; another plant or word is never taken for one. Common practice, no source."""

from __future__ import annotations

import pytest

from nlp.components.substances import Substances
from nlp.names import Names
from nlp.reader import default_reader

SLIPS = [
    ("lavendr", "lavender_flowers"), ("dandilion", "dandelion"), ("coconutt oil", "coconut_oil"),
    ("coconut oill", "coconut_oil"), ("beeswx", "beeswax"), ("stearic acd", "stearic_acid"),
    ("citirc acid", "citric_acid"),
    ("sodium hydroxid", "sodium_hydroxide"), ("sodium benzoat", "sodium_benzoate"), ("niacinmide", "niacinamide"),
    ("phenoxyethnol", "phenoxyethanol"), ("kaolin cley", "kaolin"), ("hydroqinone", "hydroquinone"),
    ("emulsifyng wax", "emulsifying_wax"), ("bakingsoda", "sodium_bicarbonate"), ("ilme juice", "lime_juice"),
]  # fmt: skip
# Real words and plants, each one or two letters from a name that we know.
STRANGERS = """
betadine; batter; rosella; pyridine; ketamine; fluorine; market; panel; whisk; hawthorn; laburnum; rosewort; sandalwort;
wallflower; agape; hydroquinine; castoreum; tamarisk; culantro; pyrethrum; father oil; planet butter; saving cream;
line water; rope water; shea bitter; elecampane; lobelia; mandrake; periwinkle
"""
# A group that answered with another plant's name gave a wrong reason.
OWN_NAMES = [
    ("willow bark", "willow_bark"), ("curry leaves", "curry_leaf"), ("lychee", "lychee"), ("tarragon", "tarragon_leaf"),
    ("inulin", "inulin"), ("bloodroot", "bloodroot"), ("bloodroot paste", "black_salve"), ("wood ash", "wood_ash"),
    ("crystal violet", "gentian_violet"), ("battery acid", "sulfuric_acid"), ("mothballs", "naphthalene"),
    ("calomel", "mercury_compound"), ("realgar", "arsenic"), ("clobetasol cream", "strong_steroid_cream"),
    ("boiled linseed oil", "linseed_oil_boiled"), ("lime paste", "calcium_hydroxide"), ("croton oil", "croton_oil"),
    ("horseradish", "horseradish"), ("silica gel", "silica_gel"), ("propolis", "propolis_extract"),
    ("euxyl k 712", "sodium_benzoate_potassium_sorbate"), ("montanov 68", "cetearyl_glucoside"),
    ("olivem 900", "sorbitan_olivate"), ("tween 80", "polysorbate_80"), ("tea 99", "triethanolamine"),
]  # fmt: skip


@pytest.fixture(scope="module")
def names() -> Names:
    component = default_reader().pipeline.get_pipe("substances")
    assert isinstance(component, Substances)
    return component.names_in("en")


def meant(names: Names, text: str) -> str | None:
    words = default_reader().pipeline.tokenizer.pieces(text)
    found = names.find(words) or names.nearest(" ".join(words))
    return found.id if found else None


@pytest.mark.parametrize(("written", "substance"), SLIPS)
def test_a_slip_of_the_pen_still_finds_the_material(names: Names, written: str, substance: str) -> None:
    assert meant(names, written) == substance


@pytest.mark.parametrize("word", [word.strip() for word in STRANGERS.split(";")])
def test_a_real_word_is_never_taken_for_a_misspelt_material(names: Names, word: str) -> None:
    assert meant(names, word) is None


@pytest.mark.parametrize(("written", "substance"), OWN_NAMES)
def test_a_thing_is_judged_under_its_own_name(names: Names, written: str, substance: str) -> None:
    assert meant(names, written) == substance


@pytest.mark.parametrize(
    ("recipe", "coffee"),
    [
        ("Harbour scrub: 1/2 cup coffee, 1/2 cup brown sugar, 1/4 cup coconut oil", "coffee_grounds"),
        ("Quay rinse: 2 cups coffee, 1 cup water, 1 tbsp honey", "brewed_coffee"),
    ],
)
def test_coffee_in_a_scrub_is_ground_and_in_a_rinse_is_poured(recipe: str, coffee: str) -> None:
    lines = [line for r in default_reader().read(recipe).recipes for line in r.lines]
    assert coffee in {line.substance for line in lines}
