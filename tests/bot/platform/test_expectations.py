"""What people expect of a good bot, for any message at all; `expectations.toml` says where each of them is held."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import tomli
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bot.platform.answers import PIECE, PIECES
from bot.platform.cards import card_text, pages
from bot.platform.intake import spoken
from bot.platform.translation import load_command_names
from bot.triage import Context, Triage, triage
from bot.words.finding import Scene
from bot.words.more import long_reply, source_names
from bot.words.phrases import load_phrases
from nlp.reader import default_reader
from rules.assess import assess
from rules.assessment import Jurisdiction, Verdict
from tests.bot.brief.plans import case
from tests.scenario import recipe_of, rows

HERE = Path(__file__).parent
EXPECTATIONS = tomli.loads((HERE / "expectations.toml").read_text("utf-8"))["expectation"]
WORDS = load_phrases()
# What the platform makes of a message: pings, channels, links with a text of their own, hidden and quoted parts.
ALIVE = re.compile(r"@(everyone|here)|<(@|#|a?:|t:|/|id:)|\]\(|\|\||`|\*\*|__|~~|https?://lantern")
PIECES_OF_TALK = (
    "Lip balm:", "Face mist to keep:", "for my hair", "is this ok?", "2 tbsp coconut oil,", "1 tbsp beeswax,",
    "1 crayon,",
    "1 cup water,", "½ tsp honey,", "5 drops lavender essential oil,", "1/0 cup salt,", "10 % citric acid,",
    "or", "I meant",
    "@everyone", "@here", "<@123456789012345678>", "<@&123456789012345678>", "<#123456789012345678>", "</check:1>",
    "[free oil](https://lantern-quay.example)", "**wax**", "||hidden||", "```", "~~no~~", "__yes__", "\u202e", "\u200b",
    "https://lantern-quay.example/x", "1 tbsp moonpetal,", "\n", "- ", "🙂", "Bálsamo: 1 cucharada de cera,",
)  # fmt: skip
TALK = st.lists(st.sampled_from(PIECES_OF_TALK) | st.text(max_size=10), min_size=1, max_size=40).map(" ".join)
FEW = settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def answered(text: str) -> Triage:
    return triage(spoken(text), Context(), reader=default_reader(), jurisdiction=Jurisdiction.US)


def said(found: Triage) -> list[str]:
    """Everything that anybody would read: the reply, the numbers, the card."""
    texts = [found.reply, found.more]
    for number, item in enumerate(found.items, start=1):
        card = card_text(WORDS, case(number, item.recipe, item.assessment), None, Jurisdiction.US)
        texts += [card.head.replace("**", ""), card.body, card.rest]
    return texts


def test_every_expectation_is_held_by_code_and_tests_that_are_there() -> None:
    assert len(EXPECTATIONS) == 25
    root = HERE.parents[2]
    for row in EXPECTATIONS:
        assert [path for path in row["stands"] if not (root / path).is_file()] == [], row["says"]
        for name in row["tests"]:
            file, _, test = name.partition("::")
            assert f"def {test}(" in (HERE / file).read_text("utf-8"), name


@FEW
@given(TALK)
def test_nothing_that_anybody_writes_comes_back_as_a_ping_a_link_or_markup(text: str) -> None:
    for shown in said(answered(text)):
        assert not ALIVE.search(shown)


@FEW
@given(TALK)
def test_the_verdict_comes_first_in_one_short_line_of_plain_words(text: str) -> None:
    found = answered(text)
    words = load_phrases(found.reading.language)
    for item in found.items:
        head = words.raw("verdict", item.assessment.verdict)
        assert item.reply.startswith(head)
        assert len(head) <= 150
    if len(found.items) == 1 and not found.amended:
        assert found.reply.startswith(found.items[0].reply[:20])
        assert "\n" not in found.reply


@FEW
@given(TALK, st.integers(1, 40))
def test_everything_said_about_any_message_fits_the_platform(text: str, times: int) -> None:
    """2,000 characters of content, 4,096 of a description, 6,000 of all embeds, by the platform's documentation."""
    found = answered(" ".join([text] * times)[:6000])
    assert len(found.reply) <= 2000
    assert all(len(piece) <= 2000 for piece in pages(found.more, PIECE)[:PIECES])
    for number, item in enumerate(found.items, start=1):
        card = card_text(WORDS, case(number, item.recipe, item.assessment), None, Jurisdiction.US)
        assert len(card.head) <= 2000
        assert len(card.body) <= 4096


@settings(max_examples=25, deadline=None)
@given(st.text("bcdfghjklmnpqrstvwxyz", min_size=5, max_size=9))
def test_what_is_not_known_is_named_and_never_called_fine(letters: str) -> None:
    name = f"zq{letters}"
    (item,) = answered(f"Lip balm: 2 tbsp coconut oil, 1 tbsp {name}").items
    assert item.assessment.verdict is not Verdict.FINE
    assert name in item.reply


def test_every_finding_names_its_sources_or_that_it_has_none() -> None:
    for row in rows()[::4]:
        made = recipe_of(row)
        scene = Scene.of(made, assess(made, jurisdiction=Jurisdiction.EU), WORDS)
        text = long_reply(scene, Jurisdiction.EU)
        for finding in scene.assessment.findings:
            names = source_names(scene, finding) or [WORDS.raw("more", "no_source")]
            assert all(name in text for name in names), (row["id"], finding.hazard)


@pytest.mark.parametrize("language", load_command_names())
def test_command_names_are_whole_in_every_language_and_as_the_platform_takes_them(language: str) -> None:
    names = load_command_names()[language]
    fans = {"check", "check_recipe", "help", "my_data", "forget_me", "quiet"}
    assert names.keys() == fans
    for key, name in names.items():
        assert 1 <= len(name) <= 32
        assert key == "check_recipe" or re.fullmatch(r"[-_'\w]+", name)
        assert key == "check_recipe" or name == name.lower()
