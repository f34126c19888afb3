"""What goes in, where a list has no signs, a bought product is put to another use, or an oil is named by its plant."""

from __future__ import annotations

import pytest

from tests.nlp.readers import lines, read


def test_bare_figures_that_make_a_hundred_are_shares_and_each_belongs_to_the_name_before_it() -> None:
    found = [(line.substance, line.amount and (line.amount.quantity.best, str(line.amount.unit)))
             for line in lines("Water 62 Glycerin 20 Olive oil 12 Beeswax 6")]  # fmt: skip
    assert found == [("water", (62, "percent")), ("glycerin", (20, "percent")), ("olive_oil", (12, "percent")),
                     ("beeswax", (6, "percent"))]  # fmt: skip


def test_a_stated_acidity_is_no_share_and_no_ingredient() -> None:
    found = lines("Water 62\nGlycerin 20\nOlive oil 12\nBeeswax 6\npH 4.5")
    assert [str(line.amount.unit) for line in found if line.amount] == ["percent"] * 4


def test_bare_figures_that_make_no_hundred_stay_counts() -> None:
    assert "percent" not in {
        str(line.amount.unit) for line in lines("eggs 2\nlemon 1\nbanana 1\ncucumber 3") if line.amount
    }


def test_oil_of_a_spice_is_its_oil() -> None:
    found = {line.substance for line in lines("rub: beeswax 40 %, olive oil 50 %, oil of clove 10 %")}
    assert found == {"beeswax", "olive_oil", "clove_bud_essential_oil"}


@pytest.mark.parametrize(
    ("text", "substance"),
    [("toothpaste on a pimple overnight", "toothpaste"), ("dip the toes in mouthwash + vinegar", "mouthwash")],
)
def test_a_bought_product_put_to_another_use_is_an_ingredient(text: str, substance: str) -> None:
    assert substance in {line.substance for line in lines(text)}


def test_drops_in_the_eye_are_eye_drops() -> None:
    assert read("two drops of olive oil in each eye before bed").recipes[0].product == "eye_drops"
