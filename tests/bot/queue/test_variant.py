"""What the creator reads when a recipe is the same as a known one and judged otherwise."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from bot.queue.likeness import Sketch, sketch
from bot.queue.variant import Difference, Variant, difference, variant_words
from bot.words.phrases import load_phrases
from rules.assessment import Verdict
from rules.recipe import Recipe, Site
from tests.bot.made import MIST, assessment, finding, line, recipe

tokens = st.sampled_from([f"s{n}" for n in range(8)])
sketches = st.builds(
    Sketch,
    shares=st.dictionaries(tokens, st.none() | st.floats(0, 1), max_size=8),
    sites=st.lists(st.sampled_from(Site), max_size=2, unique=True).map(tuple),
    verdict=st.sampled_from(Verdict),
    hazards=st.just(()),
)


def said(known: Recipe, wanted: Recipe) -> str:
    apart = difference(drawn(known), drawn(wanted))
    return variant_words(Variant(case=7, verdict=Verdict.FIX, difference=apart), load_phrases())


def drawn(made: Recipe) -> Sketch:
    return sketch(made, assessment(made, Verdict.FIX, finding()))


def test_the_preservative_that_changes_the_verdict_is_named_as_one_and_first() -> None:
    kept = recipe(line("water", 84), line("glycerin", 10), line("rose_water", 5), line("phenoxyethanol", 1))
    words = said(MIST, kept)
    assert "number 7" in words
    assert "with a preservative (phenoxyethanol), rose water" in words


def test_what_is_left_out_and_what_doubled_is_told_apart() -> None:
    words = said(recipe(*MIST.lines, line("tocopherol", 1)), recipe(line("water", 60), line("glycerin", 40)))
    assert "without vitamin E" in words
    assert "with more glycerin" in words
    assert "less" not in words


def test_the_same_parts_on_another_place_name_the_place() -> None:
    assert "for lips" in said(MIST, MIST.model_copy(update={"sites": (Site.LIPS,)}))


def test_an_unknown_name_comes_out_without_its_markup() -> None:
    words = said(MIST, recipe(*MIST.lines, line(None, 1, "@everyone <b>zorb</b>")))
    assert "zorb" in words
    assert not set("@<>") & set(words)


def test_amounts_too_close_to_name_are_still_said_to_differ() -> None:
    assert "in other amounts" in said(MIST, recipe(line("water", 88), line("glycerin", 12)))


@given(sketches)
def test_a_recipe_differs_in_nothing_from_itself(one: Sketch) -> None:
    assert difference(one, one) == Difference()


@given(sketches, sketches)
def test_the_difference_seen_from_the_other_side_is_the_same_turned_round(one: Sketch, other: Sketch) -> None:
    there, back = difference(one, other), difference(other, one)
    assert (there.added, there.gone, there.more, there.less) == (back.gone, back.added, back.less, back.more)
