"""Error rates of what else a plan may name: Welch's test, intervals by ranks, likeness within a margin."""

import math
from collections.abc import Iterator
from functools import partial
from typing import Any, Final

import numpy as np

from waterleaf.calc.sugar.statistics import t_quantile
from waterleaf.trial import fast, power
from waterleaf.trial.drawn import DESIGNS, Drawn, base_plan, draw_trials, three_errors, two_apart, where_of
from waterleaf.trial.lines import Line
from waterleaf.trial.model import Point
from waterleaf.trial.pairs import Rule
from waterleaf.trial.plan import Plan
from waterleaf.trial.ranks import rank_pairs

_RANKED: Final = 2_000


def by_method(drawn: Drawn) -> Any:
    """The unit means in the order of the methods, shape (trials, units of a method, methods)."""
    order = [
        [place for place, unit in enumerate(drawn.units) if unit.method == method] for method in drawn.plan.methods
    ]
    return np.stack([drawn.means[:, own] for own in order], axis=2)


def welch_rates(drawn: Drawn) -> tuple[float, float]:
    """Share of trials in which Welch's test finds something, and of intervals of one pair alone that miss nought."""
    from scipy import stats

    level = drawn.plan.significance / 100
    freedom, many = fast.welch_many(by_method(drawn))
    missed = np.abs(many.gaps) > stats.t.isf(level / 2, freedom) * many.errors
    return float((many.p <= level).mean()), float(missed.mean())


def alike_rate(drawn: Drawn) -> float:
    """Share of trials in which the first two methods are called alike, as a report on equivalence would."""
    plan = drawn.plan
    many = fast.fit_many(drawn.means, where_of(drawn.units), plan.methods, plan.design)
    shape = power.shape_of(plan)
    reach = power.critical_t(shape) if shape.methods > 2 else t_quantile(1 - plan.significance / 100, many.freedom)
    return float((np.abs(many.gaps[:, 0]) + reach * many.errors[:, 0] < plan.smallest_difference).mean())


def rank_interval_rate(drawn: Drawn, runs: int) -> float:
    """Share of trials in which some interval by ranks, all pairs together, is beside the truth; no ends never are."""
    plan, truth = drawn.plan, drawn.truth
    rule = Rule(plan.significance, "holm", plan.smallest_difference, 1.0)
    missed = 0
    for row in drawn.means[:runs]:
        points = [
            Point(float(value), unit.method, unit.block, unit.row, unit.column)
            for value, unit in zip(row, drawn.units, strict=True)
        ]
        found = rank_pairs(points, plan.methods, plan.design, rule)
        missed += any(not pair.low <= truth.means[pair.first] - truth.means[pair.second] <= pair.high for pair in found)
    return missed / min(runs, len(drawn.means))


def lines(runs: int) -> Iterator[Line]:
    """The lines of the tables."""
    near = 100 * three_errors(0.05, runs)
    yield f"no difference, Welch's test: found, single interval missed (5 within {near:.2f})"
    for each in (4, 8):
        yield partial(_welch, each, runs)
    yield "two methods just as far apart as the margin: called alike, at most 5; with eight units of each,"
    yield "  intervals by ranks that miss, all pairs together, at most 5"
    for name in DESIGNS:
        yield partial(_at_the_margin, name, runs)


def _welch(each: int, runs: int) -> str:
    plan = base_plan().model_copy(update={"units_each": each})
    found, missed = welch_rates(draw_trials(plan, two_apart(plan, 5.0, 0.0), runs, 11))
    return f"  {each} units of each  {100 * found:6.2f} {100 * missed:6.2f}"


def _at_the_margin(name: str, runs: int) -> str:
    # A margin of three standard deviations: narrower ones are hardly ever shown, whatever the truth.
    plan = base_plan().model_copy(update=DESIGNS[name])
    margin = 3 * power.deviation_of_unit_mean(plan)
    plan = plan.model_copy(update={"smallest_difference": margin})
    drawn = draw_trials(plan, two_apart(plan, 5.0, margin), runs, 12)
    return f"  {name:<8} {100 * alike_rate(drawn):6.2f} {100 * _ranks_of_eight(plan, runs):6.2f}"


def _ranks_of_eight(plan: Plan, runs: int) -> float:
    """Intervals by ranks with eight units of each method, since fewer seldom give them ends."""
    if plan.design == "latin":
        return math.nan
    wide = plan.model_copy(update={"units_each": 8})
    runs = min(runs, _RANKED)
    return rank_interval_rate(draw_trials(wide, two_apart(wide, 5.0, plan.smallest_difference), runs, 13), runs)
