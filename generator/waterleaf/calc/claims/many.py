"""Claims, many looks: what several comparisons do to the level, and how p values are adjusted for it."""

from collections.abc import Sequence
from typing import Annotated

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.quantity import Quantity, cite, relation

Significance = Annotated[float, Quantity("a", "percent", "significance level", 0.1, 20)]
LevelEach = Annotated[float, Quantity("a_each", "percent", "significance level of each comparison", 0, 20)]
LevelFound = Annotated[float, Quantity("a_all", "percent", "chance of a false alarm in all comparisons", 0, 100)]
NoAlarm = Annotated[float, Quantity("s", "", "chance of no false alarm", 0, 1)]
PValues = Annotated[Sequence[float], Quantity("p", "", "p values", 0, 1, many=1)]
Adjusted = Annotated[tuple[float, ...], Quantity("p_adj", "", "adjusted p values", 0, 1, many=1)]
Comparisons = Annotated[float, Quantity("m", "", "number of comparisons", 1, 1000, whole=True)]


@relation(cite("arithmetic", "chance of at least one false alarm among independent tests", "definition"))
def family_wise_error(*, comparisons: Comparisons, significance: Significance = 5.0) -> LevelFound:
    """Chance of at least one false alarm in several independent comparisons where nothing differs.

    Parameters
    ----------
    comparisons : number of comparisons, a whole number
    significance : level of each [percent]

    Returns
    -------
    Family-wise error [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(family_wise_error(comparisons=3.0), 4)
    14.2625
    """
    no_false_alarm: NoAlarm = (1 - significance / HUNDRED_PERCENT) ** comparisons
    return HUNDRED_PERCENT * (1 - no_false_alarm)


@relation(cite("bonferroni1936", "inequality", "memory"))
def bonferroni_level(*, comparisons: Comparisons, significance: Significance = 5.0) -> LevelEach:
    """Level for each of several comparisons that keeps the false alarms of all together within a level.

    Parameters
    ----------
    comparisons : number of comparisons, a whole number
    significance : level for all together [percent]

    Returns
    -------
    Level for each comparison [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> bonferroni_level(comparisons=10.0)
    0.5
    """
    return significance / comparisons


@relation(cite("bonferroni1936", "inequality", "memory"), procedure=True)
def bonferroni(*, p_values: PValues) -> Adjusted:
    """p values adjusted for their number, each times the number of comparisons.

    Parameters
    ----------
    p_values : p of each comparison, shape (m,)

    Returns
    -------
    Adjusted p values in the order given, at most 1.

    Raises
    ------
    OutOfRange : a p value outside 0 to 1.

    Examples
    --------
    >>> bonferroni(p_values=[0.01, 0.4])
    (0.02, 0.8)
    """
    return tuple(min(1.0, p * len(p_values)) for p in p_values)


@relation(cite("holm1979", "step-down procedure", "memory"), procedure=True)
def holm(*, p_values: PValues) -> Adjusted:
    """p values adjusted by Holm's steps: the smallest times m, the next times m - 1, and never falling.

    Parameters
    ----------
    p_values : p of each comparison, shape (m,)

    Returns
    -------
    Adjusted p values in the order given, at most 1.

    Raises
    ------
    OutOfRange : a p value outside 0 to 1.

    Notes
    -----
    Guards against false alarms as well as Bonferroni and finds more: prefer it.

    Examples
    --------
    >>> [round(p, 6) for p in holm(p_values=[0.04, 0.01, 0.03])]
    [0.06, 0.03, 0.06]
    """
    order = sorted(range(len(p_values)), key=lambda place: p_values[place])
    adjusted = [0.0] * len(p_values)
    highest = 0.0
    for step, place in enumerate(order):
        highest = max(highest, min(1.0, p_values[place] * (len(p_values) - step)))
        adjusted[place] = highest
    return tuple(adjusted)


@relation(cite("benjamini1995", "step-up procedure", "memory"), procedure=True)
def benjamini_hochberg(*, p_values: PValues) -> Adjusted:
    """p values adjusted so that a level limits the share of false alarms among the findings.

    Parameters
    ----------
    p_values : p of each comparison, shape (m,)

    Returns
    -------
    Adjusted p values in the order given, at most 1.

    Raises
    ------
    OutOfRange : a p value outside 0 to 1.

    Notes
    -----
    A weaker promise than Holm's: some findings will be false. Fit for screening many cultivars, not for one claim.

    Examples
    --------
    >>> [round(p, 6) for p in benjamini_hochberg(p_values=[0.04, 0.01, 0.03])]
    [0.04, 0.03, 0.04]
    """
    order = sorted(range(len(p_values)), key=lambda place: p_values[place], reverse=True)
    adjusted = [0.0] * len(p_values)
    lowest = 1.0
    for step, place in enumerate(order):
        lowest = min(lowest, p_values[place] * len(p_values) / (len(p_values) - step))
        adjusted[place] = lowest
    return tuple(adjusted)
