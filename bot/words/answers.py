"""Replies to everything that is no recipe, and the frame around several recipes."""

from __future__ import annotations

from collections.abc import Sequence

from bot.words.clean import cut
from bot.words.finding import sentence, spoken
from bot.words.names import product_name, substance_name
from bot.words.phrases import Phrases
from bot.words.reply import LIMIT, Piece, fit
from nlp.reading import Kind, Question, Reading
from rules.assessment import Jurisdiction
from rules.catalogue import load_catalogue
from rules.products import load_products
from rules.questions import Answer, may_go
from rules.recipe import Contact, Site
from rules.sources import load_sources

BLOCKS = 3
SUBSTANCES = 2
PLACES = (Site.LIPS, Site.EYE_AREA, Site.FACE, Site.BODY)


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
            blocks.append(
                phrases.say("frame", "block", number=number, product=product_name(known, phrases), reply=reply)
            )
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


def question_reply(question: Question, region: Jurisdiction, phrases: Phrases) -> str:
    """ "Is X ok on Y?" from the tables with their source, "I don't know" where they have no rule."""
    product = load_products().get(question.product or "")
    if not question.substances:
        if product is None:
            return phrases.raw("kind", "question_unknown")
        return phrases.say("kind", "question_product", product=product_name(product, phrases))
    contact = product.contact if product is not None else Contact.LEAVE_ON
    sites = question.sites or (product.sites if product is not None else ())
    pieces = []
    for weight, substance in enumerate(question.substances[:SUBSTANCES], start=1):
        answer = _answer(substance, sites, region, contact)
        if answer is None:
            known = substance_name(load_catalogue()[substance], phrases)
            pieces.append(Piece(weight, sentence(phrases.say("kind", "question_no_site", substance=known))))
        else:
            pieces.append(Piece(weight, _said(answer, substance, phrases, several=len(question.substances) > 1)))
            pieces.append(Piece(4 + weight, _sources(answer, phrases)))
    return fit([*pieces, Piece(3, phrases.raw("frame", "caution_short"))], LIMIT)


def _answer(substance: str, sites: tuple[Site, ...], region: Jurisdiction, contact: Contact) -> Answer | None:
    """What the tables say; None where that depends on the place and none was named."""
    if sites:
        return may_go(substance, sites[0], region, contact)
    everywhere = [may_go(substance, site, region, contact) for site in PLACES]
    alike = all((answer.reason, answer.yes) == (everywhere[0].reason, everywhere[0].yes) for answer in everywhere)
    return everywhere[0] if alike else None


def _said(answer: Answer, substance: str, phrases: Phrases, *, several: bool) -> str:
    facts = {"note": "", "substance": substance, **answer.facts}
    known = spoken(facts, phrases, load_catalogue())
    words = phrases.try_say("answer", answer.reason, known) or phrases.raw("kind", "question_unknown")
    if several:
        words = f"{substance_name(load_catalogue()[substance], phrases)}: {words}"
    return sentence(words)


def _sources(answer: Answer, phrases: Phrases) -> str:
    titles = [load_sources()[source].title for source in answer.sources if source in load_sources()]
    return phrases.say("frame", "source", sources="; ".join(titles)) if titles else ""
