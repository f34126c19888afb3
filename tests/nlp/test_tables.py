"""The word tables must hold together, so that adding a language or a phrase cannot break another."""

import pytest

from nlp.components.urgent import RULES
from nlp.hurt import load_hurt
from nlp.lexicon import LANGUAGES, load_lexicon
from nlp.signs import load_signs
from rules.catalogue import load_catalogue
from rules.products import load_products
from rules.recipe import Circumstance, Claim, Contact, Keeping, Quality, Site

_VALUES = {
    "site": Site, "contact": Contact, "keeping": Keeping, "claim": Claim, "circumstance": Circumstance,
    "quality": Quality,
}  # fmt: skip


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_label_of_a_phrase_means_something(language: str) -> None:
    for label in load_lexicon(language).cues:
        group, _, value = label.partition(".")
        if group in _VALUES:
            assert value in {str(member) for member in _VALUES[group]}, label


@pytest.mark.parametrize("language", LANGUAGES)
def test_names_of_another_language_lead_to_rows_that_exist(language: str) -> None:
    lexicon, catalogue, products = load_lexicon(language), load_catalogue(), load_products()
    assert [name for name in lexicon.names if name not in catalogue] == []
    assert [name for name in lexicon.products if name not in products] == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_language_knows_the_phrases_that_emergencies_need(language: str) -> None:
    table = load_hurt(language)
    tables = (table.lean, table.full)
    known = {hit for phrases in tables for key in list(phrases.keys()) for hit in phrases.get(key.split())}
    assert {label for needs in RULES for labels in needs for label in labels} - known <= {"event.mistake"}
    assert {"calm.suppose", "calm.past", "calm.deny", "calm.purpose", "calm.advice", "who.infant"} <= known
    assert {"line.negation", "line.optional"} <= set(load_lexicon(language).cues)


def test_signs_lead_to_products_that_exist() -> None:
    assert [sign.product for sign in load_signs() if sign.product not in load_products()] == []
