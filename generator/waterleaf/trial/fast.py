"""The analysis of many trials of one layout at once, for planning by simulation and for the proof of error rates.

Same models and tests as `model`, `pairs` and `ranks`, one column of numbers a trial. Tests hold the two to each other.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from waterleaf.trial.model import Point, columns_of, present_methods
from waterleaf.trial.pairs import places
from waterleaf.trial.plan import Design
from waterleaf.trial.ranks import friedman_tails, rank_sum_shares, signed_rank_shares


@dataclass(frozen=True, slots=True)
class Many:
    """What came of many trials: p of the main test, shape (runs,); difference and standard error of every pair,
    shape (runs, pairs); degrees of freedom for error."""

    p: Any
    gaps: Any
    errors: Any
    freedom: int


def fit_many(values: Any, where: Sequence[Point], methods: Sequence[str], design: Design) -> Many:
    """The model of the report on every row of `values`, shape (runs, points); `where` tells what each column is."""
    from scipy import stats

    present = present_methods(where, methods)
    columns = columns_of(where, present, design)
    count = len(present)
    without = np.hstack([np.ones((len(where), 1)), columns[:, count:]])
    solve = np.linalg.pinv(columns)
    freedom = len(where) - int(np.linalg.matrix_rank(columns))
    centred = values - values.mean(axis=1, keepdims=True)
    squares = _left_over(centred, columns)
    error = squares / freedom
    nothing = error <= 1e-12 * np.mean(centred**2, axis=1)  # only rounding is left over: there is nothing to test by
    ratio = (_left_over(centred, without) - squares) / (count - 1) / np.where(nothing, 1.0, error)
    p = np.where(nothing, 1.0, stats.f.sf(ratio, count - 1, freedom))
    means = centred @ solve[:count].T
    unscaled = (solve @ solve.T)[:count, :count]
    pairs = places(count)
    gaps = np.stack([means[:, one] - means[:, two] for one, two in pairs], axis=1)
    scale = np.array([unscaled[i, i] + unscaled[j, j] - 2 * unscaled[i, j] for i, j in pairs])
    return Many(p, gaps, np.sqrt(np.outer(np.maximum(error, 0.0), scale)), freedom)


def _left_over(values: Any, columns: Any) -> Any:
    orthogonal, _ = np.linalg.qr(columns)
    return np.sum(values**2, axis=1) - np.sum((values @ orthogonal) ** 2, axis=1)


def unblocked_ranks(values: Any) -> Any:
    """p of the rank test of units at random; shape (runs, units, methods) to (runs,). Values must not tie."""
    from scipy import stats

    runs, each, count = values.shape
    ranks = stats.rankdata(values.reshape(runs, -1), axis=1).reshape(values.shape)
    sums = ranks.sum(axis=1)
    if count == 2:
        return _two_sided(sums[:, 0] - each * (each + 1) / 2, rank_sum_shares(each, each))
    total = each * count
    statistic = 12 / (total * (total + 1)) * np.sum(sums**2, axis=1) / each - 3 * (total + 1)
    return stats.chi2.sf(statistic, count - 1)


def blocked_ranks(values: Any) -> Any:
    """p of the rank test of complete blocks; shape (runs, blocks, methods) to (runs,). Values must not tie."""
    from scipy import stats

    _, blocks, count = values.shape
    if count == 2:
        gaps = values[:, :, 0] - values[:, :, 1]
        ranks = stats.rankdata(np.abs(gaps), axis=1)
        return _two_sided(np.sum(ranks * (gaps > 0), axis=1), signed_rank_shares(blocks))
    sums = stats.rankdata(values, axis=2).sum(axis=1)
    squares = np.sum(sums**2, axis=1)
    values, tails = friedman_tails(blocks, count)
    if values:
        return np.asarray(tails)[np.searchsorted(values, np.rint(squares))]
    statistic = 12 / (blocks * count * (count + 1)) * squares - 3 * blocks * (count + 1)
    return stats.chi2.sf(statistic, count - 1)


def _two_sided(statistic: Any, shares: Sequence[float]) -> Any:
    """Exact two-sided p of a whole-number statistic whose curve is symmetric."""
    below = np.cumsum(shares)
    place = np.rint(statistic).astype(int)
    lower = np.minimum(place, len(shares) - 1 - place)
    return np.minimum(1.0, 2 * below[lower])


def welch_many(values: Any) -> tuple[Any, Many]:
    """Welch's analysis of variance and his pairs of means; values of shape (runs, units of a method, methods).

    Returns the degrees of freedom of every pair, shape (runs, pairs), and what came of the trials.
    """
    from scipy import stats

    _, each, count = values.shape
    means, parts = values.mean(axis=1), values.var(axis=1, ddof=1) / each
    pairs = places(count)
    shares = np.stack([parts[:, one] + parts[:, two] for one, two in pairs], axis=1)
    squares = np.stack([parts[:, one] ** 2 + parts[:, two] ** 2 for one, two in pairs], axis=1)
    gaps = np.stack([means[:, one] - means[:, two] for one, two in pairs], axis=1)
    weights = 1 / parts
    whole = weights.sum(axis=1)
    centre = np.sum(weights * means, axis=1) / whole
    uneven = np.sum((1 - weights / whole[:, None]) ** 2, axis=1) / (each - 1)
    ratio = np.sum(weights * (means - centre[:, None]) ** 2, axis=1) / (count - 1)
    ratio /= 1 + 2 * (count - 2) / (count**2 - 1) * uneven
    p = stats.f.sf(ratio, count - 1, (count**2 - 1) / (3 * uneven))
    return (each - 1) * shares**2 / squares, Many(p, gaps, np.sqrt(shares), each - 1)
