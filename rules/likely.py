"""What a recipe most likely is, by what goes in, when the message does not say. Table beside this file."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import lru_cache
from importlib.resources import files

from pydantic import Field

from rules.catalogue import Phase, Role, Substance
from rules.catalogue.substance import Id
from rules.chemistry.composition import Composition
from rules.recipe import Frozen


class Group(Frozen):
    """Substances by id, by role or by phase."""

    ids: frozenset[Id] = frozenset()
    roles: frozenset[Role] = frozenset()
    phases: frozenset[Phase] = frozenset()

    def holds(self, substance: Substance) -> bool:
        return (
            substance.id in self.ids
            or not self.roles.isdisjoint(substance.roles)
            or substance.phase in self.phases
        )


class Likeness(Frozen):
    """One kind of product: percent of each group of the whole that it has at least, and stays below."""

    product: Id
    above: dict[str, float]
    below: dict[str, float] = Field(default_factory=dict)

    def fits(self, shares: Mapping[str, float]) -> bool:
        enough = all(shares[group] >= percent for group, percent in self.above.items())
        return enough and all(shares[group] < percent for group, percent in self.below.items())


@lru_cache(maxsize=1)
def load_likenesses() -> tuple[dict[str, Group], tuple[Likeness, ...]]:
    """Groups and kinds in table order. Raises ValidationError, ValueError for an undefined group."""
    table = tomllib.loads(files("rules").joinpath("likely.toml").read_text("utf-8"))
    groups = {name: Group.model_validate(row) for name, row in table["group"].items()}
    kinds = tuple(Likeness.model_validate(row) for row in table["likely"])
    lost = {group for kind in kinds for group in (*kind.above, *kind.below)} - set(groups)
    if lost:
        raise ValueError(f"likely.toml: no such group: {', '.join(sorted(lost))}")
    return groups, kinds


def likely_product(composition: Composition) -> str | None:
    """Id of the kind of product that the composition fits, or None. Unknown lines count in no group."""
    groups, kinds = load_likenesses()
    shares = dict.fromkeys(groups, 0.0)
    for portion in composition.portions:
        if portion.substance is None:
            continue
        for name, group in groups.items():
            if group.holds(portion.substance):
                shares[name] += portion.percent.best
    for kind in kinds:
        if kind.fits(shares):
            return kind.product
    return None
