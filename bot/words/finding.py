"""One finding in words: the reason with its number, and the safer way."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from bot.words.clean import clean_name
from bot.words.figures import Figure, nearest_edge, number_or_name, short
from bot.words.names import said, substance_name
from bot.words.phrases import Phrases
from rules.assessment import Assessment, Finding, Severity, Virtue
from rules.catalogue import Catalogue, load_catalogue
from rules.recipe import Line, Recipe

PURE_WATER = 0.99  # from here on the error bar reaches 1, which nothing but water has
RANK = {Severity.AVOID: 0, Severity.FIX: 1, Severity.NOTE: 2}


@dataclass(frozen=True, slots=True)
class Scene:
    """What a sentence may be about: one recipe, its assessment, the names of things, and the language."""

    recipe: Recipe
    assessment: Assessment
    phrases: Phrases
    catalogue: Catalogue

    @classmethod
    def of(cls, recipe: Recipe, assessment: Assessment, phrases: Phrases) -> Scene:
        return cls(recipe, assessment, phrases, load_catalogue())

    def line_name(self, line: Line) -> str:
        """The plain name: ours where we know the substance, else the message's own, cleaned."""
        return self.substance_name(line.substance) or clean_name(line.name) or self.phrases.raw("more", "nameless")

    def substance_name(self, substance: str | None) -> str:
        known = self.catalogue.get(substance)
        return (
            substance_name(known, self.phrases)
            if known is not None
            else clean_name((substance or "").replace("_", " "))
        )

    def figure(self, value: float) -> str:
        """A number in print, with the decimal mark of the language."""
        return short(value, self.phrases.mark)

    def ranked(self) -> list[Finding]:
        """The gravest first; what holds as written before what holds only if something is added."""
        findings = self.assessment.findings
        return sorted(findings, key=lambda f: (RANK[f.severity], f.condition is not None))


def reason(scene: Scene, finding: Finding) -> str:
    """Why, as one sentence or two, with the number and what it is held against."""
    facts = finding_facts(scene, finding)
    words = scene.phrases.try_say("reason", finding.reason, facts) or _plain_reason(scene, finding)
    if finding.condition is None or finding.line is None:
        return sentence(words)
    name = scene.line_name(scene.recipe.lines[finding.line])
    for colon in (": ", "\u00a0: "):  # a reason that opens with the name would say it twice
        words = words.removeprefix(name + colon)
    return sentence(scene.phrases.say("frame", finding.condition, substance=name, reason=words))


def instead(scene: Scene, finding: Finding) -> str:
    """The safer way; empty where the tables name none."""
    return sentence(scene.phrases.try_say("instead", finding.instead, finding_facts(scene, finding)) or "")


def virtue(scene: Scene, sound: Virtue) -> str:
    """What is sound and why; empty where the tables lack the sentence."""
    facts = _facts(scene, sound.facts) | {"site": site_words(scene)}
    return sentence(scene.phrases.try_say("virtue", sound.reason, facts) or "")


def finding_facts(scene: Scene, finding: Finding) -> dict[str, Any]:
    """What fills the gaps of a finding's phrases. Numbers print themselves short."""
    facts, mark = _facts(scene, finding.facts), scene.phrases.mark
    if finding.value is not None:
        facts |= {
            "value": Figure(finding.value.best, mark),
            "low": Figure(finding.value.low, mark),
            "high": Figure(finding.value.high, mark),
        }
        if finding.unit == "water activity" and finding.value.best > PURE_WATER:
            facts["value"] = scene.phrases.say("frame", "above", value=Figure(PURE_WATER, mark))
    if finding.limit is not None:
        facts |= {
            "limit": Figure(nearest_edge(finding.limit, finding.value), mark),
            "limit_low": Figure(finding.limit.low, mark),
            "limit_high": Figure(finding.limit.high, mark),
        }
    facts["unit"] = scene.phrases.word("unit", finding.unit) if finding.unit else ""
    facts["site"] = facts.get("site") or site_words(scene)
    if finding.substance is not None:
        facts.setdefault("substance", scene.substance_name(finding.substance))
    elif finding.line is not None:
        facts.setdefault("substance", scene.line_name(scene.recipe.lines[finding.line]))
    return facts


def site_words(scene: Scene) -> str:
    """The main place in words; the skin where no place is known."""
    sites = scene.recipe.sites or scene.assessment.sites
    return scene.phrases.raw("site", sites[0]) if sites else scene.phrases.raw("frame", "skin")


def sentence(words: str) -> str:
    """With a capital at its start and a full stop at its end; a colon before an empty gap goes."""
    words = words.strip().rstrip(":\u00a0 ")
    if not words:
        return ""
    return words[0].upper() + words[1:] + ("" if words[-1] in ".!?…" else ".")


def spoken(facts: Mapping[str, str | float], phrases: Phrases, catalogue: Catalogue) -> dict[str, Any]:
    """Facts as they are said: an id of the catalogue or of a word list by its name, other text cleaned."""
    return {key: _fact(value, phrases, catalogue) for key, value in facts.items()}


def _facts(scene: Scene, raw: Mapping[str, str | float]) -> dict[str, Any]:
    return spoken(raw, scene.phrases, scene.catalogue)


def _fact(value: str | float, phrases: Phrases, catalogue: Catalogue) -> Any:
    if not isinstance(value, str):
        return number_or_name(value, phrases.mark)
    if value in catalogue:
        return substance_name(catalogue[value], phrases)
    if phrases.has("site", value):
        return phrases.raw("site", value)
    return said(value, phrases)


def _plain_reason(scene: Scene, finding: Finding) -> str:
    """A plain sentence from the hazard and its numbers, where the phrase table has none."""
    against = ""
    if finding.value is not None and finding.limit is not None:
        unit = scene.phrases.word("unit", finding.unit) if finding.unit else ""
        against = scene.phrases.say(
            "hazard",
            "against",
            value=f"{scene.figure(finding.value.best)} {unit}".strip(),
            limit=f"{scene.figure(nearest_edge(finding.limit, finding.value))} {unit}".strip(),
        )
    hazard = scene.phrases.word("hazard", finding.hazard)
    return scene.phrases.say("hazard", "sentence", hazard=hazard, against=against)
