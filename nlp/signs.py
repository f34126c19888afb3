"""Guesses the kind of product of a recipe that does not name it, by the table of signs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files

import tomli

from nlp.tokens import fold
from rules.catalogue import Phase, Substance


@dataclass(frozen=True, slots=True)
class Sign:
    """Every item of `all`, one of `any`, one of `also` (another ingredient than the one of `any`), one of `words`;
    none of `none` and `without`. An empty list asks for nothing."""

    product: str
    all: tuple[frozenset[str], ...]
    any: frozenset[str]
    also: frozenset[str]
    none: frozenset[str]
    words: frozenset[str]
    without: frozenset[str]


@lru_cache(maxsize=1)
def load_signs() -> tuple[Sign, ...]:
    table = tomli.loads(files("nlp").joinpath("data", "signs.toml").read_text("utf-8"))
    groups = table["groups"]
    return tuple(_sign(row, groups) for row in table["sign"])


def _sign(row: Mapping[str, object], groups: Mapping[str, list[str]]) -> Sign:
    def items(name: str) -> list[str]:
        value = row.get(name, [])
        return [str(item) for item in value] if isinstance(value, list) else []

    def spread(names: Iterable[str]) -> frozenset[str]:
        return frozenset(part for name in names for part in (groups.get(name[1:], []) if name[0] == "@" else [name]))

    def phrases(name: str) -> frozenset[str]:
        return frozenset(" ".join(fold(word) for word in phrase.split()) for phrase in items(name))

    return Sign(
        product=str(row["product"]),
        all=tuple(spread([item]) for item in items("all")),
        any=spread(items("any")),
        also=spread(items("also")),
        none=spread(items("none")),
        words=phrases("words"),
        without=phrases("without"),
    )


def guess_product(ingredients: Iterable[tuple[Substance, bool]], norm: Iterable[str]) -> str | None:
    """Id of the product of the first sign that holds. Each ingredient says whether there is much of it."""
    facts = [_facts(substance, much) for substance, much in ingredients]
    if not facts:
        return None
    everything = frozenset().union(*facts)
    text = f" {' '.join(norm)} "
    for sign in load_signs():
        if _holds(sign, facts, everything, text):
            return sign.product
    return None


def _facts(substance: Substance, much: bool) -> frozenset[str]:
    facts = {substance.id, f"phase:{substance.phase}", *(f"role:{role}" for role in substance.roles)}
    if much and substance.phase is Phase.OIL:
        facts.add("phase:oil_large")
    return frozenset(facts)


def _holds(sign: Sign, facts: list[frozenset[str]], everything: frozenset[str], text: str) -> bool:
    if sign.none & everything or (sign.any and not sign.any & everything):
        return False
    if not all(group & everything for group in sign.all):
        return False
    if sign.also and not any(_beside(fact, sign, facts) for fact in facts):
        return False
    if sign.words and not any(f" {word} " in text for word in sign.words):
        return False
    return not any(f" {word} " in text for word in sign.without)


def _beside(fact: frozenset[str], sign: Sign, facts: list[frozenset[str]]) -> bool:
    """An ingredient of `also`, with another one of `any` where the sign names any."""
    if not fact & sign.also:
        return False
    return not sign.any or any(other & sign.any for other in facts if other is not fact)
