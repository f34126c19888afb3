"""The pictures: what they show is also said, and nothing leaves the page."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.brief.charts import card, composition, deciding_lines, emulsion, ph, pictures, settling, water_activity
from bot.brief.demonstrations import load_demonstrations
from bot.brief.paint import Form, draw
from bot.words.finding import Scene
from bot.words.phrases import load_phrases
from rules.assess import assess
from rules.assessment import Assessment, Hazard, Jurisdiction, Verdict
from rules.chemistry.low_risk import growth_minima
from rules.interval import Interval
from rules.recipe import Recipe
from tests.bot.brief.plans import FORTY, HOSTILE, LIP_TINT, LOTION, MIST, SHIMMER, TONER
from tests.bot.made import assessment

WORDS = load_phrases()


def scene(made: Recipe, judged: Assessment | None = None) -> Scene:
    return Scene.of(made, judged or assess(made, Jurisdiction.US), WORDS)


def with_measures(**measures: Interval) -> Scene:
    judged = assessment(MIST, Verdict.FINE)
    return scene(MIST, judged.model_copy(update={"measures": judged.measures.model_copy(update=measures)}))


@pytest.mark.parametrize("made", [MIST, LIP_TINT, SHIMMER, TONER, LOTION, HOSTILE, FORTY])
def test_every_recipe_gets_its_pictures_in_both_forms(made: Recipe) -> None:
    found = pictures(scene(made))
    assert found
    for picture in found:
        root = ET.fromstring(draw([picture], Form.SVG))
        addresses = [value for part in root.iter() for name, value in part.attrib.items() if name.endswith("href")]
        assert all(address.startswith("#") for address in addresses)
    assert draw(card(scene(made)), Form.PNG).startswith(b"\x89PNG")


def test_the_same_recipe_gives_the_same_file() -> None:
    found = pictures(scene(SHIMMER))
    assert draw(found, Form.SVG) == draw(found, Form.SVG)


def test_the_part_that_decides_is_named_as_such() -> None:
    found = composition(scene(LIP_TINT))
    assert found is not None
    assert "crayon 3.85 %, the part that decides" in found.alt
    assert deciding_lines(scene(MIST)) == frozenset({0})


def test_a_crayon_is_shown_among_forty_larger_parts() -> None:
    crayon = FORTY.model_copy(update={"lines": (*FORTY.lines, LIP_TINT.lines[0])})
    found = composition(scene(crayon))
    assert found is not None
    assert "crayon" in found.alt
    assert "more" in found.alt


def test_water_activity_is_held_against_the_published_limits() -> None:
    """Growth minima: the table that the rules judge by, with its sources; at 0.88 yeasts grow and bacteria do not."""
    found = water_activity(with_measures(water_activity=Interval(0.86, 0.88, 0.9)))
    assert found is not None
    can, cannot = found.alt.split("Cannot:")
    assert "many yeasts 0.87" in can
    assert "most bacteria 0.91" in cannot
    assert growth_minima()["many_yeasts"].lowest_water_activity == 0.87


def test_ph_is_held_against_skin_and_each_preservative() -> None:
    """Benzoate works below about 5.5 (the table's row): at 7 both skin and benzoate are outside."""
    judged = assessment(LOTION, Verdict.FIX)
    measures = judged.measures.model_copy(update={"ph": Interval(6.8, 7, 7.2)})
    found = ph(scene(LOTION, judged.model_copy(update={"measures": measures})))
    assert found is not None
    assert "Inside the range of: nothing" in found.alt
    assert "skin" in found.alt
    assert "benzoate" in found.alt


def test_no_picture_where_there_is_no_number() -> None:
    dry = scene(LIP_TINT, assessment(LIP_TINT, Verdict.AVOID))
    assert [make(dry) for make in (water_activity, ph, settling, emulsion)] == [None] * 4


@settings(max_examples=25, deadline=None)
@given(st.floats(0.001, 1e7), st.floats(1, 50))
def test_any_settling_time_stays_on_the_page(minutes: float, factor: float) -> None:
    found = settling(with_measures(settling_minutes=Interval(minutes / factor, minutes, minutes * factor)))
    assert found is not None
    assert draw([found], Form.SVG)


def test_every_hazard_has_one_safe_demonstration() -> None:
    table = load_demonstrations()
    assert {hazard.value for hazard in Hazard} < set(table)
    assert all(row.care for row in table.values())
