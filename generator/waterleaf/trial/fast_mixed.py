"""The mixed model for many trials of one layout at once, for the proof of error rates; `mixed` fits the single one.

Within one unit nothing varies but its plants, so a trial with a spread between units and one within comes down to the
means of the units and the squares within them. The restricted likelihood then has one unknown, the ratio of the two
variances; it is gone through on a grid and refined by a parabola.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

import numpy as np

from waterleaf.trial.fast import Many, fit_many
from waterleaf.trial.mixed import BORDER
from waterleaf.trial.model import Point, columns_of
from waterleaf.trial.pairs import places
from waterleaf.trial.plan import Design

# Shares of the whole variance that lie between units; above the last nothing within units matters any more.
_SHARES: Final = np.linspace(0.0, 0.98, 246)


@dataclass(frozen=True, slots=True)
class Left:
    """What is left of many trials when units lost readings: readings of each unit, shape (units,), the means of the
    units, shape (trials, units), and the squares of the plants about them, shape (trials,)."""

    counts: Any
    means: Any
    within: Any


def fit_mixed_many(left: Left, where: Sequence[Point], methods: Sequence[str], design: Design) -> tuple[Many, Any]:
    """The mixed model with the degrees of freedom of the units, and which trials it steps back in.

    Where it puts the spread between units at nought, unit means stand in its place, as they do in the report.
    """
    from scipy import stats

    plain = fit_many(left.means, where, methods, design)
    columns, count = columns_of(where, methods, design), len(methods)
    ratio = _ratios(left, columns)
    centre = left.means.mean(axis=1, keepdims=True)
    weights = 1 / (ratio[:, None] + 1 / left.counts)
    products = np.stack([np.outer(row, row).ravel() for row in columns])
    unscaled = np.linalg.inv((weights @ products).reshape(-1, columns.shape[1], columns.shape[1]))
    found = np.einsum("rij,rj->ri", unscaled, (weights * (left.means - centre)) @ columns)
    rest = np.sum(weights * (left.means - centre - found @ columns.T) ** 2, axis=1) + left.within
    covariance = unscaled * (rest / (left.counts.sum() - columns.shape[1]))[:, None, None]
    contrasts = np.zeros((count - 1, columns.shape[1]))
    contrasts[:, 0] = 1.0
    contrasts[np.arange(count - 1), np.arange(1, count)] = -1.0
    apart = found @ contrasts.T
    solved = np.linalg.solve(contrasts @ covariance @ contrasts.T, apart[:, :, None])[:, :, 0]
    p = stats.f.sf(np.sum(apart * solved, axis=1) / (count - 1), count - 1, plain.freedom)
    pairs = places(count)
    gaps = np.stack([found[:, one] - found[:, two] for one, two in pairs], axis=1)
    errors = np.sqrt(np.stack([
        covariance[:, one, one] + covariance[:, two, two] - 2 * covariance[:, one, two] for one, two in pairs
    ], axis=1))  # fmt: skip
    back = ratio <= BORDER
    made = Many(
        np.where(back, plain.p, p), np.where(back[:, None], plain.gaps, gaps),
        np.where(back[:, None], plain.errors, errors), plain.freedom,
    )  # fmt: skip
    return made, back


def _ratios(left: Left, columns: Any) -> Any:
    """Variance between units over that within, by restricted maximum likelihood; shape (trials,)."""
    heights = np.stack([_height(share / (1 - share), left, columns) for share in _SHARES])
    lowest = heights.argmin(axis=0)
    inner, runs = np.clip(lowest, 1, len(_SHARES) - 2), np.arange(heights.shape[1])
    before, at, after = heights[inner - 1, runs], heights[inner, runs], heights[inner + 1, runs]
    bend = before - 2 * at + after
    # Where the curve has no hollow at its lower end, that end is the lowest place: nothing between units.
    flat = np.where(lowest == 0, -1.0, 0.0)
    shift = np.where(bend > 0, (before - after) / (2 * np.where(bend > 0, bend, 1.0)), flat)
    share = np.maximum(0.0, _SHARES[inner] + (_SHARES[1] - _SHARES[0]) * np.clip(shift, -1.0, 1.0))
    return share / (1 - share)


def _height(ratio: float, left: Left, columns: Any) -> Any:
    """Minus the restricted log likelihood of every trial, less what all ratios share."""
    weights = 1 / (ratio + 1 / left.counts)
    weighted = columns * weights[:, None]
    inside = columns.T @ weighted
    project = np.diag(weights) - weighted @ np.linalg.solve(inside, weighted.T)
    freedom = float(left.counts.sum()) - columns.shape[1]
    centred = left.means - left.means.mean(axis=1, keepdims=True)
    squares = np.sum((centred @ project) * centred, axis=1) + left.within
    constant = np.linalg.slogdet(inside)[1] - np.log(weights).sum()
    return (freedom * np.log(squares) + constant) / 2
