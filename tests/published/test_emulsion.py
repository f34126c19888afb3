"""HLB and emulsifier amounts. HLB can rule an emulsion out, never prove one; no test here claims more."""

from __future__ import annotations

import pytest

from rules.chemistry.chemistry import Mixing
from rules.chemistry.emulsion import hlb_of, required_hlb
from rules.interval import Interval
from rules.recipe import Circumstance
from tests.rules.chemistry.shelf import SHELF, analysed


def _substance(**values):
    return SHELF["olive_oil"].model_copy(update=values)


@pytest.mark.parametrize(
    ("parts", "mean"),
    [
        # OCL 29 (2022) ocl210096 table 4 gives the parts (stearic acid 15, beeswax 12, isopropyl myristate
        # 11.5) and
        # the rule: weight mean
        ([((15, 15), 1.0)], 15.0),
        ([((15, 15), 50.0), ((12, 12), 50.0)], 13.5),
        ([((15, 15), 20.0), ((12, 12), 30.0), ((11.5, 11.5), 50.0)], 12.35),
        # J. Cosmet. Sci. 71 (2020) 411, abstract: camellia seed oil 5.9 to 6.3
        ([((5.9, 6.3), 10.0)], 6.1),
    ],
)
def test_the_required_hlb_of_a_mix_is_its_weight_mean(parts, mean):
    oils = tuple((_substance(required_hlb=need), Interval.exact(share)) for need, share in parts)
    need = required_hlb(oils)

    assert need is not None
    assert need.best == pytest.approx(mean, abs=1e-9)
    assert need.low <= mean <= need.high


@pytest.mark.parametrize(
    ("parts", "mean"),
    [
        ([(3.8, 1.0)], 3.8),  # glyceryl stearate, OCL 29 (2022) ocl210096 table 4
        (
            [(15.0, 50.0), (4.3, 50.0)],
            9.65,
        ),  # polysorbate 80 and sorbitan oleate half and half; values from memory
    ],
)
def test_the_hlb_of_two_emulsifiers_is_their_weight_mean(parts, mean):
    blend = tuple((_substance(hlb=hlb), Interval.exact(share)) for hlb, share in parts)
    value = hlb_of(blend)

    assert value is not None
    assert value.best == pytest.approx(mean, abs=1e-9)


@pytest.mark.parametrize(
    ("lines", "mixing"),
    [
        # by Stokes: 1 mm drops cream within seconds, 0.1 mm in 2 minutes
        ([(50, "g", "water"), (50, "g", "olive_oil")], Mixing.SEPARATES),
        # honey, glycerin, alcohol, aloe are no emulsifiers: common practice
        ([(50, "g", "aloe_vera_gel"), (30, "g", "olive_oil"), (10, "g", "honey")], Mixing.SEPARATES),
        # emulsifying wax at 20 to 25 % of the oil: common practice
        ([(75, "g", "water"), (20, "g", "olive_oil"), (5, "g", "emulsifying_wax")], Mixing.HOLDS),
        # 1949 method: 10 g emulsifier to 95 g oil is more than usually needed; 1:20 is the least (common
        # practice)
        ([(60, "g", "water"), (40, "g", "olive_oil"), (0.5, "g", "emulsifying_wax")], Mixing.SEPARATES),
        # solubiliser to essential oil 4:1 to 10:1: common practice
        ([(95, "g", "water"), (1, "g", "lavender_essential_oil"), (6, "g", "polysorbate_20")], Mixing.HOLDS),
        (
            [(95, "g", "water"), (1, "g", "lavender_essential_oil"), (0.5, "g", "polysorbate_20")],
            Mixing.SEPARATES,
        ),
        # oil below a quarter of the active surfactant stays in: common practice
        ([(100, "g", "shampoo"), (2, "g", "olive_oil")], Mixing.HOLDS),
        ([(100, "g", "shampoo"), (30, "g", "olive_oil")], Mixing.SEPARATES),
        # beeswax and borax make their own soap: from memory
        ([(28, "g", "water"), (55, "g", "olive_oil"), (16, "g", "beeswax"), (1, "g", "borax")], Mixing.HOLDS),
        ([(50, "g", "olive_oil"), (50, "g", "beeswax")], Mixing.NOT_TWO_PHASES),
        ([(100, "g", "water"), (5, "g", "glycerin")], Mixing.NOT_TWO_PHASES),
        ([(100, "g", "lotion"), (5, "g", "olive_oil")], Mixing.HOLDS),
        ([(100, "g", "lotion")], Mixing.HOLDS),
        ([(80, "g", "milk"), (20, "g", "olive_oil")], Mixing.SEPARATES),
    ],
)
def test_oil_and_water_are_judged_by_what_holds_them(lines, mixing):
    assert analysed(*lines).emulsion.mixing is mixing


def test_shaking_is_said_to_help_fat_but_not_drops_of_essential_oil():
    shaken = frozenset({Circumstance.SHAKEN_BEFORE_USE})
    fat = analysed((90, "g", "water"), (10, "g", "olive_oil"), circumstances=shaken)
    scent = analysed((90, "g", "water"), (10, "drop", "lavender_essential_oil"), circumstances=shaken)

    assert fat.emulsion.mixing is Mixing.SHAKE
    assert scent.emulsion.mixing is Mixing.SEPARATES
