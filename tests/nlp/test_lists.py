"""Amounts that stand apart from their names, shares, and remarks: notation by common practice, sentences of our own."""

from __future__ import annotations

import pytest

from tests.nlp.readers import lines, table

TAIL = "\n1 tsp castor oil\n2 tsp beeswax"


def amounts(text: str) -> list[tuple[object, str | None]]:
    return [row[1:] for row in table(text)]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Beeswax\nShea butter\nCastor oil\n20 g\n30 g\n50 g", [(20, "g"), (30, "g"), (50, "g")]),
        ("beeswax, shea butter and castor oil: 20 g, 30 g, 50 g", [(20, "g"), (30, "g"), (50, "g")]),
        ("Beeswax, shea butter, castor oil (20/30/50)", [(20, "part"), (30, "part"), (50, "part")]),
        ("honey & yogurt 1 tbsp each, oats", [(1, "tbsp"), (1, "tbsp"), (None, None)]),
        ("1/2 cup shea butter and half that amount of castor oil", [(0.5, "cup"), (0.25, "cup")]),
        ("1 cup sugar, half as much olive oil", [(1, "cup"), (0.5, "cup")]),
        ("2 tbsp honey and the same amount of kaolin", [(2, "tbsp"), (2, "tbsp")]),
        ("2 x egg\n1 x banana\n3 x 10 ml rose water", [(2, "piece"), (1, "piece"), (30, "ml")]),
        ("Food colours drop by drop\n2 tbsp corn syrup", [(None, "drop"), (2, "tbsp")]),
        ("between 1/8 and 1/4 cup of water, 1 tsp honey", [((0.125, 0.25), "cup"), (1, "tsp")]),
        ("2 g Sealane PA-3 soft agent\n98 g water", [(2, "g"), (98, "g")]),
        ("Recipe 2\n2 g beeswax\n98 g castor oil", [(2, "g"), (98, "g")]),
    ],
)
def test_every_name_gets_its_own_amount(text: str, told: list[tuple[object, str | None]]) -> None:
    assert amounts(text) == told


def test_a_total_in_brackets_is_the_amount_of_the_class_word() -> None:
    rows = table("Essential oils (lavender, orange) (about 30 drops total)\n3 tbsp jojoba")
    assert rows[0] == ("Essential oils", 30, "drop")


@pytest.mark.parametrize(
    ("text", "never"),
    [
        ("Honey: soothes like aloe\nOats: calm\nYogurt: lactic acid, softens\n2 tbsp of each", ["aloe", "lactic acid"]),
        ("Honey - a humectant\nLemon juice - vitamin C\n1 tbsp honey, 2 tsp lemon juice", ["humectant", "vitamin C"]),
        ("2 tbsp yogurt: has lactic acid\n1 tsp honey", ["lactic acid"]),
        ("1 cup shea butter, melted it double boiler style", ["boiler style"]),
        ("3 aspirin, crushed until flour, 1 tsp water", ["flour"]),
    ],
)
def test_what_is_said_of_an_ingredient_is_no_ingredient(text: str, never: list[str]) -> None:
    assert not {row[0] for row in table(text)} & set(never)


@pytest.mark.parametrize(
    "text",
    [
        "Wax: beeswax\nColour: chalk from the pavement\nOil: castor",
        "Mica: or use chalk\nHoney: mix in baking soda\n1 tsp castor oil",
        "Glitter - the craft glitter kind, sparkly\nGel - aloe, cooling",
    ],
)
def test_a_remark_never_hides_what_was_not_made_for_skin(text: str) -> None:
    """Losing the chalk or the craft glitter would be the dangerous miss."""
    found = {line.substance for line in lines(text)}
    assert found & {"chalk", "craft_glitter", "glitter_craft", "sodium_bicarbonate"}


@pytest.mark.parametrize(
    ("text", "substances"),
    [
        ("1 tsp cinnamon or clove essential oil" + TAIL, ["cinnamon_bark_essential_oil", "clove_bud_essential_oil"]),
        ("1 lb goat milk melt and pour soap base" + TAIL, ["melt_and_pour_soap"]),
        ("2 tbsp raw shea butter" + TAIL, ["shea_butter"]),
        ("1 ml Lavender, Bulgarian Essential Oil" + TAIL, ["lavender_essential_oil"]),
        ("1 tbsp of 190 proof vodka" + TAIL, ["grain_alcohol"]),
        ("3 drops frankincense (Boswellia sp.) or helichrysum oil" + TAIL,
         ["frankincense_essential_oil", "helichrysum_essential_oil"]),
        ("50 g Quayside cream" + TAIL, ["face_cream"]),
    ],
)  # fmt: skip
def test_the_whole_name_says_what_it_is(text: str, substances: list[str]) -> None:
    assert [line.substance for line in lines(text)][: len(substances)] == substances
