"""What a trial can find: power, size and the difference it can detect, for every design.

Relations of the course where there is one; noncentral curves where a design has none; simulation for equivalence and
for rank tests, which have no closed form that a class could follow.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from waterleaf.calc.sugar.power import anova_power, pairs_power, two_group_power
from waterleaf.calc.sugar.statistics import t_quantile
from waterleaf.calc.sugar.variance import studentized_quantile
from waterleaf.trial.plan import Design, Plan

MOST_EACH: Final = 200
_DRAWS: Final = 20_000
_RANK_DRAWS: Final = 4_000
# Beyond this many standard deviations the power is 1 to the last digit that anybody prints.
_LARGEST_EFFECT: Final = 10.0


@dataclass(frozen=True, slots=True)
class Shape:
    """The bones of a trial: design, methods, units of each, error rate for all comparisons together."""

    design: Design
    methods: int
    units_each: int
    significance: float

    @property
    def error_freedom(self) -> int:
        """Degrees of freedom that are left for error."""
        methods, each = self.methods, self.units_each
        if self.design == "random":
            return methods * (each - 1)
        return (methods - 1) * (methods - 2) if self.design == "latin" else (methods - 1) * (each - 1)


def shape_of(plan: Plan, units_each: int | None = None) -> Shape:
    """The shape of a plan, or of the same plan with another number of units of each method."""
    return Shape(plan.design, len(plan.methods), units_each or plan.units_each, plan.significance)


def deviation_of_unit_mean(plan: Plan) -> float:
    """Standard deviation of the mean of one unit: what units differ by, and what its few plants add."""
    return math.sqrt(plan.spread.between_units**2 + plan.spread.within_unit**2 / plan.readings)


def main_test_power(shape: Shape, difference: float, deviation: float) -> float:
    """Chance in percent that the main test finds two methods this far apart and the others halfway between."""
    if shape.error_freedom < 1:
        return 0.0
    effect = min(difference / deviation, _LARGEST_EFFECT)
    each = float(shape.units_each)
    if shape.design == "paired":
        return pairs_power(effect=effect / math.sqrt(2), pairs=each, significance=shape.significance)
    if shape.design == "random" and shape.methods == 2:
        return two_group_power(effect=effect, first_units=each, second_units=each, significance=shape.significance)
    spread_of_means = effect / math.sqrt(2 * shape.methods)
    if shape.design == "random":
        return anova_power(
            effect=spread_of_means, groups=float(shape.methods), group_size=each, significance=shape.significance
        )
    from scipy import stats

    freedom = shape.methods - 1
    critical = stats.f.isf(shape.significance / 100, freedom, shape.error_freedom)
    noncentrality = shape.methods * each * spread_of_means**2
    return 100 * float(stats.ncf.sf(critical, freedom, shape.error_freedom, noncentrality))


def critical_t(shape: Shape) -> float:
    """How many standard errors apart two means must lie when all pairs are compared by Tukey's method."""
    if shape.methods == 2:
        return t_quantile(1 - shape.significance / 200, shape.error_freedom)
    return studentized_quantile(1 - shape.significance / 100, shape.methods, shape.error_freedom) / math.sqrt(2)


def claim_power(shape: Shape, difference: float, deviation: float) -> float:
    """Chance in percent that one pair this far apart may be called different, all pairs compared."""
    if shape.error_freedom < 1:
        return 0.0
    from scipy import stats

    effect = min(difference / deviation, _LARGEST_EFFECT)
    centre, critical = effect / math.sqrt(2 / shape.units_each), critical_t(shape)
    above = float(stats.nct.sf(critical, shape.error_freedom, centre))
    below = float(stats.nct.cdf(-critical, shape.error_freedom, centre))
    return 100 * min(1.0, (above if math.isfinite(above) else 1.0) + (below if math.isfinite(below) else 0.0))


def equivalence_power(shape: Shape, margin: float, deviation: float, seed: int) -> float:
    """Chance in percent, by simulation, that two methods that do not differ at all are shown to be alike."""
    if shape.error_freedom < 1:
        return 0.0
    import numpy as np

    draw = np.random.default_rng(seed)
    error = deviation * math.sqrt(2 / shape.units_each)
    found = np.abs(error * draw.standard_normal(_DRAWS))
    errors = error * np.sqrt(draw.chisquare(shape.error_freedom, _DRAWS) / shape.error_freedom)
    # All pairs share the level, as they do when the statement is made.
    critical = critical_t(shape) if shape.methods > 2 else t_quantile(1 - shape.significance / 100, shape.error_freedom)
    return 100 * float(np.mean(found + critical * errors < margin))


def rank_power(shape: Shape, difference: float, deviation: float, seed: int) -> float:
    """Chance in percent, by simulation with bell-shaped unit means, that the main rank test finds two methods so far
    apart and the others halfway between."""
    if shape.units_each < 2:
        return 0.0
    import numpy as np

    from waterleaf.trial import fast

    draw = np.random.default_rng(seed)
    lift = np.full(shape.methods, difference / 2)
    lift[0], lift[1] = 0.0, difference
    values = deviation * draw.standard_normal((_RANK_DRAWS, shape.units_each, shape.methods)) + lift
    p = fast.unblocked_ranks(values) if shape.design == "random" else fast.blocked_ranks(values)
    return 100 * float(np.mean(p <= shape.significance / 100))


def plan_power(plan: Plan, units_each: int | None = None) -> float:
    """Chance in percent that the plan reaches its aim, if its guess of the spread is right."""
    shape, deviation = shape_of(plan, units_each), deviation_of_unit_mean(plan)
    if plan.aim == "equivalence":
        return equivalence_power(shape, plan.smallest_difference, deviation, plan.seed)
    if plan.test == "ranks":
        return rank_power(shape, plan.smallest_difference, deviation, plan.seed)
    return claim_power(shape, plan.smallest_difference, deviation)


def units_needed(plan: Plan) -> int | None:
    """Smallest number of units of each method with the wished power; nothing where the most allowed would not do.

    A Latin square has as many units of each method as methods, so its size cannot be chosen.
    """
    if plan.design == "latin":
        return plan.units_each if plan_power(plan) >= plan.power else None
    return _first(lambda each: plan_power(plan, each) >= plan.power)


def _first(enough: Callable[[int], bool]) -> int | None:
    low, high = 1, 2
    while not enough(high):
        low, high = high, 2 * high
        if high > 2 * MOST_EACH:
            return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if enough(middle) else (middle, high)
    return high if high <= MOST_EACH else None


def detectable_difference(shape: Shape, deviation: float, power: float) -> float | None:
    """Smallest difference of one pair that the trial finds with the wished power; nothing where it can find none."""
    if shape.error_freedom < 1:
        return None
    from scipy.optimize import brentq

    most = _LARGEST_EFFECT * deviation
    if claim_power(shape, most, deviation) < power:
        return None
    return float(brentq(lambda difference: claim_power(shape, difference, deviation) - power, 0.0, most, xtol=1e-9))
