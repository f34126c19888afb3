"""Numbers people can read."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.words.figures import Figure, nearest_edge, short
from rules.interval import Interval


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (0.98, "0.98"),
        (0.995, "0.995"),
        (93.04, "93"),
        (12.54, "12.5"),
        (1200.4, "1200"),
        (3.0, "3"),
        (0.0, "0"),
        (-0.0, "0"),
        (0.0005, "0.0005"),
        (1e9, "1000000000"),
        (math.inf, "?"),
        (math.nan, "?"),
    ],
)
def test_figures_as_they_are_said(value: float, said: str) -> None:
    assert short(value) == said


@given(st.floats(min_value=0.01, max_value=1e7))
def test_what_is_said_is_within_one_percent(value: float) -> None:
    assert float(short(value)) == pytest.approx(value, rel=0.01)


def test_a_figure_in_a_phrase_prints_short_and_takes_a_format() -> None:
    assert f"{Figure(12.5432)} {Figure(12.5432):.3f}" == "12.5 12.543"


def test_the_edge_that_is_passed_is_the_one_named() -> None:
    limit = Interval(4, 5, 6)
    edges = [nearest_edge(limit, Interval.exact(v)) for v in (2, 5, 9)]
    assert edges == [4, 5, 6]
    assert nearest_edge(limit, None) == 5
