"""A colour where the law of the region does not list it."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case, Ingredient
from rules.catalogue import Phase, Role, Shelf
from rules.hazards.evidence import finding
from rules.law import ColourRow, Listing, place
from rules.recipe import Site

STRICT = (Site.EYE_AREA, Site.LIPS)
# Products that are meant to colour; elsewhere a plant powder is there for another purpose.
MAKE_UP = (
    "lip_tint", "lipstick", "lip_gloss", "blush", "bronzer", "highlighter", "eyeshadow",
    "eyeliner", "mascara", "brow_gel", "foundation", "concealer", "setting_powder", "face_paint",
    "costume_blood", "temporary_tattoo", "self_tanner", "body_paint", "eye_glitter",
    "body_glitter", "brow_tint",
)  # fmt: skip
# Unlisted as a colour, but ordinarily there to absorb.
NOT_ONLY_COLOURS = frozenset({"activated_charcoal", "charcoal_tablet"})
SPECIAL = {Site.HAIR: "hair", Site.NAILS: "nails", Site.MOUTH: "mouth"}


def _listing(row: ColourRow, site: Site) -> Listing:
    """What the row says of one site; a use named in `only` counts for its own site alone."""
    if row.only and SPECIAL.get(site, site.value) == row.only:
        return Listing.YES
    listing: Listing = getattr(row, place(site))
    if listing is Listing.LIMITED and row.only and SPECIAL.get(site, site.value) != row.only:
        return Listing.LIMITED if site in STRICT else Listing.NO
    return listing


def allowed_names(case: Case, site: Site, instead_of: str = "", most: int = 3) -> str:
    """A few colours that the region lists for the site, for the safer way; black for what is black."""
    dark = any(word in instead_of for word in ("charcoal", "black", "kohl", "marker"))
    wanted = ("iron_oxide_black",) if dark else ("iron_oxide_red", "mica", "carmine", "titanium_dioxide")
    allowed = case.law.colours_allowed(site, case.jurisdiction)
    names = [case.catalogue[s].name for s in wanted if s in allowed]
    return ", ".join(names[:most])


def _not_listed(case: Case, colour: Ingredient, row: ColourRow, site: Site) -> Finding:
    severity = Severity.FIX
    if row.carries_avoid and site in STRICT and (case.left_on or site is Site.EYE_AREA):
        severity = Severity.AVOID
    elif site not in STRICT and not case.made_as(*MAKE_UP) and colour.substance.id in NOT_ONLY_COLOURS:
        severity = Severity.NOTE
    return finding(
        Hazard.COLOURANT_NOT_FOR_SITE,
        severity,
        "colour_not_listed_for_site",
        "use_listed_colour",
        Basis.LAW,
        row.source,
        *(("cfr_70_5",) if site is Site.EYE_AREA and row.source != "cfr_70_5" else ()),
        cause=colour,
        region=case.jurisdiction,
        site=site.value,
        locator=row.locator,
        allowed=allowed_names(case, site, colour.substance.id),
    )


def _over(case: Case, colour: Ingredient, row: ColourRow, site: Site) -> Finding | None:
    limit = row.lips_percent if place(site) == "lips" else row.external_percent
    if limit is None or colour.percent.low <= limit:
        return None
    return finding(
        Hazard.OVER_LIMIT,
        Severity.AVOID if row.carries_avoid and site in STRICT else Severity.FIX,
        "colour_over_limit",
        "use_less",
        Basis.LAW,
        row.source,
        cause=colour,
        value=colour.percent,
        limit=limit,
        unit="percent",
        region=case.jurisdiction,
        site=site.value,
        locator=row.locator,
    )


def _tints(case: Case, colour: Ingredient) -> bool:
    """A kitchen colour that is there to colour: in make-up, or as a powder at lips or eyes."""
    if case.product is None or case.made_as(*MAKE_UP):
        return True
    return colour.substance.phase is Phase.POWDER and case.left_on and case.at(*STRICT)


def _unlisted(case: Case, colour: Ingredient) -> Iterator[Finding]:
    """A colour that no table has: kitchen stain, generic colouring, or a cosmetic pigment we do not know."""
    if case.at(Site.BATH) or not (case.left_on or case.at(Site.LIPS, Site.EYE_AREA)):
        return
    if case.catalogue.family(colour.substance.id) == "finished_products":
        return
    if colour.substance.shelf is Shelf.FOOD and not _tints(case, colour):
        return
    at_eye = case.at(Site.EYE_AREA)
    if colour.substance.generic and colour.substance.shelf is not Shelf.FOOD:
        reason, instead, severity = "colour_kind_unknown", "use_listed_colour", Severity.NOTE
    elif colour.substance.shelf is Shelf.FOOD:
        reason, instead = "kitchen_colour_stains", "use_listed_colour"
        severity = Severity.FIX if at_eye else Severity.NOTE
    else:
        reason, instead = "colour_in_no_list", "use_listed_colour"
        severity = Severity.FIX if case.at(*STRICT) else Severity.NOTE
    site = next((s for s in case.sites if s in STRICT), case.sites[0] if case.sites else Site.FACE)
    yield finding(
        Hazard.COLOURANT_NOT_FOR_SITE,
        severity,
        reason,
        instead,
        Basis.LAW,
        "cfr_70_5",
        cause=colour,
        region=case.jurisdiction,
        site=site.value,
        allowed=allowed_names(case, site, colour.substance.id),
    )


def _strictest(case: Case, colour: Ingredient, row: ColourRow) -> Finding | None:
    """The worst that the row has to say over the sites of the case."""
    for site in sorted(case.sites, key=lambda s: s not in STRICT):
        listing = _listing(row, site)
        if listing is Listing.NO and (case.left_on or site in STRICT) and site is not Site.BATH:
            return _not_listed(case, colour, row, site)
        over = _over(case, colour, row, site)
        if over is not None:
            return over
    return None


def check(case: Case) -> Iterator[Finding]:
    law = case.law
    for colour in case.ingredients:
        if colour.loose and not colour.substance.generic:
            continue
        row = law.colour(colour.substance.id, case.jurisdiction)
        if row is not None:
            worst = _strictest(case, colour, row)
            if worst is not None:
                yield worst
        elif colour.has(Role.COLOURANT) and not law.is_colour(colour.substance.id):
            yield from _unlisted(case, colour)
