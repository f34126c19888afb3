"""The judgement of one recipe: composition, chemistry, every hazard, options, verdict. One page."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from rules.assessment import Assessment, Condition, Finding, Jurisdiction, Measures, Share, Verdict
from rules.case import Case
from rules.catalogue import Role, load_catalogue
from rules.chemistry.chemistry import Preserved
from rules.chemistry.composition import Composition
from rules.doubts import not_understood, of_case, of_lines
from rules.hazards import HAZARDS
from rules.interval import Interval
from rules.law import READ_ON, Law, load_law
from rules.recipe import Line, Recipe, Site
from rules.settle import settle, sites_of
from rules.variants import variants
from rules.verdict import conditional, decide, weakest
from rules.virtues import virtues

ANYWHERE = (Site.BODY, Site.FACE, Site.HAIR)
MADE_UP = (Site.FACE, Site.LIPS, Site.EYE_AREA)


@dataclass(frozen=True, slots=True)
class Judged:
    """One case and what the hazards found in it."""

    case: Case
    findings: tuple[Finding, ...]


def judge(recipe: Recipe, jurisdiction: Jurisdiction, sites: tuple[Site, ...], law: Law) -> Judged:
    case = settle(recipe, jurisdiction, sites, law)
    return Judged(case, tuple(finding for check in HAZARDS for finding in check(case)))


def _plausible(recipe: Recipe) -> tuple[Site, ...]:
    """Where a recipe could go that does not say: with colour in it, at lips and eyes too."""
    catalogue = load_catalogue()
    known = (catalogue.get(line.substance) for line in recipe.lines)
    coloured = any(s is not None and s.roles & {Role.COLOURANT, Role.GLITTER} for s in known)
    return MADE_UP if coloured else ANYWHERE


def _same(finding: Finding) -> tuple[object, ...]:
    return (finding.hazard, finding.reason, finding.substance)


def _options(recipe: Recipe, base: Judged, sites: tuple[Site, ...]) -> tuple[list[Finding], dict[int, Share]]:
    """Findings that appear only with an option, one step down, and what the optional lines would weigh."""
    before = {_same(f): f.severity for f in base.findings}
    found: list[Finding] = []
    shares: dict[int, Share] = {}
    for index, condition, variant in variants(recipe):
        judged = judge(variant, base.case.jurisdiction, sites, base.case.law)
        shares[index] = _shares(judged.case.composition, len(recipe.lines))[index]
        found += [_at_line(f, index, condition) for f in judged.findings if before.get(_same(f)) is None]
    return found, shares


def _at_line(finding: Finding, index: int, condition: Condition) -> Finding:
    return conditional(finding, condition).model_copy(update={"line": index})


def _shares(composition: Composition, lines: int) -> list[Share]:
    shares = [Share(grams=None, percent=None, estimated=False)] * lines
    for portion in composition.portions:
        shares[portion.line] = Share(grams=portion.grams, percent=portion.percent, estimated=portion.estimated)
    return shares


def _measures(case: Case) -> Measures:
    chemistry = case.chemistry
    status = chemistry.preservation.status
    effective = {Preserved.EFFECTIVE: 1.0, Preserved.TOO_WEAK: 0.0, Preserved.NONE: 0.0}.get(status)
    return Measures(
        water_percent=chemistry.water_percent,
        water_activity=chemistry.water_activity,
        ph=chemistry.ph,
        ethanol_percent=chemistry.ethanol_percent,
        preservative_effective=None if effective is None else Interval.exact(effective),
        oil_percent=chemistry.oil_percent,
        settling_minutes=chemistry.settling.minutes,
        flash_point_celsius=chemistry.vapour.flash_point_celsius,
        statements=chemistry.statements + case.composition.statements,
    )


def _unsited(recipe: Recipe, jurisdiction: Jurisdiction, law: Law) -> tuple[Judged, str | None]:
    """The mildest reading over every place where it could go: what is wrong there is wrong everywhere.

    Where the places differ and the mildest is fine, the place has to be asked.
    """
    readings = [judge(recipe, jurisdiction, (site,), law) for site in _plausible(recipe)]
    verdicts = [decide(reading.findings, None) for reading in readings]
    least = weakest(verdicts)
    return readings[verdicts.index(least)], "where_does_it_go" if len(set(verdicts)) > 1 else None


def _named_aside(recipe: Recipe, base: Judged, sites: tuple[Site, ...]) -> str | None:
    """What the message names without listing it, and would be a reason to leave the recipe."""
    for substance in recipe.aside:
        named = Line(as_written=substance, name=substance, span=(0, 0), substance=substance)
        with_it = recipe.model_copy(update={"lines": (*recipe.lines, named)})
        findings = judge(with_it, base.case.jurisdiction, sites, base.case.law).findings
        if decide(findings, None) is Verdict.AVOID:
            return substance
    return None


def assess(recipe: Recipe, jurisdiction: Jurisdiction = Jurisdiction.US, on: date = READ_ON) -> Assessment:
    """Everything that the rules have to say about one recipe under the law of one region on one day."""
    law = load_law(on)
    sites = sites_of(recipe)
    question = None
    if sites:
        base = judge(recipe, jurisdiction, sites, law)
    else:
        base, question = _unsited(recipe, jurisdiction, law)
        sites = base.case.sites
    found, shares = _options(recipe, base, sites)
    findings = base.findings + tuple(found)
    question = of_lines(base.case) or question or of_case(base.case)
    verdict = decide(findings, question)
    aside = _named_aside(recipe, base, sites) if verdict is Verdict.FINE else None
    if aside is not None:
        verdict, question = Verdict.UNCLEAR, "is_it_in_it"
    own = _shares(base.case.composition, len(recipe.lines))
    return Assessment(
        shares=tuple(shares.get(index, share) for index, share in enumerate(own)),
        measures=_measures(base.case),
        findings=findings,
        virtues=virtues(base.case),
        verdict=verdict,
        question=question if verdict is Verdict.UNCLEAR else None,
        asked_about=aside,
        not_understood=not_understood(recipe),
        sites=sites_of(recipe),
        contact=base.case.contact,
        taken_for=recipe.product if recipe.guessed else None,
    )
