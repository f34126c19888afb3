"""The evaluation command as a developer runs it."""

import json
from itertools import pairwise

from typer.testing import CliRunner

from nlp.training.evaluate import app


def test_the_test_part_is_never_scored_without_a_warning():
    result = CliRunner().invoke(app, ["--split", "test", "--json"])
    assert result.exit_code == 0
    assert "tune nothing" in result.stderr
    assert "tune nothing" not in result.stdout


def test_a_machine_can_read_the_figures_and_they_are_shares():
    result = CliRunner().invoke(app, ["--json"])
    found = json.loads(result.stdout)
    assert found["messages"] > 100
    shares = [value for name, value in found.items() if name not in ("messages", "ingredients")]
    assert all(value is None or 0 <= value <= 1 for value in shares)


def test_errors_are_shown_by_class_and_no_more_than_asked_for():
    lines = CliRunner().invoke(app, ["--errors", "2"]).stdout.splitlines()
    heads = [i for i, line in enumerate(lines) if line.startswith("-- ")]
    assert all(after - before <= 3 for before, after in pairwise(heads))


def test_one_language_can_be_scored_alone():
    whole = json.loads(CliRunner().invoke(app, ["--json"]).stdout)
    french = json.loads(CliRunner().invoke(app, ["--json", "--language", "fr"]).stdout)
    assert 0 < french["messages"] < whole["messages"]
