"""Strengths as sold: what a spoon of a solution or a blend brings into a recipe."""

from __future__ import annotations

import pytest

from rules.catalogue import Role, load_catalogue

# Percent by volume and by mass at 20 degrees C: ethanol-water tables of the pharmacopoeia, from memory.
SPIRITS = [
    ("vodka", 40, 33.3),
    ("vodka_100_proof", 50, 42.4),
    ("ethanol_70", 70, 62.4),
    ("grain_alcohol", 95, 92.4),
]

# Usual compositions of blends, as their INCI lists and safety sheets have them; common practice, no source.
BLENDS = [
    ("phenoxyethanol_ethylhexylglycerin", "phenoxyethanol", 0.9),
    ("phenoxyethanol_ethylhexylglycerin", "ethylhexylglycerin", 0.1),
    ("gluconolactone_sodium_benzoate", "sodium_benzoate", 0.245),
    ("benzyl_alcohol_dha", "dehydroacetic_acid", 0.08),
    ("liquid_castile_soap", "soap_salt", 0.28),
    ("sodium_lactate", "water", 0.4),
]


@pytest.mark.parametrize(("spirit", "by_volume", "by_mass"), SPIRITS)
def test_a_spirit_counts_by_mass_not_by_volume(spirit: str, by_volume: int, by_mass: float) -> None:
    assert by_volume > by_mass
    assert 100 * load_catalogue()[spirit].contains["ethanol"] == pytest.approx(by_mass, abs=0.5)


@pytest.mark.parametrize(("blend", "part", "share"), BLENDS)
def test_a_blend_is_taken_apart_as_it_is_sold(blend: str, part: str, share: float) -> None:
    assert load_catalogue()[blend].contains[part] == pytest.approx(share)


def test_every_preservative_blend_counts_as_a_preservative_after_it_is_taken_apart() -> None:
    catalogue = load_catalogue()
    for substance in catalogue:
        if catalogue.family(substance.id) == "preservatives" and Role.PRESERVATIVE in substance.roles:
            parts = set(substance.contains) - {"water"}
            effective = [part for part in parts if Role.PRESERVATIVE in catalogue[part].roles]
            assert effective or not parts, substance.id


def test_a_ready_made_emulsifier_keeps_its_own_hlb() -> None:
    """A blended wax is dosed by its whole mass: taken apart, only a quarter of it would count."""
    catalogue = load_catalogue()
    for wax in ("emulsifying_wax", "cetearyl_alcohol_polysorbate_60", "btms_50"):
        assert not catalogue[wax].contains
        assert catalogue[wax].hlb is not None


# HLB as published by makers; glyceryl stearate read in OCL 29 (2022) ocl210096, the rest from memory.
HLB = [
    ("polysorbate_20", 16.7),
    ("polysorbate_60", 14.9),
    ("polysorbate_80", 15.0),
    ("sorbitan_laurate", 8.6),
    ("sorbitan_stearate", 4.7),
    ("sorbitan_oleate", 4.3),
    ("glyceryl_stearate", 3.8),
    ("peg_100_stearate", 18.8),
]


@pytest.mark.parametrize(("emulsifier", "hlb"), HLB)
def test_an_emulsifier_has_its_published_hlb(emulsifier: str, hlb: float) -> None:
    assert load_catalogue()[emulsifier].hlb == pytest.approx(hlb)


# Required HLB for oil in water: the first three read in OCL 29 (2022) ocl210096 table 4, mineral oil in
# J. Soc. Cosmet. Chem. 1 (1949) 311, camellia in the abstract of J. Cosmet. Sci. 71 (2020) 411.
REQUIRED = [
    ("isopropyl_myristate", 11.5),
    ("stearic_acid", 15),
    ("beeswax", 12),
    ("mineral_oil", 10),
    ("camellia_oil", 6.1),
]


@pytest.mark.parametrize(("oil", "required"), REQUIRED)
def test_an_oil_asks_for_its_published_hlb(oil: str, required: float) -> None:
    bounds = load_catalogue()[oil].required_hlb
    assert bounds is not None
    assert bounds[0] <= required <= bounds[1]


# Grams a US cup (236.588 ml), USDA Standard Reference WEIGHT file, NDB number beside.
CUPS = [
    ("olive_oil", 216, "04053"),
    ("sweet_almond_oil", 218, "04529"),
    ("corn_oil", 218, "04518"),
    ("cottonseed_oil", 218, "04502"),
    ("hazelnut_oil", 218, "04532"),
    ("palm_kernel_oil", 218, "04513"),
    ("peanut_oil", 216, "04042"),
    ("wheat_germ_oil", 218, "04038"),
    ("flaxseed_oil", 218, "42231"),
    ("cocoa_butter", 218, "04501"),
    ("sodium_bicarbonate", 221, "18372"),
    ("potassium_bitartrate", 144, "18373"),
]


@pytest.mark.parametrize(("substance", "grams", "ndb"), CUPS)
def test_a_cup_weighs_what_the_food_tables_say(substance: str, grams: float, ndb: str) -> None:
    known = load_catalogue()[substance]
    assert ndb in known.source
    assert known.density is not None
    assert 236.588 * known.density[1] == pytest.approx(grams, rel=0.01)
