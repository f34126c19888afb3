"""From findings and doubts to one of four words.

1. *avoid*: a finding says avoid; it stands on a source that was read or on a number (hazards.evidence).
2. *fix*: a finding says fix. What is wrong stays wrong whatever else was not understood.
3. *unclear*: nothing wrong was found, but something is open that could change that.
4. *fine*: neither. Notes never change the verdict.

A finding that holds only if an optional line is added or an alternative chosen weighs one step less, for the
reader can leave it out: avoid becomes fix, fix becomes a note.
"""

from __future__ import annotations

from collections.abc import Iterable

from rules.assessment import Condition, Finding, Severity, Verdict
from rules.hazards.evidence import step_down

ORDER = (Verdict.FINE, Verdict.UNCLEAR, Verdict.FIX, Verdict.AVOID)


def decide(findings: Iterable[Finding], doubt: str | None) -> Verdict:
    """The verdict over findings as they stand; `doubt` is the key of what is open, None where nothing is."""
    severities = {finding.severity for finding in findings}
    if Severity.AVOID in severities:
        return Verdict.AVOID
    if Severity.FIX in severities:
        return Verdict.FIX
    return Verdict.UNCLEAR if doubt else Verdict.FINE


def conditional(finding: Finding, condition: Condition) -> Finding:
    """The finding as it weighs where it depends on an option."""
    return finding.model_copy(update={"severity": step_down(finding.severity), "condition": condition})


def weakest(verdicts: Iterable[Verdict]) -> Verdict:
    return min(verdicts, key=ORDER.index)
