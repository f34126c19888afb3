"""What the rules have to say about one recipe: findings with numbers and sources, and a verdict."""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field

from rules.interval import Interval
from rules.recipe import Contact, Frozen, Site


class Hazard(StrEnum):
    NEEDS_PRESERVATIVE = "needs_preservative"
    FOOD_SPOILAGE = "food_spoilage"
    COLOURANT_NOT_FOR_SITE = "colourant_not_for_site"
    NON_COSMETIC_MATERIAL = "non_cosmetic_material"
    PROHIBITED = "prohibited"
    EYE_PARTICLE = "eye_particle"
    OVER_LIMIT = "over_limit"
    PHOTOTOXIC = "phototoxic"
    SENSITISER = "sensitiser"
    PH_TOO_LOW = "ph_too_low"
    PH_TOO_HIGH = "ph_too_high"
    SEPARATES = "separates"
    SETTLES_OR_CLOGS = "settles_or_clogs"
    FLAMMABLE = "flammable"
    REACTIVE = "reactive"
    PRESSURE = "pressure"
    UNPROVEN_SUN_PROTECTION = "unproven_sun_protection"
    INEFFECTIVE = "ineffective"


class Severity(StrEnum):
    NOTE = "note"
    FIX = "fix"
    AVOID = "avoid"


class Verdict(StrEnum):
    FINE = "fine"
    UNCLEAR = "unclear"
    FIX = "fix"
    AVOID = "avoid"


class Basis(StrEnum):
    """What stands behind a row or a number."""

    LAW = "law"
    OPINION = "opinion"
    DRAFT = "draft"
    STANDARD = "standard"
    COMPUTED = "computed"
    COMMON_PRACTICE = "common_practice"


class Jurisdiction(StrEnum):
    US = "us"
    EU = "eu"
    UK = "uk"


class Condition(StrEnum):
    """When the finding holds, where it does not hold for the recipe as first written."""

    IF_ADDED = "if_added"
    IF_CHOSEN = "if_chosen"


class Finding(Frozen):
    """One thing that can go wrong. `reason` and `instead` are keys of the phrase tables; `facts` fills their gaps.

    `value` and `limit` are in `unit`. `line` is the index of the recipe line that causes it.
    """

    hazard: Hazard
    severity: Severity
    reason: str
    instead: str
    basis: Basis
    sources: tuple[str, ...]
    substance: str | None = None
    line: int | None = None
    value: Interval | None = None
    limit: Interval | None = None
    unit: str | None = None
    facts: dict[str, str | float] = Field(default_factory=dict)
    region: Jurisdiction | None = None
    condition: Condition | None = None


class Virtue(Frozen):
    """One thing that is sound, and why: a key of the phrase tables with its facts."""

    reason: str
    facts: dict[str, str | float] = Field(default_factory=dict)


class Measures(Frozen):
    """The computed numbers; None where the recipe gives nothing to compute. Percents are w/w of the whole."""

    water_percent: Interval | None = None
    water_activity: Interval | None = None
    ph: Interval | None = None
    ethanol_percent: Interval | None = None
    preservative_effective: Interval | None = None
    oil_percent: Interval | None = None
    settling_minutes: Interval | None = None
    flash_point_celsius: Interval | None = None
    statements: tuple[str, ...] = ()


class Share(Frozen):
    """What one line weighs, and its part of the whole."""

    grams: Interval | None
    percent: Interval | None
    estimated: bool


class Assessment(Frozen):
    """`shares` runs parallel to the recipe's lines; `question` is the phrase key of the one thing to ask.

    `sites` and `contact` are what was judged: as written, else by the kind of product; no site where none is known.
    `asked_about` is the substance that the question is about, where it is about one.
    `taken_for` is the kind of product that it was judged as, where the message names none.
    """

    shares: tuple[Share, ...]
    measures: Measures
    findings: tuple[Finding, ...]
    virtues: tuple[Virtue, ...]
    verdict: Verdict
    question: str | None = None
    asked_about: str | None = None
    not_understood: tuple[int, ...] = ()
    sites: tuple[Site, ...] = ()
    contact: Contact | None = None
    taken_for: str | None = None
