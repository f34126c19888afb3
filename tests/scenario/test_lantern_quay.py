"""The verdict on each recipe of our scenario, and that it is given for the right reason."""

from __future__ import annotations

from typing import Any

import pytest

from rules.assess import assess
from rules.assessment import Assessment, Severity, Verdict
from tests.scenario import recipe_of, rows

ROWS = rows()
GRAVEST = {Verdict.AVOID: Severity.AVOID, Verdict.FIX: Severity.FIX}


def reasons(result: Assessment) -> set[str | None]:
    """The phrase keys that carry the verdict."""
    if result.verdict is Verdict.UNCLEAR:
        return {result.question}
    if result.verdict is Verdict.FINE:
        return {v.reason for v in result.virtues} | {f.reason for f in result.findings}
    return {f.reason for f in result.findings if f.severity is GRAVEST[result.verdict]}


@pytest.mark.parametrize("row", ROWS, ids=[row["id"] for row in ROWS])
def test_a_fan_gets_the_verdict_a_chemist_would_sign_for_that_reason(row: dict[str, Any]) -> None:
    result = assess(recipe_of(row))
    found = [(f.severity.value, f.reason, f.substance) for f in result.findings]
    assert result.verdict.value == row["verdict"], found
    if row.get("virtue", True):
        assert row["reason"] in reasons(result), (found, [v.reason for v in result.virtues], result.question)


def test_the_scenario_is_large_and_a_third_of_it_sound() -> None:
    assert len(ROWS) >= 150
    assert sum(row["verdict"] == "fine" for row in ROWS) >= len(ROWS) / 3
    assert len({row["id"] for row in ROWS}) == len(ROWS)
