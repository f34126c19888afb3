"""What a hazard looks at: the recipe, its chemistry and the law that applies."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

from rules.assessment import Jurisdiction
from rules.catalogue import Catalogue, Phase, Role, Shelf, Substance
from rules.chemistry.chemistry import Chemistry
from rules.chemistry.composition import Composition
from rules.chemistry.saponification import WET_FOR_LYE, lye_in, makes_soap
from rules.interval import Interval
from rules.law import Law, load_law
from rules.products import Product
from rules.recipe import Circumstance, Contact, Keeping, Line, Quality, Recipe, Site

LOOSE_SHELVES = frozenset({Shelf.CRAFT, Shelf.HOUSEHOLD, Shelf.GARDEN})
SKIN = frozenset({Site.LIPS, Site.EYE_AREA, Site.FACE, Site.BODY, Site.HANDS, Site.FEET})
MUCOSA = frozenset({Site.LIPS, Site.EYE_AREA, Site.MOUTH})
FRAGILE = frozenset({Circumstance.INFANT, Circumstance.PREGNANCY, Circumstance.BROKEN_SKIN, Circumstance.INTIMATE})
VOUCHED = frozenset({Quality.COSMETIC_GRADE, Quality.EYE_SAFE, Quality.LIP_SAFE, Quality.BIODEGRADABLE})


# Bars and jars: where such a message speaks of spraying, it means the alcohol on the mould or the tap.
NEVER_SPRAYED = frozenset(
    {
        "soap", "shampoo_bar", "bath_bomb", "bath_salts", "bath_melt", "shower_steamer", "lotion_bar", "lip_balm",
        "lipstick", "salve", "body_butter", "sugar_scrub", "scrub", "solid_perfume", "clay_mask", "sugaring",
    }
)  # fmt: skip
# Put on with the lye in it, whatever fat stands beside.
NEVER_SOAP = frozenset({"hair_straightener", "peel", "mole_remover"})
# Set or dried before use although the product is no powder.
# Sugar paste for hair removal is boiled to a candy that is pulled off again.
DRIES = frozenset({"bath_bomb", "bath_salts", "shower_steamer", "sugaring"})


def _grain(substance: Substance) -> bool:
    """A dry solid that pours: powder, salt, sugar, soda."""
    if substance.phase is Phase.SOLUTE:
        return substance.roles.isdisjoint({Role.HUMECTANT, Role.PRESERVATIVE})
    return substance.phase in (Phase.POWDER, Phase.SOLID)


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One counted line whose substance is known; `percent` is w/w of the whole."""

    index: int
    line: Line
    substance: Substance
    percent: Interval

    def has(self, *roles: Role) -> bool:
        return not self.substance.roles.isdisjoint(roles)

    @property
    def vouched(self) -> bool:
        """The message says that it is of cosmetic grade or safe at the site."""
        return not self.line.qualities.isdisjoint(VOUCHED)

    @property
    def loose(self) -> bool:
        """From the craft shop, the cleaning cupboard or the garden: nobody made it for skin."""
        return Quality.CRAFT_GRADE in self.line.qualities or (
            self.substance.shelf in LOOSE_SHELVES and not self.vouched
        )


@dataclass(frozen=True)
class Case:
    """One recipe under one law. `sites`, `contact`, `keeping`: as written, else by the product.

    law: the rows in force on the day for which it is judged.
    What the hazards ask for again and again is computed once.
    """

    recipe: Recipe
    product: Product | None
    sites: tuple[Site, ...]
    contact: Contact | None
    keeping: Keeping | None
    composition: Composition
    chemistry: Chemistry
    catalogue: Catalogue
    jurisdiction: Jurisdiction
    law: Law = field(default_factory=load_law)

    @cached_property
    def ingredients(self) -> tuple[Ingredient, ...]:
        """Counted lines with a known substance, in recipe order."""
        return tuple(
            Ingredient(p.line, self.recipe.lines[p.line], p.substance, p.percent)
            for p in self.composition.portions
            if p.substance is not None
        )

    def with_role(self, *roles: Role) -> tuple[Ingredient, ...]:
        return tuple(i for i in self.ingredients if i.has(*roles))

    def at(self, *sites: Site) -> bool:
        return not set(self.sites).isdisjoint(sites)

    def when(self, *circumstances: Circumstance) -> bool:
        return not self.circumstances.isdisjoint(circumstances)

    @cached_property
    def circumstances(self) -> frozenset[Circumstance]:
        """As the message says, and as the kind of product implies."""
        implied = self.product.implies if self.product is not None else frozenset()
        said = self.recipe.circumstances | implied
        # What is cut there is the bar, which cures for weeks before it meets anybody.
        return said - {Circumstance.BROKEN_SKIN} if self.soap_making else said

    @cached_property
    def soap_making(self) -> bool:
        """Lye that is to make soap of fat, told by the weights, whatever it is called.

        Soap, and what names no product, needs no such weights: too much lye for the fat is then the fault that is said.
        """
        lye, water = lye_in(self.composition).best, self.chemistry.water_percent.best
        if lye <= 0 or self.made_as(*NEVER_SOAP) or self.at(Site.MOUTH, Site.EYE_AREA):
            return False
        if self.made_as("soap"):
            return True
        if self.product is None or self.recipe.guessed:
            return water >= WET_FOR_LYE * lye and self.chemistry.oil_percent.best > lye
        return not self.left_on and makes_soap(self.composition, self.catalogue, water)

    def made_as(self, *products: str) -> bool:
        return self.product is not None and self.product.id in products

    @property
    def on_skin(self) -> bool:
        return not SKIN.isdisjoint(self.sites)

    @property
    def at_mucosa(self) -> bool:
        return not MUCOSA.isdisjoint(self.sites)

    @property
    def fragile(self) -> bool:
        return not FRAGILE.isdisjoint(self.circumstances)

    @property
    def left_on(self) -> bool:
        """Unknown contact counts as left on: the stricter reading."""
        return self.contact is not Contact.RINSE_OFF

    @property
    def kept(self) -> bool:
        """Unknown keeping counts as kept: the stricter reading."""
        return self.keeping is not Keeping.SINGLE_USE

    @property
    def sprayed(self) -> bool:
        """As the kind of product says; else as the message does, of what can be sprayed at all."""
        if self.product is not None and (self.product.sprayed or self.product.id in NEVER_SPRAYED):
            return self.product.sprayed
        return self.when(Circumstance.SPRAYED)

    @cached_property
    def dry(self) -> bool:
        """A powder or bath fizz: what little water it is made with dries off."""
        named = self.product is not None and (self.product.powder or self.product.id in DRIES)
        grains = sum(i.percent.best for i in self.ingredients if _grain(i.substance))
        return self.chemistry.water_percent.best < (60 if named else 5) and (named or grains > 80)
