"""Where a product goes and how long it stays there, from its kind and from what the words say."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from nlp.components.cues import Cue
from nlp.tokens import Words
from rules.products import Product
from rules.recipe import Contact, Keeping, Site

DENIED = frozenset({
    "no", "not", "never", "avoid", "avoiding", "without", "isn't", "don't", "than", "off", "away", "from", "outside",
    "except",
})  # fmt: skip
_TOWARDS = frozenset({"on", "onto", "for", "to", "my", "your", "her", "his", "into", "the", "over"})
# Parts of the body that a kind of product for another part rarely mentions by chance.
_NARROW = frozenset({Site.LIPS, Site.EYE_AREA, Site.NAILS, Site.MOUTH, Site.HAIR, Site.FEET, Site.BATH})
_DENIES = 6  # words that a denial reaches
_PRODUCT_NARROW, _PRODUCT_FIRST, _PRODUCT_OTHER = 4.0, 2.4, 2.0
_SAID, _SAID_AGAIN, _SAID_MOST = 1.5, 0.6, 3.5
_MOST_SITES = 3


def value(cue: Cue) -> str:
    return cue.label.partition(".")[2]


def is_denied(words: Words, cue: Cue) -> bool:
    """ "avoid getting it in your eyes", "not on lips", "keep away from": shortly before it, in the same clause."""
    for at in range(cue.start - 1, max(-1, cue.start - 1 - _DENIES), -1):
        if words.at(at) in DENIED:
            return True
        if words.is_break(at) or words.at(at) in (".", ",", ";", "!", "?", ":"):
            return False
    return False


def _is_water_bath(words: Words, cue: Cue) -> bool:
    """ "over a water bath": for melting, not for bathing."""
    return words.at(cue.start) == "bath" and words.at(cue.start - 1) in ("water", "steam", "ice", "oil")


def sites_of(words: Words, cues: Iterable[Cue], product: Product | None, named: frozenset[int]) -> tuple[Site, ...]:
    """Points from the kind of product and from words of the body, best first; `named` are tokens of product names."""
    points: dict[Site, float] = {}
    for place, site in enumerate(product.sites if product else ()):
        narrow = place == 0 and site in _NARROW
        points[site] = _PRODUCT_NARROW if narrow else _PRODUCT_FIRST if place == 0 else _PRODUCT_OTHER
    said: dict[Site, float] = {}
    for cue in cues:
        if cue.start in named or is_denied(words, cue) or _is_water_bath(words, cue):
            continue
        site = Site(value(cue))
        weight = _SAID if site not in said else _SAID_AGAIN
        said[site] = min(_SAID_MOST, said.get(site, 0.0) + weight + 0.3 * (words.at(cue.start - 1) in _TOWARDS))
    for site, weight in said.items():
        points[site] = points.get(site, 0.0) + weight
    ranked = sorted(points, key=lambda site: -points[site])
    if not ranked:
        return ()
    bar = points[ranked[0]] * 0.5
    return tuple(site for site in ranked if points[site] >= bar)[:_MOST_SITES]


def contact_of(words: Words, cues: Sequence[Cue], product: Product | None, sites: tuple[Site, ...]) -> Contact | None:
    """The kind of product decides; without one, what is said; at last where it goes."""
    said = {value(cue) for cue in cues if words.at(cue.start - 1) not in ("to", "don't", "not")}
    if product is not None:
        return product.contact
    if "rinse_off" in said and "leave_on" not in said:
        return Contact.RINSE_OFF
    if "leave_on" in said or (sites and Site.BATH not in sites and Site.MOUTH not in sites):
        return Contact.LEAVE_ON
    return Contact.RINSE_OFF if sites else None


def keeping_of(cues: Iterable[Cue]) -> Keeping | None:
    """As the message says; what the kind of product implies is settled by the rules."""
    said = {value(cue) for cue in cues}
    if "single_use" in said:
        return Keeping.SINGLE_USE
    if "kept" in said:
        return Keeping.KEPT
    return None
