"""What the test takes for granted, looked at, with the limits of looking said beside it."""

import warnings
from collections import defaultdict
from dataclasses import dataclass
from typing import Final

from waterleaf.trial.analysis import Analysis

_FEW: Final = 20
_LIMIT: Final = 0.05


@dataclass(frozen=True, slots=True)
class Check:
    """One assumption: what was looked at, what came of it, and what that is worth."""

    title: str
    result: str
    meaning: str
    p: float | None = None


def look(analysis: Analysis) -> tuple[Check, ...]:
    """The checks of a tested trial."""
    if not analysis.tested or analysis.fit is None:
        return ()
    return (_same_spread(analysis), _bell_shape(analysis), _independence(analysis))


def _mirrored(analysis: Analysis) -> bool:
    """Whether two methods stand in blocks: what one has over in a block, the other lacks."""
    return analysis.fit is not None and len(analysis.fit.methods) == 2 and analysis.plan.design in ("paired", "blocked")


def _same_spread(analysis: Analysis) -> Check:
    """Levene's test, with distances from the median, on what the model leaves over."""
    from scipy import stats

    assert analysis.fit is not None
    groups: dict[str, list[float]] = defaultdict(list)
    for mean, rest in zip(analysis.unit_means, analysis.fit.residuals, strict=True):
        groups[mean.unit.method].append(rest)
    title = "Same spread in all methods (Levene, about the median)"
    if _mirrored(analysis):
        why = "Side by side, what one method has over the other lacks: their spreads cannot be told apart."
        return Check(title, "not computed", why)
    if min(map(len, groups.values())) < 3:
        return Check(title, "not computed", "Fewer than three units of a method say nothing about its spread.")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # residuals that are all alike
        found = stats.levene(*groups.values(), center="median")
    p = float(found.pvalue)
    if p != p:  # not a number: nothing varies
        return Check(title, "not computed", "The residuals are all alike.")
    if p < _LIMIT:
        meaning = "The spreads look different: lean on the plot, and name Welch's test in the plan of the next trial."
    else:
        units = f"{len(analysis.unit_means)} {analysis.plan.unit}s"
        meaning = f"No difference seen; with {units} only a large one would be."
    return Check(title, f"F = {found.statistic:.3g}, p = {p:.3f}", meaning, p)


def _bell_shape(analysis: Analysis) -> Check:
    """Shapiro and Wilk's test on what the model leaves over."""
    from scipy import stats

    assert analysis.fit is not None
    rest = analysis.fit.residuals
    if _mirrored(analysis):  # each residual stands there twice, once with either sign
        rest = tuple(
            value for mean, value in zip(analysis.unit_means, rest, strict=True)
            if mean.unit.method == analysis.fit.methods[0]
        )  # fmt: skip
    title = "Bell-shaped residuals (Shapiro and Wilk)"
    if len(rest) < 3 or max(rest) - min(rest) < 1e-12 * max(1.0, max(abs(mean.value) for mean in analysis.unit_means)):
        return Check(title, "not computed", "There is too little to look at.")
    found = stats.shapiro(rest)
    p = float(found.pvalue)
    if p < _LIMIT:
        meaning = "Some residuals lie far out. Look at them on the plot; none was taken out."
    elif len(rest) < _FEW:
        meaning = f"Nothing odd seen, but {len(rest)} residuals show only a gross departure."
    else:
        meaning = "Nothing odd seen."
    return Check(title, f"W = {found.statistic:.3f}, p = {p:.3f}", meaning, p)


def _independence(analysis: Analysis) -> Check:
    unit = analysis.plan.unit
    return Check(
        f"Independent {unit}s",
        "rests on the plan",
        f"No test shows this. It holds if each {unit} has its own supply and the methods were dealt out by the seed.",
    )
