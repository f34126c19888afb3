"""The safer way is itself judged: a recipe changed as we advise no longer has the fault."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from bot.terminal.demo import load_messages
from rules.assess import assess
from rules.assessment import Finding, Severity
from rules.interval import Interval
from rules.recipe import Recipe, Site
from tests.nlp.readers import read
from tests.rules.hazards.changes import CHANGES, ELSEWHERE, key
from tests.scenario import line_of, messages, recipe_of, rows


def of_scenario() -> Iterator[tuple[str, Recipe]]:
    """Every recipe of our scenario and of the demonstration."""
    yield from ((row["id"], recipe_of(row)) for row in rows())
    yield from ((message.text, recipe) for message in load_messages() for recipe in read(message.text).recipes)


def of_hidden_dangers() -> Iterator[tuple[str, Recipe]]:
    yield from ((message["id"], recipe) for message in messages() for recipe in read(message["text"]).recipes)


def wrong(recipe: Recipe) -> list[Finding]:
    """What is to be mended: no note, no option, and no line without an amount that could be made less."""
    return [f for f in assess(recipe).findings if f.severity is not Severity.NOTE and f.condition is None]


def carried_out(recipe: Recipe, finding: Finding) -> bool:
    if finding.instead in ELSEWHERE:
        return False
    line = None if finding.line is None else recipe.lines[finding.line]
    return not (finding.instead in MEASURED and (line is None or line.amount is None))


MEASURED = {"use_less", "use_fewer_drops", "less_soda", "solubilise_scent"}


def still_wrong(written: Iterator[tuple[str, Recipe]], done: set[str]) -> Iterator[tuple[str, str, str]]:
    """Faults that are there after their own safer way was taken; `done` gathers the ways that were tried."""
    for name, recipe in written:
        for finding in wrong(recipe):
            assert finding.instead in set(CHANGES) | ELSEWHERE
            if carried_out(recipe, finding):
                done.add(finding.instead)
                if key(finding) in map(key, wrong(CHANGES[finding.instead](recipe, finding))):
                    yield name, finding.reason, finding.instead


def test_doing_what_we_advise_takes_the_fault_away() -> None:
    done: set[str] = set()
    assert list(still_wrong(of_scenario(), done)) == []
    assert done == set(CHANGES)


@pytest.mark.long
def test_doing_what_we_advise_takes_a_hidden_danger_away() -> None:
    assert list(still_wrong(of_hidden_dangers(), set())) == []


@pytest.mark.parametrize("site", [Site.LIPS, Site.EYE_AREA, Site.FACE])
def test_each_colour_that_we_name_as_allowed_passes_there(site: Site) -> None:
    for colour in ("iron_oxide_red", "iron_oxide_black", "mica", "carmine", "titanium_dioxide"):
        recipe = Recipe(
            lines=(line_of("10 g beeswax"), line_of(f"1 g {colour}"), line_of("20 g castor_oil")),
            sites=(site,),
            product="lipstick" if site is Site.LIPS else "eyeliner",
        )
        result = assess(recipe)
        assert [f.reason for f in result.findings if f.severity is not Severity.NOTE] == []


def test_a_waterless_eye_colour_is_as_good_as_we_say() -> None:
    liner = recipe_of({"of": "eyeliner", "lines": ["5 g beeswax", "10 g castor_oil", "4 g iron_oxide_black"]})
    assert assess(liner).verdict.value == "fine"


def test_the_advised_ph_is_not_found_at_fault() -> None:
    """Lactic acid brought to about pH 4 with its own salt."""
    serum = recipe_of(
        {
            "of": "serum",
            "lines": [
                "2 percent lactic_acid",
                "5 percent sodium_lactate",
                "92 percent water",
                "1 percent phenoxyethanol_ethylhexylglycerin",
            ],
        }
    )
    result = assess(serum)
    assert result.measures.ph is not None
    assert result.measures.ph.best == pytest.approx(4.1, abs=0.5)
    assert [f.reason for f in result.findings if f.severity is not Severity.NOTE] == []


def test_scaling_keeps_an_interval_honest() -> None:
    assert Interval(1, 2, 3).scaled(0.5) == Interval(0.5, 1, 1.5)
