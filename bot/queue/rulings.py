"""The creator's own verdict and words, and how far they reach."""

from __future__ import annotations

from bot.queue.likeness import Sketch, amounts_agree
from rules.assessment import Verdict
from rules.recipe import Frozen

STRICTNESS = {Verdict.FINE: 0, Verdict.UNCLEAR: 1, Verdict.FIX: 2, Verdict.AVOID: 3}


class Ruling(Frozen):
    """What the creator decided on one case. `words` are hers, said as they are."""

    case: int
    verdict: Verdict
    words: str


def reaches(ruling: Ruling, ruled: Sketch, other: Sketch) -> bool:
    """Whether a ruling on `ruled` holds for the near-duplicate `other`.

    A ruling as strict as the machine's verdict or stricter holds for every near-duplicate. A milder one holds
    only for the same substances in like amounts on the same place: what she did not see she did not clear.
    """
    if STRICTNESS[ruling.verdict] >= STRICTNESS[other.verdict]:
        return True
    return (
        ruled.tokens == other.tokens
        and ruled.sites == other.sites
        and ruled.hazards == other.hazards
        and amounts_agree(ruled, other)
    )
