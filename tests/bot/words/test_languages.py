"""Every language answers as fully as English: the same phrases, the same gaps, the same limit."""

from __future__ import annotations

import re

import pytest

from bot.triage import Context, triage
from bot.words.finding import Scene
from bot.words.more import long_reply
from bot.words.names import product_name, said, substance_name
from bot.words.phrases import HOME, gaps, languages, load_phrases
from bot.words.reply import LIMIT, short_reply
from bot.words.urgent import urgent_reply
from nlp.reading import Emergency, Kind, Reading
from rules.assess import assess
from rules.assessment import Jurisdiction, Verdict
from rules.catalogue import load_catalogue
from rules.products import load_products
from tests.bot.made import MIST, ScriptedReader, assessment, finding, judge, reading
from tests.scenario import recipe_of, rows

OTHERS = [language for language in languages() if language != HOME]
# What a fan reads. All other tables speak to the creator or the operator, who read English.
TABLES = (
    "verdict", "ruled", "frame", "kind", "site", "unit", "hazard", "figure",
    "reason", "instead", "virtue", "question", "answer", "urgent", "poison",
    "more", "severity", "region", "measure", "measure_unit", "written_unit", "written_units",
    "platform", "platform_help", "platform_data", "platform_note", "command_says",
)  # fmt: skip
# Small words that no sentence of the other three languages holds.
ENGLISH = re.compile(r"\b(the|and|of|with|is|it|to|not|for|you|your|from|this|that|keep|water|leave)\b", re.I)
PLATFORM = ("platform", "platform_help", "platform_data", "platform_note", "command_says")
NAMES = re.compile(r"/[a-z-]+( off)?|\{\w+\}")  # commands and gaps
NUMBERS = {Jurisdiction.US: "911", Jurisdiction.EU: "112", Jurisdiction.UK: "999"}


def judged() -> list[tuple[str, Scene, Jurisdiction]]:
    regions = list(Jurisdiction)
    found = []
    for index, row in enumerate(rows()):
        recipe, region = recipe_of(row), regions[index % len(regions)]
        result = assess(recipe, jurisdiction=region)
        found += [(row["id"], Scene.of(recipe, result, load_phrases(tongue)), region) for tongue in OTHERS]
    return found


JUDGED = judged()


def test_we_answer_in_the_languages_that_we_read() -> None:
    assert languages() == ("en", "es", "fr", "pt")


def test_no_phrase_falls_back_to_english_or_loses_a_fact() -> None:
    faults = []
    for language in OTHERS:
        own = load_phrases(language).tables
        for table in TABLES:
            home = load_phrases().tables[table]
            faults += [f"{language}: {table}.{key} is missing" for key in home.keys() - own.get(table, {}).keys()]
            faults += [
                f"{language}: {table}.{key} differs in {sorted(gaps(phrase) ^ gaps(home[key]))}"
                for key, phrase in own.get(table, {}).items()
                if gaps(phrase) != gaps(home.get(key, ""))
            ]
    assert faults == []


def test_what_the_platform_shows_is_in_one_language_and_within_its_limits() -> None:
    """Labels of 38, descriptions of 100, titles of 45 characters (the platform's documentation); help is 600."""
    for language in languages():
        tables = load_phrases(language).tables
        for key, phrase in tables["platform"].items():
            assert not key.endswith("_button") or len(phrase) <= 38, (language, key)
            assert not key.endswith(("_title", "_credit")) or len(phrase) <= 45, (
                language,
                key,
            )
        for key, phrase in tables["command_says"].items():
            assert len(phrase) <= (45 if key.startswith("form_") and key != "form_hint" else 100), (language, key)
        assert len(tables["platform_help"]["text"]) <= 600 - len("<@1234567890123456789>")
        if language != HOME:
            said = " ".join(" ".join(tables[table].values()) for table in PLATFORM)
            assert not ENGLISH.search(NAMES.sub("", said)), (language, ENGLISH.search(NAMES.sub("", said)))


def test_names_stand_for_substances_and_products_that_exist() -> None:
    for language in OTHERS:
        own = load_phrases(language).tables
        assert [key for key in own["substance"] if key not in load_catalogue()] == []
        assert own["product"].keys() == load_products().keys()


