"""The percentage on a bottle is its strength, and never how much of it goes in. Notation: common practice."""

from __future__ import annotations

import pytest

from tests.nlp.readers import lines, table

TAIL = "\n30 g rose water\n2 g glycerin"


@pytest.mark.parametrize(
    ("text", "amount", "strength"),
    [
        ("Lactic acid (80%) 2 g", (2, "g"), 0.8),
        ("lactic acid, 80 %  2 g", (2, "g"), 0.8),
        ("2 tsp of 10% lactic acid", (2, "tsp"), 0.1),
        ("1 g sodium hydroxide solution (10%)", (1, "g"), 0.1),
        ("glycolic acid 30% solution - 5 ml", (5, "ml"), 0.3),
        ("5 ml of a 30% urea solution", (5, "ml"), 0.3),
        ("60 g of 40% aqueous glycolic acid", (60, "g"), 0.4),
        ("1 cup vinegar (5% acidity)", (1, "cup"), 0.05),
        ("vinegar 8 % 1 cup", (1, "cup"), 0.08),
        ("1 oz ammonia 28%", (1, "oz"), 0.28),
        ("2 oz vodka, 120 proof", (2, "oz"), 0.6),
        ("lactic acid 80-90% 2 g", (2, "g"), 0.9),
    ],
)
def test_the_strength_stands_beside_the_amount(text: str, amount: tuple[float, str], strength: float) -> None:
    first = lines(text + TAIL)[0]
    assert first.amount is not None
    assert (first.amount.quantity.best, first.amount.unit) == amount
    assert first.strength == pytest.approx(strength)


def test_a_strength_beside_a_share_in_percent() -> None:
    """Taken for the amount, the lye would be a fifth of the lotion."""
    first = lines("Sodium hydroxide, 18 %  0.10\nWater 70.0%\nGlycerin 5.0\nOlive oil 24.9")[0]
    assert (first.amount and first.amount.quantity.best, first.strength) == (0.1, 0.18)


def test_a_bottle_named_by_its_strength_has_no_amount_among_cups() -> None:
    rows = lines("2 cups water, vinegar 5%, 3 drops tea tree oil")
    assert [(row.amount is None, row.strength) for row in rows] == [(False, None), (True, 0.05), (False, None)]


@pytest.mark.parametrize(
    "text",
    [
        "Lactic acid 5%\nWater 90%\nGlycerin 5%",  # per cents alone
        "Water 70% 70 g\nGlycerin 5% 5 g\nOlive oil 25% 25 g",  # two columns
        "2 tbsp water\nLactic acid 0.5% 1/8 tsp",  # a share in the batch, written twice
        "100 g aloe vera gel, 99% pure\n5 g glycerin",
        "salicylic acid powder 20% - 1 tsp\nwitch hazel - 1/2 cup",
        "100% shea butter - 2 tbsp\nolive oil - 1 tbsp",
    ],
)
def test_what_is_a_share_or_says_pure_is_no_strength(text: str) -> None:
    assert [row.strength for row in lines(text)] == [None] * len(lines(text))


def test_the_columns_keep_their_grams() -> None:
    assert [row[1:] for row in table("Water 70% 70 g\nGlycerin 5% 5 g\nOlive oil 25% 25 g")] == [
        (70, "g"), (5, "g"), (25, "g"),
    ]  # fmt: skip
