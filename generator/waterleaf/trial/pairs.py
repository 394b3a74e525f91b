"""Every pair of methods compared, with one error rate shared among all of them."""

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from waterleaf.calc.claims.comparison import equivalence_p
from waterleaf.calc.claims.many import holm
from waterleaf.calc.claims.statement import StatementKey, allowed_statement
from waterleaf.calc.quantity import OutOfRange
from waterleaf.calc.sugar.statistics import t_quantile, t_tail
from waterleaf.calc.sugar.variance import studentized_quantile
from waterleaf.trial.model import Fit, Point
from waterleaf.trial.plan import Adjust, Plan

_SMALLEST_LEVEL: Final = 0.1  # per cent; the relation that words the statement takes no stricter one
_PLANNED_ONLY: Final[dict[StatementKey, tuple[StatementKey, StatementKey]]] = {
    # What is left of a statement of likeness that nobody planned to test: first higher, first lower.
    "similar_within_margin": ("could_not_tell", "could_not_tell"),
    "differs_but_within_margin": ("higher_here", "lower_here"),
}
_NEEDS_MARGIN: Final[dict[StatementKey, tuple[StatementKey, StatementKey]]] = {
    **_PLANNED_ONLY,
    "higher_by_margin": ("higher_here", "higher_here"),
    "lower_by_margin": ("lower_here", "lower_here"),
}

# First and second name, difference of their means, its standard error, degrees of freedom.
Raw = tuple[str, str, float, float, float]


@dataclass(frozen=True, slots=True)
class Pair:
    """Two methods compared, the error rate shared among all pairs. Rank tests have no standard error."""

    first: str
    second: str
    difference: float
    error: float
    freedom: float
    p: float
    adjusted: float
    low: float
    high: float
    level: float
    alike_p: float
    effect: float
    statement: StatementKey


@dataclass(frozen=True, slots=True)
class Rule:
    """How pairs are judged: error rate for all together in per cent, how it is shared, margin, unit of effects."""

    significance: float
    adjust: Adjust
    margin: float
    deviation: float


def places(count: int) -> list[tuple[int, int]]:
    """Every pair of so many things, by their places."""
    return [(first, second) for first in range(count) for second in range(first + 1, count)]


def grouped(points: Sequence[Point], methods: Sequence[str]) -> list[list[float]]:
    """The values of each method."""
    return [[point.value for point in points if point.method == method] for method in methods]


def pooled_pairs(fitted: Fit) -> list[Raw]:
    """Pairs by the error that all methods share."""
    return [
        (fitted.methods[one], fitted.methods[two], *fitted.difference(one, two), float(fitted.error_freedom))
        for one, two in places(len(fitted.methods))
    ]


def welch_pairs(points: Sequence[Point], fitted: Fit) -> list[Raw]:
    """Pairs by the spread of the two methods alone, with Welch's degrees of freedom."""
    groups = grouped(points, fitted.methods)
    found = []
    for one, two in places(len(groups)):
        parts = [statistics.variance(groups[place]) / len(groups[place]) for place in (one, two)]
        freedom = math.fsum(parts) ** 2 / math.fsum(
            part**2 / (len(groups[place]) - 1) for part, place in zip(parts, (one, two), strict=True)
        )
        gap = statistics.fmean(groups[one]) - statistics.fmean(groups[two])
        found.append((fitted.methods[one], fitted.methods[two], gap, math.sqrt(math.fsum(parts)), freedom))
    return found


def adjusted(raw: Sequence[Raw], groups: int, rule: Rule) -> list[Pair]:
    """Pairs with adjusted p values, and for each the level at which it alone is judged to the same effect."""
    share = rule.significance / 100
    ps = [min(1.0, 2 * t_tail(abs(gap) / error, freedom)) for _, _, gap, error, freedom in raw]
    found = []
    for (first, second, gap, error, freedom), p, stepped in zip(raw, ps, holm(p_values=ps), strict=True):
        if len(raw) == 1:
            shared, level = p, share
        elif rule.adjust == "tukey":
            shared, level = _tukey(abs(gap) / error, groups, freedom, share)
        else:
            shared = stepped
            level = share * p / stepped if p > 0 and stepped < 1 else share / len(raw)
        level = max(level, _SMALLEST_LEVEL / 100)
        half = t_quantile(1 - level / 2, freedom) * error
        alike = equivalence_p(difference=gap, margin=rule.margin, standard_error=error, freedom=freedom)
        found.append(
            Pair(first, second, gap, error, freedom, p, shared, gap - half, gap + half, level, alike,
                 gap / rule.deviation, "could_not_tell")
        )  # fmt: skip
    return found


def _tukey(distance: float, groups: int, freedom: float, share: float) -> tuple[float, float]:
    """The p value that all pairs share, and the level of one pair alone that comes to the same."""
    from scipy import stats

    reach = studentized_quantile(1 - share, float(groups), freedom) / math.sqrt(2)
    return float(stats.studentized_range.sf(distance * math.sqrt(2), groups, freedom)), 2 * t_tail(reach, freedom)


def worded(pair: Pair, plan: Plan, groups: int, units: int, main_p: float, margin_stands: bool) -> Pair:
    """The pair with the strongest statement that it allows.

    Nothing is called higher unless the main test found something and the pair's own adjusted p is below the level too.
    Nothing is called alike unless the plan set out to show that, within a margin that stands.
    """
    level = plan.significance / 100
    found = main_p <= level and pair.adjusted <= level
    if plan.test == "ranks":
        key: StatementKey = "could_not_tell"
        if found and pair.difference:
            key = "higher_here" if pair.difference > 0 else "lower_here"
        return replace(pair, statement=key)
    try:
        key = allowed_statement(
            units=float(units), groups=float(groups), difference=pair.difference, standard_error=pair.error,
            freedom=min(pair.freedom, float(units - groups)), margin=plan.smallest_difference,
            significance=max(100 * pair.level, _SMALLEST_LEVEL),
        )  # fmt: skip
    except OutOfRange:
        key = "could_not_tell"
    if not found and key != "similar_within_margin":
        key = "could_not_tell"
    return replace(pair, statement=without_plan(key, pair.difference, plan, margin_stands))


def without_plan(key: StatementKey, difference: float, plan: Plan, margin_stands: bool) -> StatementKey:
    """A statement less what the plan gives no right to: likeness that was no aim, a margin that does not stand."""
    barred = _NEEDS_MARGIN if not margin_stands else {} if plan.aim == "equivalence" else _PLANNED_ONLY
    if key not in barred:
        return key
    above, below = barred[key]
    return above if difference > 0 else below
