"""When two recipes are the same to the creator: by substances and shares, whatever the names, order or scale.

Jaccard likeness over sets of substances, found exactly by an inverted index: at least 0.6 of all
substances shared.
Exact beats approximate hashing here in recall and memory (own measurement on 100,000 recipes).
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections import Counter, defaultdict

from rules.assessment import Assessment, Severity, Verdict
from rules.recipe import Frozen, Recipe, Site

LIKE = 0.6
APART = 0.3  # half the sum of the differences of all shares, 0 = alike, 1 = nothing shared
ROUNDING = 1e-9
EMPTY: frozenset[int] = frozenset()
NOT_WORD = re.compile(r"[^\w]+")


class Sketch(Frozen):
    """What counts in a comparison. `shares` are w/w parts of one by token, None where the recipe gave no
    amounts.

    A token is a substance id, or "?" and the normalised name where the tables do not know it. `hazards` are
    those that must at least be fixed.
    """

    shares: dict[str, float | None]
    sites: tuple[Site, ...]
    verdict: Verdict
    hazards: tuple[str, ...]

    @property
    def tokens(self) -> frozenset[str]:
        return frozenset(self.shares)

    @property
    def fingerprint(self) -> str:
        """Equal for equal recipes: tokens with shares on a scale of halvings, sites, verdict, hazards."""
        parts = (f"{token}~{_step(share)}" for token, share in sorted(self.shares.items()))
        return "|".join((self.verdict, "+".join(self.sites), "+".join(self.hazards), *parts))


def sketch(recipe: Recipe, assessment: Assessment) -> Sketch:
    """Reduces a judged recipe to what a comparison needs. Alternatives do not count; optional lines do."""
    shares: dict[str, float | None] = {}
    estimated = 0
    for index, line in enumerate(recipe.lines):
        if line.alternative_of is not None:
            continue
        token = line.substance or "?" + normalised(line.name)
        share = assessment.shares[index].percent if index < len(assessment.shares) else None
        estimated += line.amount is None
        shares[token] = (shares.get(token) or 0.0) + (share.best / 100 if share is not None else 0.0)
    if estimated * 2 > len(recipe.lines):
        # Most amounts are guesses: the guesses must not keep two copies apart.
        shares = dict.fromkeys(shares)
    hazards = {f.hazard.value for f in assessment.findings if f.severity is not Severity.NOTE}
    return Sketch(
        shares=shares,
        sites=tuple(sorted(assessment.sites or recipe.sites)),
        verdict=assessment.verdict,
        hazards=tuple(sorted(hazards)),
    )


def normalised(name: str) -> str:
    """An unknown name without case, accents, marks, order of words or a plural s."""
    plain = unicodedata.normalize("NFKD", name.casefold())
    words = NOT_WORD.sub(" ", "".join(c for c in plain if not unicodedata.combining(c))).split()
    return "_".join(sorted(word.rstrip("s") or word for word in words[:8]))


def likeness(one: Sketch, other: Sketch) -> float:
    """Jaccard likeness of the sets of substances, 0..1."""
    union = len(one.tokens | other.tokens)
    return len(one.tokens & other.tokens) / union if union else 0.0


def amounts_agree(one: Sketch, other: Sketch) -> bool:
    """Whether the shares could be the same recipe; unknown shares agree with all."""
    apart = 0.0
    for token in one.tokens | other.tokens:
        mine, theirs = one.shares.get(token, 0.0), other.shares.get(token, 0.0)
        if mine is None or theirs is None:
            return True
        apart += abs(mine - theirs)
    return apart / 2 <= APART


def same(one: Sketch, other: Sketch) -> bool:
    """Near-duplicates: like substances in like amounts, the same verdict for the same hazards, no other
    place."""
    places_agree = not one.sites or not other.sites or bool(set(one.sites) & set(other.sites))
    judged_alike = one.verdict is other.verdict and one.hazards == other.hazards
    return places_agree and judged_alike and likeness(one, other) >= LIKE and amounts_agree(one, other)


class LikenessIndex:
    """All known cases by substance and number of substances. Exact: whatever is like enough is found."""

    def __init__(self) -> None:
        self._sketches: dict[int, Sketch] = {}
        self._tokens: dict[int, frozenset[str]] = {}
        self._common: Counter[str] = Counter()
        self._postings: dict[tuple[str, int], set[int]] = defaultdict(set)

    def __len__(self) -> int:
        return len(self._sketches)

    def __getitem__(self, case: int) -> Sketch:
        return self._sketches[case]

    def add(self, case: int, known: Sketch) -> None:
        tokens = known.tokens
        self._sketches[case] = known
        self._tokens[case] = tokens
        self._common.update(tokens)
        for token in tokens:
            self._postings[token, len(tokens)].add(case)

    def like(self, wanted: Sketch) -> list[tuple[float, int]]:
        """Likeness and number of every case with enough substances shared, the likest and oldest first."""
        tokens = wanted.tokens
        scored = []
        for case in self._candidates(tokens):
            known = self._tokens[case]
            shared = len(tokens & known)
            score = shared / (len(tokens) + len(known) - shared)
            if score >= LIKE:
                scored.append((score, case))
        return sorted(scored, key=lambda pair: (-pair[0], pair[1]))

    def same(self, wanted: Sketch, like: list[tuple[float, int]]) -> int | None:
        """The case among the like ones that this is a copy of."""
        return next((case for _, case in like if same(wanted, self._sketches[case])), None)

    def variant(self, wanted: Sketch, like: list[tuple[float, int]]) -> int | None:
        """The likest case with another verdict: "the same, but ..."."""
        verdict = wanted.verdict
        return next((case for _, case in like if self._sketches[case].verdict is not verdict), None)

    def _candidates(self, tokens: frozenset[str]) -> set[int]:
        """Cases that may be like enough. Whatever shares `needed` tokens has one of the rarest; only those
        are looked up, by the number of tokens that a like case may have."""
        rarest_first = sorted(tokens, key=lambda token: (self._common[token], token))
        own = len(tokens)
        found: set[int] = set()
        for size in range(math.ceil(LIKE * own - ROUNDING), math.floor(own / LIKE + ROUNDING) + 1):
            needed = math.ceil(LIKE / (1 + LIKE) * (own + size) - ROUNDING)
            for token in rarest_first[: own - needed + 1]:
                found |= self._postings.get((token, size), EMPTY)
        return found


def _step(share: float | None) -> str:
    """The share on a scale of halvings, so that a coarse measure of the same recipe gives the same step."""
    if share is None:
        return "?"
    return "0" if share <= 0 else str(round(math.log2(share)))
