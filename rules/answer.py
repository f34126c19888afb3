"""What a short answer is, and the one prelude of every question: which substance is it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from pydantic import Field

from rules.assessment import Basis, Jurisdiction
from rules.catalogue import Catalogue, Substance, load_catalogue
from rules.recipe import Contact, Frozen, Site
from rules.sources import load_sources


class Answer(Frozen):
    """`reason` is a key of the phrase table [answer]. `yes` is None where it depends."""

    reason: str
    yes: bool | None
    facts: dict[str, str | float] = Field(default_factory=dict)
    sources: tuple[str, ...] = ()
    basis: Basis | None = None

    @property
    def known(self) -> bool:
        return self.reason != "not_known"


UNKNOWN = Answer(reason="not_known", yes=None)


@dataclass(frozen=True, slots=True)
class Asked:
    """One substance at one place (None: none was named) under one law."""

    substance: Substance
    site: Site | None
    region: Jurisdiction
    contact: Contact | None
    product: str | None = None

    @property
    def sites(self) -> tuple[Site, ...]:
        return () if self.site is None else (self.site,)

    @property
    def facts(self) -> dict[str, str | float]:
        """What every phrase may name."""
        named: dict[str, str | float] = {"substance": self.substance.id, "where": self.region.value.upper()}
        return named if self.site is None else named | {"site": self.site.value}

    def answer(self, reason: str, yes: bool | None, *sources: str, **facts: str | float) -> Answer:
        basis = load_sources()[sources[0]].basis if sources else None
        return Answer(reason=reason, yes=yes, facts=self.facts | facts, sources=sources, basis=basis)


def first(asked: Asked, rules: Iterable[Callable[[Asked], Answer | None]]) -> Answer:
    """The first rule that speaks answers; else nothing is known."""
    return next((found for rule in rules if (found := rule(asked)) is not None), UNKNOWN)


def about(
    substance_id: str,
    site: Site | None,
    region: Jurisdiction,
    contact: Contact | None,
    catalogue: Catalogue | None = None,
    product: str | None = None,
) -> Asked | None:
    """None where the catalogue has no such substance."""
    substance = (catalogue or load_catalogue()).get(substance_id)
    return None if substance is None else Asked(substance, site, region, contact, product)
