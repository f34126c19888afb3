"""JSON lines: order kept, nothing lost, every bad line named."""

from __future__ import annotations

import io
import json
import os
import threading
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.batch import LINE_BYTES, TOGETHER, parse, requests, run
from bot.contract import unit_word, written
from rules.assessment import Jurisdiction
from rules.interval import Interval
from rules.recipe import Amount, Unit
from tests.bot.made import ScriptedReader, judge

# ARCHITECTURE: the batch contract.
MESSAGE = {"id", "kind", "language", "reply", "queue", "recipes"}
RECIPE = {"product", "sites", "contact", "lines", "measures", "findings", "verdict"}
LINE = {
    "as_written",
    "span",
    "name",
    "substance",
    "inci",
    "amount",
    "amount_high",
    "unit",
    "optional",
    "alternative_of",
    "grams",
    "percent",
    "estimated",
}
MEASURES = {"water_percent", "water_activity", "ph", "ethanol_percent", "preservative_effective"}
FINDING = {"hazard", "severity", "substance", "value", "limit", "unit", "because", "instead", "sources"}
UNITS = {
    *("tsp", "tbsp", "cup", "floz", "oz", "lb", "g", "mg", "kg", "ml", "l"),
    *("drop", "pinch", "part", "percent", "piece"),
}


def play(data: bytes, reader: ScriptedReader | None = None) -> tuple[bool, list[dict[str, Any]], list[str]]:
    lines: list[str] = []
    errors: list[str] = []
    good = run(
        io.BytesIO(data),
        reader or ScriptedReader(),
        Jurisdiction.US,
        write=lines.append,
        complain=errors.append,
        judge=judge,
    )
    return good, [json.loads(row) for row in lines], errors


def message(number: int, text: str) -> bytes:
    return json.dumps({"id": str(number), "text": text}).encode() + b"\n"


def test_every_message_gets_its_line_in_order() -> None:
    data = b"".join(message(n, "mist" if n % 3 else "balm") for n in range(200))
    good, rows, errors = play(data)
    assert good
    assert errors == []
    assert [row["id"] for row in rows] == [str(n) for n in range(200)]


def test_a_line_has_the_fields_of_the_contract_and_no_others() -> None:
    _, (row,), _ = play(message(1, "mist"))
    (recipe,) = row["recipes"]
    assert set(row) == MESSAGE
    assert set(row["queue"]) == {"queued", "score", "why"}
    assert set(recipe) == RECIPE
    assert all(set(line) == LINE for line in recipe["lines"])
    assert set(recipe["measures"]) >= MEASURES
    assert all(set(finding) == FINDING for finding in recipe["findings"])
    assert recipe["verdict"] == "fix"
    assert recipe["lines"][0]["grams"] == 90


def test_bad_lines_are_answered_in_their_place_and_named() -> None:
    data = (
        message(1, "mist")
        + b"\xff\xfe broken\n"
        + b"[1, 2]\n"
        + b"{not json\n"
        + b'{"id": "5"}\n'
        + b'{"id": 6, "text": "mist"}\n'
        + b"\n"
        + message(8, "balm")
    )
    good, rows, errors = play(data)
    assert not good
    assert ["error" in row for row in rows] == [False, True, True, True, True, True, False]
    assert rows[4]["id"] == "5"
    assert [error.split(":")[0] for error in errors] == [f"line {n}" for n in (2, 3, 4, 5, 6)]
    assert "not UTF-8 at byte 0" in errors[0]
    assert "not an object" in errors[1]


def test_a_text_that_breaks_the_reader_takes_no_other_with_it() -> None:
    good, rows, errors = play(message(1, "mist") + message(2, "boom") + message(3, "balm"))
    assert not good
    assert [row.get("error") for row in rows] == [None, "could not be read", None]
    assert errors == ["line 2: could not be read"]


