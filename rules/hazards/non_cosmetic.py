"""Things from the craft shop, the cleaning cupboard or the garden, left on a person."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case, Ingredient
from rules.catalogue import Role, Shelf
from rules.hazards.colourants import allowed_names
from rules.hazards.evidence import finding, for_fragile
from rules.recipe import Quality, Site

# Wax sold for candles and soap bases are what the cosmetic shelf sells under another label.
# Household goods that are made for the body, and material that is only a carrier or a costume maker's own.
TOLERATED = frozenset(
    {
        "balloon", "candle_wax", "crepe_paper", "denture_adhesive", "flower_pollen",
        "insect_repellent_product", "leaf_green", "liquid_hand_soap", "liquid_latex",
        "mineral_oil_board", "mouthwash", "paper", "snow", "spirit_gum", "temporary_tattoo_paper",
        "tooth_powder_product", "toothpaste", "wipes_product",
    }
)  # fmt: skip
# Dyes, solvents and repellents that lips and mouth would take in.
NOT_AT_MOUTH = frozenset({"crepe_paper", "insect_repellent_product", "liquid_latex", "spirit_gum", "snow"})
# Made for dishes and hands: mild enough to rinse off. What cleans ovens, clothes and drains is not.
WASH_PRODUCTS = frozenset({"dish_soap", "foam_soap_pet"})
SOURCES = ("fda_novelty_makeup", "cpsc_art_materials")


def _severity(case: Case, thing: Ingredient) -> Severity:
    if thing.substance.id in WASH_PRODUCTS and not case.at(Site.EYE_AREA, Site.MOUTH):
        stays = case.left_on or case.at(Site.FACE, Site.LIPS)
        return for_fragile(case, Severity.FIX if stays else Severity.NOTE)
    if thing.has(Role.GLITTER) and not case.at_mucosa and not case.at(Site.FACE):
        said = Quality.CRAFT_GRADE in thing.line.qualities and case.left_on
        return Severity.AVOID if said else Severity.FIX
    if case.left_on or case.at_mucosa or (case.at(Site.NAILS) and thing.has(Role.GLUE)):
        return Severity.AVOID
    if thing.substance.shelf is Shelf.CRAFT and thing.has(Role.COLOURANT) and not case.at(Site.FACE):
        return Severity.NOTE if thing.substance.id.startswith(("soap_", "bath_", "mica_")) else Severity.FIX
    if thing.has(Role.GLUE) and case.at(Site.FACE):
        return Severity.AVOID
    return Severity.FIX


def check(case: Case) -> Iterator[Finding]:
    for thing in sorted(case.ingredients, key=lambda i: not i.has(Role.COLOURANT, Role.GLITTER)):
        tolerated = thing.substance.id in TOLERATED and not (
            case.at(Site.EYE_AREA) or (case.at_mucosa and thing.substance.id in NOT_AT_MOUTH)
        )
        poured = thing.substance.id == "candle_wax" and case.made_as("hair_removal")  # it is hot before it sets
        if not thing.loose or (tolerated and not poured) or thing.has(Role.NAIL_MONOMER):
            continue
        coloured = thing.has(Role.COLOURANT, Role.GLITTER)
        site = case.sites[0] if case.sites else Site.FACE
        yield finding(
            Hazard.NON_COSMETIC_MATERIAL,
            _severity(case, thing),
            "craft_colour_on_person" if coloured else "not_made_for_skin",
            "use_listed_colour" if coloured else "use_cosmetic_kind",
            Basis.LAW if coloured else Basis.OPINION,
            *(("cfr_70_5", *SOURCES) if coloured else SOURCES[:1]),
            cause=thing,
            region=case.jurisdiction if coloured else None,
            site=site.value,
            allowed=allowed_names(case, site, thing.substance.id),
        )
