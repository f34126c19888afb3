"""Grains near the eye: edge, size, who made them; and dust or glitter that a spray or puff carries there."""

from __future__ import annotations

from collections.abc import Iterator

from rules.assessment import Basis, Finding, Hazard, Severity
from rules.case import Case, Ingredient
from rules.catalogue import Edge, Role, Shelf
from rules.hazards.evidence import finding
from rules.recipe import Circumstance, Contact, Quality, Site

COARSE_MICROMETRES = 150.0  # common practice: glitter for the face is 150 to 200 micrometres and below


def _gritty(grain: Ingredient) -> str | None:
    """Why it does not belong at the eye, as a phrase key; None where it may go there."""
    particle = grain.substance.particle
    if grain.has(Role.GLITTER) and (grain.loose or grain.substance.shelf is Shelf.CRAFT):
        return "craft_glitter_at_eye"
    if grain.has(Role.IRRITANT_SPICE):
        return "spice_at_eye"
    if grain.vouched and Quality.COARSE not in grain.line.qualities:
        return None
    if grain.substance.id in ("activated_charcoal", "charcoal_burnt", "wood_ash"):
        return "grit_at_eye"
    if grain.loose and particle is not None:
        return "craft_powder_at_eye"
    if particle is None or grain.has(Role.GLITTER):
        return None
    coarse = particle.micrometres[1] > COARSE_MICROMETRES or Quality.COARSE in grain.line.qualities
    sharp = particle.edge is Edge.SHARP
    dissolves = grain.substance.shelf is Shelf.FOOD and not sharp
    return "grit_at_eye" if sharp or (coarse and not dissolves) else None


def _at_eye(case: Case, grain: Ingredient, reason: str) -> Finding:
    particle = grain.substance.particle
    value = None if particle is None else particle.micrometres[1]
    sourced = reason in ("craft_glitter_at_eye", "craft_powder_at_eye", "grit_at_eye")
    return finding(
        Hazard.EYE_PARTICLE,
        Severity.AVOID if case.left_on else Severity.FIX,
        reason,
        "fine_cosmetic_powder",
        Basis.OPINION if sourced else Basis.COMMON_PRACTICE,
        "glitter_cornea" if sourced else "common_practice",
        cause=grain,
        limit=COARSE_MICROMETRES if value is not None and value > COARSE_MICROMETRES else None,
        unit="micrometres",
    )


def _note(grain: Ingredient, severity: Severity, reason: str, instead: str) -> Finding:
    return finding(
        Hazard.EYE_PARTICLE, severity, reason, instead, Basis.COMMON_PRACTICE, "common_practice", cause=grain
    )


def _on_face(case: Case, grain: Ingredient) -> Iterator[Finding]:
    particle = grain.substance.particle
    glitter = grain.has(Role.GLITTER)
    if case.sprayed and glitter:
        yield _note(
            grain,
            Severity.FIX if case.at(Site.FACE) else Severity.NOTE,
            "glitter_spray_drifts",
            "fine_cosmetic_powder",
        )
    elif case.at(Site.FACE) and case.contact is Contact.RINSE_OFF and particle is not None:
        if particle.edge is Edge.SHARP and grain.has(Role.ABRASIVE) and not grain.loose:
            nut = grain.substance.shelf is not Shelf.FOOD and particle.micrometres[1] > COARSE_MICROMETRES
            yield _note(grain, Severity.FIX if nut else Severity.NOTE, "sharp_scrub_on_face", "round_scrub_grain")
    elif case.at(Site.FACE) and glitter and not grain.loose:
        yield _note(grain, Severity.NOTE, "cosmetic_glitter_near_eye", "fine_cosmetic_powder")


def _powders(case: Case, percent: float) -> list[Ingredient]:
    return [i for i in case.ingredients if i.substance.particle is not None and i.percent.best > percent]


def _dust(case: Case) -> Iterator[Finding]:
    """Loose powder that is puffed, sprayed or breathed in."""
    if case.sprayed:
        yield from (_note(p, Severity.NOTE, "spray_breathed", "thicken_or_pump") for p in _powders(case, 0.5)[:1])
        return
    airborne = case.when(Circumstance.INHALED) or (case.product is not None and case.product.powder)
    if not airborne or case.at(Site.BATH):
        return
    powders = _powders(case, 10)
    if powders:
        infant = case.when(Circumstance.INFANT)
        yield _note(powders[0], Severity.FIX if infant else Severity.NOTE, "dust_breathed", "powder_low_dust")


def check(case: Case) -> Iterator[Finding]:
    for grain in case.ingredients:
        reason = _gritty(grain) if case.at(Site.EYE_AREA) else None
        if reason is not None:
            yield _at_eye(case, grain, reason)
        else:
            yield from _on_face(case, grain)
    yield from _dust(case)
