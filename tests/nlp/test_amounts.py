"""Each way of writing an amount; a wrong figure here is a wrong verdict later. Notation: common practice, no source."""

import pytest

from tests.nlp.readers import table


@pytest.mark.parametrize(
    ("text", "figure", "unit"),
    [
        ("1/2 tsp jojoba oil", 0.5, "tsp"),
        ("1 /8 tsp jojoba oil", 0.125, "tsp"),
        ("1 1/2 cup jojoba oil", 1.5, "cup"),
        ("1-1/2 cups jojoba oil", 1.5, "cup"),
        ("2½tsp jojoba oil", 2.5, "tsp"),
        ("1/3oz jojoba oil", 1 / 3, "oz"),
        ("10g jojoba oil", 10, "g"),
        (".5 oz jojoba oil", 0.5, "oz"),
        ("0,5 g jojoba oil", 0.5, "g"),
        ("1,000 g jojoba oil", 1000, "g"),
        ("one and a half cups of jojoba oil", 1.5, "cup"),
        ("one eighth of a cup of jojoba oil", 0.125, "cup"),
        ("three quarters of a cup jojoba oil", 0.75, "cup"),
        ("half a cup of jojoba oil", 0.5, "cup"),
        ("a couple of teaspoons of jojoba oil", 2, "tsp"),
        ("a few drops of jojoba oil", None, "drop"),
        ("several drops jojoba oil", None, "drop"),
        ("2-3 drops jojoba oil", (2, 3), "drop"),
        ("2 to 3 drops jojoba oil", (2, 3), "drop"),
        ("5 – 6 T. jojoba oil", (5, 6), "tbsp"),
        ("10/11 drops jojoba oil", (10, 11), "drop"),
        ("1/16 - 1/4 tsp jojoba oil", (0.0625, 0.25), "tsp"),
        ("up to 10 drops jojoba oil", 10, "drop"),
        ("~40 + drops of jojoba oil", 40, "drop"),
        ("2 T jojoba oil", 2, "tbsp"),
        ("2 t jojoba oil", 2, "tsp"),
        ("1 C. jojoba oil", 1, "cup"),
        ("3 tbs jojoba oil", 3, "tbsp"),
        ("2 fl oz jojoba oil", 2, "floz"),
        ("2 oz. by weight of jojoba oil", 2, "oz"),
        ("2 lb jojoba oil", 32, "oz"),
        ("1/2 oz (15 ml) jojoba oil", 0.5, "oz"),
        ("½ cup (113 g) jojoba oil", 0.5, "cup"),
        ("jojoba oil – 3 Tsp.", 3, "tsp"),
        ("jojoba oil 60.75%", 60.75, "percent"),
        ("jojoba oil: 2 tbsp", 2, "tbsp"),
        ("jojoba oil (10 g)", 10, "g"),
        ("jojoba oil ...... 10 g", 10, "g"),
        ("• 18\nteaspoon jojoba oil", 18, "tsp"),
        ("2x tbsp jojoba oil", 2, "tbsp"),
        ("a cup and a half of jojoba oil", 1.5, "cup"),
        ("1 tbsp + 1 tsp jojoba oil", 4 / 3, "tbsp"),
        ("a heaped teaspoon of jojoba oil", 1, "tsp"),
        ("a pinch of jojoba oil", 1, "pinch"),
    ],
)
def test_an_amount_is_read_as_written(text: str, figure: object, unit: str) -> None:
    got = [row for row in table(f"1 tbsp beeswax\n{text}\n1 tsp shea butter") if row[0] == "jojoba oil"]
    assert len(got) == 1
    assert got[0][1] == pytest.approx(figure) if figure is not None else got[0][1] is None
    assert got[0][2] == unit


@pytest.mark.parametrize(
    "text",
    [
        "8-10 ounce jar",
        "empty 15 ml bottle",
        "Makes 2 cups",
        "YIELD: 8 oz.",
        "bake for 10 minutes",
        "SPF 30",
        "1/0 cup",
        "dropper bottle (15 ml or 0.5 oz)",
    ],
)
def test_the_size_of_a_vessel_or_a_time_is_no_amount(text: str) -> None:
    names = [row[0] for row in table(f"{text}\n2 tbsp beeswax\n1 tbsp shea butter")]
    assert names == ["beeswax", "shea butter"]
