"""The phrase tables hold together, in every language."""

from __future__ import annotations

import pytest

from bot.check import check_tables
from bot.words.phrases import HOME, MissingPhraseError, Phrases, gaps, languages, load_phrases


def test_no_table_of_the_program_has_a_fault() -> None:
    assert check_tables().faults == []


def test_english_stands_first() -> None:
    assert languages()[0] == HOME


def test_an_unknown_language_is_answered_in_english() -> None:
    assert load_phrases("xx").language == HOME


def test_a_language_borrows_what_it_lacks_from_english() -> None:
    own = Phrases("es", {"verdict": {"fine": "Está bien."}}, load_phrases(HOME))
    assert own.raw("verdict", "fine") == "Está bien."
    assert own.raw("verdict", "avoid") == "Leave this one."


def test_a_missing_phrase_is_named() -> None:
    with pytest.raises(MissingPhraseError, match=r"no phrase verdict\.superb"):
        load_phrases().raw("verdict", "superb")


def test_a_phrase_without_its_fact_gives_way_to_a_plainer_one() -> None:
    phrases = Phrases("en", {"t": {"k": "at {value}"}}, None)
    assert phrases.try_say("t", "k", {}) is None
    assert phrases.try_say("t", "other", {}) is None
    assert phrases.try_say("t", "k", {"value": 3}) == "at 3"


def test_gaps_are_named_without_their_formats() -> None:
    assert gaps("{value:.1f} of {limit} {{not}} {name[0]}") == {"value", "limit", "name"}
    with pytest.raises(ValueError):
        gaps("{open")


def test_no_phrase_is_a_scare_or_a_score() -> None:
    """VOICE: no scare words, no scores, letters or traffic lights."""
    tables = (
        "verdict",
        "ruled",
        "frame",
        "kind",
        "urgent",
        "more",
        "reason",
        "instead",
        "virtue",
        "question",
    )
    said = " ".join(p.lower() for table in tables for p in load_phrases().tables[table].values())
    for word in ("toxic", "dangerous chemical", "chemical-free", "grade a", "/10", "🟢", "🔴", "score"):
        assert word not in said
