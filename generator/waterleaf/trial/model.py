"""The linear model of a trial: one value a unit, methods, and whatever the design balances. Fitted by statsmodels."""

import warnings
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

import numpy as np

from waterleaf.trial.plan import Design

# Squares below this share of the largest value's own square are rounding errors of readings that are all alike.
_NOTHING: Final = 1e-30


@dataclass(frozen=True, slots=True)
class Point:
    """One value that counts as independent: of which method, and where in the design."""

    value: float
    method: str
    block: str = ""
    row: int = 0
    column: int = 0


@dataclass(frozen=True, slots=True)
class Line:
    """One line of an analysis-of-variance table."""

    source: str
    freedom: int
    squares: float
    f_ratio: float | None = None
    p: float | None = None

    @property
    def mean_square(self) -> float:
        """Squares over degrees of freedom."""
        return self.squares / self.freedom if self.freedom else 0.0


@dataclass(frozen=True, slots=True)
class Fit:
    """A fitted model: adjusted means of the methods, how surely they are known, and what is left over."""

    methods: tuple[str, ...]
    means: tuple[float, ...]
    covariance: Any
    error_square: float
    error_freedom: int
    table: tuple[Line, ...]
    fitted: tuple[float, ...]
    residuals: tuple[float, ...]
    connected: bool

    @property
    def testable(self) -> bool:
        """Whether all methods can be compared, and there is an error to test against."""
        return self.connected and self.error_freedom > 0 and self.error_square > 0

    def difference(self, first: int, second: int) -> tuple[float, float]:
        """Difference of two adjusted means, by their places, and its standard error."""
        variance = self.covariance[first, first] + self.covariance[second, second] - 2 * self.covariance[first, second]
        return self.means[first] - self.means[second], float(np.sqrt(max(0.0, variance)))


def fit(points: Sequence[Point], methods: Sequence[str], design: Design) -> Fit:
    """Least squares with a mean for every method and, where the design has them, blocks, or rows and columns.

    Means are adjusted to the average block, so that a missing unit does not favour anybody. Methods without a value are
    left out.
    """
    present = present_methods(points, methods)
    values = np.array([point.value for point in points], dtype=float)
    centre = float(values[0])  # large values that differ in late digits keep their digits
    shifted = values - centre
    own = np.array([[float(point.method == method) for method in present] for point in points])
    balanced = {name: _balanced(labels) for name, labels in _parts(points, design).items()}
    nuisance = np.hstack([np.empty((len(points), 0)), *balanced.values()])
    full = _ols(shifted, np.hstack([own, nuisance]))
    squares, rank = float(full.ssr), int(full.model.rank)
    freedom = len(points) - rank
    noise = _NOTHING * max(1.0, float(np.max(np.abs(values))) ** 2) * len(points)
    squares = 0.0 if squares <= noise else squares
    error_square = squares / freedom if freedom > 0 else 0.0
    table = _table(shifted, own, balanced, (squares, rank, error_square))
    count = len(present)
    # With the scale of our own error square: statsmodels' is the same but for readings that are all alike.
    covariance = np.asarray(full.normalized_cov_params)[:count, :count] * error_square
    return Fit(
        present,
        tuple(float(mean) + centre for mean in full.params[:count]),
        covariance,
        error_square,
        freedom,
        table,
        tuple(float(value) + centre for value in full.fittedvalues),
        tuple(float(value) for value in full.resid),
        # With too much missing, methods may no longer meet in any block; their difference is then anybody's guess.
        rank == own.shape[1] + nuisance.shape[1],
    )


def present_methods(points: Sequence[Point], methods: Sequence[str]) -> tuple[str, ...]:
    """The methods that have a value, in the order of the plan."""
    return tuple(method for method in methods if any(point.method == method for point in points))


def columns_of(points: Sequence[Point], methods: Sequence[str], design: Design) -> Any:
    """The columns of the model, a row a point: one for every method, then those of what the design balances."""
    own = [[float(point.method == method) for method in methods] for point in points]
    return np.hstack([np.array(own), *(_balanced(labels) for labels in _parts(points, design).values())])


def _table(values: Any, own: Any, balanced: Mapping[str, Any], full: tuple[float, int, float]) -> tuple[Line, ...]:
    """Each part tested by what the model without it leaves over."""
    from scipy import stats

    squares, rank, error_square = full
    freedom = len(values) - rank

    def tested(source: str, *reduced: Any) -> Line:
        left, kept = _left_over(values, np.hstack(reduced))
        extra, given_up = max(0.0, left - squares), rank - kept
        if not (given_up and error_square):
            return Line(source, given_up, extra)
        ratio = extra / given_up / error_square
        return Line(source, given_up, extra, ratio, float(stats.f.sf(ratio, given_up, freedom)))

    return (
        tested("methods", np.ones((len(values), 1)), *balanced.values()),
        *(tested(name, own, *(rest for other, rest in balanced.items() if other != name)) for name in balanced),
        Line("error", freedom, squares),
        Line("total", len(values) - 1, float(np.sum((values - values.mean()) ** 2))),
    )


def _ols(values: Any, columns: Any) -> Any:
    from statsmodels.regression.linear_model import OLS

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # remarks on rank: missing units may leave a block that says nothing
        return OLS(values, columns).fit()


def _left_over(values: Any, columns: Any) -> tuple[float, int]:
    """Squares that a smaller model leaves over, and its rank."""
    found, _, rank, _ = np.linalg.lstsq(columns, values, rcond=None)
    return float(np.sum((values - columns @ found) ** 2)), int(rank)


def _parts(points: Sequence[Point], design: Design) -> dict[str, list[str]]:
    """What the design balances: for each part the label of every point."""
    if design == "latin":
        return {"rows": [str(point.row) for point in points], "columns": [str(point.column) for point in points]}
    if design in ("blocked", "paired"):
        return {"pairs" if design == "paired" else "blocks": [point.block for point in points]}
    return {}


def _balanced(labels: Sequence[str]) -> Any:
    """Columns for a part, coded to sum to zero over its labels, so that means stay means of the average block."""
    names = list(dict.fromkeys(labels))
    columns = np.zeros((len(labels), max(0, len(names) - 1)))
    for row, label in enumerate(labels):
        place = names.index(label)
        if place == len(names) - 1:
            columns[row, :] = -1.0
        else:
            columns[row, place] = 1.0
    return columns
