"""A recipe that is like a known one and judged otherwise: what is different, "the same, but with a preservative"."""

from __future__ import annotations

from bot.queue.likeness import Sketch
from bot.words.clean import clean_words
from bot.words.names import substance_name
from bot.words.phrases import Phrases
from rules.assessment import Verdict
from rules.catalogue import load_catalogue
from rules.recipe import Frozen, Site

DOUBLE = 2.0  # a share that grew or shrank so many times is worth saying (own choice)
NAMED = 3  # differences of one kind that are named


class Difference(Frozen):
    """Tokens of two sketches, those that tell most first. `sites` only where the place is another."""

    added: tuple[str, ...] = ()
    gone: tuple[str, ...] = ()
    more: tuple[str, ...] = ()
    less: tuple[str, ...] = ()
    sites: tuple[Site, ...] = ()


class Variant(Frozen):
    """The known case that a recipe is like, its verdict, and what the recipe has otherwise."""

    case: int
    verdict: Verdict
    difference: Difference


def difference(known: Sketch, wanted: Sketch) -> Difference:
    """What `wanted` has that `known` has not, by substance and by share."""
    shares = {token: (known.shares[token], wanted.shares[token]) for token in sorted(known.tokens & wanted.tokens)}
    figures = {token: (old, new) for token, (old, new) in shares.items() if old and new}
    return Difference(
        added=_by_share(wanted.tokens - known.tokens, wanted),
        gone=_by_share(known.tokens - wanted.tokens, known),
        more=tuple(token for token, (old, new) in figures.items() if new >= old * DOUBLE),
        less=tuple(token for token, (old, new) in figures.items() if old >= new * DOUBLE),
        sites=() if set(known.sites) & set(wanted.sites) or not known.sites else wanted.sites,
    )


def _by_share(tokens: frozenset[str], held: Sketch) -> tuple[str, ...]:
    return tuple(sorted(tokens, key=lambda token: (-(held.shares[token] or 0.0), token)))


def variant_words(variant: Variant, phrases: Phrases) -> str:
    """One line for the creator."""
    apart = variant.difference
    kinds = (("with", apart.added), ("without", apart.gone), ("more", apart.more), ("less", apart.less))
    parts = [phrases.say("variant", kind, names=_names(tokens, phrases)) for kind, tokens in kinds if tokens]
    if apart.sites:
        places = ", ".join(phrases.word("site", site) for site in apart.sites)
        parts.append(phrases.say("variant", "place", places=places))
    change = ", ".join(parts) or phrases.raw("variant", "amounts")
    return phrases.say("variant", "line", case=variant.case, verdict=variant.verdict.value, change=change)


def _names(tokens: tuple[str, ...], phrases: Phrases) -> str:
    """What changes the judgement first: the substances whose role has a word of its own."""
    ranked = sorted(tokens, key=lambda token: not _role(token, phrases))
    shown = [_name(token, phrases) for token in ranked[:NAMED]]
    return ", ".join(shown) + (phrases.raw("variant", "and_others") if len(ranked) > NAMED else "")


def _name(token: str, phrases: Phrases) -> str:
    known = load_catalogue().get(token)
    if known is None:
        return clean_words(token.lstrip("?").replace("_", " "))
    name, role = substance_name(known, phrases), _role(token, phrases)
    return phrases.say("variant_role", role, name=name) if role else name


def _role(token: str, phrases: Phrases) -> str:
    """The role by which a substance changes a judgement; empty where it has none."""
    known = load_catalogue().get(token)
    spoken = phrases.tables.get("variant_role", {})
    return next((role for role in spoken if known is not None and role in known.roles), "")
