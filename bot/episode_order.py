"""A running order to begin with: a strong opening, one thread, variety, and something sound at the end."""

from __future__ import annotations

from collections.abc import Sequence

from bot.store.cases import Case
from rules.assessment import Verdict

# Our own taste, no source. A step is better the more these sum to.
THREAD, OTHER_VERDICT, OTHER_PRODUCT, OTHER_SITE = 2.0, 1.0, 1.0, 0.5


def suggested(cases: Sequence[Case | None]) -> list[int]:
    """Indexes in the order suggested; a case that is gone goes to the end."""
    there = [(index, case) for index, case in enumerate(cases) if case is not None]
    gone = [index for index, case in enumerate(cases) if case is None]
    there.sort(key=lambda pair: (-pair[1].score, pair[0]))
    closing = next((pair for pair in there if pair[1].verdict is Verdict.FINE), None)
    if closing is not None:
        there.remove(closing)
    order: list[tuple[int, Case]] = []
    while there:
        last = order[-1][1] if order else None
        best = max(there, key=lambda pair: (_fit(last, pair[1]), pair[1].score, -pair[0]))
        there.remove(best)
        order.append(best)
    if closing is not None:
        order.append(closing)
    return [index for index, _ in order] + gone


def _fit(last: Case | None, case: Case) -> float:
    """How well a case follows another: a hazard in common is the thread, all else should differ."""
    if last is None or last.sketch is None or case.sketch is None:
        return 0.0
    thread = not set(last.sketch.hazards).isdisjoint(case.sketch.hazards)
    product = _product(last) != _product(case)
    site = set(last.sketch.sites).isdisjoint(case.sketch.sites)
    return (
        THREAD * thread
        + OTHER_VERDICT * (last.verdict is not case.verdict)
        + OTHER_PRODUCT * product
        + OTHER_SITE * site
    )


def _product(case: Case) -> str | None:
    return case.recipe.product if case.recipe is not None else None
