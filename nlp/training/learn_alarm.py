"""Makes nlp/model/alarm.npz: `python -m nlp.training.learn_alarm` (needs the extra `train`; a minute on one core).

Learns from the train and dev splits of the corpus and from untitled/*.tsv, where nobody is hurt; the same
input gives the same file. Prints, for thresholds, recall and false alarms of model and rules on families not seen.
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

from nlp.alarm import Alarm, Message
from nlp.components.urgent import by_rules, message_of, which
from nlp.linear import store_models
from nlp.reader import build_pipeline
from nlp.reading import Emergency, Kind
from nlp.training.annotated import Split, load_corpus
from nlp.training.examples import untitled
from nlp.training.fitting import PARTS, fit, part_of
from rules.catalogue import load_catalogue
from rules.products import load_products

_THRESHOLDS = (0.15, 0.2, 0.25, 0.3, 0.4, 0.5)


@dataclass(frozen=True, slots=True)
class Example:
    """A message as features; `emergency` is None where nobody is hurt."""

    message: Message
    emergency: Emergency | None
    group: str
    split: Split


Judged = tuple[Example, float, dict[Emergency, float]]


def examples_in(pipeline: Language) -> list[Example]:
    rows = [(m.text, m.emergency if m.kind is Kind.URGENT else None, m.family, m.split) for m in load_corpus()]
    rows += [(e.text, None, e.group, Split.TRAIN) for e in untitled(load_products())]
    examples = []
    with pipeline.select_pipes(disable=["urgent", "kind"]):  # they need what is learned here
        docs = pipeline.pipe(row[0] for row in rows)
        for doc, (_, emergency, family, split) in zip(docs, rows, strict=True):
            examples.append(Example(message_of(doc), emergency, family, split))
    return examples


def learn(examples: Sequence[Example]) -> Alarm:
    """One model tells whether somebody is hurt, the other, from the emergencies alone, how."""
    hurt = [example for example in examples if example.emergency is not None]
    whether = ["calm" if example.emergency is None else "hurt" for example in examples]
    return Alarm(
        fit([example.message.harm for example in examples], whether, ["hurt"]),
        fit([example.message.harm for example in hurt], [str(one.emergency) for one in hurt], list(Emergency)),
    )


def by_turns(examples: Sequence[Example]) -> list[Judged]:
    """Each example with the chances that a model gives it which has not seen its family."""
    found: list[Judged] = []
    for part in range(PARTS):
        model = learn([example for example in examples if part_of(example.group) != part])
        unseen = [example for example in examples if part_of(example.group) == part]
        found += [(one, model.hurts(one.message), model.emergencies(one.message)) for one in unseen]
    return found


def report(title: str, judged: Sequence[Judged]) -> str:
    """Recall and false alarms of rules, of the model and of both, by threshold, and the right emergency."""
    hurt = [row for row in judged if row[0].emergency is not None]
    calm = [row for row in judged if row[0].emergency is None]
    lines = [title, f"  rules: recall {_share(hurt, 2.0, True):.4f} false {_share(calm, 2.0, True):.4f}"]
    for bar in _THRESHOLDS:
        alone = f"model {_share(hurt, bar, False):.4f} false {_share(calm, bar, False):.4f}"
        both = f"both {_share(hurt, bar, True):.4f} false {_share(calm, bar, True):.4f}"
        lines.append(f"  at {bar}: {alone}; {both}")
    right = [which(example.message.told, how) is example.emergency for example, _, how in hurt]
    lines.append(f"  emergency right: {np.mean(right):.4f}")
    return "\n".join(lines) + "\n"


def _share(judged: Sequence[Judged], bar: float, rules: bool) -> float:
    return float(
        np.mean([chance >= bar or (rules and by_rules(example.message.told)) for example, chance, _ in judged])
    )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--out", type=Path, default=Path(str(files("nlp").joinpath("model", "alarm.npz"))))
    parser.add_argument("--report", action="store_true", help="Also learn five parts by turns and print the scores.")
    options = parser.parse_args()
    out: Path = options.out
    examples = examples_in(build_pipeline(load_catalogue(), load_products()))
    train = [e for e in examples if e.split is not Split.TEST]
    model = learn(train)
    store_models({"whether": model.whether, "how": model.how}, out)
    if options.report:
        sys.stdout.write(report("unseen, five parts by turns", by_turns(train)))
    sys.stdout.write(f"written: {out} ({out.stat().st_size / 1e6:.2f} MB)\n")


if __name__ == "__main__":
    main()
