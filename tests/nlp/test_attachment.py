"""Attached recipes: plain text is read whole, everything else is refused with its reason, nothing is guessed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nlp.attachment import LARGEST, Refusal, refused_unopened, text_of
from nlp.reader import read

RECIPE = "Harbour salve\n- 20 g beeswax\n- 80 g jojoba oil\n"


@pytest.mark.parametrize("name", ["salve.txt", "SALVE.TXT", "notes on salve.md"])
def test_a_recipe_in_a_text_file_is_read_like_a_message(name: str) -> None:
    text = text_of(name, RECIPE.encode())
    assert text == RECIPE
    assert [line.substance for line in read(text).recipes[0].lines] == ["beeswax", "jojoba_oil"]


def test_an_editor_that_marks_its_utf8_does_not_cost_the_first_word() -> None:
    assert text_of("salve.txt", b"\xef\xbb\xbf" + RECIPE.encode()) == RECIPE


@pytest.mark.parametrize(
    ("name", "content", "refusal"),
    [
        ("salve.png", b"\x89PNG", Refusal.OTHER_KIND),
        ("salve.txt.exe", b"20 g beeswax", Refusal.OTHER_KIND),
        ("txt", b"20 g beeswax", Refusal.OTHER_KIND),
        ("salve.txt", b"a" * (LARGEST + 1), Refusal.TOO_LARGE),
        ("salve.txt", "crème 2 g".encode("latin-1"), Refusal.NOT_UTF8),
        ("salve.txt", RECIPE.encode("utf-16"), Refusal.NOT_UTF8),
        ("salve.txt", b"20 g\0 beeswax", Refusal.NOT_UTF8),
        ("salve.txt", b"\xed\xa0\x80 20 g", Refusal.NOT_UTF8),  # half a surrogate pair, never valid (RFC 3629)
        ("salve.txt", b"", Refusal.EMPTY),
        ("salve.md", b"\xef\xbb\xbf \n\n", Refusal.EMPTY),
    ],
)
def test_what_is_no_plain_text_is_refused_with_its_reason(name: str, content: bytes, refusal: Refusal) -> None:
    assert text_of(name, content) is refusal


def test_a_file_of_just_the_largest_size_is_still_read() -> None:
    content = b"a" * LARGEST
    assert refused_unopened("salve.txt", LARGEST) is None
    assert text_of("salve.txt", content) == content.decode()


@given(st.binary(max_size=400))
def test_any_bytes_end_as_text_or_as_a_refusal(content: bytes) -> None:
    found = text_of("any.txt", content)
    assert isinstance(found, Refusal) or found.encode() == content.removeprefix(b"\xef\xbb\xbf")
