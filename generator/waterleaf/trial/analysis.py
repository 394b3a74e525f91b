"""From readings to what may be said: unit means, the test that the plan named, every pair by a shared error rate."""

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from waterleaf.calc.claims import StatementKey, allowed_statement, equivalence_p, holm
from waterleaf.calc.quantity import OutOfRange
from waterleaf.calc.sugar import intraclass_correlation, studentized_quantile, t_quantile, t_tail
from waterleaf.trial.intake import Reading
from waterleaf.trial.layout import Unit
from waterleaf.trial.model import Fit, Line, Point, fit
from waterleaf.trial.plan import Plan

_SMALLEST_LEVEL: Final = 0.1  # per cent; the relation that words the statement takes no stricter one
_NEEDS_MARGIN: Final[dict[StatementKey, tuple[StatementKey, StatementKey, StatementKey]]] = {
    # What is left of a statement about a margin that was not fixed beforehand: higher, lower, not significant.
    "similar_within_margin": ("could_not_tell", "could_not_tell", "could_not_tell"),
    "differs_but_within_margin": ("higher_here", "lower_here", "could_not_tell"),
    "higher_by_margin": ("higher_here", "higher_here", "higher_here"),
    "lower_by_margin": ("lower_here", "lower_here", "lower_here"),
}


@dataclass(frozen=True, slots=True)
class UnitMean:
    """What one unit counts for: the mean of its readings."""

    unit: Unit
    value: float
    readings: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Pair:
    """Two methods compared, the error rate shared among all pairs."""

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
class Analysis:
    """Everything that the report shows."""

    plan: Plan
    unit_means: tuple[UnitMean, ...]
    fit: Fit | None
    main_p: float | None
    main_text: str
    pairs: tuple[Pair, ...]
    wrong_unit: Line | None
    likeness: float | None
    notes: tuple[str, ...]

    @property
    def tested(self) -> bool:
        """Whether anything could be tested."""
        return bool(self.pairs) and self.main_p is not None


def unit_means(units: Sequence[Unit], readings: Sequence[Reading]) -> tuple[UnitMean, ...]:
    """One mean for every unit that has a reading."""
    found: dict[str, list[float]] = defaultdict(list)
    for reading in readings:
        found[reading.code].append(reading.value)
    return tuple(
        UnitMean(unit, math.fsum(found[unit.code]) / len(found[unit.code]), tuple(found[unit.code]))
        for unit in units
        if unit.code in found
    )


def analyse(plan: Plan, units: Sequence[Unit], readings: Sequence[Reading], *, margin_stands: bool) -> Analysis:
    """The analysis that the plan named. `margin_stands` says whether the margin was fixed before the data."""
    means = unit_means(units, readings)
    points = [point_of(mean.unit, mean.value) for mean in means]
    made = Analysis(plan, means, None, None, "", (), None, None, tuple(_notes(plan, units, means)))
    if len({point.method for point in points}) < 2:
        return made
    fitted = fit(points, plan.methods, plan.design)
    made = replace(made, fit=fitted, likeness=_likeness(plan, means))
    if not fitted.connected:
        lost = "So much is missing that some methods no longer meet in any block: nothing can be tested."
        return replace(made, notes=(*made.notes, lost))
    if not plan.replicated or not fitted.testable or (plan.test == "welch" and not _enough_for_welch(means)):
        return made
    main_p, main_text = _main_test(plan, fitted, points)
    raw = _welch_pairs(points, fitted) if plan.test == "welch" else _pooled_pairs(fitted)
    pairs = tuple(
        _worded(pair, plan, fitted, len(points), main_p, margin_stands) for pair in _adjusted(raw, plan, fitted)
    )
    return replace(made, main_p=main_p, main_text=main_text, pairs=pairs, wrong_unit=_wrong_unit(plan, means))


def point_of(unit: Unit, value: float) -> Point:
    """A value at its place in the design."""
    return Point(value, unit.method, unit.block, unit.row, unit.column)


def _notes(plan: Plan, units: Sequence[Unit], means: Sequence[UnitMean]) -> list[str]:
    said = []
    absent = [method for method in plan.methods if all(mean.unit.method != method for mean in means)]
    if absent:
        said.append(f"No usable reading of {', '.join(absent)}: nothing is said about it.")
    if len(means) < len(units):
        said.append(f"{len(units) - len(means)} of {len(units)} {plan.unit}s have no usable reading.")
    counts = {len(mean.readings) for mean in means}
    if len(counts) > 1:
        said.append(
            f"Units have from {min(counts)} to {max(counts)} readings each; their means are not equally sure, and the "
            "test treats them as if they were."
        )
    values = {value for mean in means for value in mean.readings}
    if len(values) == 1:
        said.append("All readings are equal. That is an instrument or a table to look at, not a result.")
    return said


def _enough_for_welch(means: Sequence[UnitMean]) -> bool:
    groups: dict[str, list[float]] = defaultdict(list)
    for mean in means:
        groups[mean.unit.method].append(mean.value)
    return all(len(group) > 1 and max(group) > min(group) for group in groups.values())


def _grouped(points: Sequence[Point], methods: Sequence[str]) -> list[list[float]]:
    return [[point.value for point in points if point.method == method] for method in methods]


