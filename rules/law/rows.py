"""What one row of a law table may say. Percents are w/w of the finished product."""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from typing import Annotated

from pydantic import Field, field_validator

from rules.assessment import Basis, Jurisdiction
from rules.catalogue.substance import Id
from rules.interval import Interval
from rules.recipe import Contact, Frozen, Site
from rules.sources import Checked

Percent = Annotated[float, Field(ge=0, le=100)]


class Listing(StrEnum):
    """Whether a colour may be used at a place."""

    YES = "yes"
    NO = "no"
    LIMITED = "limited"  # only up to the row's percent, or only in the named products


class LawRow(Frozen):
    """`source` is an id of sources.toml; `locator` says where in it; dates bound when it is in force."""

    substance: Id
    region: Jurisdiction
    basis: Basis
    source: Id
    locator: str
    checked: Checked
    in_force_from: date | None = None
    until: date | None = None
    note: str = ""

    @property
    def key(self) -> tuple[str, ...]:
        return (self.substance, self.region.value)

    @property
    def carries_avoid(self) -> bool:
        return self.checked is Checked.READ and self.basis in (Basis.LAW, Basis.OPINION, Basis.STANDARD)

    def in_force(self, on: date) -> bool:
        started = self.in_force_from is None or self.in_force_from <= on
        return started and (self.until is None or on <= self.until)


class ColourRow(LawRow):
    """One colour in one region. `certified` = each lot must be certified by the authority."""

    eye_area: Listing
    lips: Listing
    external: Listing
    lips_percent: Percent | None = None
    external_percent: Percent | None = None
    only: str = ""  # hair, nails, mouth: the one use that a limited row permits
    certified: bool = False


def _split(cell: object) -> object:
    return tuple(part for part in cell.split("|") if part) if isinstance(cell, str) else cell


class LimitRow(LawRow):
    """A ceiling. Empty `sites` or `contact` = everywhere; `products` narrows to them.

    `factor` turns percent of it into what the law counts (`as_what`): sodium benzoate x 0.847.
    """

    percent: Percent
    sites: tuple[Site, ...] = ()
    contact: Contact | None = None
    products: tuple[Id, ...] = ()
    as_what: str = ""
    factor: Annotated[float, Field(gt=0, le=2)] = 1.0

    _sites = field_validator("sites", "products", mode="before")(_split)

    @property
    def key(self) -> tuple[str, ...]:
        where = "|".join(self.sites) + "/" + (self.contact or "") + "/" + "|".join(self.products)
        return (self.substance, self.region.value, where)


class BanRow(LawRow):
    """Not permitted. Empty `sites` = nowhere; `sprayed` = only in sprays; `exempt` = products it spares."""

    sites: tuple[Site, ...] = ()
    sprayed: bool = False
    exempt: tuple[Id, ...] = ()

    _sites = field_validator("sites", "exempt", mode="before")(_split)


class ConstituentRow(Frozen):
    """What a limit for one constituent leaves of an oil. `low`, `high`: share of it in the oil, percent.

    `leave_on`, `lips`: its limit, w/w % of the finished product. `share_source`: where the share stands.
    """

    substance: Id
    constituent: str
    low: Annotated[float, Field(gt=0, le=100)]
    high: Annotated[float, Field(gt=0, le=100)]
    leave_on: Percent
    lips: Percent
    basis: Basis
    source: Id
    share_source: Id
    locator: str
    checked: Checked

    @property
    def key(self) -> tuple[str, ...]:
        return (self.substance,)

    def bound(self, lips: bool) -> Interval:
        """w/w % of the oil at which the constituent reaches its limit: 100 * limit / share."""
        limit = 100 * (self.lips if lips else self.leave_on)
        middle = (self.low + self.high) / 2
        return Interval(limit / self.high, limit / middle, limit / self.low)


class OilRow(Frozen):
    """Published dermal maximum of one essential oil, w/w % of a leave-on product: an expert figure."""

    substance: Id
    leave_on: Percent | None = None
    lips: Percent | None = None
    rinse_off: Percent | None = None
    phototoxic: Percent | None = None
    constituent: str = ""
    basis: Basis
    source: Id
    locator: str
    checked: Checked
    note: str = ""

    @property
    def key(self) -> tuple[str, ...]:
        return (self.substance,)

    @property
    def carries_avoid(self) -> bool:
        return self.checked is Checked.READ and self.basis in (Basis.LAW, Basis.OPINION, Basis.STANDARD)
