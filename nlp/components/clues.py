"""What speaks for one kind of product or another: for the hand-written signs and for the learned model."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from spacy.tokens import Doc

from nlp.components.cues import Cue, lexicon_of
from nlp.components.substances import names_of
from nlp.draft import Entry
from nlp.mention import Mention
from nlp.phrases import Hit
from nlp.signs import guess_product
from nlp.tokens import Words
from nlp.use import sites_of
from nlp.washing import Scene, contact_said
from rules.catalogue import Catalogue
from rules.recipe import Contact, Site, Unit

_TELLING = ("site", "contact", "keeping", "claim", "circumstance")
_SHORTEST = 3  # letters
_SMALL = frozenset({Unit.DROP, Unit.PINCH})


def elsewhere(doc: Doc) -> frozenset[int]:
    """Tokens of names: a hand cream is no hand, and coconut flesh no body."""
    return frozenset(at for piece in (*doc._.product_hits, *doc._.mentions) for at in range(piece.start, piece.end))


def washing_of(doc: Doc, within: range, sites: tuple[Site, ...]) -> Contact | None:
    """What the words of `within` say of washing off; "rinse" in the name of a product says nothing."""
    words: Words = doc._.words
    named = {at: hit for hit in (*doc._.mentions, *doc._.product_hits) for at in range(hit.start, hit.end)}
    cues = [cue for cue in doc._.washing if cue.start in within and not _is_part(cue, named.get(cue.start))]
    if not cues:
        return None
    names = frozenset(at for mention in doc._.mentions for at in range(mention.start, mention.end))
    places = frozenset(cue.start for cue in doc._.cues if cue.label.startswith("site."))
    return contact_said(Scene(words, lexicon_of(doc).words, names, places, sites), cues)


def _is_part(cue: Cue, name: Mention | Hit[str] | None) -> bool:
    """Whether the words of a cue are part of a longer name."""
    return name is not None and cue.end <= name.end and cue.end - cue.start < name.end - name.start


def sign_of(doc: Doc, part: Iterable[Entry], within: range) -> str | None:
    """What signs.toml makes of the ingredients of `part` and of the free words of `within`."""
    catalogue = names_of(doc).catalogue
    ingredients = []
    for entry in part:
        substance = catalogue.get(entry.mention.substance)
        if substance is not None:
            much = entry.measure is not None and entry.measure.unit not in _SMALL and entry.measure.best > 0
            ingredients.append((substance, much))
    named = {at for mention in doc._.mentions for at in range(mention.start, mention.end)}
    norm = doc._.words.norm
    return guess_product(ingredients, [norm[at] for at in within if at not in named])


def clues_of(doc: Doc, part: list[Entry], within: range) -> frozenset[str]:
    """Ingredients with family and roles, units, telling words, and what the signs make of it.

    The name of a product is no clue: the model learns from recipes as if they had none.
    """
    words: Words = doc._.words
    taken = {at for hit in doc._.product_hits for at in range(hit.start, hit.end)}
    cues = [cue for cue in doc._.cues if cue.start in within and cue.start not in taken]
    clues = {f"cue:{cue.label}" for cue in cues if cue.label.partition(".")[0] in _TELLING}
    catalogue = names_of(doc).catalogue
    for entry in part:
        taken.update(range(entry.start, entry.end))
        if entry.measure is not None:
            taken.update(range(entry.measure.start, entry.measure.end))
        if entry.head is None:
            clues.update(_of_entry(entry, catalogue))
    clues.update(f"word:{word}" for word in _free_words(words, within, taken))
    if (sign := sign_of(doc, part, within)) is not None:
        clues.add(f"sign:{sign}")
    clues.update(f"said:{site}" for site in sites_of(words, _of_sites(cues), None, elsewhere(doc))[:1])
    return frozenset(clues)


def _of_sites(cues: Iterable[Cue]) -> Iterator[Cue]:
    return (cue for cue in cues if cue.label.startswith("site."))


def _free_words(words: Words, within: range, taken: set[int]) -> Iterator[str]:
    for at in within:
        if at not in taken and words.is_word(at) and len(words.norm[at]) >= _SHORTEST:
            yield words.norm[at]


def _of_entry(entry: Entry, catalogue: Catalogue) -> Iterator[str]:
    substance = catalogue.get(entry.mention.substance)
    if substance is not None:
        yield f"is:{substance.id}"
        yield f"family:{catalogue.family(substance.id)}"
        yield from (f"role:{role}" for role in substance.roles)
    if entry.measure is not None and (amount := entry.measure.amount()) is not None and amount.unit is not None:
        yield f"unit:{amount.unit}"
