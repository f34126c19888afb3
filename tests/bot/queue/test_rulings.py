"""How far the creator's word reaches: a milder one never further than what she saw."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from bot.queue.likeness import sketch
from bot.queue.rulings import STRICTNESS, Ruling, reaches
from rules.assessment import Verdict
from tests.bot.made import MIST, assessment, finding, line, recipe

WET = sketch(MIST, assessment(MIST, Verdict.FIX, finding()))
RICHER = recipe(*MIST.lines, line("honey", 8))
RICHER_SKETCH = sketch(RICHER, assessment(RICHER, Verdict.FIX, finding()))


def ruling(verdict: Verdict) -> Ruling:
    return Ruling(case=1, verdict=verdict, words="x")


def test_a_stricter_ruling_holds_for_the_near_duplicate() -> None:
    assert reaches(ruling(Verdict.AVOID), WET, RICHER_SKETCH)
    assert reaches(ruling(Verdict.FIX), WET, RICHER_SKETCH)


def test_a_milder_ruling_holds_for_the_same_recipe_only() -> None:
    assert reaches(ruling(Verdict.FINE), WET, WET)
    assert not reaches(ruling(Verdict.FINE), WET, RICHER_SKETCH)


def test_a_milder_ruling_does_not_hold_for_other_amounts() -> None:
    strong = recipe(line("water", 40), line("glycerin", 60))
    other = sketch(strong, assessment(strong, Verdict.FIX, finding()))
    assert not reaches(ruling(Verdict.FINE), WET, other)


def test_her_ruling_on_an_unknown_ingredient_holds_for_the_same_one() -> None:
    odd = recipe(line("water", 9), line(None, 1, "moonsugar"))
    known = sketch(odd, assessment(odd, Verdict.UNCLEAR))
    assert reaches(ruling(Verdict.FINE), known, known)


@given(st.sampled_from(Verdict), st.sampled_from(Verdict))
def test_no_ruling_makes_a_variant_look_better_than_the_machine_found_it(ruled: Verdict, found: Verdict) -> None:
    variant = RICHER_SKETCH.model_copy(update={"verdict": found})
    if reaches(ruling(ruled), WET, variant):
        assert STRICTNESS[ruled] >= STRICTNESS[found]
