"""What the reader hands on: the kind of message and the recipes in it."""

from __future__ import annotations

from enum import StrEnum

from rules.recipe import Amount, Circumstance, Claim, Contact, Frozen, Recipe, Site


class Kind(StrEnum):
    """What a message wants of us. URGENT stands before everything else."""

    RECIPE = "recipe"
    QUESTION = "question"
    URGENT = "urgent"
    CORRECTION = "correction"
    CHATTER = "chatter"
    FOOD = "food"
    SPAM = "spam"
    LINK_ONLY = "link_only"


class Emergency(StrEnum):
    """What has happened, as far as the words tell; it chooses the first-aid text."""

    EYE = "eye"
    SWALLOWED = "swallowed"
    BREATHING = "breathing"
    BURN = "burn"
    REACTION = "reaction"
    OTHER = "other"


class Asks(StrEnum):
    """What a question wants to know of a substance."""

    MAY = "may"  # is it ok there
    HOW_MUCH = "how_much"
    SWAP = "swap"  # can it stand in for another


class Question(Frozen):
    """A question without a recipe: what it asks about. `substances` are catalogue ids, in the order of the text.

    old: of a swap, what would go; `substances` has what would come, or nothing. batch: the size of what it goes into.
    share: the percent that the question names itself ("is 1 % ok"). claims: what is said of it
    ("non-toxic", "natural", against the sun).
    into: what it goes into ("how much lye for 500 g of olive oil"). circumstances: for whom.
    unknown: the words that most likely name what is asked about, where nothing known is named.
    """

    asks: Asks = Asks.MAY
    substances: tuple[str, ...] = ()
    old: str | None = None
    product: str | None = None
    sites: tuple[Site, ...] = ()
    contact: Contact | None = None
    batch: Amount | None = None
    share: float | None = None
    claims: frozenset[Claim] = frozenset()
    circumstances: frozenset[Circumstance] = frozenset()
    into: str | None = None
    unknown: str = ""


class Note(StrEnum):
    """What the reader could not settle; the answer may say so or ask."""

    AMOUNT_UNCLEAR = "amount_unclear"  # a figure that makes no sense ("1/0 cup")
    UNKNOWN_INGREDIENT = "unknown_ingredient"
    CHOICE = "choice"  # "A or B": the first counts
    CUT_SHORT = "cut_short"  # the text was longer than the reader takes
    UNKNOWN_LANGUAGE = "unknown_language"
    USE_GUESSED = "use_guessed"  # nothing names the product; its kind was guessed from what goes in
    SEVERAL_RECIPES = "several_recipes"
    ANSWERED = "answered"  # the author has answered a question about it, by a button


class Reading(Frozen):
    """One message as read. `language` is en, es, pt, fr or other. `emergency` is set for kind urgent only.
    `infant`: it speaks of a baby or a toddler; first aid differs.

    Line spans in `recipes` are offsets in `text`, which is the message exactly as it came.
    """

    text: str
    language: str
    kind: Kind
    recipes: tuple[Recipe, ...] = ()
    question: Question | None = None
    emergency: Emergency | None = None
    infant: bool = False
    notes: frozenset[Note] = frozenset()
