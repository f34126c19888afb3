"""The score says how much a recipe is worth a look, and every part of it is shown."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.queue.interest import THRESHOLD, History, Interest, Weights, interest
from bot.queue.likeness import sketch
from bot.words.phrases import load_phrases
from rules.assessment import Assessment, Hazard, Severity, Verdict
from rules.recipe import Recipe
from tests.bot.made import BALM, MIST, assessment, finding, line, recipe

WET = assessment(MIST, Verdict.FIX, finding())


def score(
    made: Recipe = MIST,
    judged: Assessment = WET,
    history: History | None = None,
    weights: Weights | None = None,
) -> Interest:
    known = sketch(made, judged)
    return interest(made, judged, known, history or History(people=1), weights or Weights(), THRESHOLD, load_phrases())


def test_a_hazard_and_a_crowd_are_worth_a_look_and_a_sound_balm_is_not() -> None:
    craft = assessment(MIST, Verdict.AVOID, finding(Severity.AVOID, Hazard.PROHIBITED))
    assert score(judged=craft).queued
    assert score(history=History(people=9)).queued
    assert not score(BALM, assessment(BALM, Verdict.FINE)).queued


def test_what_was_dropped_or_taken_does_not_come_back() -> None:
    for history in (History(people=30, dropped=True), History(people=30, taken=True)):
        found = score(history=history)
        assert not found.queued
        assert "dropped before" in found.why[-1] or "taken for an episode" in found.why[-1]


def test_what_is_close_to_an_episode_is_less_new() -> None:
    assert score(history=History(covered=0.9)).score < score().score


def test_an_unknown_ingredient_makes_it_more_interesting() -> None:
    odd = recipe(*MIST.lines, line(None, 5, "moonsugar"))
    unknown = score(odd, assessment(odd, Verdict.FIX, finding()))
    assert unknown.score > score().score
    assert any("1 of 3 parts unknown" in why for why in unknown.why)


def test_every_part_of_the_score_is_shown_and_sums_up() -> None:
    found = score(history=History(people=3))
    assert {part.name for part in found.parts} == {
        "demand",
        "novelty",
        "severity",
        "uncertainty",
        "teaching",
    }
    assert sum(part.points for part in found.parts) == pytest.approx(found.score, abs=1e-3)
    assert any(why.startswith("asked by 3 people (") for why in found.why)


def test_the_creators_weights_decide() -> None:
    only_demand = Weights(demand=1, novelty=0, severity=0, uncertainty=0, teaching=0)
    assert score(history=History(people=32), weights=only_demand).score == 1.0
    nothing = Weights(demand=0, novelty=0, severity=0, uncertainty=0, teaching=0)
    assert score(weights=nothing).score == 0.0


@given(
    st.integers(0, 10**6),
    st.floats(0, 1),
    st.sampled_from(Verdict),
)
def test_the_score_stays_between_0_and_1(people: int, covered: float, verdict: Verdict) -> None:
    found = score(judged=assessment(MIST, verdict, finding()), history=History(people=people, covered=covered))
    assert 0 <= found.score <= 1


@given(st.integers(1, 10**5), st.integers(1, 10**5))
def test_more_people_never_make_it_less_interesting(one: int, more: int) -> None:
    few, many = sorted((one, more))
    assert score(history=History(people=few)).score <= score(history=History(people=many)).score
