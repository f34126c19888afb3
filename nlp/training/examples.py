"""Recipes with their kind of product, as the model of likely products learns and is scored on; needs no extra."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from importlib.resources import files

import numpy as np
from numpy.typing import NDArray
from spacy.language import Language

from nlp.components.clues import clues_of
from nlp.likely import Likely
from nlp.reading import Kind
from nlp.training.annotated import Split, load_corpus
from rules.products import Product
from rules.recipe import Contact, Site

Counts = NDArray[np.int_]


@dataclass(frozen=True, slots=True)
class Example:
    """A recipe with its kind of product; `group` keeps near-identical ones in one part."""

    text: str
    product: str
    sites: tuple[Site, ...]
    contact: Contact
    group: str


def untitled(products: dict[str, Product]) -> Iterator[Example]:
    """The lines of untitled/*.tsv. "hair_oil/rinse_off": the words tell another contact than the kind implies.

    Raises ValueError for a product or a contact that is in no table.
    """
    for table in sorted(files("nlp").joinpath("training", "untitled").iterdir(), key=lambda t: t.name):
        if not table.name.endswith(".tsv"):
            continue
        for number, row in enumerate(table.read_text("utf-8").splitlines(), 1):
            if row.startswith("#") or not row.strip():
                continue
            name, _, text = row.partition("\t")
            product, _, told = name.partition("/")
            if product not in products:
                raise ValueError(f"{table.name}, line {number}: no product is called {product!r}")
            kind = products[product]
            contact = Contact(told) if told else kind.contact
            yield Example(text.replace("\\n", "\n"), product, kind.sites, contact, row)


def annotated(split: Split, products: dict[str, Product]) -> Iterator[Example]:
    """Recipes of the corpus whose product is in the table."""
    for message in load_corpus(split):
        if message.kind is Kind.RECIPE and message.product in products and message.sites and message.contact:
            yield Example(message.text, message.product, message.sites, message.contact, message.family)


def clues_in(pipeline: Language, examples: Sequence[Example]) -> list[frozenset[str]]:
    docs = pipeline.pipe(example.text for example in examples)
    return [clues_of(doc, list(doc._.entries), range(len(doc._.words))) for doc in docs]


def score(
    model: Likely, clues: Sequence[frozenset[str]], examples: Sequence[Example], products: dict[str, Product]
) -> Counts:
    """Number of right places and of right contacts."""
    right = np.zeros(2, dtype=int)
    for row, example in zip(clues, examples, strict=True):
        use = model.use(row, products)
        right += (use.sites[0] in example.sites, use.contact is example.contact)
    return right
