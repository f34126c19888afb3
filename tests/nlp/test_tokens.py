"""Names in the tables are cut into words just as messages are; else a name would never be found."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from nlp.normalise import normalise
from nlp.reader import default_reader
from nlp.tokens import NormalisingTokenizer, words_of
from rules.catalogue import load_catalogue

_WORDS = st.sampled_from(["tea", "tree", "B5", "80", "3%", "50 %", "C12", "oils", "s", "x"])
_TOKENIZER = default_reader().pipeline.tokenizer


def _by_spacy(phrase: str) -> list[str]:
    assert isinstance(_TOKENIZER, NormalisingTokenizer)
    return words_of(_TOKENIZER.inner(normalise(phrase).text)).norm


def _quickly(phrase: str) -> list[str]:
    assert isinstance(_TOKENIZER, NormalisingTokenizer)
    return _TOKENIZER.pieces(phrase)


def test_every_name_of_the_catalogue_is_cut_as_a_message_would_be() -> None:
    names = [name for substance in load_catalogue() for name in (substance.name, *substance.aliases) if name]
    assert [name for name in names if _quickly(name) != _by_spacy(name)] == []


@settings(max_examples=300, deadline=None)
@given(st.lists(_WORDS, min_size=1, max_size=5), st.sampled_from([" ", "-"]))
def test_any_phrase_is_cut_alike(words: list[str], sign: str) -> None:
    phrase = sign.join(words)
    assert _quickly(phrase) == _by_spacy(phrase)