def test_every_reply_of_the_scenario_keeps_its_verdict_and_the_limit_in_every_language() -> None:
    faults = []
    for row, scene, _ in JUDGED:
        text = short_reply(scene, frozenset())
        if len(text) > LIMIT or not text.startswith(scene.phrases.raw("verdict", scene.assessment.verdict)):
            faults.append((scene.phrases.language, row, len(text)))
    assert faults == []


def test_no_english_is_left_in_a_reply_of_another_language() -> None:
    """Names without a translation are said in English on purpose, so they are taken out first."""
    faults = []
    for row, scene, _ in JUDGED:
        text = short_reply(scene, frozenset())
        for substance in load_catalogue():
            text = re.sub(re.escape(substance.name), "", text, flags=re.I) if substance.name in text.lower() else text
        if left := ENGLISH.search(text):
            faults.append((scene.phrases.language, row, left[0], text))
    assert faults == []


def test_numbers_are_written_with_the_decimal_mark_of_the_language() -> None:
    point = re.compile(r"\d\.\d+ (%|g)")
    for row, scene, region in JUDGED:
        # Titles of sources are quoted as they are.
        own = re.sub(r"(Fuente|Fonte|Source).*", "", long_reply(scene, region))
        assert not point.search(own), (scene.phrases.language, row)
    made = assessment(MIST, Verdict.FIX, finding(reason="water_unpreserved", facts={"water": 90.5}))
    text = short_reply(Scene.of(MIST, made, load_phrases("es")), frozenset())
    assert "90,5 %" in text
    assert "0,98" in text


@pytest.mark.parametrize("language", OTHERS)
def test_first_aid_is_whole_in_every_language(language: str) -> None:
    """The same minutes as in English (poison.org for eyes, sja.org.uk for burns), the same numbers to call."""
    phrases = load_phrases(language)
    for region, number in NUMBERS.items():
        for emergency in Emergency:
            text = urgent_reply(phrases, emergency, region, infant=False)
            assert number in text
            assert len(urgent_reply(phrases, emergency, region, infant=True)) <= LIMIT, emergency
            assert not ENGLISH.search(text)
        assert re.search(r"15 (a|à) 20 min", urgent_reply(phrases, Emergency.EYE, region, infant=False))
        assert "20 min" in urgent_reply(phrases, Emergency.BURN, region, infant=False)
    assert phrases.raw("urgent", "breathing").find("{emergency}") < 25


@pytest.mark.parametrize(
    ("language", "part"),
    [("es", "Pega aquí el texto"), ("pt", "Cole aqui o texto"), ("fr", "Collez ici le texte")],
)
def test_the_language_of_the_message_is_the_language_of_the_answer(language: str, part: str) -> None:
    class Read(ScriptedReader):
        def read(self, text: str) -> Reading:
            return reading(text, Kind.LINK_ONLY).model_copy(update={"language": language})

    found = triage("x", Context(), reader=Read(), jurisdiction=Jurisdiction.EU, judge=judge)
    assert part in found.reply


def test_the_creator_reads_why_a_recipe_is_queued_in_her_own_language() -> None:
    class Spanish(ScriptedReader):
        def read(self, text: str) -> Reading:
            return reading(text, Kind.RECIPE, MIST).model_copy(update={"language": "es"})

    found = triage("x", Context(), reader=Spanish(), jurisdiction=Jurisdiction.EU, judge=judge)
    assert "needs fixing" in " ".join(found.interest.why)
    assert found.reply.startswith("Corrígela primero.")


def test_a_substance_without_a_name_in_the_language_is_named_with_its_inci() -> None:
    phrases, catalogue = load_phrases("fr"), load_catalogue()
    assert substance_name(catalogue["honey"], phrases) == "miel"
    named = next(
        row
        for row in catalogue
        if not phrases.has("substance", row.id)
        and row.inci
        and len(row.inci) < 40
        and row.inci.lower() != row.name.lower()
    )
    assert substance_name(named, phrases) == f"{named.name} ({named.inci})"
    assert substance_name(named, load_phrases()) == named.name
    assert product_name(load_products()["lip_balm"], phrases) == "baume à lèvres"
    assert said("red iron oxide, mica", phrases) == "oxyde de fer rouge, mica"
