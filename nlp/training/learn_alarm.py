"""Makes nlp/model/alarm.npz: `python -m nlp.training.learn_alarm` (needs the extra `train`; a minute on one core).

Learns from the train and dev splits of the corpus and from untitled/*.tsv, where nobody is hurt; the same
input gives the same file. Prints, for thresholds, recall and false alarms of model and rules on families not seen.
"""

from __future__ import annotations

import argparse
import hashlib
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_matrix
from sklearn.linear_model import LogisticRegression
from spacy.language import Language

from nlp.alarm import BUCKETS, CALM, Alarm, buckets_of
from nlp.components.urgent import by_rules
from nlp.reader import build_pipeline
from nlp.reading import Kind
from nlp.training.annotated import Split, load_corpus
from nlp.training.examples import untitled
from rules.catalogue import load_catalogue
from rules.products import load_products

_STRENGTH = 30.0  # inverse of the regularisation
_PARTS = 5
_THRESHOLDS = (0.2, 0.25, 0.3, 0.35, 0.4, 0.5)
_VETOES = (0.0, 0.03, 0.06, 0.1)


@dataclass(frozen=True, slots=True)
class Example:
    """A message as features; `kind` is an emergency or CALM, `ruled` what the rules alone say."""

    buckets: NDArray[np.int64]
    kind: str
    ruled: bool
    group: str
    split: Split


def examples_in(pipeline: Language) -> list[Example]:
    rows = [(m.text, str(m.emergency) if m.kind is Kind.URGENT else CALM, m.family, m.split) for m in load_corpus()]
    rows += [(e.text, CALM, e.group, Split.TRAIN) for e in untitled(load_products())]
    docs = pipeline.pipe(row[0] for row in rows)
    return [
        Example(
            buckets_of(doc._.words.norm, (cue.label for cue in doc._.cues)),
            kind,
            by_rules(doc) is not None,
            family,
            split,
        )
        for doc, (_, kind, family, split) in zip(docs, rows, strict=True)
    ]


def learn(examples: Sequence[Example]) -> Alarm:
    ends = np.cumsum([0, *(len(e.buckets) for e in examples)])
    data = np.concatenate([np.full(len(e.buckets), len(e.buckets) ** -0.5) for e in examples if len(e.buckets)])
    matrix = csr_matrix((data, np.concatenate([e.buckets for e in examples]), ends), shape=(len(examples), BUCKETS))
    model = LogisticRegression(C=_STRENGTH, max_iter=2000).fit(matrix, [e.kind for e in examples])
    kinds = tuple(str(kind) for kind in model.classes_)
    return Alarm(kinds, model.coef_.T.astype(np.float32), model.intercept_.astype(np.float32))


def by_turns(examples: Sequence[Example]) -> list[tuple[Example, dict[str, float]]]:
    """Each example with the chances that a model gives it which has not seen its family."""
    parts = np.array([int(hashlib.sha256(e.group.encode()).hexdigest(), 16) % _PARTS for e in examples])
    found = []
    for part in range(_PARTS):
        model = learn([e for e, p in zip(examples, parts, strict=True) if p != part])
        found += [(e, model.chances(e.buckets)) for e, p in zip(examples, parts, strict=True) if p == part]
    return found


def report(title: str, judged: Sequence[tuple[Example, dict[str, float]]]) -> str:
    """Recall, false alarms and the right emergency, by threshold and by the chance under which the rules yield."""
    lines = [title]
    hurt = [(e, c) for e, c in judged if e.kind != CALM]
    calm = [(e, c) for e, c in judged if e.kind == CALM]
    for threshold in _THRESHOLDS:
        for veto in _VETOES:
            caught = [_says(e, c, threshold, veto) for e, c in hurt]
            false = [_says(e, c, threshold, veto) for e, c in calm]
            lines.append(f"  at {threshold} veto {veto}: recall {np.mean(caught):.4f} false {np.mean(false):.4f}")
    kinds = [max((k for k in c if k != CALM), key=c.__getitem__) == e.kind for e, c in hurt]
    lines.append(f"  emergency {np.mean(kinds):.4f}; rules: {np.mean([e.ruled for e, _ in hurt]):.4f}")
    return "\n".join(lines) + "\n"


def _says(example: Example, chances: dict[str, float], threshold: float, veto: float) -> bool:
    hurt = 1 - chances[CALM]
    return hurt >= threshold or (example.ruled and hurt >= veto)


def store(model: Alarm, path: Path) -> None:
    np.savez_compressed(
        path,
        kinds=np.array(model.kinds),
        weights=model.weights.astype(np.float16),
        bias=model.bias.astype(np.float16),
    )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--out", type=Path, default=Path(str(files("nlp").joinpath("model", "alarm.npz"))))
    out: Path = parser.parse_args().out
    examples = examples_in(build_pipeline(load_catalogue(), load_products()))
    train = [e for e in examples if e.split is not Split.TEST]
    model = learn(train)
    store(model, out)
    sys.stdout.write(report("unseen, five parts by turns", by_turns(train)))
    sys.stdout.write(f"written: {out} ({out.stat().st_size / 1e6:.2f} MB)\n")


if __name__ == "__main__":
    main()
