"""The tables hold together, and a faulty table says everything that is wrong with it at once."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rules.catalogue import CatalogueError, load_catalogue, read_tables


def row(substance_id: str, **fields: str) -> str:
    """One row in TOML; field values are TOML already."""
    given_fields = {
        "id": f'"{substance_id}"',
        "name": f'"{substance_id.replace("_", " ")}"',
        "phase": '"oil"',
        "shelf": '"cosmetic"',
        "source": '"a test"',
        "basis": '"common_practice"',
    }
    lines = [f"{key} = {value}" for key, value in (given_fields | fields).items()]
    return "\n".join(["[[substance]]", *lines, ""])


def faults_of(*tables: tuple[str, str]) -> list[str]:
    with pytest.raises(CatalogueError) as caught:
        read_tables(tables)
    return caught.value.faults


def test_the_shipped_tables_hold_together() -> None:
    """Aims of the first release, not published figures: 800 substances under 3,500 names."""
    catalogue = load_catalogue()
    assert len(catalogue) >= 800
    assert sum(len(substance.aliases) for substance in catalogue) >= 3500


def test_a_substance_knows_the_table_it_stands_in() -> None:
    catalogue = read_tables([("oils", row("almond_oil")), ("salts", row("alum", phase='"solute"'))])
    assert [catalogue.family(s.id) for s in catalogue] == ["oils", "salts"]
    assert "alum" in catalogue
    assert catalogue.get("nothing") is None
    assert catalogue.get(None) is None


def test_all_faults_of_all_tables_are_told_at_once() -> None:
    faults = faults_of(
        ("oils", row("olive_oil", aliases='["olive"]') + row("olive_butter", aliases='["olive"]')),
        ("salts", row("salt", phase='"gas"') + row("brine", contains="{ sea = 0.5 }")),
        ("waters", row("olive_oil")),
        ("broken", "[[substance]"),
        ("waxes", row("wax", density="[0.9, 0.8, 1.0]", aliases='["Wax "]')),
        ("blends", row("half", contains="{ wax = 0.7, olive_oil = 0.6 }")),
        ("loops", row("self", contains="{ self = 1 }")),
    )
    for part in (
        "alias 'olive' already names olive_oil",
        "salts.toml: salt: phase",
        "brine: contains 'sea'",
        "waters.toml: olive_oil: the id is taken in oils.toml",
        "broken.toml: ",
        "wax: density must be low <= best <= high",
        "wax: alias 'Wax ' is not lower case and trimmed",
        "half: contains more than the whole",
        "self: contains itself",
    ):
        assert any(part in fault for fault in faults), part


def test_a_misspelt_field_is_a_fault_not_a_silent_default() -> None:
    assert any("densty" in fault for fault in faults_of(("oils", row("olive_oil", densty="[1.0, 1.0, 1.0]"))))


def test_a_row_without_a_source_is_refused() -> None:
    table = row("olive_oil").replace('source = "a test"\n', "")
    assert faults_of(("oils", table)) == ["oils.toml: olive_oil: source: Field required"]


@given(st.lists(st.sampled_from(["olive_oil", "shea_butter", "beeswax", "alum"]), min_size=1, max_size=12))
def test_each_doubled_id_is_named(ids: list[str]) -> None:
    doubled = len(ids) - len(set(ids))
    table = ("oils", "".join(row(substance_id) for substance_id in ids))
    if doubled:
        assert sum("the id is taken" in fault for fault in faults_of(table)) == doubled
    else:
        assert len(read_tables([table])) == len(ids)
