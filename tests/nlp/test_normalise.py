"""A reviewer must be able to point at the very characters that were read."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nlp.normalise import RUN, normalise


@pytest.mark.parametrize(
    ("written", "plain"),
    [
        ("½ cup", "1/2 cup"),
        ("2½ tsp", "2 1/2 tsp"),
        ("½cup", "1/2 cup"),
        ("3⁄4 cup", "3/4 cup"),
        ("crème brûlée", "creme brulee"),
        ("2 – 3 drops", "2 - 3 drops"),
        ("bees\u200bwax", "beeswax"),
        ("\u202eshea\u202c butter", "shea butter"),
        ("сосоnut oil", "coconut oil"),
        ("🍋 lemon", "• lemon"),
        ("tea-tree", "tea tree"),
        ("honey ...... 2 g", "honey - 2 g"),
        ("a\r\n\r\nb", "a\n\nb"),
        ("ｆｕｌｌ", "full"),
    ],
)
def test_what_people_paste_becomes_plain_text(written: str, plain: str) -> None:
    assert normalise(written).text.replace("  ", " ") == plain


@given(st.text(max_size=400))
def test_every_character_knows_its_place_in_the_original(text: str) -> None:
    plain = normalise(text)
    assert len(plain.starts) == len(plain.ends) == len(plain.text)
    assert all(0 <= a < b <= len(text) for a, b in zip(plain.starts, plain.ends, strict=True))
    assert list(plain.starts) == sorted(plain.starts)


@given(st.text(alphabet="ab.,-/12½", min_size=RUN * 3, max_size=RUN * 5))
def test_no_endless_word_reaches_the_tokenizer(text: str) -> None:
    assert max(map(len, normalise(text).text.split()), default=0) <= RUN + 1
