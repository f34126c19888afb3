"""Makes nlp/model/likely.npz: `python -m nlp.training.learn_likely` (needs the extra `train`; a minute on one core).

Learns from untitled/*.tsv and from the train split of the corpus, product names hidden; the same input gives the
same file. Prints how often place and contact are right on recipes that it has not seen: five parts by turns, and the
dev split.
"""

from __future__ import annotations

import argparse
import hashlib
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from sklearn.feature_extraction import DictVectorizer
from sklearn.linear_model import LogisticRegression
from spacy.language import Language

from nlp.components.clues import clues_of
from nlp.likely import Likely
from nlp.reader import build_pipeline
from nlp.reading import Kind
from nlp.training.annotated import Split, load_corpus
from rules.catalogue import load_catalogue
from rules.products import Product, load_products
from rules.recipe import Contact, Site

_STRENGTH = 4.0  # inverse of the regularisation; chosen on five parts by turns among 1, 4 and 16
_PARTS = 5
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
    """The lines of untitled/*.tsv. Raises ValueError for a product that is in no table."""
    for table in sorted(files("nlp").joinpath("training", "untitled").iterdir(), key=lambda t: t.name):
        if not table.name.endswith(".tsv"):
            continue
        for number, row in enumerate(table.read_text("utf-8").splitlines(), 1):
            if row.startswith("#") or not row.strip():
                continue
            product, _, text = row.partition("\t")
            if product not in products:
                raise ValueError(f"{table.name}, line {number}: no product is called {product!r}")
            kind = products[product]
            yield Example(text.replace("\\n", "\n"), product, kind.sites, kind.contact, row)


def annotated(split: Split, products: dict[str, Product]) -> Iterator[Example]:
    """Recipes of the corpus whose product is in the table."""
    for message in load_corpus(split):
        if message.kind is Kind.RECIPE and message.product in products and message.sites and message.contact:
            yield Example(message.text, message.product, message.sites, message.contact, message.family)


def clues_in(pipeline: Language, examples: Sequence[Example]) -> list[frozenset[str]]:
    docs = pipeline.pipe(example.text for example in examples)
    return [clues_of(doc, list(doc._.entries), range(len(doc._.words))) for doc in docs]


def learn(clues: Sequence[frozenset[str]], products: Sequence[str]) -> Likely:
    vectoriser = DictVectorizer()
    matrix = vectoriser.fit_transform([dict.fromkeys(sorted(row), 1.0) for row in clues])
    model = LogisticRegression(C=_STRENGTH, max_iter=3000, class_weight="balanced").fit(matrix, list(products))
    rows = {str(name): row for row, name in enumerate(vectoriser.feature_names_)}
    kinds = tuple(str(kind) for kind in model.classes_)
    return Likely(rows, kinds, model.coef_.T.astype(np.float32), model.intercept_.astype(np.float32))


def score(
    model: Likely, clues: Sequence[frozenset[str]], examples: Sequence[Example], products: dict[str, Product]
) -> Counts:
    """Number of right places and of right contacts."""
    right = np.zeros(2, dtype=int)
    for row, example in zip(clues, examples, strict=True):
        use = model.use(row, products)
        right += (use.sites[0] in example.sites, use.contact is example.contact)
    return right


def by_turns(clues: Sequence[frozenset[str]], examples: Sequence[Example], products: dict[str, Product]) -> Counts:
    parts = np.array([int(hashlib.sha256(e.group.encode()).hexdigest(), 16) % _PARTS for e in examples])
    right = np.zeros(2, dtype=int)
    for part in range(_PARTS):
        seen, held = np.flatnonzero(parts != part).tolist(), np.flatnonzero(parts == part).tolist()
        model = learn([clues[i] for i in seen], [examples[i].product for i in seen])
        right += score(model, [clues[i] for i in held], [examples[i] for i in held], products)
    return right


def store(model: Likely, path: Path) -> None:
    np.savez_compressed(
        path,
        clues=np.array(list(model.clues)),
        products=np.array(model.products),
        weights=model.weights.astype(np.float16),
        bias=model.bias.astype(np.float16),
    )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--out", type=Path, default=Path(str(files("nlp").joinpath("model", "likely.npz"))))
    out: Path = parser.parse_args().out
    products = load_products()
    pipeline = build_pipeline(load_catalogue(), products)
    examples = [*untitled(products), *annotated(Split.TRAIN, products)]
    clues = clues_in(pipeline, examples)
    dev = list(annotated(Split.DEV, products))
    say = sys.stdout.write
    say(f"{len(examples)} recipes, {len({e.product for e in examples})} kinds of product\n")
    place, contact = by_turns(clues, examples, products) / len(examples)
    say(f"unseen, five parts by turns: place {place:.3f}, contact {contact:.3f}\n")
    model = learn(clues, [example.product for example in examples])
    place, contact = score(model, clues_in(pipeline, dev), dev, products) / len(dev)
    say(f"dev split ({len(dev)}): place {place:.3f}, contact {contact:.3f}\n")
    store(model, out)
    say(f"written: {out} ({out.stat().st_size / 1e6:.2f} MB)\n")


if __name__ == "__main__":
    main()
