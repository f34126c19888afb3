"""Who allows what where: the one door to the law tables."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from datetime import date
from functools import lru_cache
from typing import TypeVar

from rules.assessment import Jurisdiction
from rules.catalogue import Catalogue, load_catalogue
from rules.law.rows import BanRow, ColourRow, ConstituentRow, LawRow, LimitRow, Listing, OilRow
from rules.law.tables import LawError, cross_check, parse, read_text
from rules.recipe import Contact, Site
from rules.sources import load_sources

# The day for which the tables were last gone through; rows that start later wait in them.
READ_ON = date(2026, 11, 25)
# The end of the transition period: what the EU has changed since is not the law of Great Britain by itself.
UK_LEFT = date(2020, 12, 31)
AnyLaw = TypeVar("AnyLaw", bound=LawRow)


def place(site: Site) -> str:
    """The three places that colour law distinguishes."""
    if site is Site.EYE_AREA:
        return "eye_area"
    return "lips" if site in (Site.LIPS, Site.MOUTH) else "external"


def _by_substance(rows: Iterable[AnyLaw], on: date) -> dict[str, list[AnyLaw]]:
    found: dict[str, list[AnyLaw]] = defaultdict(list)
    for row in rows:
        if row.in_force(on):
            found[row.substance].append(row)
    return dict(found)


class Law:
    """The law rows in force on one day, looked up by substance.

    The UK follows the EU rows unless it has its own, and only those from before it left.
    """

    def __init__(
        self,
        colours: Iterable[ColourRow],
        bans: Iterable[BanRow],
        limits: Iterable[LimitRow],
        oils: Iterable[OilRow],
        on: date,
        constituents: Iterable[ConstituentRow] = (),
    ) -> None:
        self._colours = _by_substance(colours, on)
        self._bans = _by_substance(bans, on)
        self._limits = _by_substance(limits, on)
        self.oils = {row.substance: row for row in oils}
        self.constituents = {row.substance: row for row in constituents}

    @staticmethod
    def _of(region: Jurisdiction, rows: list[AnyLaw]) -> list[AnyLaw]:
        own = [row for row in rows if row.region is region]
        if own or region is not Jurisdiction.UK:
            return own
        european = [row for row in rows if row.region is Jurisdiction.EU]
        return [row for row in european if row.in_force_from is None or row.in_force_from <= UK_LEFT]

    def colour(self, substance: str, region: Jurisdiction) -> ColourRow | None:
        found = self._of(region, self._colours.get(substance, []))
        return found[0] if found else None

    def is_colour(self, substance: str) -> bool:
        """Whether any region's colour table has it."""
        return substance in self._colours

    def colours_allowed(self, site: Site, region: Jurisdiction) -> list[str]:
        """Substances that may colour a product at `site` without a numeric limit, in table order."""
        allowed = []
        for substance in self._colours:
            row = self.colour(substance, region)
            if row is not None and getattr(row, place(site)) is Listing.YES and row.carries_avoid:
                allowed.append(substance)
        return allowed

    def bans(self, substance: str) -> list[BanRow]:
        return self._bans.get(substance, [])

    def bans_in(self, substance: str, region: Jurisdiction) -> list[BanRow]:
        return self._of(region, self.bans(substance))

    def limits(
        self,
        substance: str,
        region: Jurisdiction,
        sites: tuple[Site, ...],
        contact: Contact | None,
        product: str | None,
    ) -> list[LimitRow]:
        """Rows that apply; where a row for the product or the site exists, the general ones give way."""
        fitting = [
            row
            for row in self._of(region, self._limits.get(substance, []))
            if (row.contact in (None, contact))
            and (not row.sites or not set(row.sites).isdisjoint(sites))
            and (not row.products or product in row.products)
        ]
        for narrow in (
            [r for r in fitting if r.products],
            [r for r in fitting if r.sites],
            [r for r in fitting if r.contact],
        ):
            if narrow:
                return narrow
        return fitting


def build_law(catalogue: Catalogue, on: date = READ_ON) -> Law:
    """Reads and validates every table; keeps the rows in force on that day. Raises LawError."""
    sources = load_sources()
    colours, faults = parse("colourants", read_text("colourants"), ColourRow)
    bans, ban_faults = parse("prohibited", read_text("prohibited"), BanRow)
    oils, oil_faults = parse("fragrance", read_text("fragrance"), OilRow)
    constituents, part_faults = parse("constituents", read_text("constituents"), ConstituentRow)
    limits: list[LimitRow] = []
    faults += ban_faults + oil_faults + part_faults
    for name in ("restricted", "preservatives"):
        rows, row_faults = parse(name, read_text(name), LimitRow)
        faults += row_faults + cross_check(name, rows, catalogue, sources)
        limits += rows
    faults += cross_check("colourants", colours, catalogue, sources)
    faults += cross_check("prohibited", bans, catalogue, sources)
    faults += cross_check("fragrance", oils, catalogue, sources)
    faults += cross_check("constituents", constituents, catalogue, sources)
    if faults:
        raise LawError(faults)
    return Law(colours, bans, limits, oils, on, constituents)


@lru_cache(maxsize=4)
def load_law(on: date = READ_ON) -> Law:
    """The law in force on that day, read once. Raises LawError."""
    return build_law(load_catalogue(), on)
