"""The mixed model: methods fixed, units drawn by chance, the plants of each unit inside it. Fitted by statsmodels."""

import warnings
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

import numpy as np

from waterleaf.trial.model import Point, columns_of, present_methods
from waterleaf.trial.pairs import Raw, places
from waterleaf.trial.plan import Design

# Below this share of the spread within units the spread between them counts as none: the fit lies on the border.
BORDER: Final = 1e-4


@dataclass(frozen=True, slots=True)
class Mixed:
    """A fitted mixed model.

    Variances between units and of plants within a unit, means of the methods with their covariance, the main test.
    `trouble` says why the model cannot lead, and is empty where it can.
    """

    methods: tuple[str, ...]
    means: tuple[float, ...]
    covariance: Any
    between: float
    within: float
    freedom: int
    ratio: float
    p: float
    trouble: str = ""

    def difference(self, first: int, second: int) -> tuple[float, float]:
        """Difference of two means, by their places, and its standard error."""
        variance = self.covariance[first, first] + self.covariance[second, second] - 2 * self.covariance[first, second]
        return self.means[first] - self.means[second], float(np.sqrt(max(0.0, variance)))

    def pairs(self) -> list[Raw]:
        """Every pair, with the degrees of freedom that the units leave."""
        return [
            (self.methods[one], self.methods[two], *self.difference(one, two), float(self.freedom))
            for one, two in places(len(self.methods))
        ]


def fit_mixed(
    plants: Sequence[tuple[str, Point]], methods: Sequence[str], design: Design, freedom: int
) -> Mixed | None:
    """The model by restricted maximum likelihood, or nothing where it cannot be fitted.

    `plants` holds for every reading the code of its unit and the reading as a point. `freedom` is what the units leave
    for error: statsmodels compares with the normal curve, which is too narrow for a few units, so t and F with these
    degrees of freedom stand here instead. With equal numbers of readings this is the analysis of unit means.
    """
    from scipy import stats

    codes, points = [code for code, _ in plants], [point for _, point in plants]
    present = present_methods(points, methods)
    values = np.array([point.value for point in points])
    spread, centre = float(values.std()), float(values.mean())
    if spread == 0 or freedom < 1 or len(present) < 2:
        return None
    columns = columns_of(points, present, design)
    found = _restricted((values - centre) / spread, columns, codes)
    if found is None:
        return None
    count = len(present)
    means = np.asarray(found.fe_params)[:count] * spread + centre
    between = float(np.asarray(found.cov_re)[0, 0]) * spread**2
    within = float(found.scale) * spread**2
    covariance = _covariance(codes, columns, between, within)[:count, :count]
    contrasts = np.hstack([np.ones((count - 1, 1)), -np.eye(count - 1)])
    gaps = contrasts @ means
    ratio = float(gaps @ np.linalg.solve(contrasts @ covariance @ contrasts.T, gaps)) / (count - 1)
    trouble = ""
    if not found.converged or not np.isfinite(ratio):
        trouble = "its fit did not settle"
    elif between <= BORDER * within:
        trouble = "it puts the spread between units at nought, which with so few units is luck rather than truth"
    return Mixed(
        present, tuple(map(float, means)), covariance, between, within, freedom, ratio,
        float(stats.f.sf(ratio, count - 1, freedom)), trouble,
    )  # fmt: skip


def _restricted(values: Any, columns: Any, codes: Sequence[str]) -> Any:
    """What statsmodels finds by restricted maximum likelihood; nothing where it finds nothing."""
    from statsmodels.regression.mixed_linear_model import MixedLM

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # what matters of them is looked at afterwards
            # The gradient methods of the default can stop far from the best fit where units differ little.
            return MixedLM(values, columns, groups=list(codes)).fit(reml=True, method="powell")
    except (np.linalg.LinAlgError, ValueError):
        return None


def _covariance(codes: Sequence[str], columns: Any, between: float, within: float) -> Any:
    """Covariance of the means by generalised least squares at the fitted variances.

    The one that statsmodels gives comes from the observed curvature in means and variances together: with a few units
    of unequal size it is larger by chance.
    """
    _, first, counts = np.unique(np.array(codes), return_index=True, return_counts=True)
    units = columns[first]
    return np.linalg.inv((units.T / (between + within / counts)) @ units)
