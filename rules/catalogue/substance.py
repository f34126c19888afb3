"""What one row of the catalogue may say about a substance."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from rules.recipe import Frozen

Id = Annotated[str, Field(pattern=r"^[a-z0-9]+(_[a-z0-9]+)*$")]
Share = Annotated[float, Field(ge=0, le=1)]
Positive = Annotated[float, Field(gt=0)]
Range = tuple[float, float, float]


class Phase(StrEnum):
    """Where it ends up in a mixture."""

    WATER = "water"  # mostly water, or mixes with it and feeds it: hydrosol, juice, tea, aloe
    SOLUTE = "solute"  # dissolves in water: salts, sugars, acids, glycerin, actives
    OIL = "oil"  # oils, butters, waxes, oil-soluble vitamins, essential oils
    ALCOHOL = "alcohol"  # ethanol, isopropanol, spirits
    POWDER = "powder"  # neither dissolves: clays, starches, pigments, grounds
    EMULSION = "emulsion"  # a finished mix of both: lotion, conditioner, milk, mayonnaise
    SURFACTANT = "surfactant"
    SOLVENT = "solvent"  # other organic liquids: acetone, monomers, thinners
    SOLID = "solid"  # pieces: crayon, soap bar, glitter flakes


class Shelf(StrEnum):
    """What it is sold as; a name can be the same and the lot not."""

    COSMETIC = "cosmetic"
    FOOD = "food"
    PHARMACY = "pharmacy"
    CRAFT = "craft"
    HOUSEHOLD = "household"
    GARDEN = "garden"


class Role(StrEnum):
    PRESERVATIVE = "preservative"
    BOOSTER = "booster"  # helps a preservative, is none
    LOOKS_LIKE_PRESERVATIVE = "looks_like_preservative"  # vitamin E, seed extracts, honey
    ANTIOXIDANT = "antioxidant"
    EMULSIFIER = "emulsifier"
    SOLUBILISER = "solubiliser"
    SURFACTANT = "surfactant"
    SOAP = "soap"
    HUMECTANT = "humectant"
    THICKENER = "thickener"
    CHELATOR = "chelator"
    ACID = "acid"
    ALKALI = "alkali"
    COLOURANT = "colourant"
    FRAGRANCE = "fragrance"
    ESSENTIAL_OIL = "essential_oil"
    ABRASIVE = "abrasive"
    UV_FILTER = "uv_filter"
    EXFOLIANT = "exfoliant"
    PLUMPER = "plumper"  # stings or swells on purpose
    IRRITANT_SPICE = "irritant_spice"
    FOOD = "food"
    PERISHABLE = "perishable"  # spoils in days in the fridge: egg, dairy, fresh fruit, juice, brewed tea
    FEEDS_MICROBES = "feeds_microbes"
    OXIDISER = "oxidiser"
    CARBONATE = "carbonate"
    FERMENT = "ferment"
    DRUG = "drug"
    NAIL_MONOMER = "nail_monomer"
    GLUE = "glue"
    GLITTER = "glitter"
    DISSOLVES_SKIN = "dissolves_skin"
    PHOTOTOXIC_JUICE = "phototoxic_juice"
    LIGHTENER = "lightener"
    PROPELLANT = "propellant"


class Edge(StrEnum):
    """Shape of a particle where it touches a cornea."""

    SOFT = "soft"
    ROUND = "round"
    PLATE = "plate"
    SHARP = "sharp"


class Particle(Frozen):
    """Grain size in micrometres (low, typical, high) and density of the solid in g/ml."""

    micrometres: Range
    edge: Edge
    density: Positive


class Substance(Frozen):
    """One thing that people put into a recipe.

    density: g per ml as poured into a spoon (low, best, high); None = taken from the family's default.
    piece_grams: what "one" weighs (an egg white, a tea bag, a capsule).
    contains: typical mass shares of other substances by id, for juices, solutions and finished products; what
    is missing to 1 stays as the substance itself.
    inci: INCI name; None with shelf other than cosmetic = not a cosmetic ingredient.
    """

    id: Id
    name: str  # plain English name for replies
    inci: str | None = None
    ci: str | None = None  # colour index number as "CI 77491"
    cas: str | None = None
    aliases: tuple[str, ...] = ()  # lower case, English; `name` and `inci` count as aliases by themselves
    phase: Phase
    shelf: Shelf
    roles: frozenset[Role] = frozenset()
    density: Range | None = None
    piece_grams: Range | None = None
    contains: dict[Id, Share] = Field(default_factory=dict)
    ph: tuple[float, float] | None = None  # of the material as sold, or of 1 % in water for solids
    molar_mass: Positive | None = None  # g/mol
    pka: tuple[float, ...] = ()
    required_hlb: tuple[float, float] | None = None
    hlb: float | None = None
    particle: Particle | None = None
    flash_point_celsius: float | None = None
    allergens: frozenset[str] = frozenset()  # nut, milk, egg, soy, wheat, latex, bee, fish, peanut, sesame
    melts_celsius: float | None = None
    generic: bool = False  # "carrier oil", "essential oil": a known kind, not one substance
    source: str
    basis: Annotated[str, Field(pattern="^(read|memory|common_practice)$")]
