"""Strangers' words never come back as a ping, a link or markup."""

from __future__ import annotations

import re
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.words.clean import LENGTH, clean_name, clean_phrase, clean_words, cut, whole_characters

HOSTILE = st.text(
    alphabet=st.one_of(
        st.sampled_from("@#<>*_~`|[]()\\/:.!&" + "\u200b\u202e\u2066\u00ad\ufeff\ud800＠＃．／"),
        st.sampled_from("abcehmnoprtw019 "),
        st.characters(),
    ),
    max_size=200,
)
FORBIDDEN = re.compile(r"[@#<>*_~`|\[\]()\\:/\n]|https?:|www\.|\w\.[a-z]", re.IGNORECASE)


@given(HOSTILE)
def test_a_name_carries_no_mention_markup_or_link(raw: str) -> None:
    name = clean_name(raw)
    assert len(name) <= LENGTH
    assert not FORBIDDEN.search(name)
    assert not any(unicodedata.category(character) in ("Cc", "Cf", "Cs", "Co") for character in name)


@given(HOSTILE)
def test_cleaning_twice_changes_nothing(raw: str) -> None:
    name = clean_name(raw)
    assert "…" in name or clean_name(name) == name


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        ("coconut oil", "coconut oil"),
        ("@everyone", "everyone"),
        ("<@&123> oil", "123 oil"),
        ("[free](http://e.invalid)", "free http e invalid"),
        ("h\u200bo\u202eney", "honey"),
        ("hydrogen peroxide 3%", "hydrogen peroxide 3%"),
        ("vitamin B-12 & e, 1.5", "vitamin B-12 & e, 1.5"),
        ("crème brûlée", "crème brûlée"),
        ("z\u0317\u0318\u0319algo", "z\u0317algo"),
        ("www.e.invalid/x", "www e invalid x"),
        ("💄💄", ""),
        ("a" * 60, "a" * 39 + "…"),
    ],
)
def test_names_as_they_are_said(raw: str, said: str) -> None:
    assert clean_name(raw) == said


def test_our_own_phrases_keep_their_brackets_but_no_links() -> None:
    assert clean_phrase("21 CFR 73.2725 (eye/lips)") == "21 CFR 73.2725 (eye/lips)"
    assert "//" not in clean_phrase("see http://e.invalid/x")


@given(st.text(max_size=300), st.integers(min_value=2, max_value=300))
def test_cutting_never_passes_the_limit_and_keeps_short_texts(text: str, limit: int) -> None:
    assert len(cut(text, limit)) <= limit
    if len(text) <= limit:
        assert cut(text, limit) == text


def test_cutting_happens_at_a_word() -> None:
    assert cut("two spoons of honey", 14) == "two spoons of…"


def test_the_creators_words_cannot_ping_by_accident() -> None:
    assert clean_words("hi @everyone\u202e <@5>,\nsee page 3") == "hi @ everyone ‹@ 5›, see page 3"


@given(st.text(alphabet=st.characters(), max_size=50))
def test_half_characters_never_stop_the_output(text: str) -> None:
    whole = whole_characters(text)
    whole.encode("utf-8")
    assert len(whole) == len(text)
