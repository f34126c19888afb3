"""No message may stop the bot, whatever it is made of."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nlp.reader import LONGEST, default_reader
from nlp.reading import Note
from tests.nlp.readers import read

_PIECES = st.sampled_from(
    ["1/2", "½", "cup", "tsp", "beeswax", "or", "(", ")", ",", "\n", "of", "lavender", "oil", "a few", "drops", "-",
     ":", "2:1", "%", "no", "optional", "each", "eye", "burns",
     "🍋", "\u202e", "\u200b", "juice of", "half a", "zorb", "•",
     "such as", "water", "lip balm", "0", "1/0", "999999999", "kg", "e\u0301",
     "соcоа", "<@1>", "http://a.example", "'", '"']
)  # fmt: skip


@settings(max_examples=200, deadline=None)
@given(st.lists(_PIECES, max_size=60).map(" ".join))
def test_any_heap_of_recipe_words_gives_a_reading_whose_spans_hold(text: str) -> None:
    reading = read(text)
    for recipe in reading.recipes:
        for index, line in enumerate(recipe.lines):
            assert line.name == text[slice(*line.span)]
            assert line.name.strip() == line.name != ""
            assert line.alternative_of is None or line.alternative_of != index
            assert line.amount is None or line.amount.quantity.low >= 0


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=300))
def test_any_text_gives_a_reading(text: str) -> None:
    assert read(text).text == text


@pytest.mark.parametrize(
    "piece",
    [
        "(",
        "1 ",
        "1/",
        "a",
        "half a ",
        "🍋",
        "\u200b",
        "\n",
        "oil (or jojoba) ",
        "optional beeswax ",
        "1 tsp zorb\n",
        "2:",
    ],
)
def test_endless_repetition_is_read_up_to_the_limit(piece: str) -> None:
    text = piece * (LONGEST // len(piece) + 10)
    assert Note.CUT_SHORT in read(text).notes


def test_ten_thousand_numbers_are_no_recipe() -> None:
    assert read(" ".join(map(str, range(10_000)))).recipes == ()


def test_a_batch_reads_like_one_at_a_time() -> None:
    texts = ["2 tbsp beeswax, 1 tbsp castor oil", "", "hello", "½ cup shea butter\n1 tsp jojoba oil"] * 40
    assert list(default_reader().read_many(texts)) == [read(text) for text in texts]


@pytest.mark.parametrize(
    "piece", ["2 x ", "2 * ", "1*", "half a ", "½", "½⅓", "70/30 ", "50/", "1:", "twice as much ", "X-1 "]
)
def test_figures_by_the_thousand_neither_nest_nor_stop_the_reader(piece: str) -> None:
    """ "2 x 2 x 2 ..." once went as deep as the interpreter allows."""
    text = (piece * 6000)[:6000]
    assert read(text).text == text


def test_a_row_of_pictures_does_not_move_the_names_behind_it() -> None:
    text = "🍋" * 40 + "👩‍🔬🌿🌊🌸🌼 2 tbsp honey"
    (line,) = read(text + ", 1 tsp beeswax").recipes[0].lines[:1]
    assert line.name == text[slice(*line.span)] == "honey"
