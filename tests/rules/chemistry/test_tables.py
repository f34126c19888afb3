"""The tables of the chemistry: sources named, ids known, and in step with the catalogue's own figures."""

from __future__ import annotations

import pytest

from rules.catalogue import Role, load_catalogue
from rules.chemistry.balance import typical_shares
from rules.chemistry.breakdown import hydrates
from rules.chemistry.charge_balance import Weak, solve
from rules.chemistry.low_risk import growth_minima
from rules.chemistry.preservatives import preservatives
from rules.chemistry.tables import Row, TableError, parse_table
from rules.chemistry.titratables import titratable_rows, titratables_in
from rules.chemistry.vapour import dangerous_pairs
from rules.chemistry.water_activity import solutes
from rules.interval import Interval

UNNAMED = {"other"}  # the row for a preservative that has none of its own


@pytest.mark.parametrize("table", [solutes, titratable_rows, preservatives, hydrates])
def test_every_row_is_about_a_substance_of_the_catalogue(table):
    catalogue = load_catalogue()

    assert [key for key in table() if key not in catalogue and key not in UNNAMED] == []


def test_every_dangerous_pair_is_of_known_substances_and_roles():
    catalogue = load_catalogue()
    names = {name for row in dangerous_pairs().values() for side in (row.a, row.b) for name in side.split("|")}
    roles = {f"role:{role.value}" for role in Role}

    assert sorted(name for name in names if name not in catalogue and name not in roles) == []


# Percarbonate and perborate bring peroxide, a weak acid that is left out; the range of aluminium chloride is
# that of the strong solutions it is sold in.
LEFT_OUT = {"sodium_percarbonate", "sodium_perborate", "aluminum_chloride"}


def test_one_percent_in_water_has_the_ph_that_the_catalogue_gives():
    catalogue = load_catalogue()
    off = []
    for substance in catalogue:
        found = titratables_in({substance.id: Interval.exact(1.0)}, catalogue).get(substance.id)
        if found is None or substance.ph is None or substance.contains or substance.id in LEFT_OUT:
            continue
        molality = found.molality(1.0, 99.0)
        weak = [Weak(found.units * molality, found.pkas, found.top_charge)] if found.pkas else []
        ph = solve(found.strong_charge * molality, weak).ph
        if not substance.ph[0] - 0.5 <= ph <= substance.ph[1] + 0.5:
            off.append((substance.id, substance.ph, round(ph, 2)))

    assert off == []


def test_the_table_and_the_catalogue_agree_on_molar_mass():
    catalogue = load_catalogue()
    for table in (solutes(), titratable_rows()):
        for key, row in table.items():
            known = catalogue[key].molar_mass
            # hydrates and anhydrous forms of one salt may differ by their water
            assert known is None or known == pytest.approx(row.molar_mass, rel=0.15), key


def test_growth_minima_fall_from_the_thirsty_to_the_hardy():
    minima = [row.lowest_water_activity for row in growth_minima().values()]

    assert minima == sorted(minima, reverse=True)


def test_typical_shares_are_ordered_and_small():
    assert all(0 < share.low <= share.best <= share.high <= 10 for share in typical_shares().values())


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("id,source,basis\na,,memory\n", "source"),
        ("id,source,basis\na,page,hearsay\n", "basis"),
        ("id,source,basis,colour\na,page,read,red\n", "colour"),
        ("id,source,basis\na,page,read\na,page,read\n", "twice"),
    ],
)
def test_a_faulty_table_is_refused_with_the_line_and_the_fault(text, fault):
    with pytest.raises(TableError, match=fault) as caught:
        parse_table("made_up.csv", text, Row)

    assert caught.value.faults[0].startswith("line ")


def test_all_faults_of_a_table_are_named_at_once():
    with pytest.raises(TableError) as caught:
        parse_table("made_up.csv", "id,source,basis\na,page,hearsay\nb,page,rumour\n", Row)

    assert len(caught.value.faults) == 2
