"""Whether somebody is hurt, and how: a linear model over words, word pairs, pieces of words and cues.

It votes beside the rules of components/urgent.py and finds wording that no table has. The model that ships is
nlp/model/alarm.npz; `python -m nlp.training.learn_alarm` makes it, MODEL.md has its scores.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import as_file, files
from itertools import pairwise
from pathlib import Path
from zlib import crc32

import numpy as np
from numpy.typing import NDArray

CALM = "calm"
BUCKETS = 1 << 14
_PIECES = (3, 4, 5)  # letters
_LONGEST = 24  # letters of a word that are looked at
_WORDS = 300  # of a message
_ASKING = "ask."  # what a question asks tells nothing of whether somebody is hurt


@lru_cache(maxsize=16384)
def _of_word(word: str) -> tuple[int, ...]:
    """Buckets of a word and of its pieces; pieces survive a misspelling."""
    framed = f"<{word[:_LONGEST]}>"
    pieces = {framed[i : i + n] for n in _PIECES for i in range(len(framed) - n + 1)} if word.isalpha() else set()
    return tuple(sorted({crc32(f.encode()) % BUCKETS for f in ("w " + word, *pieces)}))


def buckets_of(norm: Sequence[str], labels: Iterable[str]) -> NDArray[np.int64]:
    """The distinct features of a message as numbers below BUCKETS. `labels` are those of the cues in it."""
    words = [w for w in norm[:_WORDS] if not w.isspace()]
    found: set[int] = set()
    for word in words:
        found.update(_of_word("0" if word[:1].isdigit() else word))
    found.update(crc32(f"{a} {b}".encode()) % BUCKETS for a, b in pairwise(words))
    said = sorted({label for label in labels if not label.startswith(_ASKING)})
    found.update(crc32(f"c {label}".encode()) % BUCKETS for label in said)
    found.update(crc32(f"c {a} {b}".encode()) % BUCKETS for i, a in enumerate(said) for b in said[i + 1 :])
    return np.fromiter(sorted(found), dtype=np.int64, count=len(found))


@dataclass(frozen=True)
class Alarm:
    """weights: buckets x kinds; bias: kinds; in logits. One of the kinds is CALM, the others are emergencies."""

    kinds: tuple[str, ...]
    weights: NDArray[np.float32]
    bias: NDArray[np.float32]

    @classmethod
    def load(cls, path: Path) -> Alarm:
        with np.load(path) as stored:
            kinds = tuple(str(kind) for kind in stored["kinds"])
            return cls(kinds, stored["weights"].astype(np.float32), stored["bias"].astype(np.float32))

    def chances(self, buckets: NDArray[np.int64]) -> dict[str, float]:
        """Chance of each kind; they sum to 1."""
        logits = self.bias + self.weights[buckets].sum(axis=0) / max(1.0, len(buckets)) ** 0.5
        scaled = np.exp(logits - logits.max())
        return dict(zip(self.kinds, (scaled / scaled.sum()).tolist(), strict=True))


@lru_cache(maxsize=1)
def load_alarm() -> Alarm:
    """The model that ships."""
    with as_file(files("nlp").joinpath("model", "alarm.npz")) as path:
        return Alarm.load(path)
