"""The platform's pure parts: who may ask how often, what was written, how long texts are cut."""

from __future__ import annotations

import io
import json
import logging

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.platform.buttons import ID, asks_for_place, custom_id
from bot.platform.cards import pages, split
from bot.platform.cooldown import CoolDown, Turn
from bot.platform.forms import verdict_of
from bot.platform.intake import points_elsewhere, spoken
from bot.platform.logs import start_logs
from bot.platform.review import case_number
from bot.urgency import looks_urgent
from bot.words.phrases import load_phrases
from rules.assessment import Verdict


@given(st.lists(st.floats(min_value=0, max_value=30), max_size=60), st.integers(1, 5))
def test_nobody_gets_more_turns_than_allowed_and_is_told_once_a_wait(pauses: list[float], tags: int) -> None:
    cooldown, now, granted = CoolDown(tags, 60.0), 0.0, []
    told = False
    for pause in pauses:
        now += pause
        turn = cooldown.ask("someone", now)
        if turn is Turn.GO:
            granted.append(now)
            told = False
        else:
            assert cooldown.wait("someone", now) > 0
            assert (turn is Turn.TOLD) is not told
            told = True
        assert sum(at > now - 60.0 for at in granted) <= tags
    cooldown.sweep(now + 61.0)
    assert cooldown.ask("someone", now + 61.0) is Turn.GO


def test_another_person_is_not_held_up_by_a_quick_one() -> None:
    cooldown = CoolDown(1, 60.0)
    assert [cooldown.ask("one", 0.0), cooldown.ask("one", 1.0), cooldown.ask("two", 1.0)] == [
        Turn.GO,
        Turn.TOLD,
        Turn.GO,
    ]


@pytest.mark.parametrize(
    ("said", "verdict"),
    [
        ("avoid", Verdict.AVOID),
        ("Leave it", Verdict.AVOID),
        ("Fix it first.", Verdict.FIX),
        ("FINE", Verdict.FINE),
        ("can’t tell", Verdict.UNCLEAR),
        ("not fine", None),
        ("purple", None),
        ("", None),
    ],
)
def test_a_verdict_is_taken_as_people_write_it_and_never_guessed(said: str, verdict: Verdict | None) -> None:
    assert verdict_of(said) is verdict


@given(st.text(max_size=3000), st.integers(20, 500))
def test_a_text_in_pieces_loses_no_word_and_no_piece_is_too_long(text: str, limit: int) -> None:
    found = pages(text, limit)
    assert all(len(piece) <= limit for piece in found)
    assert "".join("".join(found).split()) == "".join(text.split())


@given(st.text(max_size=400), st.integers(20, 100))
def test_a_cut_moves_forward(text: str, limit: int) -> None:
    head, rest = split(text, limit)
    assert len(head) <= limit
    assert len(rest) < len(text) or not text or len(text) <= limit


@given(st.text(max_size=300))
def test_what_is_read_holds_no_mention(text: str) -> None:
    read = spoken(f"<@123456789> {text} <@&5> <#77>")
    assert "<@123456789>" not in read
    assert read == read.strip()


@pytest.mark.parametrize(
    ("text", "points"),
    [
        ("is this ok?", True),
        ("", True),
        ("what about this one, friends", True),
        ("2 tbsp oil", False),
        ("½ cup oats", False),
        ("you mix coconut oil and beeswax and then pour it into a small tin to cool", False),
    ],
)
def test_words_that_only_point_at_another_post_are_told_from_a_recipe(text: str, points: bool) -> None:
    assert points_elsewhere(text) is points


def test_the_place_is_asked_for_exactly_where_the_reply_asks() -> None:
    phrases = load_phrases()
    assert asks_for_place("Can't tell yet. " + phrases.raw("question", "where_does_it_go"))
    assert asks_for_place(phrases.say("kind", "question_no_site", substance="Mica"))
    assert not asks_for_place(phrases.raw("kind", "chatter"))


@given(st.text(max_size=80))
def test_ids_from_outside_never_break_the_desk(argument: str) -> None:
    assert case_number(argument) >= 0
    match = ID.fullmatch(custom_id("more", argument))
    assert match is None or match["argument"] == argument


@pytest.mark.parametrize("text", ["my son swallowed it", "HELP it burns, what do I do", "she can't breathe"])
def test_somebody_hurt_goes_first(text: str) -> None:
    assert looks_urgent(text)


@pytest.mark.parametrize("text", ["", "Lip balm: 1 tbsp beeswax", "burnt sugar scrub", "x" * 100_000])
def test_a_recipe_waits_its_turn(text: str) -> None:
    assert not looks_urgent(text)


def test_logs_hold_neither_the_token_nor_what_an_error_quotes() -> None:
    stream = io.StringIO()
    root = logging.getLogger()
    before, level = root.handlers[:], root.level
    try:
        start_logs("very-secret", stream)
        try:
            raise ValueError("2 tbsp of a fan's own words")
        except ValueError as error:
            logging.getLogger("bot").error("failed with very-secret", exc_info=error)
    finally:
        root.handlers[:] = before
        root.setLevel(level)
    row = json.loads(stream.getvalue())
    assert row["says"] == "failed with [token]"
    assert row["trace"].endswith("; ValueError")
    assert "own words" not in stream.getvalue()
