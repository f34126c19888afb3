"""Every hazard earns its place: without it, something that a user relies on is lost."""

from __future__ import annotations

import importlib
import pkgutil

import pytest

from rules import hazards
from rules.assess import ANYWHERE
from rules.assessment import Basis, Finding, Jurisdiction, Severity
from rules.case import Case
from rules.hazards.evidence import carries_avoid
from rules.settle import settle, sites_of
from rules.sources import load_sources
from tests.scenario import recipe_of, rows

HELPERS = {"evidence"}
CHECKS = {check.__module__.rsplit(".", 1)[-1]: check for check in hazards.HAZARDS}


def cases() -> list[Case]:
    found = []
    for row in rows():
        recipe = recipe_of(row)
        sites = sites_of(recipe) or ANYWHERE[:1]
        found.append(settle(recipe, Jurisdiction.US, sites))
    return found


CASES = cases()


def findings_of(name: str) -> list[Finding]:
    return [finding for case in CASES for finding in CHECKS[name](case)]


def test_every_hazard_file_is_on_the_list_and_in_it_once() -> None:
    files = {module.name for module in pkgutil.iter_modules(hazards.__path__)} - HELPERS
    assert set(CHECKS) == files
    assert len(hazards.HAZARDS) == len(files)


@pytest.mark.parametrize("name", sorted(CHECKS))
def test_taking_a_hazard_out_would_silence_something_in_the_scenario(name: str) -> None:
    assert findings_of(name)


@pytest.mark.parametrize("name", sorted(CHECKS))
def test_a_hazard_says_nothing_of_a_plain_oil(name: str) -> None:
    plain = recipe_of({"of": "body_oil", "lines": ["100 ml sunflower_oil"]})
    case = settle(plain, Jurisdiction.US, sites_of(plain))
    assert list(CHECKS[name](case)) == []


@pytest.mark.parametrize("name", sorted(CHECKS))
def test_every_finding_names_known_sources_and_the_gravest_stands_on_one_that_was_read(name: str) -> None:
    known = load_sources()
    for finding in findings_of(name):
        assert finding.sources
        assert set(finding.sources) <= set(known), finding.reason
        if finding.severity is Severity.AVOID:
            assert carries_avoid(finding.basis, finding.sources), finding.reason
            assert finding.basis is not Basis.COMMON_PRACTICE


def test_the_modules_can_be_loaded_alone() -> None:
    for name in CHECKS:
        assert importlib.import_module(f"rules.hazards.{name}").check is CHECKS[name]
