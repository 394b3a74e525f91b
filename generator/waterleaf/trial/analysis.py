"""From readings to what may be said: unit means, the test that the plan named, every pair by a shared error rate."""

import math
import statistics
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from waterleaf.calc.quantity import OutOfRange
from waterleaf.calc.sugar.units import intraclass_correlation
from waterleaf.trial import ranks
from waterleaf.trial.intake import Reading
from waterleaf.trial.layout import Unit
from waterleaf.trial.mixed import Mixed, fit_mixed
from waterleaf.trial.model import Fit, Line, Point, fit
from waterleaf.trial.pairs import Pair, Rule, adjusted, grouped, pooled_pairs, welch_pairs, worded
from waterleaf.trial.plan import Plan

# So many times the variance that plants add to the unit means of another method counts as lopsided.
_LOPSIDED: Final = 2.0


@dataclass(frozen=True, slots=True)
class UnitMean:
    """What one unit counts for: the mean of its readings."""

    unit: Unit
    value: float
    readings: tuple[float, ...]


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
    mixed: Mixed | None = None
    mixed_leads: bool = False

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
    if not plan.replicated or not fitted.testable:
        return made
    if plan.test == "welch" and not _enough_for_welch(means):
        few = f"Welch's test takes two or more {plan.unit}s of each method, not all alike. Nothing was tested."
        return replace(made, notes=(*made.notes, few))
    made = _with_mixed(made, fitted)
    main_p, main_text, pairs = _tested(made, fitted, points)
    said = tuple(worded(pair, plan, len(fitted.methods), len(points), main_p, margin_stands) for pair in pairs)
    return replace(made, main_p=main_p, main_text=main_text, pairs=said, wrong_unit=_wrong_unit(plan, means))


def _tested(made: Analysis, fitted: Fit, points: Sequence[Point]) -> tuple[float, str, list[Pair]]:
    """Main test and pairs by what leads: ranks, the mixed model, or unit means."""
    plan = made.plan
    rule = Rule(plan.significance, plan.adjust, plan.smallest_difference, math.sqrt(fitted.error_square))
    if plan.test == "ranks":
        main_p, main_text = ranks.main_test(points, plan.methods, plan.design)
        return main_p, main_text, ranks.rank_pairs(points, plan.methods, plan.design, rule)
    if made.mixed_leads and made.mixed is not None:
        found = made.mixed
        text = f"F = {found.ratio:.4g} on {len(found.methods) - 1} and {found.freedom} degrees of freedom"
        return found.p, text, adjusted(found.pairs(), len(found.methods), rule)
    main_p, main_text = _main_test(plan, fitted, points)
    raw = welch_pairs(points, fitted) if plan.test == "welch" else pooled_pairs(fitted)
    return main_p, main_text, adjusted(raw, len(fitted.methods), rule)


def _with_mixed(made: Analysis, fitted: Fit) -> Analysis:
    """The mixed model beside unit means where units have several plants; it leads if the plan says so and it can.

    It also leads where one method lost far more readings than another: unit means share one spread among methods, which
    is then not theirs. How many readings are left decides that, never what they say.
    """
    plan = made.plan
    if plan.test not in ("anova", "mixed") or all(len(mean.readings) == 1 for mean in made.unit_means):
        return made
    plants = [(mean.unit.code, point_of(mean.unit, value)) for mean in made.unit_means for value in mean.readings]
    found = fit_mixed(plants, plan.methods, plan.design, fitted.error_freedom)
    few = _short_of_readings(made.unit_means) if plan.test == "anova" else ""
    if plan.test == "anova" and not few:
        return replace(made, mixed=found)
    trouble = "it cannot be fitted to these readings" if found is None else found.trouble
    if few:
        start = f"Units of {few} have far fewer readings than others, so their means are less sure. The mixed model"
        said = f"{start} could allow for that, but {trouble}: unit means lead." if trouble else (
            f"{start}, which allows for that, leads in place of unit means. With equal numbers the two agree."
        )  # fmt: skip
        return replace(made, mixed=found, mixed_leads=not trouble, notes=(*made.notes, said))
    if not trouble:
        return replace(made, mixed=found, mixed_leads=True)
    note = f"The plan named the mixed model, but {trouble}. Unit means lead in its place."
    return replace(made, mixed=found, notes=(*made.notes, note))


def _short_of_readings(means: Sequence[UnitMean]) -> str:
    """The method whose units have the fewest readings, if those of another have so many times more; else nothing."""
    parts: dict[str, list[float]] = defaultdict(list)
    for mean in means:
        parts[mean.unit.method].append(1 / len(mean.readings))
    # What plants add to the variance of a unit mean goes with one over their number.
    added = {method: math.fsum(shares) / len(shares) for method, shares in parts.items()}
    most = max(added, key=added.__getitem__)
    return most if added[most] >= _LOPSIDED * min(added.values()) else ""


def method_means(analysis: Analysis) -> list[tuple[str, float, float, float]]:
    """Each method's mean, its standard error and the degrees of freedom behind it, by the test that leads.

    Welch takes each method by itself; all others take the spread that methods share.
    """
    if analysis.fit is None:
        return []
    if analysis.plan.test == "welch" and analysis.tested:
        groups = {
            method: [mean.value for mean in analysis.unit_means if mean.unit.method == method]
            for method in analysis.fit.methods
        }
        return [
            (method, statistics.fmean(own), statistics.stdev(own) / math.sqrt(len(own)), float(len(own) - 1))
            for method, own in groups.items()
        ]
    found: Mixed | Fit = analysis.fit
    freedom = float(analysis.fit.error_freedom)
    if analysis.mixed_leads and analysis.mixed is not None:
        found, freedom = analysis.mixed, float(analysis.mixed.freedom)
    errors = [math.sqrt(max(0.0, float(variance))) for variance in found.covariance.diagonal()]
    return [(name, mean, error, freedom) for name, mean, error in zip(found.methods, found.means, errors, strict=True)]


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
            f"Units have from {min(counts)} to {max(counts)} readings each, so their means are not equally sure."
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


def _main_test(plan: Plan, fitted: Fit, points: Sequence[Point]) -> tuple[float, str]:
    if plan.test == "welch":
        from statsmodels.stats.oneway import anova_oneway

        found: Any = anova_oneway(grouped(points, fitted.methods), use_var="unequal", welch_correction=True)
        numerator, rest = found.df
        return float(found.pvalue), f"F = {found.statistic:.4g} on {numerator:g} and {rest:.4g} degrees of freedom"
    line = fitted.table[0]
    ratio, p = line.f_ratio or 0.0, line.p if line.p is not None else 1.0
    if line.freedom == 1:
        return p, f"t = {math.sqrt(ratio):.4g} (without sign) on {fitted.error_freedom} degrees of freedom"
    return p, f"F = {ratio:.4g} on {line.freedom} and {fitted.error_freedom} degrees of freedom"


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
