"""The four words, and what may never change them."""

from __future__ import annotations

import itertools

import pytest

from rules.assessment import Basis, Condition, Finding, Hazard, Severity, Verdict
from rules.hazards.evidence import finding, step_down, step_up
from rules.verdict import conditional, decide, weakest


def found(severity: Severity) -> Finding:
    return Finding(
        hazard=Hazard.REACTIVE,
        severity=severity,
        reason="over_limit",
        instead="use_less",
        basis=Basis.COMPUTED,
        sources=("computed",),
    )


NOTE, FIX, AVOID = (found(severity) for severity in Severity)


@pytest.mark.parametrize(
    ("findings", "doubt", "verdict"),
    [
        ([], None, Verdict.FINE),
        ([NOTE, NOTE], None, Verdict.FINE),
        ([], "what_is_the_unknown", Verdict.UNCLEAR),
        ([NOTE], "where_does_it_go", Verdict.UNCLEAR),
        ([FIX], None, Verdict.FIX),
        ([FIX], "what_is_the_unknown", Verdict.FIX),
        ([AVOID], "what_is_the_unknown", Verdict.AVOID),
        ([NOTE, FIX, AVOID], None, Verdict.AVOID),
    ],
)
def test_the_gravest_finding_decides_and_a_doubt_never_makes_it_milder(
    findings: list[Finding], doubt: str | None, verdict: Verdict
) -> None:
    assert decide(findings, doubt) is verdict


@pytest.mark.parametrize("order", list(itertools.permutations([NOTE, FIX, AVOID])))
def test_the_order_of_findings_does_not_matter(order: tuple[Finding, ...]) -> None:
    assert decide(order, None) is Verdict.AVOID


def test_what_can_be_left_out_weighs_one_step_less_and_says_so() -> None:
    optional = conditional(AVOID, Condition.IF_ADDED)
    assert optional.severity is Severity.FIX
    assert optional.condition is Condition.IF_ADDED
    assert conditional(FIX, Condition.IF_CHOSEN).severity is Severity.NOTE


def test_steps_stop_at_both_ends() -> None:
    assert step_up(Severity.AVOID) is Severity.AVOID
    assert step_down(Severity.NOTE) is Severity.NOTE


@pytest.mark.parametrize(
    ("basis", "source", "severity"),
    [
        (Basis.COMMON_PRACTICE, "common_practice", Severity.FIX),
        (Basis.LAW, "us_drug_recall", Severity.FIX),  # remembered, not read
        (Basis.DRAFT, "fda_lead_guidance", Severity.FIX),
        (Basis.LAW, "cfr_70_5", Severity.AVOID),
        (Basis.OPINION, "lemon_burns", Severity.AVOID),
        (Basis.COMPUTED, "computed", Severity.AVOID),
    ],
)
def test_the_strongest_word_needs_a_source_that_was_read_or_a_number(
    basis: Basis, source: str, severity: Severity
) -> None:
    made = finding(Hazard.PROHIBITED, Severity.AVOID, "prohibited_here", "leave_it_out", basis, source)
    assert made.severity is severity


def test_over_several_places_the_mildest_verdict_is_what_holds_everywhere() -> None:
    assert weakest([Verdict.AVOID, Verdict.FIX]) is Verdict.FIX
    assert weakest([Verdict.FINE, Verdict.AVOID]) is Verdict.FINE
