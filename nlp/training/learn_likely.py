"""Makes nlp/model/likely.npz: `python -m nlp.training.learn_likely` (needs the extra `train`; a minute on one core).

Learns from untitled/*.tsv and from the train split of the corpus, product names hidden; the same input gives the
same file. Prints how often place and contact are right on recipes that it has not seen: five parts by turns, and the
dev split.
"""

from __future__ import annotations

import argparse
import hashlib
import sys
from collections.abc import Sequence
from importlib.resources import files
from pathlib import Path

import numpy as np
from sklearn.feature_extraction import DictVectorizer
from sklearn.linear_model import LogisticRegression

from nlp.likely import Likely
from nlp.reader import build_pipeline
from nlp.training.annotated import Split
from nlp.training.examples import Counts, Example, annotated, clues_in, score, untitled
from rules.catalogue import load_catalogue
from rules.products import Product, load_products

_STRENGTH = 4.0  # inverse of the regularisation; chosen on five parts by turns among 1, 4 and 16
_PARTS = 5


def learn(clues: Sequence[frozenset[str]], products: Sequence[str]) -> Likely:
    vectoriser = DictVectorizer()
    matrix = vectoriser.fit_transform([dict.fromkeys(sorted(row), 1.0) for row in clues])
    model = LogisticRegression(C=_STRENGTH, max_iter=3000, class_weight="balanced").fit(matrix, list(products))
    rows = {str(name): row for row, name in enumerate(vectoriser.feature_names_)}
    kinds = tuple(str(kind) for kind in model.classes_)
    return Likely(rows, kinds, model.coef_.T.astype(np.float32), model.intercept_.astype(np.float32))


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