def test_a_recipe_that_breaks_the_rules_takes_no_other_with_it() -> None:
    def broken(made, region):
        if made.lines[0].substance == "water":
            raise ZeroDivisionError
        return judge(made, region)

    lines: list[str] = []
    data = io.BytesIO(message(1, "mist") + message(2, "balm"))
    ignored: list[str] = []
    run(data, ScriptedReader(), Jurisdiction.US, write=lines.append, complain=ignored.append, judge=broken)
    assert [json.loads(row).get("error") for row in lines] == [
        "could not be judged (ZeroDivisionError)",
        None,
    ]


def test_a_line_too_long_is_refused_and_the_next_one_read() -> None:
    data = b"x" * (LINE_BYTES + 10) + b"\n" + message(2, "mist")
    _, rows, errors = play(data)
    assert "longer than" in errors[0]
    assert rows[1]["id"] == "2"


def test_a_text_of_100_kilobytes_passes() -> None:
    good, rows, _ = play(message(1, "mist " * 20_000))
    assert good
    assert rows[0]["recipes"][0]["verdict"] == "fix"


def test_half_characters_come_out_as_valid_text() -> None:
    good, rows, _ = play(b'{"id": "\\ud800", "text": "mist \\udfff"}\n')
    assert good
    json.dumps(rows, ensure_ascii=False).encode("utf-8")


def test_what_has_arrived_is_answered_before_the_rest_comes() -> None:
    """A program that writes one line and waits for its answer must not wait for ever."""
    reading, writing = os.pipe()
    answered = threading.Event()
    lines: list[str] = []

    def write(line: str) -> None:
        lines.append(line)
        answered.set()

    def work() -> None:
        with os.fdopen(reading, "rb") as source:
            run(source, ScriptedReader(), Jurisdiction.US, write=write, complain=lines.append, judge=judge)

    thread = threading.Thread(target=work)
    thread.start()
    os.write(writing, message(1, "mist"))
    assert answered.wait(30)
    os.close(writing)
    thread.join(30)
    assert len(lines) == 1


def test_texts_are_read_together_in_small_groups() -> None:
    sizes: list[int] = []

    class Counting(ScriptedReader):
        def read_many(self, texts):
            texts = list(texts)
            sizes.append(len(texts))
            return super().read_many(texts)

    play(b"".join(message(n, "mist") for n in range(150)), Counting())
    assert sum(sizes) == 150
    assert max(sizes) <= TOGETHER


@given(st.lists(st.binary(max_size=60).filter(lambda b: b"\n" not in b), max_size=20))
def test_every_line_that_is_not_blank_is_numbered_once(lines: list[bytes]) -> None:
    data = b"\n".join(lines)
    numbers = [request.number for group in requests(io.BytesIO(data)) for request in group]
    assert numbers == [n for n, line in enumerate(lines, start=1) if line.strip()]


@settings(max_examples=300)
@given(st.one_of(st.binary(max_size=200), st.recursive(st.none() | st.text() | st.integers(), st.lists).map(repr)))
def test_no_line_breaks_the_parser(line: bytes | str) -> None:
    raw = line if isinstance(line, bytes) else line.encode("utf-8", "replace")
    request = parse(1, raw)
    assert request.error is not None or isinstance(request.text, str)


def test_deep_nesting_is_refused_in_a_sentence() -> None:
    assert parse(1, b"[" * 100_000).error is not None


def amount(unit: Unit | None, figures: tuple[float, float] | None) -> Amount:
    return Amount(quantity=Interval.exact(1), unit=unit, written=figures)


@pytest.mark.parametrize("unit", Unit)
def test_only_units_of_the_contract_come_out(unit: Unit) -> None:
    assert unit_word(amount(unit, (1, 1))) in UNITS


def test_a_few_has_no_figure_and_a_range_has_two() -> None:
    assert written(amount(Unit.DROP, None)) == (None, None)
    assert written(amount(Unit.DROP, (2, 2))) == (2, None)
    assert written(amount(Unit.DROP, (2, 3))) == (2, 3)
    assert written(None) == (None, None)