def _main_test(plan: Plan, fitted: Fit, points: Sequence[Point]) -> tuple[float, str]:
    if plan.test == "welch":
        from statsmodels.stats.oneway import anova_oneway

        found: Any = anova_oneway(_grouped(points, fitted.methods), use_var="unequal", welch_correction=True)
        numerator, rest = found.df
        return float(found.pvalue), f"F = {found.statistic:.4g} on {numerator:g} and {rest:.4g} degrees of freedom"
    line = fitted.table[0]
    ratio, p = line.f_ratio or 0.0, line.p if line.p is not None else 1.0
    if line.freedom == 1:
        return p, f"t = {math.sqrt(ratio):.4g} (without sign) on {fitted.error_freedom} degrees of freedom"
    return p, f"F = {ratio:.4g} on {line.freedom} and {fitted.error_freedom} degrees of freedom"


_Raw = tuple[str, str, float, float, float]


def _places(count: int) -> list[tuple[int, int]]:
    return [(first, second) for first in range(count) for second in range(first + 1, count)]


def _pooled_pairs(fitted: Fit) -> list[_Raw]:
    return [
        (fitted.methods[one], fitted.methods[two], *fitted.difference(one, two), float(fitted.error_freedom))
        for one, two in _places(len(fitted.methods))
    ]


def _welch_pairs(points: Sequence[Point], fitted: Fit) -> list[_Raw]:
    import statistics

    groups = _grouped(points, fitted.methods)
    found = []
    for one, two in _places(len(groups)):
        parts = [statistics.variance(groups[place]) / len(groups[place]) for place in (one, two)]
        freedom = sum(parts) ** 2 / sum(
            part**2 / (len(groups[place]) - 1) for part, place in zip(parts, (one, two), strict=True)
        )
        gap = statistics.fmean(groups[one]) - statistics.fmean(groups[two])
        found.append((fitted.methods[one], fitted.methods[two], gap, math.sqrt(sum(parts)), freedom))
    return found


def _adjusted(raw: Sequence[_Raw], plan: Plan, fitted: Fit) -> list[Pair]:
    """Pairs with adjusted p values, and for each the level at which it alone is judged to the same effect."""
    from scipy import stats

    share = plan.significance / 100
    ps = [min(1.0, 2 * t_tail(abs(gap) / error, freedom)) for _, _, gap, error, freedom in raw]
    found = []
    for (first, second, gap, error, freedom), p, stepped in zip(raw, ps, holm(p_values=ps), strict=True):
        if len(raw) == 1:
            adjusted, level = p, share
        elif plan.adjust == "tukey":
            count = len(fitted.methods)
            adjusted = float(stats.studentized_range.sf(abs(gap) / error * math.sqrt(2), count, freedom))
            reach = studentized_quantile(1 - share, float(count), freedom) / math.sqrt(2)
            level = 2 * t_tail(reach, freedom)
        else:
            adjusted = stepped
            level = share * p / stepped if p > 0 and stepped < 1 else share / len(raw)
        level = max(level, _SMALLEST_LEVEL / 100)
        half = t_quantile(1 - level / 2, freedom) * error
        alike = equivalence_p(difference=gap, margin=plan.smallest_difference, standard_error=error, freedom=freedom)
        found.append(
            Pair(first, second, gap, error, freedom, p, adjusted, gap - half, gap + half, level, alike,
                 gap / math.sqrt(fitted.error_square), "could_not_tell")
        )  # fmt: skip
    return found


def _worded(pair: Pair, plan: Plan, fitted: Fit, units: int, main_p: float, margin_stands: bool) -> Pair:
    """The pair with the strongest statement that it allows.

    Nothing is called higher unless the main test found something and the pair's own adjusted p is below the level too.
    """
    groups = float(len(fitted.methods))
    try:
        key: StatementKey = allowed_statement(
            units=float(units), groups=groups, difference=pair.difference, standard_error=pair.error,
            freedom=min(pair.freedom, units - groups), margin=plan.smallest_difference,
            significance=max(100 * pair.level, _SMALLEST_LEVEL),
        )  # fmt: skip
    except OutOfRange:
        key = "could_not_tell"
    level = plan.significance / 100
    if (main_p > level or pair.adjusted > level) and key != "similar_within_margin":
        key = "could_not_tell"
    if not margin_stands and key in _NEEDS_MARGIN:
        above, below, _ = _NEEDS_MARGIN[key]
        key = above if pair.difference > 0 else below
    return replace(pair, statement=key)


def _likeness(plan: Plan, means: Sequence[UnitMean]) -> float | None:
    """Intraclass correlation of the plants of one unit, where every unit has the same number of several readings."""
    counts = {len(mean.readings) for mean in means}
    if counts != {plan.readings} or plan.readings < 2 or not plan.replicated:
        return None
    groups: dict[str, list[UnitMean]] = defaultdict(list)
    for mean in means:
        groups[mean.unit.method].append(mean)
    freedom = len(means) - len(groups)
    if freedom < 1:
        return None
    between = 0.0
    for group in groups.values():
        middle = math.fsum(mean.value for mean in group) / len(group)
        between += plan.readings * math.fsum((mean.value - middle) ** 2 for mean in group) / freedom
    within = math.fsum((value - mean.value) ** 2 for mean in means for value in mean.readings)
    within /= len(means) * (plan.readings - 1)
    try:
        return intraclass_correlation(unit_square=between, sub_square=within, sub_samples=float(plan.readings))
    except OutOfRange:
        return None


def _wrong_unit(plan: Plan, means: Sequence[UnitMean]) -> Line | None:
    """What the same test would have said, had every plant been taken for a unit. Shown as a warning, never used."""
    if all(len(mean.readings) == 1 for mean in means):
        return None
    points = [point_of(mean.unit, value) for mean in means for value in mean.readings]
    return fit(points, plan.methods, plan.design).table[0]
