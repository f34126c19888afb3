"""What the whole message says: product, place on the body, contact, keeping, claims, circumstances."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from spacy.language import Language
from spacy.tokens import Doc

from nlp.components.cues import Cue, lexicon_of
from nlp.phrases import Hit, Phrases
from nlp.titles import product_is_named
from nlp.tokens import NormalisingTokenizer, Words, register
from rules.products import Product
from rules.recipe import Circumstance, Claim, Contact, Keeping, Site

_DENIED = frozenset({"no", "not", "never", "avoid", "avoiding", "without", "isn't", "don't", "than", "off", "away", "from", "outside", "except", "into"})


@dataclass(frozen=True, slots=True)
class Context:
    """As the message says it or as the named product implies; sites in order, the main one first."""

    product: str | None = None
    sites: tuple[Site, ...] = ()
    contact: Contact | None = None
    keeping: Keeping | None = None
    claims: frozenset[Claim] = frozenset()
    circumstances: frozenset[Circumstance] = frozenset()
    denied: frozenset[Site] = field(default=frozenset())


class ContextReader:
    """Sets `doc._.context` for the whole message. `learn` fills it with the kinds of product."""

    def __init__(self, tokenizer: NormalisingTokenizer) -> None:
        self._tokenizer = tokenizer
        self._table: Phrases[str] = Phrases()
        self._products: dict[str, Product] = {}

    def learn(self, products: Mapping[str, Product]) -> None:
        self._table = Phrases()
        self._products = dict(products)
        for product in products.values():
            for name in sorted({product.name, *product.aliases}):
                self._table.add(self._tokenizer.pieces(name), product.id)

    def __call__(self, doc: Doc) -> Doc:
        words: Words = doc._.words
        spans = self._table.find_longest(words.norm)
        ends = [measure.end for measure in doc._.amounts]
        adding = lexicon_of(doc).words["adding"]
        named = [s for s in spans if words.at(s[0] - 1) not in _DENIED and product_is_named(words, s[0], s[1], ends, adding)]
        self._drop_named(doc, named)
        product = self._products[_first(named)] if named else None
        doc._.context = read_context(words, doc._.cues, product)
        doc._.product_spans = [(start, end) for start, end, _ in spans]
        return doc

    @staticmethod
    def _drop_named(doc: Doc, named: list[Hit[str]]) -> None:
        """What is made is no ingredient of itself."""
        taken = {at for start, end, _ in named for at in range(start, end)}
        doc._.mentions = [m for m in doc._.mentions if not (m.start in taken or m.end - 1 in taken)]


def _first(named: list[Hit[str]]) -> str:
    """The product named first; a longer name beats a shorter one soon before it."""
    return min(named, key=lambda span: span[0] - 4 * (span[1] - span[0]))[2]


def read_context(words: Words, cues: Iterable[Cue], product: Product | None) -> Context:
    by_group: dict[str, list[Cue]] = {}
    for cue in cues:
        by_group.setdefault(cue.label.partition(".")[0], []).append(cue)
    sites, denied = _sites(words, by_group.get("site", []), product)
    claims = frozenset(Claim(_value(cue)) for cue in by_group.get("claim", []))
    return Context(
        product=product.id if product else None,
        sites=sites,
        contact=_contact(by_group.get("contact", []), product),
        keeping=_keeping(by_group.get("keeping", []), product),
        claims=claims,
        circumstances=frozenset(Circumstance(_value(cue)) for cue in by_group.get("circumstance", [])),
        denied=denied,
    )


def _value(cue: Cue) -> str:
    return cue.label.partition(".")[2]


def _sites(words: Words, cues: list[Cue], product: Product | None) -> tuple[tuple[Site, ...], frozenset[Site]]:
    """The product's sites first; words of the body add to them or, without a product, stand alone."""
    denied = frozenset(Site(_value(cue)) for cue in cues if _is_denied(words, cue))
    said: dict[Site, int] = {}
    for cue in cues:
        if not _is_denied(words, cue):
            site = Site(_value(cue))
            said[site] = said.get(site, 0) + 1
    ordered = sorted(said, key=lambda site: -said[site])
    if product is None:
        return tuple(ordered[:3]), denied
    if len(product.sites) > 1:
        named = [site for site in ordered if site in product.sites]
        return tuple(dict.fromkeys([*named, *product.sites])), denied
    return product.sites, denied


def _is_denied(words: Words, cue: Cue) -> bool:
    return any(words.at(at) in _DENIED for at in range(cue.start - 3, cue.start) if at >= 0)


def _contact(cues: list[Cue], product: Product | None) -> Contact | None:
    said = {_value(cue) for cue in cues}
    if product is not None:
        return product.contact
    if said == {"rinse_off"}:
        return Contact.RINSE_OFF
    return Contact.LEAVE_ON if "leave_on" in said else None


def _keeping(cues: list[Cue], product: Product | None) -> Keeping | None:
    said = {_value(cue) for cue in cues}
    if "single_use" in said:
        return Keeping.SINGLE_USE
    if "kept" in said:
        return Keeping.KEPT
    return product.keeping if product else None


@Language.factory("watchglass_context", assigns=["doc._.context"])
def create(nlp: Language, name: str) -> ContextReader:  # noqa: ARG001 spaCy calls a factory with the name of the pipe
    return ContextReader(nlp.tokenizer)  # type: ignore[arg-type]


register([("context", Context()), ("product_spans", ())])
