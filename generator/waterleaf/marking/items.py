"""Statistics of a test: how hard each part was, how well it told students apart, and how far a total can be trusted.

Variances divide by n throughout, as KR-20 asks; mixing in n - 1 makes reliability look better than it is.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

Matrix = NDArray[np.float64]

# Share of a class in the upper and in the lower group (Kelley 1939).
GROUP: Final = 0.27
# Below this number of students all these figures are unstable (common practice, no source).
FEW: Final = 30
# Bands of the discrimination index (Ebel and Frisbie, from memory).
BANDS: Final = ((0.40, "very good"), (0.30, "good"), (0.20, "marginal"), (-math.inf, "poor"))


@dataclass(frozen=True, slots=True)
class ItemFigures:
    """What is known of one part; None where it cannot be worked out, as where everyone got the same marks."""

    difficulty: float
    discrimination: float
    item_total: float | None
    corrected: float | None
    alpha_without: float | None

    @property
    def band(self) -> str:
        """The discrimination index in a word."""
        return next(word for least, word in BANDS if self.discrimination >= least - 1e-9)


def item_figures(scores: ArrayLike, full: Sequence[float]) -> list[ItemFigures]:
    """Figures of every part; rows are students, columns are parts, `full` holds the full marks."""
    marks = np.asarray(scores, dtype=np.float64)
    totals = marks.sum(axis=1)
    indices = discrimination(marks, full)
    return [
        ItemFigures(
            float(marks[:, k].mean() / full[k]), indices[k], correlation(marks[:, k], totals),
            correlation(marks[:, k], totals - marks[:, k]), alpha(np.delete(marks, k, axis=1)),
        )
        for k in range(marks.shape[1])
    ]


def group_size(students: int) -> int:
    """Students in the upper and in the lower group: 27 % of the class, rounded half up, and at least one."""
    return max(1, math.floor(GROUP * students + 0.5))


def discrimination(scores: ArrayLike, full: Sequence[float]) -> list[float]:
    """For each part, the share of marks in the upper group less that in the lower group.

    Students who tie for the last places of a group share these places evenly: with two of them for one place, each
    counts half. So the index does not depend on the order of the class list.
    """
    marks = np.asarray(scores, dtype=np.float64)
    totals = marks.sum(axis=1)
    size = group_size(len(totals))
    difference = _weights(totals, size) - _weights(-totals, size)
    return [float(difference @ marks[:, k] / size / full[k]) for k in range(marks.shape[1])]


def _weights(totals: Matrix, size: int) -> Matrix:
    """How much each student counts in the group of the `size` highest totals."""
    edge = np.sort(totals)[-size]
    above, level = totals > edge, totals == edge
    weights: Matrix = above.astype(np.float64) + level * ((size - above.sum()) / level.sum())
    return weights


def correlation(first: ArrayLike, second: ArrayLike) -> float | None:
    """Pearson's r; for a part with two outcomes the point-biserial. None where one side does not vary."""
    a, b = np.asarray(first, dtype=np.float64), np.asarray(second, dtype=np.float64)
    a, b = a - a.mean(), b - b.mean()
    spread = math.sqrt(float(a @ a) * float(b @ b))
    return None if len(a) < 2 or spread <= 1e-12 else float(a @ b) / spread


def alpha(scores: ArrayLike) -> float | None:
    """Cronbach's alpha: k/(k - 1) (1 - sum of the parts' variances / variance of the totals)."""
    marks = np.asarray(scores, dtype=np.float64)
    parts = marks.shape[1]
    spread = float(marks.sum(axis=1).var())
    if parts < 2 or len(marks) < 2 or spread <= 1e-12:
        return None
    return float(parts / (parts - 1) * (1 - float(marks.var(axis=0).sum()) / spread))


def two_outcomes(scores: ArrayLike, full: Sequence[float]) -> bool:
    """Whether every part was either wholly right or worth nothing, which KR-20 needs."""
    marks = np.asarray(scores, dtype=np.float64)
    return bool(((marks == 0) | (marks == np.asarray(full))).all()) and len(set(full)) == 1


def kr20(scores: ArrayLike) -> float | None:
    """Kuder and Richardson's formula 20, for parts scored 1 or 0; alpha comes to the same."""
    marks = np.asarray(scores, dtype=np.float64)
    parts, right = marks.shape[1], marks.mean(axis=0)
    spread = float(marks.sum(axis=1).var())
    if parts < 2 or spread <= 1e-12:
        return None
    return float(parts / (parts - 1) * (1 - float((right * (1 - right)).sum()) / spread))


def standard_error(spread: float, reliability: float) -> float:
    """Standard error of measurement, in marks: s sqrt(1 - r)."""
    if not 0 <= reliability <= 1:
        raise ValueError(f"reliability {reliability!r} must lie between 0 and 1")
    return spread * math.sqrt(1 - reliability)


def drift(values: Sequence[float], scores: Sequence[float]) -> tuple[float, float] | None:
    """Whether marks go up or down with a drawn number: Spearman's rho and its p; None where either does not vary."""
    if len(values) < FEW or len(set(values)) < 2 or len(set(scores)) < 2:
        return None
    from scipy.stats import spearmanr

    found = spearmanr(values, scores)
    return float(found.statistic), float(found.pvalue)
