"""The corpus's notation: what is written by hand comes out as text with exact spans, or is refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nlp.training.annotated import (
    CorpusError,
    Split,
    escape,
    parse_amount,
    parse_file,
    split_of,
    strip_markup,
)
from rules.recipe import Unit

_PROSE = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
_NAME = _PROSE.filter(lambda name: bool(name) and name == name.strip())


@given(st.lists(st.tuples(_PROSE, _NAME)), _PROSE)
def test_spans_of_any_text_point_at_the_names_that_were_marked(pieces, tail):
    marked = "".join(f"{escape(prose, False)}[{escape(name, True)}|2 tbsp]" for prose, name in pieces)
    text, golds = strip_markup(marked + escape(tail, False))
    assert text == "".join(prose + name for prose, name in pieces) + tail
    assert [text[slice(*gold.span)] for gold in golds] == [name for _, name in pieces] == [g.name for g in golds]


@given(st.text(alphabet="[]|\\a 1=-", max_size=30))
def test_any_mark_up_is_read_or_refused_and_nothing_else(marked):
    try:
        text, golds = strip_markup(marked)
    except CorpusError:
        return
    assert all(text[slice(*gold.span)] == gold.name for gold in golds)


@pytest.mark.parametrize(
    ("written", "figures", "unit"),
    [
        ("2 tbsp", (2, 2), Unit.TBSP),
        ("1 1/2 cup", (1.5, 1.5), Unit.CUP),
        ("1/2-3/4 cup", (0.5, 0.75), Unit.CUP),
        ("10-15 drop", (10, 15), Unit.DROP),
        ("- drop", None, Unit.DROP),
        ("2", (2, 2), None),
        ("-", None, None),
        ("", None, None),
    ],
)
def test_an_amount_is_what_the_notation_says(written, figures, unit):
    assert parse_amount(written) == (figures, unit)


@pytest.mark.parametrize("written", ["2 tbs", "two cup", "--3 g", "-2 g", "1/2/3 cup", "2tbsp", "- - drop"])
def test_a_slip_in_an_amount_is_refused_rather_than_guessed(written):
    with pytest.raises(CorpusError):
        parse_amount(written)


@pytest.mark.parametrize(
    "marked", ["[", "a [b", "[]", "[ wax]", "[wax|1 g|maybe]", "[a[b]]", "[wax|1 g|alt=]", "end\\"]
)
def test_broken_mark_up_is_refused(marked):
    with pytest.raises(CorpusError):
        strip_markup(marked)


def test_flags_reach_the_ingredient():
    _, (one, two, three) = strip_markup("[wax|1 oz|alt=A] or [rice wax|1 oz|alt=A|opt] then [mica||r2]")
    assert (one.group, two.group, two.optional, three.recipe) == ("A", "A", True, 2)
    assert not one.optional
    assert three.figures is None


def test_a_fault_in_a_file_names_the_line_of_its_block():
    source = "=== a chatter\nhello\n\n=== b recipe lip_balm lips leave_on\n[wax|1 blob]\n"
    with pytest.raises(CorpusError, match="line 4"):
        list(parse_file(source, "x"))


def test_a_header_that_says_too_little_is_refused():
    for head in ("=== a recipe lips leave_on", "=== a urgent", "=== a chatter lips", "=== a sermon"):
        with pytest.raises(CorpusError):
            list(parse_file(f"{head}\nhello\n", "x"))


def test_escapes_and_language_of_a_block():
    (message,) = parse_file("=== a recipe - - - es\n\\[nota] 5 ml de [aceite \\| agua|5 ml]\n\n", "x")
    assert (message.text, message.language) == ("[nota] 5 ml de aceite | agua", "es")
    assert (message.product, message.sites, message.contact) == (None, (), None)


def test_a_family_never_moves_to_another_part():
    assert [split_of(f) for f in ("quay-beeswax-balm", "harbour-mist", "kelp-mask")] == [
        Split.TRAIN, Split.TRAIN, Split.TRAIN,
    ]  # fmt: skip
