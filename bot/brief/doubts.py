"""What could not be verified in one recipe, said openly."""

from __future__ import annotations

from collections.abc import Iterator

from bot.words.finding import Scene
from bot.words.reply import deciding, question, unknown_names
from rules.assessment import Basis
from rules.products import load_products
from rules.sources import Checked, load_sources


def doubts(scene: Scene) -> Iterator[str]:
    """Unknown parts, guessed amounts and uses, and what rests on memory or habit."""
    phrases, found = scene.phrases, scene.assessment
    if names := unknown_names(scene):
        yield phrases.say("unverified", "unknown", names=", ".join(names))
    if guessed := _estimated(scene):
        yield phrases.say("unverified", "estimated", names=", ".join(guessed))
    product = load_products().get(found.taken_for or "")
    if product is not None:
        yield phrases.say("unverified", "guessed_use", product=product.name)
    sources = dict.fromkeys(source for finding in found.findings for source in finding.sources)
    for known in (load_sources().get(source) for source in sources):
        if known is not None and known.checked is Checked.MEMORY and known.basis is not Basis.COMMON_PRACTICE:
            yield phrases.say("unverified", "from_memory", title=known.title)
    yield from _habits(scene)
    if asked := question(scene):
        yield phrases.say("unverified", "question", question=asked)


def _estimated(scene: Scene) -> list[str]:
    lines = zip(scene.recipe.lines, scene.assessment.shares, strict=False)
    names = (scene.line_name(line) for line, share in lines if share.estimated and line.alternative_of is None)
    return list(dict.fromkeys(names))


def _habits(scene: Scene) -> Iterator[str]:
    words = scene.phrases
    findings = deciding(scene)
    practice = [words.word("hazard_name", f.hazard) for f in findings if f.basis is Basis.COMMON_PRACTICE]
    conditional = [words.word("hazard_name", f.hazard) for f in findings if f.condition is not None]
    if practice:
        yield words.say("unverified", "practice", hazards=", ".join(practice))
    if conditional:
        yield words.say("unverified", "conditional", hazards=", ".join(conditional))
