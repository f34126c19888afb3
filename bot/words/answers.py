"""Replies to everything that is no recipe, and the frame around several recipes."""

from __future__ import annotations

import re
from collections.abc import Sequence

from bot.words.clean import clean_name, cut
from bot.words.figures import number_or_name
from bot.words.finding import sentence, spoken
from bot.words.names import product_name, substance_name
from bot.words.phrases import Phrases
from bot.words.reply import LIMIT, Piece, fit
from nlp.reading import Asks, Kind, Question, Reading
from rules.assessment import Basis, Jurisdiction
from rules.catalogue import Role, Shelf, load_catalogue
from rules.products import load_products
from rules.questions import Answer, banned_in_eu, how_much, may_go, stand_ins, swap
from rules.recipe import Claim, Contact, Site
from rules.remarks import constituent_bound, in_batch, keeps_from, lye_for, not_for, sun_above
from rules.sources import Checked, Source, load_sources

BLOCKS = 3
SUBSTANCES = 2
PLACES = (Site.LIPS, Site.EYE_AREA, Site.FACE, Site.BODY)
STINGING = frozenset({Role.IRRITANT_SPICE, Role.ESSENTIAL_OIL, Role.PHOTOTOXIC_JUICE})
PLAIN_LOCATOR = re.compile(r"[:,;]")  # what stands after one of these is a remark in English


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
    """May it, how much, can it stand in: from the tables with their source, "I don't know" where they have no rule."""
    product = load_products().get(question.product or "")
    if question.asks is not Asks.SWAP and not question.substances:
        if question.unknown:
            return sentence(phrases.say("answer", "nobody_knows", name=clean_name(question.unknown)))
        if product is None:
            return phrases.raw("kind", "question_unknown")
        return phrases.say("kind", "question_product", product=product_name(product, phrases))
    if question.asks is Asks.SWAP and not question.substances:
        return _without_stand_in(question, region, phrases)
    pieces = []
    for weight, (substance, found) in enumerate(_answers(question, region), start=1):
        pieces.append(Piece(weight, _spoken(question, substance, found, phrases)))
        pieces.append(Piece(4 + weight, _sources(found, phrases)))
    return fit([*pieces, Piece(3, phrases.raw("frame", "caution_short"))], LIMIT)


def unanswered(question: Question, region: Jurisdiction) -> bool:
    """Whether the tables leave the question open, so that a person should see it."""
    if not question.substances:
        return question.old is None and (question.product is None or bool(question.unknown))
    return any(not found.known for _, answers in _answers(question, region) for found in answers)


def _answers(question: Question, region: Jurisdiction) -> list[tuple[str, tuple[Answer, ...]]]:
    """What the tables say of each substance that is asked about."""
    return [(name, _of_one(question, name, region)) for name in question.substances[:SUBSTANCES]]


def _of_one(question: Question, name: str, region: Jurisdiction) -> tuple[Answer, ...]:
    """The answer itself, and what must be said with it: the dose of what comes, what it needs, what the sun does."""
    product = load_products().get(question.product or "")
    contact = question.contact or (product.contact if product is not None else None) or Contact.LEAVE_ON
    sites = question.sites or (product.sites if product is not None else ())
    kind = question.product
    more: tuple[Answer | None, ...] = ()
    site = sites[0] if sites else None
    settled = not_for(name, question.circumstances) or lye_for(
        name, question.into or "", question.batch, load_catalogue()
    )
    if settled is not None:
        return (settled,)
    if question.asks is Asks.SWAP and question.old is not None:
        found = swap(question.old, name, site, region, contact, kind)
        dose = how_much(name, site, region, contact, product=kind)
        if found.yes is not False and "limit" in dose.facts:
            more = (dose, keeps_from(name))
    elif question.asks is Asks.HOW_MUCH:
        found = how_much(name, site, region, contact, product=kind)
        more = (in_batch(found, question.batch, load_catalogue()), keeps_from(name) if found.known else None)
    else:
        found = _allowed(name, sites, region, contact, question)
    if found.known and found.yes is not False:
        more = (
            *more,
            sun_above(name, contact),
            constituent_bound(name, site, contact),
            banned_in_eu(name, site, region),
        )
    return (found, *(answer for answer in more if answer is not None))


