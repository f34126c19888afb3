"""What parts again, and when that matters."""

from __future__ import annotations

import pytest

from rules.assess import assess
from rules.assessment import Hazard, Severity
from tests.scenario import recipe_of

# 2 drops of about 0.03 g in 100 g are below 0.2 %; a drop's weight is common practice, no source.
KEPT_MIST = ("100 ml water", "1 ml phenoxyethanol")


@pytest.mark.parametrize(
    ("oil", "reason", "severity"),
    [
        ("2 drop tocopherol", "oil_drops_float", Severity.NOTE),
        ("1 tbsp tocopherol", "oil_and_water_part", Severity.FIX),
        ("1 tbsp olive_oil", "oil_and_water_part", Severity.FIX),
        ("2 drop tea_tree_essential_oil", "scent_floats", Severity.FIX),
    ],
)
def test_drops_of_a_vitamin_are_no_reason_to_mend_a_mist_and_neat_scent_oil_is(
    oil: str, reason: str, severity: Severity
) -> None:
    result = assess(recipe_of({"of": "face_mist", "lines": [*KEPT_MIST, oil]}))
    found = [(f.reason, f.severity) for f in result.findings if f.hazard is Hazard.SEPARATES]
    assert found == [(reason, severity)]
