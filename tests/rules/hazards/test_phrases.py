"""Nothing is found that cannot be said: every key that the rules emit has a phrase with its facts."""

from __future__ import annotations

import ast
import re
import string
from importlib.resources import files
from pathlib import Path

import pytest
import tomli
from hypothesis import given, settings
from hypothesis import strategies as st

from rules import hazards
from rules.assess import assess
from rules.assessment import Assessment, Finding, Jurisdiction
from rules.catalogue import load_catalogue
from rules.hazards.reactive import load_pairs
from rules.hazards.strong import load_strong
from rules.interval import Interval
from rules.products import load_products
from rules.recipe import Amount, Circumstance, Claim, Contact, Line, Quality, Recipe, Site, Unit
from tests.scenario import recipe_of, rows

PHRASES: dict[str, dict[str, str]] = tomli.loads(files("bot.words").joinpath("en", "findings.toml").read_text("utf-8"))
KEY = re.compile(r"[a-z]+(_[a-z0-9]+)+")
SUBSTANCES = sorted(s.id for s in load_catalogue())
PRODUCTS = [None, *load_products()]


def gaps(phrase: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(phrase) if name}


def facts_of(finding: Finding) -> set[str]:
    """What the renderer can fill: the facts, and what it takes from the fields of a finding."""
    known = {*finding.facts, "site", "unit"}
    if finding.substance is not None or finding.line is not None:
        known.add("substance")
    if finding.value is not None:
        known |= {"value", "low", "high"}
    if finding.limit is not None:
        known.add("limit")
    return known


def assert_sayable(result: Assessment) -> None:
    for finding in result.findings:
        for table, key in (("reason", finding.reason), ("instead", finding.instead)):
            assert key in PHRASES[table], key
            assert gaps(PHRASES[table][key]) <= facts_of(finding), (key, finding.facts)
    for virtue in result.virtues:
        assert gaps(PHRASES["virtue"][virtue.reason]) <= {*virtue.facts, "site"}
    if result.question is not None:
        assert result.question in PHRASES["question"]


@pytest.mark.parametrize("region", list(Jurisdiction))
def test_everything_found_in_the_scenario_can_be_said(region: Jurisdiction) -> None:
    for row in rows():
        assert_sayable(assess(recipe_of(row), region))


amounts = st.builds(
    lambda value, unit: Amount(quantity=Interval.exact(value), unit=unit, written=(value, value)),
    st.floats(0.01, 500),
    st.sampled_from([*Unit, None]),
)
lines = st.builds(
    lambda substance, amount, optional, quality: Line(
        as_written="x",
        name="x",
        span=(0, 1),
        substance=substance,
        amount=amount,
        optional=optional,
        qualities=frozenset({quality} if quality else ()),
    ),
    st.sampled_from([*SUBSTANCES, None]),
    st.one_of(st.none(), amounts),
    st.booleans(),
    st.sampled_from([None, *Quality]),
)
recipes = st.builds(
    Recipe,
    lines=st.lists(lines, max_size=6).map(tuple),
    product=st.sampled_from(PRODUCTS),
    sites=st.lists(st.sampled_from(list(Site)), max_size=2, unique=True).map(tuple),
    contact=st.sampled_from([None, *Contact]),
    claims=st.frozensets(st.sampled_from(list(Claim)), max_size=2),
    circumstances=st.frozensets(st.sampled_from(list(Circumstance)), max_size=2),
)


@given(recipes, st.sampled_from(list(Jurisdiction)))
@settings(max_examples=150, deadline=None)
def test_whatever_is_thrown_together_can_be_judged_and_said(recipe: Recipe, region: Jurisdiction) -> None:
    assert_sayable(assess(recipe, region))


def words_in(module: Path) -> set[str]:
    tree = ast.parse(module.read_text("utf-8"))
    return {n.value for n in ast.walk(tree) if isinstance(n, ast.Constant) and isinstance(n.value, str)}


def test_no_phrase_is_kept_for_something_that_is_never_found() -> None:
    folder = Path(next(iter(hazards.__path__)))
    said = {word for module in folder.glob("*.py") for word in words_in(module)}
    said |= {f"pair_{result}" for result in load_pairs()}
    said |= {word for row in load_strong().values() for word in (row.reason, row.instead)}
    said |= {pair.instead for pair in load_pairs().values()}
    assert set(PHRASES["reason"]) <= said
    assert set(PHRASES["instead"]) <= said


def test_every_key_is_plain_and_every_phrase_fits_a_phone() -> None:
    for table in PHRASES.values():
        for key, phrase in table.items():
            assert KEY.fullmatch(key) or key.isalpha(), key
            assert len(phrase) <= 190, key
            assert not phrase.endswith("."), key


BLAME = re.compile(
    r"\b(stupid|silly|foolish|your fault|you should have|how could|never ever|toxic|poison(ed|ous)?)\b", re.IGNORECASE
)


@pytest.mark.parametrize("language", ["en", "es", "pt", "fr"])
def test_what_is_wrong_is_said_in_one_short_sentence_about_the_recipe(language: str) -> None:
    """At most 36 words, one sentence, no shouting and no blame: a reply is one screen of a phone."""
    table = tomli.loads(files("bot.words").joinpath(language, "findings.toml").read_text("utf-8"))["reason"]
    wrong = [
        key
        for key, phrase in table.items()
        if len(phrase.split()) > 36 or "!" in phrase or re.search(r"[.?] [A-Z]", phrase) or BLAME.search(phrase)
    ]
    assert wrong == []
