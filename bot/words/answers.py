"""Replies to everything that is no recipe, and the frame around several recipes."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from bot.words.clean import cut
from bot.words.finding import Scene, instead, reason, sentence
from bot.words.phrases import Phrases
from bot.words.reply import LIMIT, Piece, fit
from nlp.reading import Kind, Question, Reading
from rules.assessment import Assessment, Hazard, Jurisdiction, Severity
from rules.catalogue import load_catalogue
from rules.products import load_products
from rules.recipe import Line, Recipe

BLOCKS = 3
# Hazards that a substance has on a place by itself, whatever its amount.
BY_ITSELF = frozenset(
    {Hazard.COLOURANT_NOT_FOR_SITE, Hazard.NON_COSMETIC_MATERIAL, Hazard.PROHIBITED, Hazard.EYE_PARTICLE}
)
Judge = Callable[[Recipe, Jurisdiction], Assessment]


def several(replies: Sequence[tuple[str | None, str]], phrases: Phrases) -> str:
    """One reply as it is; up to three of several, each with its number and product, each within its limit."""
    if len(replies) == 1:
        return cut(replies[0][1], LIMIT)
    blocks = []
    for number, (product, reply) in enumerate(replies[:BLOCKS], start=1):
        known = load_products().get(product or "")
        if known is None:
            blocks.append(phrases.say("frame", "block_plain", number=number, reply=reply))
        else:
            blocks.append(phrases.say("frame", "block", number=number, product=known.name, reply=reply))
    if len(replies) > BLOCKS:
        blocks.append(phrases.say("frame", "blocks_left", count=len(replies) - BLOCKS))
    return "\n".join(blocks)


def kind_reply(reading: Reading, phrases: Phrases) -> str:
    """What is said to a message without a recipe that can be judged."""
    if not reading.text.strip():
        return phrases.raw("kind", "empty")
    if reading.kind is Kind.CORRECTION:
        # A correction that names lines or a place had nothing to amend; one that names none cannot be placed.
        return phrases.raw("kind", "correction_no_recipe" if reading.recipes else "correction_lost")
    if reading.kind is Kind.QUESTION:
        return phrases.raw("kind", "question_unknown")
    if reading.kind in (Kind.FOOD, Kind.SPAM, Kind.LINK_ONLY):
        return phrases.raw("kind", reading.kind)
    return phrases.raw("kind", "chatter")


def question_reply(question: Question, region: Jurisdiction, phrases: Phrases, judge: Judge) -> str:
    """"Is X ok on Y?" from the tables where they have a rule for X by itself, else what is missing to tell."""
    if not question.substances:
        product = load_products().get(question.product or "")
        if product is None:
            return phrases.raw("kind", "question_unknown")
        return phrases.say("kind", "question_product", product=product.name)
    recipe = _alone(question)
    scene = Scene.of(recipe, judge(recipe, region), phrases)
    findings = [f for f in scene.ranked() if f.hazard in BY_ITSELF and f.severity is not Severity.NOTE]
    if findings:
        pieces = [Piece(1, reason(scene, findings[0])), Piece(1, instead(scene, findings[0]))]
        return fit([*pieces, Piece(3, phrases.raw("frame", "caution_short"))], LIMIT)
    name = scene.substance_name(question.substances[0])
    if not recipe.sites:
        return sentence(phrases.say("kind", "question_no_site", substance=name))
    site = phrases.raw("site", recipe.sites[0])
    return sentence(phrases.say("kind", "question_no_rule_site", substance=name, site=site))


def _alone(question: Question) -> Recipe:
    """The substances asked about, without amounts, on the place asked about."""
    known = load_catalogue()
    lines = tuple(
        Line(as_written=known[s].name, name=known[s].name, span=(0, 0), substance=s)
        for s in question.substances
        if s in known
    )
    product = load_products().get(question.product or "")
    sites = question.sites or (product.sites if product is not None else ())
    return Recipe(lines=lines, product=question.product, sites=sites)
