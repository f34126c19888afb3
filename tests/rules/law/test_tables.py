"""A faulty law table is refused whole, with every fault named at once."""

from __future__ import annotations

from rules.catalogue import load_catalogue
from rules.law.rows import ColourRow, LimitRow
from rules.law.tables import LawError, cross_check, parse, read_text
from rules.sources import load_sources

HEAD = "substance,region,percent,basis,source,locator,checked\n"


def faults(text: str) -> list[str]:
    rows, found = parse("restricted", text, LimitRow)
    return found + cross_check("restricted", rows, load_catalogue(), load_sources())


def test_a_sound_table_has_no_faults() -> None:
    assert faults(HEAD + "ammonia,eu,6,law,eu_annex_3,III/4,read\n") == []


def test_an_impossible_percent_an_unknown_region_and_a_wrong_basis_are_all_named() -> None:
    text = HEAD + "ammonia,eu,600,law,eu_annex_3,III/4,read\nborax,mars,1,law,eu_annex_3,x,read\n"
    text += "urea,eu,1,rumour,eu_annex_3,x,read\n"
    found = faults(text)
    assert [line for line in found if "percent" in line]
    assert [line for line in found if "region" in line]
    assert [line for line in found if "basis" in line]


def test_an_unknown_substance_and_an_unknown_source_are_named_together() -> None:
    found = faults(HEAD + "moon_dust,eu,1,law,eu_annex_3,x,read\nurea,eu,1,law,hearsay,x,read\n")
    assert len(found) == 2


def test_rows_out_of_order_and_rows_twice_are_named() -> None:
    found = faults(
        HEAD
        + "urea,eu,1,law,eu_annex_3,x,read\nammonia,eu,6,law,eu_annex_3,x,read\n"
        + "ammonia,eu,6,law,eu_annex_3,x,read\n"
    )
    assert [line for line in found if "sorted" in line]
    assert [line for line in found if "twice" in line]


def test_an_unknown_column_is_refused() -> None:
    rows, found = parse("colourants", "substance,region,colour\nmica,us,red\n", ColourRow)
    assert rows == []
    assert found


def test_the_error_shows_every_fault() -> None:
    assert "one" in str(LawError(["one", "two"]))
    assert "two" in str(LawError(["one", "two"]))


def test_the_tables_that_ship_are_sound() -> None:
    for name in ("restricted", "preservatives"):
        rows, found = parse(name, read_text(name), LimitRow)
        assert rows
        assert found + cross_check(name, rows, load_catalogue(), load_sources()) == []
