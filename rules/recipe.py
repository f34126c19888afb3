"""The shared vocabulary: what a recipe is once the words have been read."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

from rules.interval import Interval


class Frozen(BaseModel):
    """Base of every model that crosses a border: immutable, and a misspelt field is an error."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Site(StrEnum):
    """Where on the body it goes."""

    LIPS = "lips"
    EYE_AREA = "eye_area"
    FACE = "face"
    BODY = "body"
    HAIR = "hair"
    NAILS = "nails"
    MOUTH = "mouth"
    BATH = "bath"
    HANDS = "hands"
    FEET = "feet"


class Contact(StrEnum):
    LEAVE_ON = "leave_on"
    RINSE_OFF = "rinse_off"


class Keeping(StrEnum):
    """Whether the message means to keep the product or to use it up at once."""

    SINGLE_USE = "single_use"
    KEPT = "kept"


class Unit(StrEnum):
    """How an amount was counted. US customary volumes unless the message says otherwise."""

    TSP = "tsp"
    TBSP = "tbsp"
    CUP = "cup"
    FLOZ = "floz"
    OZ = "oz"
    LB = "lb"
    G = "g"
    MG = "mg"
    KG = "kg"
    ML = "ml"
    L = "l"
    DROP = "drop"
    PINCH = "pinch"
    PART = "part"
    PERCENT = "percent"
    PIECE = "piece"
    # Home measures that the batch contract does not name; it writes them as `piece`.
    HANDFUL = "handful"
    SPLASH = "splash"
    SQUIRT = "squirt"
    SPOONFUL = "spoonful"


class Quality(StrEnum):
    """What the message says of the grade or form of one ingredient."""

    COSMETIC_GRADE = "cosmetic_grade"
    EYE_SAFE = "eye_safe"
    LIP_SAFE = "lip_safe"
    CRAFT_GRADE = "craft_grade"
    FOOD_GRADE = "food_grade"
    NON_TOXIC_LABEL = "non_toxic_label"
    BIODEGRADABLE = "biodegradable"
    FURANOCOUMARIN_FREE = "furanocoumarin_free"
    DISTILLED = "distilled"
    EXPRESSED = "expressed"
    COARSE = "coarse"
    FINE = "fine"
    DRIED = "dried"
    FRESH = "fresh"
    RAW = "raw"


class Claim(StrEnum):
    """What the message says the product does."""

    SUN_PROTECTION = "sun_protection"
    PRESERVES_ITSELF = "preserves_itself"
    KILLS_GERMS = "kills_germs"
    TREATS_DISEASE = "treats_disease"
    LIGHTENS = "lightens"
    PLUMPS = "plumps"
    GROWS_HAIR = "grows_hair"
    REPELS_INSECTS = "repels_insects"
    NATURAL = "natural"
    EDIBLE = "edible"


class Circumstance(StrEnum):
    """What the message says of who or how, where it changes the judgement."""

    INFANT = "infant"
    CHILD = "child"
    PREGNANCY = "pregnancy"
    BROKEN_SKIN = "broken_skin"
    INTIMATE = "intimate"
    SPRAYED = "sprayed"
    INHALED = "inhaled"
    CLOSED_CONTAINER = "closed_container"
    SUN_AFTER = "sun_after"
    NEEDLE = "needle"
    NEAR_FLAME = "near_flame"
    SHAKEN_BEFORE_USE = "shaken_before_use"
    STRAINED = "strained"


class Amount(Frozen):
    """How much, as read. `quantity` is in `unit`; `written` holds the figures of the text, None for "a few"."""

    quantity: Interval
    unit: Unit | None
    written: tuple[float, float] | None
    estimated: bool = False


class Line(Frozen):
    """One ingredient. `span` is the character span of `name` in the original text.

    strength: how much of the material is what its name says (0-1), where the message tells ("lactic acid, 80 %  2 g").
    """

    as_written: str
    name: str
    span: tuple[int, int]
    substance: str | None
    amount: Amount | None = None
    optional: bool = False
    alternative_of: int | None = None
    qualities: frozenset[Quality] = frozenset()
    strength: Annotated[float, Field(gt=0, le=1)] | None = None


class Recipe(Frozen):
    """One product. `product` is an id of the product table; sites are in order, the main one first.

    guessed: the message does not say what it is; product, sites and contact were told from what goes in.
    aside: ids of substances that the message names without their being read as ingredients or ruled out.
    """

    lines: tuple[Line, ...]
    product: str | None = None
    sites: tuple[Site, ...] = ()
    contact: Contact | None = None
    keeping: Keeping | None = None
    claims: frozenset[Claim] = frozenset()
    circumstances: frozenset[Circumstance] = frozenset()
    guessed: bool = False
    aside: tuple[str, ...] = ()
