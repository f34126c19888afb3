"""Linear models over features that are numbers: the one way from weights to chances."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from zlib import crc32

import numpy as np
from numpy.typing import NDArray

BUCKETS = 1 << 15
Features = NDArray[np.int64]
Floats = NDArray[np.float32]


def bucket(feature: str) -> int:
    """The number of a feature: 0 up to BUCKETS."""
    return crc32(feature.encode()) % BUCKETS


def numbers(found: Iterable[int]) -> Features:
    """Distinct features in order."""
    return np.array(sorted(set(found)), dtype=np.int64)


def scale_of(part: Features) -> float:
    """A long message must not shout."""
    return float(max(1, len(part)) ** -0.5)


def chances_of(logits: Floats) -> Floats:
    """They sum to 1."""
    scaled = np.exp(logits - logits.max())
    shares: Floats = scaled / scaled.sum()
    return shares


@dataclass(frozen=True)
class Linear:
    """weights: (parts x BUCKETS) x labels; bias: labels; in logits. Each part of the features has its own buckets."""

    labels: tuple[str, ...]
    weights: Floats
    bias: Floats

    def logits(self, parts: Sequence[Features]) -> Floats:
        found = self.bias.copy()
        for number, part in enumerate(parts):
            found += self.weights[part + number * BUCKETS].sum(axis=0) * np.float32(scale_of(part))
        return found

    def chances(self, parts: Sequence[Features]) -> dict[str, float]:
        """Chance of each label; they sum to 1."""
        return dict(zip(self.labels, chances_of(self.logits(parts)).tolist(), strict=True))


def load_models(path: Path) -> dict[str, Linear]:
    """The models of one file by name."""
    with np.load(path) as stored:
        names = sorted({key.partition("/")[0] for key in stored.files})
        return {
            name: Linear(
                tuple(str(label) for label in stored[f"{name}/labels"]),
                stored[f"{name}/weights"].astype(np.float32),
                stored[f"{name}/bias"].astype(np.float32),
            )
            for name in names
        }


def store_models(models: dict[str, Linear], path: Path) -> None:
    """Half precision tells them apart as well and takes half the room."""
    arrays: dict[str, NDArray[np.generic]] = {}
    for name, model in models.items():
        arrays[f"{name}/labels"] = np.array(model.labels)
        arrays[f"{name}/weights"] = model.weights.astype(np.float16)
        arrays[f"{name}/bias"] = model.bias
    with path.open("wb") as file:
        np.savez_compressed(file, **arrays)  # type: ignore[arg-type]
