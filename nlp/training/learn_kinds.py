"""Makes nlp/model/kinds.npz: `python -m nlp.training.learn_kinds` (needs the extra `train`; half a minute on one core).

Learns from the train and dev splits of the corpus, emergencies left out; the same input gives the same file.
`--report` prints how often rules, and the model on top of them, are right on families not seen.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

import numpy as np
from spacy.language import Language

from nlp.components.kind import Evidence
from nlp.kinds import likeliest
from nlp.linear import Features, Linear, store_models
from nlp.reader import build_pipeline
from nlp.reading import Kind
from nlp.training.annotated import Split, load_corpus
from nlp.training.fitting import PARTS, fit, part_of
from rules.catalogue import load_catalogue
from rules.products import load_products

_KINDS = [kind for kind in Kind if kind is not Kind.URGENT]


@dataclass(frozen=True, slots=True)
class Example:
    """A message as features; `ruled` is what the rules say."""

    features: tuple[Features, Features]
    kind: Kind
    ruled: Kind
    group: str
    split: Split


def examples_in(pipeline: Language) -> list[Example]:
    messages = [message for message in load_corpus() if message.kind is not Kind.URGENT]
    examples = []
    with pipeline.select_pipes(disable=["kind"]):  # it needs what is learned here
        docs = pipeline.pipe(message.text for message in messages)
        for doc, message in zip(docs, messages, strict=True):
            evidence = Evidence(doc)
            ruled = evidence.kind()
            features = evidence.features(ruled)
            examples.append(Example(features, message.kind, ruled, message.family, message.split))
    return examples


def learn(examples: Sequence[Example]) -> Linear:
    return fit([one.features for one in examples], [str(one.kind) for one in examples], [str(kind) for kind in _KINDS])


def report(examples: Sequence[Example]) -> str:
    """Shares of right kinds, of the rules alone and of the model that has them as features."""
    right = []
    for part in range(PARTS):
        model = learn([one for one in examples if part_of(one.group) != part])
        for one in (one for one in examples if part_of(one.group) == part):
            right.append((one.ruled is one.kind, likeliest(model, *one.features) is one.kind))
    rules, model_too = np.mean(right, axis=0)
    return f"unseen, five parts by turns: rules {rules:.4f}, model on top {model_too:.4f}\n"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--out", type=Path, default=Path(str(files("nlp").joinpath("model", "kinds.npz"))))
    parser.add_argument("--report", action="store_true", help="Also learn five parts by turns and print the scores.")
    options = parser.parse_args()
    out: Path = options.out
    examples = [e for e in examples_in(build_pipeline(load_catalogue(), load_products())) if e.split is not Split.TEST]
    store_models({"kinds": learn(examples)}, out)
    if options.report:
        sys.stdout.write(report(examples))
    sys.stdout.write(f"written: {out} ({out.stat().st_size / 1e6:.2f} MB)\n")


if __name__ == "__main__":
    main()
