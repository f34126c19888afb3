"""Who belongs to whom: the same stall recipe in the layouts that fans use. Recipes invented."""

import pytest

from tests.nlp.readers import lines, read, table

STALL = [("beeswax", 2, "tbsp"), ("shea butter", 3, "tbsp"), ("castor oil", 1, "tsp")]


@pytest.mark.parametrize(
    "text",
    [
        "2 tbsp beeswax\n3 tbsp shea butter\n1 tsp castor oil",
        "• 2 tbsp grated beeswax\n• 3 tbsp raw shea butter\n• 1 tsp castor oil\n"
        "Melt the wax and butter, stir in the oil.",
        "2 tbsp beeswax, 3 tbsp shea butter and 1 tsp castor oil",
        "beeswax 2 tbsp, shea butter 3 tbsp, castor oil 1 tsp",
        "beeswax – 2 Tbsp.\nshea butter – 3 Tbsp.\ncastor oil – 1 Tsp.",
        "beeswax (2 tbsp), shea butter (3 tbsp), castor oil (1 tsp)",
        "beeswax\n2 tbsp\nshea butter\n3 tbsp\ncastor oil\n1 tsp",
        "2 tbsp beeswax 3 tbsp shea butter 1 tsp castor oil melt it all and pour in tins",
        "🐝 2 tbsp beeswax 🥜 3 tbsp shea butter 💧 1 tsp castor oil",
        "1. Melt 2 tbsp beeswax.\n2. Add 3 tbsp shea butter.\n3. Stir in 1 tsp castor oil.",
    ],
)
def test_one_recipe_reads_the_same_in_every_layout(text: str) -> None:
    assert table(text) == STALL


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("equal parts beeswax, shea butter and castor oil", [1, 1, 1]),
        ("beeswax, shea butter, castor oil 2:1:1", [2, 1, 1]),
        ("one part beeswax and one part shea butter and two parts castor oil", [1, 1, 2]),
        ("1 part each of beeswax, shea butter and castor oil", [1, 1, 1]),
    ],
)
def test_shared_amounts_go_to_every_name(text: str, expected: list[float]) -> None:
    assert [row[1:] for row in table(text)] == [(figure, "part") for figure in expected]


@pytest.mark.parametrize(
    ("text", "choices"),
    [
        ("2 tbsp cornstarch or arrowroot\n1 tsp jojoba oil", [None, 0, None]),
        ("2 tbsp cornstarch (or arrowroot)\n1 tsp jojoba oil", [None, 0, None]),
        ("2 tbsp cornstarch/arrowroot\n1 tsp jojoba oil", [None, 0, None]),
        ("5 drops essential oil (e.g. lavender, geranium)\n1 tsp jojoba oil", [None, 0, 0, None]),
    ],
)
def test_choices_point_at_the_first(text: str, choices: list[int | None]) -> None:
    assert [line.alternative_of for line in lines(text)] == choices


def test_a_choice_has_the_amount_and_an_example_has_none() -> None:
    assert table("2 tbsp cornstarch or arrowroot\n1 tsp jojoba oil")[1][1] == 2
    assert table("5 drops essential oil (e.g. lavender)\n1 tsp jojoba oil")[1][1] is None


@pytest.mark.parametrize(
    ("text", "missing"),
    [
        ("2 tbsp shea butter, 1 tbsp castor oil, no beeswax", "beeswax"),
        ("2 tbsp shea butter and 1 tbsp castor oil without honey or glycerin", "glycerin"),
        ("2 tbsp castor oil and 1 tbsp shea butter instead of petroleum jelly", "petroleum jelly"),
        ("2 tbsp castor oil, 1 tbsp shea butter. Rinse with water", "water"),
        ("2 tbsp castor oil, 1 tbsp shea butter in a pot of water", "water"),
    ],
)
def test_what_is_left_out_is_no_ingredient(text: str, missing: str) -> None:
    assert missing not in [row[0] for row in table(text)]


@pytest.mark.parametrize(
    "text",
    [
        "2 tbsp shea butter\n1 tbsp castor oil\n3 drops lavender oil (optional)",
        "2 tbsp shea butter\n1 tbsp castor oil\nOptional: 3 drops lavender oil",
        "2 tbsp shea butter\n1 tbsp castor oil\n3 drops lavender oil, opt.",
        "2 tbsp shea butter\n1 tbsp castor oil\n3 drops lavender oil if you like",
    ],
)
def test_optional_marks_only_what_it_stands_beside(text: str) -> None:
    assert [line.optional for line in lines(text)] == [False, False, True]


def test_a_repeat_in_the_method_is_no_second_line_but_tells_the_amount() -> None:
    text = "beeswax\ncastor oil\nMelt 2 tbsp of the beeswax, then stir in 1 tsp castor oil."
    assert table(text) == [("beeswax", 2, "tbsp"), ("castor oil", 1, "tsp")]


def test_an_unknown_name_is_kept_verbatim() -> None:
    unknown = lines("2 tbsp beeswax\n1 tsp zorblewort essence\n3 tbsp castor oil")[1]
    assert (unknown.name, unknown.substance) == ("zorblewort essence", None)


def test_a_misspelt_name_is_known_and_a_false_friend_is_not() -> None:
    assert [line.substance for line in lines("2 tbsp beeswaxx\n1 tsp glicerine\n3 tbsp casstor oil")] == [
        "beeswax",
        "glycerin",
        "castor_oil",
    ]
    assert lines("1 tsp sodium xulfite\n3 tbsp castor oil")[0].substance != "sodium_sulfate"


def test_bare_names_are_oils_where_drops_are_counted() -> None:
    assert [line.substance for line in lines("2 tbsp castor oil\n3 drops lavender\n2 drops peppermint")][1:] == [
        "lavender_essential_oil",
        "peppermint_essential_oil",
    ]


def test_the_name_leaves_out_grade_and_points_at_the_original_characters() -> None:
    text = "½ cup  fresh, organic\u200b raw shea butter\n1 tsp jojoba oil"
    line = lines(text)[0]
    assert line.name == text[slice(*line.span)] == "shea butter"


def test_juice_of_half_a_lemon_is_one_name_counted_in_lemons() -> None:
    assert table("2 tbsp honey\njuice of half a lemon")[1] == ("juice of half a lemon", 0.5, "piece")


def test_two_recipes_in_one_message_stay_apart() -> None:
    reading = read("Lip balm:\n1 tbsp beeswax\n2 tbsp castor oil\n\nSugar scrub:\n1 cup sugar\n1/2 cup castor oil")
    assert [recipe.product for recipe in reading.recipes] == ["lip_balm", "sugar_scrub"]
    assert [len(recipe.lines) for recipe in reading.recipes] == [2, 2]
