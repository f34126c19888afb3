"""What kind of message it is: a linear model over words, counts, and what the rules say.

What ships is nlp/model/kinds.npz; `python -m nlp.training.learn_kinds` makes it, MODEL.md has its scores.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from importlib.resources import as_file, files

from nlp.linear import Features, Linear, bucket, load_models, numbers
from nlp.reading import Kind

_MOST = 5  # of a count
_WORDS = 6  # words count in sixes


def evidence_features(ruled: Kind, counts: Mapping[str, int], said: Mapping[str, int], cues: Iterable[str],
                      norm: Sequence[str]) -> Features:  # fmt: skip
    """What speaks for a kind. counts: of ingredients and the like, 0 or 1 for yes and no; said: of phrases."""
    return numbers(bucket(feature) for feature in _evidence(ruled, counts, said, cues, norm))


def _evidence(ruled: Kind, counts: Mapping[str, int], said: Mapping[str, int], cues: Iterable[str],
              norm: Sequence[str]) -> Iterator[str]:  # fmt: skip
    yield f"rule {ruled}"
    for name, count in counts.items():
        few = min(count, _MOST)
        yield f"{name}={few}"
        yield f"{ruled} {name}={few}"
        yield from (f"{name}>={least}" for least in range(1, few + 1))
    for name, count in said.items():
        yield f"{name}={min(count, 3)}"
        yield f"{ruled} {name}"
    yield from (f"cue {cue}" for cue in cues)
    if norm:
        yield f"first {norm[0]}"
        yield f"two {' '.join(norm[:2])}"
        yield f"last {norm[-1]}"
    yield f"words {min(len(norm) // _WORDS, 8)}"


def likeliest(model: Linear, words: Features, evidence: Features) -> Kind:
    """The kind with the best chance."""
    chances = model.chances((words, evidence))
    return Kind(max(chances, key=lambda label: chances[label]))


@lru_cache(maxsize=1)
def load_kinds() -> Linear:
    """The model that ships."""
    with as_file(files("nlp").joinpath("model", "kinds.npz")) as path:
        return load_models(path)["kinds"]
