"""What a fan reads: verdict first, at most 500 characters, never more certain than the reading."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.contract import message_row
from bot.queue.rulings import Ruling
from bot.triage import Context, triage
from bot.words.finding import Scene
from bot.words.more import long_reply
from bot.words.phrases import load_phrases
from bot.words.reply import LIMIT, Piece, fit, short_reply
from nlp.reading import Kind, Note, Reading
from rules.assessment import Condition, Finding, Hazard, Jurisdiction, Severity, Verdict, Virtue
from rules.interval import Interval
from rules.recipe import Recipe, Site
from tests.bot.made import BALM, MIST, ScriptedReader, assessment, finding, judge, line, reading, recipe

HEADS = {
    Verdict.AVOID: "Leave this one.",
    Verdict.FIX: "Fix it first.",
    Verdict.FINE: "Fine as it is.",
    Verdict.UNCLEAR: "Can't tell yet.",
}
PING = re.compile(r"@|<#|<@|https?://|\[[^\]]*\]\(|[*_~`|]{2}|[\u200b-\u200f\u202a-\u202e\u2066-\u2069]")


def scene(made: Recipe, verdict: Verdict, *findings: Finding, virtues: tuple[Virtue, ...] = ()) -> Scene:
    return Scene.of(made, assessment(made, verdict, *findings, virtues=virtues), load_phrases())


def say(made: Recipe, verdict: Verdict, *findings: Finding, notes: frozenset[Note] = frozenset()) -> str:
    return short_reply(scene(made, verdict, *findings), notes)


@pytest.mark.parametrize("verdict", Verdict)
def test_the_verdict_comes_first_in_words(verdict: Verdict) -> None:
    assert say(MIST, verdict, finding()).startswith(HEADS[verdict])


def test_the_reason_names_its_number_and_what_it_is_held_against() -> None:
    text = say(MIST, Verdict.FIX, finding())
    assert "0.98" in text
    assert "0.91" in text


def test_the_real_phrases_fill_from_the_facts_of_a_finding() -> None:
    wet = finding(reason="water_unpreserved", instead="use_up_or_preserve", facts={"water": 90.0})
    text = say(MIST, Verdict.FIX, wet)
    assert "It is about 90 % water (water activity 0.98; the line is 0.91)" in text
    assert "Make one use" in text


def test_the_gravest_finding_speaks_and_at_most_two() -> None:
    note = finding(Severity.NOTE, Hazard.SENSITISER)
    fix = finding(Severity.FIX, Hazard.SEPARATES)
    avoid = finding(Severity.AVOID, Hazard.PROHIBITED)
    text = say(MIST, Verdict.AVOID, note, fix, avoid)
    assert text.index("prohibited") < text.index("oil and water part")
    assert "allergy" not in text


def test_the_same_safer_way_is_said_once() -> None:
    way = {"reason": "craft_colour_on_person", "instead": "leave_scent_out"}
    facts = {"where": "US", "substance": "crayon"}
    one = finding(Severity.AVOID, Hazard.NON_COSMETIC_MATERIAL, facts=facts, **way)
    other = finding(Severity.AVOID, Hazard.COLOURANT_NOT_FOR_SITE, facts=facts, **way)
    assert say(BALM, Verdict.AVOID, one, other).count("Leave the scent out") == 1


def test_what_was_not_understood_is_said() -> None:
    odd = recipe(line("water", 90), line(None, 5, "moonsugar"), line(None, 5, "fog"), line(None, 1, "dew"))
    text = say(odd, Verdict.FIX, finding())
    assert "I do not know moonsugar, fog and 1 more, so I could not weigh those in." in text


def test_an_unclear_reply_asks_the_one_question() -> None:
    made = assessment(MIST, Verdict.UNCLEAR).model_copy(update={"question": "where_does_it_go"})
    text = short_reply(Scene.of(MIST, made, load_phrases()), frozenset())
    assert "Where on the body does it go" in text


def test_what_holds_only_if_added_says_so() -> None:
    optional = finding(condition=Condition.IF_ADDED, line=1)
    assert "If you add glycerin:" in say(MIST, Verdict.FIX, optional)


def test_odd_reading_is_admitted() -> None:
    assert "One figure made no sense" in say(MIST, Verdict.FINE, notes=frozenset({Note.AMOUNT_UNCLEAR}))


def test_a_choice_is_said_where_it_changes_something_and_only_there() -> None:
    choice, chosen = frozenset({Note.CHOICE}), finding(condition=Condition.IF_CHOSEN, line=1)
    assert 'Where you wrote "or" I took the first' in say(MIST, Verdict.FIX, chosen, notes=choice)
    assert "I took the first" not in say(MIST, Verdict.FIX, finding(), notes=choice)


def test_the_caution_is_always_reachable() -> None:
    assert "Not medical advice" in say(BALM, Verdict.FINE)
    more = long_reply(scene(BALM, Verdict.FINE), Jurisdiction.US)
    assert "A patch test" in more


def test_the_long_form_has_mass_measures_findings_sources_and_region() -> None:
    wet = finding(sources=("iso_29621",), value=Interval(0.97, 0.98, 0.99))
    more = long_reply(scene(MIST, Verdict.FIX, wet), Jurisdiction.EU)
    for part in ("water (Aqua): 90 g, 90 %", "[fix it]", "ISO 29621", "the European Union"):
        assert part in more


def test_the_creators_words_are_marked_and_kept_within_the_limit() -> None:
    ruling = Ruling(case=1, verdict=Verdict.AVOID, words="never " * 200)
    text = short_reply(scene(MIST, Verdict.FIX, finding()), frozenset(), ruling)
    assert text.startswith("Leave this one, says the chemist. Never never")
    assert len(text) <= LIMIT


names = st.text(max_size=80)
lines = st.builds(
    lambda known, name, grams: line(known, grams, name or "x"),
    st.sampled_from([None, "water", "honey", "beeswax", "mica"]),
    names,
    st.none() | st.floats(min_value=0.001, max_value=1e9),
)
findings = st.builds(
    lambda severity, hazard, words, value: finding(
        severity, hazard, facts={"substance": words}, value=Interval.exact(value), reason="not_made_for_skin"
    ),
    st.sampled_from(Severity),
    st.sampled_from(Hazard),
    st.text(max_size=400),
    st.floats(min_value=0, max_value=1e12),
)
sites = st.lists(st.sampled_from(Site), max_size=2).map(tuple)


@settings(max_examples=150, deadline=None)
@given(
    st.lists(lines, min_size=1, max_size=30),
    st.lists(findings, max_size=6),
    sites,
    st.sampled_from(Verdict),
    st.frozensets(st.sampled_from(Note)),
)
def test_no_text_of_a_stranger_pings_links_or_breaks_the_limit(rows, found, places, verdict, notes) -> None:
    made = recipe(*rows, sites=places)
    shown = scene(made, verdict, *found)
    text = short_reply(shown, notes)
    assert text.startswith(HEADS[verdict])
    assert len(text) <= LIMIT
    for said in (text, long_reply(shown, Jurisdiction.US)):
        assert not PING.search(said.replace("https://", "", 0))


@given(st.lists(st.tuples(st.integers(0, 6), st.text(max_size=300)), max_size=9), st.integers(80, 500))
def test_fitting_never_passes_the_limit_and_keeps_the_order(raw: list[tuple[int, str]], limit: int) -> None:
    pieces = [Piece(0, "Verdict."), *(Piece(weight, f"{n}:{text}") for n, (weight, text) in enumerate(raw))]
    text = fit(pieces, limit)
    assert len(text) <= limit
    assert text.startswith("Verdict.")


class One(ScriptedReader):
    """Reads everything as one given reading."""

    def __init__(self, found: Reading) -> None:
        super().__init__()
        self.found = found

    def read(self, text: str) -> Reading:
        return self.found


@pytest.mark.parametrize(
    ("kind", "part"),
    [
        (Kind.FOOD, "something to eat"),
        (Kind.SPAM, "No recipe in there"),
        (Kind.LINK_ONLY, "I don't open links"),
        (Kind.CHATTER, "home-made beauty recipes"),
        (Kind.QUESTION, "I don't know"),
        (Kind.CORRECTION, "which line you mean"),
        (Kind.RECIPE, "home-made beauty recipes"),
    ],
)
def test_every_kind_of_message_gets_its_own_polite_answer(kind: Kind, part: str) -> None:
    found = triage("x", Context(), reader=One(reading("x", kind)), jurisdiction=Jurisdiction.US, judge=judge)
    assert part in found.reply
    assert found.items == ()
    assert message_row("1", found)["recipes"] == []


def test_an_empty_message_is_asked_for_text() -> None:
    found = triage("", Context(), reader=One(reading("  ", Kind.CHATTER)), jurisdiction=Jurisdiction.US)
    assert "I see no text" in found.reply


def test_a_question_is_answered_from_the_tables_with_its_source() -> None:
    found = triage("is mica ok", Context(), reader=ScriptedReader(), jurisdiction=Jurisdiction.US)
    # 21 CFR 73.2496: mica, for cosmetics generally, lips and eye area included
    assert "21 CFR 73.2496" in found.reply
    assert "Source:" in found.reply


def test_a_language_that_is_not_read_gets_no_verdict() -> None:
    found = triage("hola", Context(), reader=ScriptedReader(), jurisdiction=Jurisdiction.US, judge=judge)
    assert "English, Spanish, Portuguese and French" in found.reply
    assert found.interest.queued
    assert found.items == ()
