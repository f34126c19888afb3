"""When two recipes are one case to the creator."""

from __future__ import annotations

import random

from hypothesis import given, settings
from hypothesis import strategies as st

from bot.queue.likeness import LIKE, LikenessIndex, Sketch, likeness, normalised, same, sketch
from rules.assessment import Severity, Verdict
from rules.recipe import Recipe, Site
from tests.bot.made import BALM, MIST, assessment, finding, line, recipe

POOL = [f"s{n}" for n in range(30)]


def drawn(made: Recipe, verdict: Verdict = Verdict.FIX) -> Sketch:
    return sketch(made, assessment(made, verdict, finding()))


def test_a_reordered_and_scaled_copy_has_the_same_fingerprint() -> None:
    copy = recipe(line("glycerin", 25), line("water", 225))
    assert drawn(copy).fingerprint == drawn(MIST).fingerprint


def test_an_unknown_name_is_the_same_in_another_spelling() -> None:
    one = recipe(line("water", 9), line(None, 1, "Moonsugar Résins"))
    other = recipe(line("water", 9), line(None, 1, "resin, moonsugar"))
    assert same(drawn(one), drawn(other))
    assert normalised("Résins") == normalised("resin")


def test_amounts_that_are_only_guessed_do_not_keep_copies_apart() -> None:
    bare = recipe(line("water"), line("glycerin"))
    assert same(drawn(bare), drawn(MIST))


def test_other_amounts_make_another_recipe() -> None:
    strong = recipe(line("water", 40), line("glycerin", 60))
    assert not same(drawn(strong), drawn(MIST))


def test_another_verdict_keeps_a_variant_apart() -> None:
    assert not same(drawn(MIST, Verdict.FIX), drawn(MIST, Verdict.AVOID))


def test_another_place_keeps_a_variant_apart() -> None:
    lips = MIST.model_copy(update={"sites": (Site.LIPS,)})
    assert not same(drawn(lips), drawn(MIST))


def test_a_place_that_was_not_named_keeps_nothing_apart() -> None:
    nowhere = MIST.model_copy(update={"sites": ()})
    assert same(drawn(nowhere), drawn(MIST))


def test_other_hazards_keep_a_variant_apart() -> None:
    harmless = sketch(MIST, assessment(MIST, Verdict.FIX, finding(Severity.NOTE)))
    assert not same(harmless, drawn(MIST))


def test_an_alternative_does_not_count() -> None:
    other = line("sorbitol", 10).model_copy(update={"alternative_of": 1})
    either = recipe(*MIST.lines, other)
    assert drawn(either).tokens == drawn(MIST).tokens


def test_the_index_finds_the_copy_and_the_variant() -> None:
    index = LikenessIndex()
    index.add(1, drawn(MIST))
    index.add(2, drawn(BALM))
    double, other = drawn(recipe(line("water", 180), line("glycerin", 20))), drawn(MIST, Verdict.FINE)
    assert index.same(double, index.like(double)) == 1
    assert index.same(other, index.like(other)) is None
    assert index.variant(other, index.like(other)) == 1
    assert index.like(drawn(recipe(line("mica", 1)))) == []


sets = st.frozensets(st.sampled_from(POOL), min_size=1, max_size=12)


def bare(tokens: frozenset[str]) -> Sketch:
    return Sketch(shares=dict.fromkeys(tokens), sites=(), verdict=Verdict.FIX, hazards=())


@settings(max_examples=200, deadline=None)
@given(st.lists(sets, max_size=40), sets)
def test_the_index_finds_exactly_what_comparing_with_all_finds(known: list[frozenset[str]], asked) -> None:
    index = LikenessIndex()
    for number, tokens in enumerate(known, start=1):
        index.add(number, bare(tokens))
    by_hand = {
        (likeness(bare(asked), bare(tokens)), number)
        for number, tokens in enumerate(known, start=1)
        if likeness(bare(asked), bare(tokens)) >= LIKE
    }
    assert set(index.like(bare(asked))) == by_hand


def test_a_recipe_is_found_again_among_many() -> None:
    chance = random.Random(7)
    index = LikenessIndex()
    for number in range(3000):
        rare = chance.sample(range(500), 4)
        index.add(number, bare(frozenset({"water", "glycerin", *(f"r{n}" for n in rare)})))
    wanted = index[1234]
    assert index.like(wanted)[0] == (1.0, 1234)
