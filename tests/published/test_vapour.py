"""Flash points and gas against published tables."""

from __future__ import annotations

import pytest

from rules.chemistry.vapour import LITRES_PER_MOL, bottle_pressure, flash_point
from tests.rules.chemistry.shelf import analysed

TOOLBOX = "engineeringtoolbox.com/ethanol-water-d_989.html, table read"
ETHANOL = [(5, 62), (10, 49), (20, 36), (30, 29), (40, 26), (50, 24), (60, 22), (70, 21), (80, 20), (90, 17)]


@pytest.mark.parametrize(("percent", "published"), ETHANOL)
def test_spirit_flashes_at_the_published_temperature(percent, published):
    # 4 K: the table does not say whether its percent is by weight or by volume
    assert flash_point("ethanol", percent) == pytest.approx(published, abs=4), TOOLBOX


@pytest.mark.parametrize(("percent", "low", "high"), [(63, 17, 22), (88, 13, 22), (100, 11, 13)])
def test_rubbing_alcohol_flashes_near_room_temperature(percent, low, high):
    # pages read: 91 % 13 to 22, pure 12; 70 % from memory
    value = flash_point("isopropanol", percent)

    assert value is not None
    assert low - 4 <= value <= high + 4


def test_a_trace_of_alcohol_has_no_flash_point():
    assert flash_point("ethanol", 2) is None


def test_a_stronger_spirit_never_flashes_later():
    for alcohol in ("ethanol", "isopropanol"):
        points = [flash_point(alcohol, percent) for percent in range(9, 101)]
        known = [p for p in points if p is not None]
        assert known == sorted(known, reverse=True)


def test_the_gas_of_vinegar_and_soda_is_what_stoichiometry_says():
    # 100 g vinegar: 5 g acetic acid = 83.3 mmol; 4.6 g soda = 54.8 mmol: soda is spent, 54.8 mmol * 24.465
    # l/mol
    chemistry = analysed((100, "g", "cider_vinegar"), (4.6, "g", "sodium_bicarbonate"))

    assert chemistry.vapour.gas_litres is not None
    assert chemistry.vapour.gas_litres.best == pytest.approx(0.0548 * LITRES_PER_MOL, rel=0.01)


@pytest.mark.parametrize(
    ("moles", "liquid", "gas", "atmospheres"),
    # Worked out apart from this code with a charge balance: soda 4.6 g in 80 ml vinegar in a 100 ml bottle;
    # 13.8 g in 250 ml in half a litre; 1 g soda and 1 g citric acid in 80 ml. 10 %: the charge balance counts
    # what stays in solution as bicarbonate.
    [(0.0548, 0.08, 0.02, 14.5), (0.164, 0.25, 0.25, 8.5), (0.0119, 0.08, 0.02, 3.1)],
)
def test_a_closed_bottle_of_fizz_is_called_as_tight_as_it_gets(moles, liquid, gas, atmospheres):
    assert bottle_pressure(moles, liquid, gas) == pytest.approx(atmospheres, rel=0.1)


def test_the_molar_volume_is_that_of_an_ideal_gas():
    # CODATA gas constant 8.314462618 J/(mol K), 298.15 K, 101325 Pa
    assert pytest.approx(8.314462618 * 298.15 / 101325 * 1000, rel=1e-4) == LITRES_PER_MOL


@pytest.mark.parametrize(
    ("lines", "result"),
    [
        ([(1, "cup", "peroxide_3"), (1, "cup", "cider_vinegar")], "peracetic_acid"),
        ([(1, "cup", "peroxide_3"), (1, "tbsp", "sodium_bicarbonate")], "oxygen_gas"),
        ([(1, "cup", "cider_vinegar"), (1, "tbsp", "sodium_bicarbonate")], "carbon_dioxide"),
        ([(1, "cup", "castile_soap"), (1, "cup", "lemon_juice")], "soap_curdles"),
        ([(1, "cup", "castile_soap"), (1, "tbsp", "epsom_salt"), (1, "cup", "water")], "soap_scum"),
    ],
)
def test_pairs_that_should_not_meet_are_found_inside_what_brings_them(lines, result):
    # public safety pages and stoichiometry; source on each row of dangerous_pairs.csv
    assert result in [key for _, _, key in analysed(*lines).vapour.dangerous_pairs]


def test_a_trace_of_acid_in_soap_is_no_dangerous_pair():
    chemistry = analysed((1, "cup", "castile_soap"), (0.2, "g", "citric_acid"))

    assert not chemistry.vapour.dangerous_pairs
