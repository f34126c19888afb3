"""First aid first: numbers by region, no verdict, nothing else."""

from __future__ import annotations

import itertools

import pytest

from bot.triage import Context, triage
from bot.words.phrases import load_phrases
from bot.words.reply import LIMIT
from bot.words.urgent import caution, urgent_reply
from nlp.reading import Emergency, Kind
from rules.assessment import Jurisdiction, Verdict
from tests.bot.made import ScriptedReader, reading

# US: poisonhelp.hrsa.gov; EU: ec.europa.eu, activities/112; UK: NHS advice on poisoning. Read 2026-11-25.
NUMBERS = {
    Jurisdiction.US: ("911", "1-800-222-1222"),
    Jurisdiction.EU: ("112", "your local poison centre"),
    Jurisdiction.UK: ("999", "NHS 111"),
}


@pytest.mark.parametrize(("emergency", "region"), list(itertools.product(Emergency, Jurisdiction)))
def test_every_emergency_names_the_number_to_call(emergency: Emergency, region: Jurisdiction) -> None:
    text = urgent_reply(load_phrases(), emergency, region, infant=False)
    number, poison = NUMBERS[region]
    assert number in text
    assert poison in text or emergency is Emergency.BREATHING
    assert len(text) <= LIMIT
    verdicts = [load_phrases().raw("verdict", verdict) for verdict in Verdict]
    assert not any(verdict in text for verdict in verdicts)


def test_an_eye_is_rinsed_for_at_least_15_to_20_minutes() -> None:
    # poison.org, "splashed something in your eye": 15 to 20 minutes, lenses out
    text = urgent_reply(load_phrases(), Emergency.EYE, Jurisdiction.US, infant=False)
    assert "at least 15 to 20 minutes" in text
    assert "Lenses out" in text


def test_nothing_swallowed_is_brought_up_again() -> None:
    # sja.org.uk, swallowed poisons; OHSU poison centre
    text = urgent_reply(load_phrases(), Emergency.SWALLOWED, Jurisdiction.US, infant=False)
    assert "Do not make them vomit" in text


def test_trouble_breathing_starts_with_the_emergency_number() -> None:
    text = urgent_reply(load_phrases(), Emergency.BREATHING, Jurisdiction.EU, infant=False)
    assert text.startswith("Call 112 now")


def test_a_burn_is_cooled_for_20_minutes_and_never_neutralised() -> None:
    # sja.org.uk, chemical burns
    text = urgent_reply(load_phrases(), Emergency.BURN, Jurisdiction.UK, infant=False)
    assert "at least 20 minutes" in text
    assert "Never try to neutralise" in text


def test_an_infant_is_called_for_at_once() -> None:
    class Urgent(ScriptedReader):
        def read(self, text: str):
            return reading(text, Kind.URGENT, emergency=Emergency.SWALLOWED).model_copy(update={"infant": True})

    found = triage("x", Context(), reader=Urgent(), jurisdiction=Jurisdiction.US)
    assert found.reply.startswith("A baby or small child: call now")
    assert found.items == ()
    assert not found.interest.queued


@pytest.mark.parametrize("region", Jurisdiction)
def test_the_long_form_always_ends_on_the_cautions(region: Jurisdiction) -> None:
    text = caution(load_phrases(), region)
    assert "Not medical advice" in text
    assert "licensed professional" in text
    assert "nothing about infection" in text
    assert NUMBERS[region][0] in text
