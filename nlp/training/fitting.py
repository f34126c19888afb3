"""Fits linear models to messages as features; needs the extra `train`."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_matrix
from sklearn.linear_model import LogisticRegression

from nlp.linear import BUCKETS, Features, Linear, scale_of

PARTS = 5
_STRENGTH = 30.0  # inverse of the regularisation
Rows = Sequence[tuple[Features, Features]]


def fit(rows: Rows, right: Sequence[str], labels: Sequence[str]) -> Linear:
    """One label against the rest, each; a single label is told from whatever else is right."""
    matrix = _matrix(rows)
    each = [_fit_one(matrix, np.array([one == label for one in right], dtype=int)) for label in labels]
    return Linear(
        tuple(labels),
        np.array([model.coef_[0] for model in each]).T.astype(np.float32),
        np.array([model.intercept_[0] for model in each], dtype=np.float32),
    )


def _fit_one(matrix: csr_matrix, right: NDArray[np.int_]) -> LogisticRegression:
    model = LogisticRegression(C=_STRENGTH, solver="liblinear", dual=True, max_iter=400, tol=0.01, random_state=0)
    return model.fit(matrix, right)


def _matrix(rows: Rows) -> csr_matrix:
    columns = [part + number * BUCKETS for row in rows for number, part in enumerate(row)]
    data = [np.full(len(part), scale_of(part)) for row in rows for part in row]
    ends = np.cumsum([0, *(sum(len(part) for part in row) for row in rows)])
    return csr_matrix((np.concatenate(data), np.concatenate(columns), ends), shape=(len(rows), 2 * BUCKETS))


def part_of(group: str) -> int:
    """The part, of PARTS by turns, to which a family belongs."""
    return int(hashlib.sha256(group.encode()).hexdigest(), 16) % PARTS
