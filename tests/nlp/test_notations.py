"""Ways of writing in which a line was once lost or invented, a sentence of our own each. Notation: common practice."""

import pytest

from nlp.reading import Note
from tests.nlp.readers import lines, read, table

TAIL = "\n1 tsp castor oil\n2 tsp beeswax"


@pytest.mark.parametrize(
    ("text", "row"),
    [
        ("1 whole red crayon", ("crayon", 1, "piece")),
        ("half a purple crayon", ("crayon", 0.5, "piece")),
        ("2 large ripe avocados", ("avocados", 2, "piece")),
        ("Flax seeds – ½ or ¼ cup", ("Flax seeds", 0.5, "cup")),
        ("a few drops (3-4) of lavender oil", ("lavender oil", (3, 4), "drop")),
        ("Rose clay (fine or coarse)- 1 tsp.", ("Rose clay", 1, "tsp")),
        ("Shampoo of your choice – 1 tbsp (optional)", ("Shampoo", 1, "tbsp")),
        ("1 dash any lip-safe mica(s)", ("mica", 1, "pinch")),
        ("Desired amount of mica", ("mica", None, None)),
        ("a pinch of soap glitter", ("soap glitter", 1, "pinch")),
        ("1 vit. E capsule", ("vit. E capsule", 1, "piece")),
        ("a tiny knife tip of red mica", ("mica", 1, "pinch")),
        ("2 cups gentle, unscented lotion", ("lotion", 2, "cup")),
        ("Liquid oil #2 ... 40%", ("oil #2", 40, "percent")),
        ("green tea (a bag steeped in 1 cup hot water)", ("green tea", 1, "cup")),
    ],
)
def test_a_line_in_this_notation_is_not_lost(text: str, row: tuple[str, object, str | None]) -> None:
    assert row in table(text + TAIL)


@pytest.mark.parametrize(
    ("text", "no_line"),
    [
        ("Course: Bench craft, Aromatherapy" + TAIL, "Aromatherapy"),
        ("for the fair\nbody mist\nIngredients\n2 oz rose water" + TAIL, "body mist"),
        ("Shades:\nHoney - 1/8 tsp cinnamon" + TAIL, "Honey"),
        ("Henna for beards: 50 g henna powder, 1 tsp lemon juice", "Henna"),
        ("My quay toner: 1 cup rose water, 1 tsp glycerin. Put some toner on a pad.", "toner"),
        ("10 drops geranium oil (for a 1% dilution)" + TAIL, "dilution"),
        ("2 tbsp honey\n1 tbsp sugar\nMix the two together until smooth", "together"),
        ("Arrowroot has been used for ages as the base for talc" + TAIL, "talc"),
        ("Can I use water instead of aloe? No!" + TAIL, "water"),
        ("Sunny lotion (1 cup total)" + TAIL, "Sunny lotion"),
        ("2 tsp cornstarch, 1 tsp glycerin for face paint, comes off with soap", "soap"),
        ("- 10 g beeswax\n- 20 g castor oil\n- Spray bottle with 90% alcohol", "alcohol"),
        ("Fragrance for the harbour master\n3 tsp vodka\n10 drops geranium oil\n5 drops neroli oil", "Fragrance"),
        ("1/4 cup water\n1 tsp honey\nspritz my curls", "curls"),
    ],
)
def test_what_only_stands_around_is_no_line(text: str, no_line: str) -> None:
    assert no_line not in [row[0] for row in table(text)]


def test_a_full_stop_behind_a_written_out_unit_ends_the_sentence_and_keeps_the_glitter() -> None:
    """The line that was lost is the one that hurts an eye."""
    assert ("craft glitter", 1, "spoonful") in table("gel: aloe gel 2 spoons, craft glitter 1 spoon. cheeks and arms!")


def test_figures_below_a_percent_are_percent_and_a_strength_is_no_amount() -> None:
    rows = table("lotion\nWater 70%w/w\nGlycerin 4.0\nOlive oil 20.0\nEmulsifying wax 5.0\nLye, 10% 0.1")
    assert [row[1:] for row in rows] == [(figure, "percent") for figure in (70, 4, 20, 5, 0.1)]


def test_two_colours_of_one_thing_are_two_lines() -> None:
    text = "Castor oil – 1 tbsp\nShimmering Plum Mica Powder – 2 dash\nRed Gold Mica Powder – 1 smidgen"
    assert [line.substance for line in lines(text)] == ["castor_oil", "mica", "mica"]


def test_an_ingredient_that_only_the_method_names_is_put_in_once() -> None:
    text = "6 parts rose water\n3 parts olive oil\n2 parts emulsifying wax\nBeat, add the preservative and the oil."
    assert [line.substance for line in lines(text)][3:] == ["preservative"]


def test_a_trade_blend_is_one_line() -> None:
    text = "Water 90 g\nPhenoxyethanol (and) Ethylhexylglycerin 1 g\nGlycerin 9 g"
    assert table(text)[1] == ("Phenoxyethanol (and) Ethylhexylglycerin", 1, "g")


def test_an_oil_of_choice_keeps_its_amount_and_its_examples_have_none() -> None:
    rows = table("1 tsp oil (either olive or almond)\n2 tsp beeswax")
    assert rows[:3] == [("oil", 1, "tsp"), ("olive", None, None), ("almond", None, None)]


@pytest.mark.parametrize(
    ("said", "substance"),
    [("petrolatum", "petroleum_jelly"), ("crayons", "crayon"), ("white rum", "vodka"), ("epsom", "epsom_salt")],
)
def test_what_fans_call_a_common_material_is_known(said: str, substance: str) -> None:
    assert substance in [line.substance for line in lines(f"1 tbsp {said}" + TAIL)]


@pytest.mark.parametrize(
    ("text", "site"),
    [
        ("3 tbsp castor oil, 2 tsp beeswax, rub it into the heels", "feet"),
        ("1 cup coconut oil, 1 tbsp baking soda, brush with it twice a day", "mouth"),
        ("1 tsp castor oil, 1/4 tsp iron oxide, for my brows", "eye_area"),
    ],
)
def test_a_stated_place_beats_the_guess(text: str, site: str) -> None:
    reading = read(text)
    assert reading.recipes[0].sites[0] == site
    assert Note.USE_GUESSED in reading.notes


def test_a_figure_that_makes_no_sense_is_owned_up_to() -> None:
    assert Note.AMOUNT_UNCLEAR in read("toner: 1/0 cup rose water, 1 tbsp glycerin").notes
    assert Note.AMOUNT_UNCLEAR not in read("toner: 1/2 cup rose water, 1 tbsp glycerin").notes
