"""What each recipe is for: product, place on the body, contact, keeping, claims, circumstances."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

from spacy.language import Language
from spacy.tokens import Doc

from nlp.components.clues import clues_of, elsewhere, sign_of, washing_of
from nlp.components.cues import Cue, lexicon_of
from nlp.draft import Entry
from nlp.lexicon import ENGLISH, Lexicon, load_lexicon
from nlp.likely import load_likely
from nlp.passing import is_in_passing
from nlp.phrases import Hit, Phrases
from nlp.titles import product_is_named
from nlp.tokens import NormalisingTokenizer, Words, fold, register
from nlp.use import DENIED, contact_of, is_denied, keeping_of, sites_of, value
from rules.products import Product
from rules.recipe import Circumstance, Claim, Contact, Keeping, Site

_LOOK_AT = 1500  # words that may tell the use


@dataclass(frozen=True, slots=True)
class Context:
    """As the message says it or the kind of product implies; sites in order. `guessed`: nothing names the product."""

    product: str | None = None
    sites: tuple[Site, ...] = ()
    contact: Contact | None = None
    keeping: Keeping | None = None
    claims: frozenset[Claim] = frozenset()
    circumstances: frozenset[Circumstance] = frozenset()
    guessed: bool = False


class Products:
    """Sets `doc._.product_hits` and `doc._.named`, and takes the names of what is made out of the mentions."""

    def __init__(self, tokenizer: NormalisingTokenizer) -> None:
        self._tokenizer = tokenizer
        self._tables: dict[str, Phrases[str]] = {}
        self.products: dict[str, Product] = {}

    def learn(self, products: Mapping[str, Product]) -> None:
        self.products = dict(products)
        self._tables = {ENGLISH: self._learnt(load_lexicon(ENGLISH))}

    def _table(self, lexicon: Lexicon) -> Phrases[str]:
        if lexicon.language not in self._tables:
            self._tables[lexicon.language] = self._learnt(lexicon)
        return self._tables[lexicon.language]

    def _learnt(self, lexicon: Lexicon) -> Phrases[str]:
        table: Phrases[str] = Phrases()
        for product in self.products.values():
            own = lexicon.products.get(product.id, ())
            english = sorted({product.name, *product.aliases}) if lexicon.language == ENGLISH else []
            for name in (*own, *english):
                words = self._tokenizer.pieces(name)
                table.add([lexicon.small.get(word, word) for word in words], product.id)
        return table

    def __call__(self, doc: Doc) -> Doc:
        words: Words = doc._.words
        hits = self._table(lexicon_of(doc)).find_longest(words.norm)
        begins = frozenset(measure.start for measure in doc._.amounts)
        ends = frozenset(measure.end for measure in doc._.amounts)
        classes = lexicon_of(doc).words
        named = [
            hit
            for hit in hits
            if words.at(hit.start - 1) not in DENIED
            and product_is_named(words, hit.start, hit.end, begins, ends, classes["adding"])
            and not is_in_passing(words, hit.start, hit.end, classes)
        ]
        made = {hit.value for hit in named}
        told = frozenset(measure.end for measure in doc._.amounts if measure.written or measure.unit is not None)
        first = set(named)
        again = [hit for hit in hits if hit not in first and hit.value in made and _is_repeat(words, hit, told)]
        # "castile soap 1 cup": an amount behind the name may still make an ingredient of it.
        taken = {at for hit in (*named, *again) if hit.end not in begins for at in range(hit.start, hit.end)}
        doc._.mentions = [m for m in doc._.mentions if not (m.start in taken or m.end - 1 in taken)]
        doc._.product_hits, doc._.named, doc._.products = hits, named, self.products
        doc._.made = frozenset(taken)
        return doc


def _is_repeat(words: Words, hit: Hit[str], ends: frozenset[int]) -> bool:
    """ "put some toner on a pad": what is made, named again, unless an amount or a list makes an ingredient of it."""
    before = words.at(hit.start - 1)
    return hit.start not in ends and hit.start - 1 not in ends and before not in (",", "+", "&", "•", "-", "*", "of")


def contexts(doc: Doc) -> Doc:
    """Sets `doc._.contexts`, one for each recipe in `doc._.recipes`, and at least one."""
    parts: list[list[Entry]] = doc._.recipes or [[]]
    # A heading stands before the first ingredient of its part.
    begins = [_heading(doc, one[-1].end, other[0].start) for one, other in pairwise(parts)]
    bounds = [0, *begins, len(doc._.words)]
    doc._.contexts = [_context(doc, part, *bound) for part, bound in zip(parts, pairwise(bounds), strict=True)]
    return doc


def _heading(doc: Doc, last: int, first: int) -> int:
    """Where the text of a recipe begins: behind the `last` token of the one before, up to its own `first`."""
    words: Words = doc._.words
    at: int = next((hit.start for hit in doc._.named if last <= hit.start < first), first)
    while at > last and not (words.is_break(at - 1) or words.at(at - 1) in (".", ";")):
        at -= 1
    return at


def _context(doc: Doc, part: list[Entry], begin: int, end: int) -> Context:
    words: Words = doc._.words
    named = [hit for hit in doc._.named if begin <= hit.start < end]
    cues: dict[str, list[Cue]] = {}
    for cue in doc._.cues:
        if begin <= cue.start < min(end, begin + _LOOK_AT):
            cues.setdefault(cue.label.partition(".")[0], []).append(cue)
    looked_at = range(begin, min(end, begin + _LOOK_AT))
    product: Product | None
    contact: Contact | None
    if part and not named:
        product, sites, contact = _guessed(doc, part, looked_at, cues.get("site", []))
    else:
        place = sites_of(words, cues.get("site", []), None, elsewhere(doc))
        product = _named_product(doc, part, looked_at, named, place)
        sites = sites_of(words, cues.get("site", []), product, elsewhere(doc))
        said = washing_of(doc, looked_at, sites)
        contact = said or contact_of(words, cues.get("contact", []), product, sites)
    return Context(
        product=product.id if product else None,
        sites=sites,
        contact=contact,
        keeping=keeping_of(cues.get("keeping", [])),
        claims=frozenset(Claim(value(cue)) for cue in cues.get("claim", []) if not is_denied(words, cue)),
        circumstances=frozenset(
            Circumstance(value(cue)) for cue in cues.get("circumstance", []) if not is_denied(words, cue)
        ),
        guessed=product is not None and not named,
    )


def _guessed(
    doc: Doc, part: list[Entry], looked_at: range, cues: list[Cue]
) -> tuple[Product, tuple[Site, ...], Contact]:
    """What a recipe without a name most likely is; what the words say of place and contact leads the guess."""
    products: dict[str, Product] = doc._.products
    place = sites_of(doc._.words, cues, None, elsewhere(doc))
    said = washing_of(doc, looked_at, place)
    likely = load_likely().use(clues_of(doc, part, looked_at), products, place[0] if len(place) == 1 else None, said)
    return products[likely.product], likely.sites, likely.contact


def _named_product(
    doc: Doc, part: list[Entry], looked_at: range, named: list[Hit[str]], place: tuple[Site, ...]
) -> Product | None:
    """The kind that is named; a name of one word ("balm") is made more exact by what goes in, unless the words tell
    another place: a balm for the heels is no lip balm."""
    products: dict[str, Product] = doc._.products
    said = products.get(_first(named)) if named else None
    if said is None or any(hit.end - hit.start > 1 for hit in named):
        return said
    sign = products.get(sign_of(doc, part, looked_at) or "")
    if sign is None or not _is_kind_of(sign, doc._.words, named):
        return said
    return sign if not place or set(place) & set(sign.sites) else said


def _is_kind_of(guess: Product, words: Words, named: list[Hit[str]]) -> bool:
    """ "balm" names a kind; what goes in tells that it is a lip balm."""
    return any(fold(guess.name.split()[-1]) == words.norm[hit.start] for hit in named)


def _first(named: list[Hit[str]]) -> str:
    """The product named first; a longer name beats a shorter one soon before it."""
    return min(named, key=lambda hit: hit.start - 4 * (hit.end - hit.start)).value


@Language.factory("watchglass_products", assigns=["doc._.named"])
def create(nlp: Language, name: str) -> Products:  # noqa: ARG001 spaCy calls a factory with the name of the pipe
    return Products(nlp.tokenizer)  # type: ignore[arg-type]


@Language.component("watchglass_context", assigns=["doc._.contexts"])
def component(doc: Doc) -> Doc:
    return contexts(doc)


register([("contexts", ()), ("product_hits", ()), ("named", ()), ("products", None), ("made", frozenset())])
