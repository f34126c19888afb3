"""The trained parts that ship reproduce the scores in nlp/model/MODEL.md.

No model was taught the test split; some of its older messages were read while words were added to the tables.
"""

from __future__ import annotations

import pytest

from nlp.alarm import Message, load_alarm
from nlp.likely import load_likely
from nlp.reader import build_pipeline
from nlp.reading import Emergency, Kind
from nlp.training.annotated import Split, load_corpus
from nlp.training.examples import annotated, clues_in, score
from rules.catalogue import load_catalogue
from rules.products import load_products
from tests.nlp.readers import read

TEST = [message for message in load_corpus(Split.TEST) if message.language == "en"]


def test_emergencies_are_caught_as_recorded() -> None:
    hurt = [message for message in TEST if message.kind is Kind.URGENT]
    caught = [read(message.text).kind is Kind.URGENT for message in hurt]
    assert sum(caught) / len(hurt) >= 0.94


def test_calm_messages_are_taken_for_emergencies_no_oftener_than_recorded() -> None:
    calm = [message for message in TEST if message.kind is not Kind.URGENT]
    false = [read(message.text).kind is Kind.URGENT for message in calm]
    assert sum(false) / len(calm) <= 0.085


def test_the_first_aid_is_for_what_has_happened_as_often_as_recorded() -> None:
    hurt = [message for message in TEST if message.kind is Kind.URGENT]
    right = [read(message.text).emergency == message.emergency for message in hurt]
    assert sum(right) / len(hurt) >= 0.75


def test_the_kind_of_message_is_told_as_often_as_recorded() -> None:
    right = [read(message.text).kind is message.kind for message in TEST]
    assert sum(right) / len(TEST) >= 0.88


def test_place_and_contact_of_unnamed_recipes_are_told_as_recorded() -> None:
    products = load_products()
    dev = list(annotated(Split.DEV, products))
    pipeline = build_pipeline(load_catalogue(), products)
    place, contact = score(load_likely(), clues_in(pipeline, dev), dev, products) / len(dev)
    assert place >= 0.79
    assert contact >= 0.91


def test_the_model_knows_every_emergency() -> None:
    assert set(load_alarm().how.labels) == set(Emergency)


@pytest.mark.parametrize("text", ["", "🔥🔥", "1 2 3", "x" * 50_000])
def test_chances_stay_chances_whatever_is_written(text: str) -> None:
    message = Message(text.split(), ())
    assert sum(load_alarm().emergencies(message).values()) == pytest.approx(1, abs=1e-5)
    assert 0 <= load_alarm().hurts(message) <= 1


@pytest.mark.parametrize(
    ("text", "infant"),
    [
        ("my newborn swallowed some of the bath oil", True),
        ("our toddler drank the toner", True),
        ("my 2 year old drank the toner", True),
        ("my 74 year old gran drank the toner", False),
        ("i got baby shampoo in my eye and it burns", False),
        ("i swallowed some of the bath oil", False),
    ],
)
def test_a_baby_in_the_message_is_told(text: str, infant: bool) -> None:
    assert read(text).infant is infant