def _allowed(name: str, sites: tuple[Site, ...], region: Jurisdiction, contact: Contact, question: Question) -> Answer:
    """May it go there; where no place is named and that would decide, the place is asked for."""
    places, sun = sites[:1] or PLACES, Claim.SUN_PROTECTION in question.claims
    found = [may_go(name, s, region, contact, product=question.product, sun=sun) for s in places]
    alike = all((answer.reason, answer.yes) == (found[0].reason, found[0].yes) for answer in found)
    return found[0] if alike else Answer(reason="by_place", yes=None)


def _spoken(question: Question, substance: str, answers: tuple[Answer, ...], phrases: Phrases) -> str:
    known = substance_name(load_catalogue()[substance], phrases)
    if answers[0].reason == "by_place":
        return sentence(phrases.say("kind", "question_no_site", substance=known))
    parts = [_said(answer, substance, phrases) for answer in answers]
    if (limit := answers[0].facts.get("limit")) is not None and question.share is not None:
        key = "share_over" if question.share > float(limit) else "share_within"
        parts.append(phrases.say("answer", key, share=number_or_name(question.share, phrases.mark)))
    if question.asks is Asks.MAY and (praised := _praised(question, substance)) is not None:
        parts.append(phrases.say("reason", praised, substance=known))
    named = len(question.substances) > 1 or question.asks is Asks.HOW_MUCH
    words = "; ".join(parts)
    return sentence(f"{known}: {words}" if named else words)


def _praised(question: Question, name: str) -> str | None:
    """What "non-toxic", "natural", "chemical-free" and "edible" do not say of it: a key of the table [reason]."""
    substance = load_catalogue()[name]
    if Claim.NATURAL in question.claims and substance.shelf is Shelf.CRAFT:
        return "non_toxic_is_about_art"
    if Claim.NATURAL in question.claims and not substance.roles.isdisjoint(STINGING):
        return "natural_can_irritate"
    edible = Claim.EDIBLE in question.claims and substance.shelf is Shelf.FOOD
    return "edible_is_not_skin_safe" if edible else None


def _said(answer: Answer, substance: str, phrases: Phrases) -> str:
    facts = {"note": "", "substance": substance, **answer.facts}
    if isinstance(locator := facts.get("locator"), str):
        facts["locator"] = PLAIN_LOCATOR.split(locator)[0]
    known = spoken(facts, phrases, load_catalogue())
    return phrases.try_say("answer", answer.reason, known) or phrases.raw("kind", "question_unknown")


def _without_stand_in(question: Question, region: Jurisdiction, phrases: Phrases) -> str:
    """What commonly stands in, where the question names only what would go."""
    catalogue = load_catalogue()
    if question.old is None:
        return phrases.raw("kind", "question_unknown")
    known = substance_name(catalogue[question.old], phrases)
    site = question.sites[0] if question.sites else None
    names = [substance_name(catalogue[name], phrases) for name in stand_ins(question.old, site, region)]
    if not names:
        return sentence(phrases.say("answer", "swap_none_known", substance=known))
    return sentence(phrases.say("answer", "swap_needs_new", substance=known, names=", ".join(names)))


def _sources(answers: tuple[Answer, ...], phrases: Phrases) -> str:
    named = dict.fromkeys(source for answer in answers for source in answer.sources if source in load_sources())
    titles = [_title(load_sources()[source], phrases) for source in named]
    if len(titles) > 1:  # there is room for their names alone
        titles = [title.partition(":")[0] for title in titles]
    return phrases.say("frame", "source", sources="; ".join(titles)) if titles else ""


def _title(source: Source, phrases: Phrases) -> str:
    """The title; where the text was not opened, that is said."""
    if source.checked is Checked.READ or source.basis is Basis.COMMON_PRACTICE:
        return source.title
    return phrases.say("answer", "remembered", title=source.title)
