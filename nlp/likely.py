"""What a recipe that names no product most likely is: a linear model over what goes in and what is said.

The model that ships is nlp/model/likely.npz; `python -m nlp.training.learn_likely` makes it. A use told in this way
is marked as guessed, said in the answer, and may be wrong: MODEL.md has its scores.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import as_file, files
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from nlp.linear import chances_of
from rules.products import Product
from rules.recipe import Contact, Site

_STATED = 4.0  # weight of a place that the words name
_TOLD = 3.0  # weight of a contact that the words tell
_SECOND_SITE = 0.2  # a place this likely is judged too


@dataclass(frozen=True, slots=True)
class Use:
    """The likeliest kind of product at the likeliest place, and how sure: a share of 1 for the first place."""

    product: str
    sites: tuple[Site, ...]
    contact: Contact
    sure: float


@dataclass(frozen=True)
class Likely:
    """weights: clues x products; bias: products; both in logits."""

    clues: Mapping[str, int]
    products: tuple[str, ...]
    weights: NDArray[np.float32]
    bias: NDArray[np.float32]

    @classmethod
    def load(cls, path: Path) -> Likely:
        with np.load(path) as stored:
            clues = {str(clue): row for row, clue in enumerate(stored["clues"])}
            products = tuple(str(product) for product in stored["products"])
            return cls(clues, products, stored["weights"].astype(np.float32), stored["bias"].astype(np.float32))

    def chances(self, clues: Iterable[str]) -> NDArray[np.float32]:
        """Chance of each product, in the order of `products`; they sum to 1."""
        rows = [self.clues[clue] for clue in clues if clue in self.clues]
        logits = self.bias + self.weights[rows].sum(axis=0)
        return chances_of(logits)

    def use(
        self,
        clues: Iterable[str],
        table: Mapping[str, Product],
        said: Site | None = None,
        washing: Contact | None = None,
    ) -> Use:
        """Adds the chances up by place and by contact, and takes the product that is likeliest there.

        said: the place that the words name; it counts for more than any ingredient.
        washing: the contact that the words tell; it holds, and leads to products of that contact.
        """
        chances = self.chances(clues).tolist()
        at_site: dict[Site, float] = {}
        by_contact: dict[Contact, float] = {}
        best_at: dict[tuple[Site, Contact], tuple[float, str]] = {}
        for product, chance in zip(self.products, chances, strict=True):
            kind = table[product]
            site = kind.sites[0]
            chance *= _STATED if site is said else _STATED**0.5 if said in kind.sites else 1.0
            chance *= _TOLD if kind.contact is washing else 1.0
            at_site[site] = at_site.get(site, 0.0) + chance
            by_contact[kind.contact] = by_contact.get(kind.contact, 0.0) + chance
            key = (site, kind.contact)
            best_at[key] = max(best_at.get(key, (0.0, product)), (chance, product))
        whole = sum(at_site.values())
        at_site = {site: chance / whole for site, chance in at_site.items()}
        ranked = sorted(at_site, key=lambda site: -at_site[site])
        contact = washing or max(by_contact, key=lambda c: by_contact[c])
        here = {key[1]: best for key, best in best_at.items() if key[0] is ranked[0]}
        # What the words tell holds beside any kind; where the model told the contact, the kind must agree with it.
        best = here[contact] if washing is None and contact in here else max(here.values())
        sites = ranked[:1] + [site for site in ranked[1:] if at_site[site] >= _SECOND_SITE]
        return Use(best[1], tuple(sites), contact, at_site[ranked[0]])


@lru_cache(maxsize=1)
def load_likely() -> Likely:
    """The model that ships."""
    with as_file(files("nlp").joinpath("model", "likely.npz")) as path:
        return Likely.load(path)
