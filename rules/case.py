"""What a hazard looks at: the recipe, its chemistry and the law that applies."""

from __future__ import annotations

from dataclasses import dataclass

from rules.assessment import Jurisdiction
from rules.catalogue import Catalogue
from rules.chemistry.chemistry import Chemistry
from rules.chemistry.composition import Composition
from rules.products import Product
from rules.recipe import Contact, Keeping, Recipe, Site


@dataclass(frozen=True, slots=True)
class Case:
    """One recipe under one law. `sites`, `contact` and `keeping` are settled: as written, else by the product."""

    recipe: Recipe
    product: Product | None
    sites: tuple[Site, ...]
    contact: Contact | None
    keeping: Keeping | None
    composition: Composition
    chemistry: Chemistry
    catalogue: Catalogue
    jurisdiction: Jurisdiction
