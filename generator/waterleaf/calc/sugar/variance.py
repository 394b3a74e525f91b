"""Sugar, several groups: analysis of variance, with and without blocks, and which means differ."""

import functools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.quantity import OutOfRange, Quantity, cite, lookup, relation
from waterleaf.calc.sugar.statistics import (
    ANY_SCALE,
    MOST,
    Confidence,
    GroupCount,
    Groups,
    PValue,
    TailShare,
    t_quantile,
)

BlockReadings = Annotated[
    Sequence[Sequence[float]],
    Quantity("x_block", "degBx", "readings of all blocks", 0, MOST, many=2, fewest=2, basis=ANY_SCALE),
]
GrandMean = Annotated[float, Quantity("bar x", "degBx", "mean of all readings", 0, MOST)]
BetweenSquares = Annotated[float, Quantity("SS_between", "degBx^2", "sum of squares between groups", 0)]
WithinSquares = Annotated[float, Quantity("SS_within", "degBx^2", "sum of squares within groups", 0)]
BlockSquares = Annotated[float, Quantity("SS_block", "degBx^2", "sum of squares between blocks", 0)]
ErrorSquares = Annotated[float, Quantity("SS_error", "degBx^2", "sum of squares left over", 0)]
TotalSquares = Annotated[float, Quantity("SS_total", "degBx^2", "sum of squares of all readings", 0)]
BetweenFreedom = Annotated[float, Quantity("df_between", "", "degrees of freedom between groups", 1, 10_000)]
WithinFreedom = Annotated[float, Quantity("df_within", "", "degrees of freedom within groups", 1, 10_000)]
ErrorFreedom = Annotated[float, Quantity("df_error", "", "degrees of freedom of the error", 1, 100_000)]
BetweenMeanSquare = Annotated[float, Quantity("MS_between", "degBx^2", "mean square between groups", 0)]
WithinMeanSquare = Annotated[float, Quantity("MS_within", "degBx^2", "mean square within groups", 0)]
ErrorMeanSquare = Annotated[float, Quantity("MS_error", "degBx^2", "mean square of the error", 0)]
MeanSquare = Annotated[float, Quantity("MS", "degBx^2", "mean square of the error", 0.0000001, 1e15)]
BlockSquare = Annotated[float, Quantity("MS_block", "degBx^2", "mean square between blocks", 0.0000001, 1e15)]
BlockCount = Annotated[float, Quantity("r", "", "number of blocks", 2, 50, whole=True)]
UnitsEach = Annotated[float, Quantity("n", "", "units in each group", 2, 100_000, whole=True)]
CurveShare = Annotated[float, Quantity("w", "", "share of the curve below the critical value", 0.5, 1)]
FValue = Annotated[float, Quantity("F", "", "F ratio", 0)]
FFound = Annotated[float, Quantity("F", "", "F ratio", 0, 10_000)]
LeastDifference = Annotated[float, Quantity("LSD", "degBx", "least significant difference", 0)]
HonestDifference = Annotated[float, Quantity("HSD", "degBx", "honestly significant difference", 0)]
Efficiency = Annotated[float, Quantity("RE", "", "relative efficiency", 0)]


@lookup("tail_F", "the share of the F curve beyond", cite("fisher1925", "table of F, computed by scipy", "computed"))
def f_tail(value: float, freedom_between: float, freedom_within: float) -> float:
    """Share of the F curve above a value."""
    from scipy.special import fdtrc

    return float(fdtrc(freedom_between, freedom_within, value))


@lookup("q", "the studentized range for", cite("tukey1953", "table of the range, computed by scipy", "computed"))
@functools.cache
def studentized_quantile(share: float, groups: float, freedom: float) -> float:
    """Value of the studentized range below which `share` of the curve lies."""
    from scipy.stats import studentized_range

    return float(studentized_range.ppf(share, groups, freedom))


def mean(values: Sequence[float]) -> float:
    """Mean of plain numbers, for use inside a relation over groups."""
    return math.fsum(values) / len(values)


@relation(cite("fisher1925", "analysis of variance", "memory"), cite("nist2012", "one-way analysis of variance"))
def anova_f(*, groups: Groups) -> FValue:
    """F ratio of a one-way analysis of variance: spread between groups over spread within.

    Parameters
    ----------
    groups : two or more groups of two or more readings, shape (g, n_i) [degBx]

    Returns
    -------
    F, a pure number.

    Raises
    ------
    OutOfRange : too few groups or readings, or one outside the scale.

    Examples
    --------
    >>> anova_f(groups=[[4.0, 5.0, 6.0], [6.0, 7.0, 8.0]])
    6.0
    """
    grand_mean: GrandMean = math.fsum(math.fsum(group) for group in groups) / sum(len(group) for group in groups)
    between: BetweenSquares = math.fsum(len(group) * (mean(group) - grand_mean) ** 2 for group in groups)
    within: WithinSquares = math.fsum(math.fsum((reading - mean(group)) ** 2 for reading in group) for group in groups)
    freedom_between: BetweenFreedom = len(groups) - 1
    freedom_within: WithinFreedom = sum(len(group) for group in groups) - len(groups)
    mean_square_between: BetweenMeanSquare = between / freedom_between
    mean_square_within: WithinMeanSquare = within / freedom_within
    return mean_square_between / mean_square_within


@dataclass(frozen=True, slots=True)
class AnovaRow:
    """One line of an analysis-of-variance table; empty cells are None."""

    source: str
    freedom: int
    squares: float
    mean_square: float | None
    f_ratio: float | None
    p_value: float | None


AnovaTable = Annotated[tuple[AnovaRow, ...], Quantity("", "", "analysis-of-variance table")]


@relation(
    cite("fisher1925", "analysis of variance", "memory"), cite("nist2012", "one-way analysis of variance"),
    procedure=True,
)
def anova_table(*, groups: Groups) -> AnovaTable:
    """One-way analysis-of-variance table: between groups, within groups, total.

    Parameters
    ----------
    groups : two or more groups of two or more readings, shape (g, n_i) [degBx]

    Returns
    -------
    Three rows: source, degrees of freedom, sum of squares, mean square, F, p.

    Raises
    ------
    OutOfRange : too few groups or readings, or one outside the scale.

    Examples
    --------
    >>> [row.squares for row in anova_table(groups=[[4.0, 5.0, 6.0], [6.0, 7.0, 8.0]])]
    [6.0, 4.0, 10.0]
    """
    from scipy.special import fdtrc

    readings = [reading for group in groups for reading in group]
    # Distances from the grand mean, not from zero, keep the digits when readings are large and close together.
    centre = mean(readings)
    offsets = [[reading - centre for reading in group] for group in groups]
    shift = mean([offset for group in offsets for offset in group])
    between = math.fsum(len(group) * (mean(group) - shift) ** 2 for group in offsets)
    within = math.fsum((offset - mean(group)) ** 2 for group in offsets for offset in group)
    freedom_between, freedom_within = len(groups) - 1, len(readings) - len(groups)
    f_ratio = (between / freedom_between) / (within / freedom_within) if within else math.inf
    return (
        AnovaRow("between groups", freedom_between, between, between / freedom_between, f_ratio,
                 float(fdtrc(freedom_between, freedom_within, f_ratio))),
        AnovaRow("within groups", freedom_within, within, within / freedom_within, None, None),
        AnovaRow("total", len(readings) - 1, between + within, None, None, None),
    )


@relation(cite("fisher1925", "tail of the variance ratio", "memory"))
def f_ratio_p(*, f_ratio: FFound, freedom_between: BetweenFreedom, freedom_within: WithinFreedom) -> PValue:
    """p value of an F ratio: how often chance alone would give one as large.

    Parameters
    ----------
    f_ratio : F ratio, a pure number
    freedom_between : degrees of freedom above the line
    freedom_within : degrees of freedom below the line

    Returns
    -------
    p, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(f_ratio_p(f_ratio=3.35413, freedom_between=2.0, freedom_within=27.0), 4)
    0.05
    """
    return f_tail(f_ratio, freedom_between, freedom_within)


@relation(cite("fisher1925", "randomised blocks", "memory"))
def blocked_f(*, treatments: Groups, blocks: BlockReadings) -> FValue:
    """F ratio for treatments in randomised blocks with one reading of each treatment in each block.

    Parameters
    ----------
    treatments : readings by treatment, block after block, shape (t, r) [degBx]
    blocks : the same readings by block, treatment after treatment, shape (r, t) [degBx]

    Returns
    -------
    F for treatments, a pure number; its degrees of freedom are t - 1 and (t - 1)(r - 1).

    Raises
    ------
    OutOfRange : too few treatments or blocks, or a reading outside the scale.

    Examples
    --------
    >>> round(blocked_f(treatments=[[4.0, 5.0, 6.2], [6.0, 7.0, 7.8]], blocks=[[4.0, 6.0], [5.0, 7.0], [6.2, 7.8]]), 2)
    196.0
    """
    grand_mean: GrandMean = math.fsum(math.fsum(row) for row in treatments) / sum(len(row) for row in treatments)
    total: TotalSquares = math.fsum(math.fsum((reading - grand_mean) ** 2 for reading in group) for group in treatments)
    between: BetweenSquares = math.fsum(len(group) * (mean(group) - grand_mean) ** 2 for group in treatments)
    between_blocks: BlockSquares = math.fsum(len(group) * (mean(group) - grand_mean) ** 2 for group in blocks)
    error: ErrorSquares = total - between - between_blocks
    freedom_between: BetweenFreedom = len(treatments) - 1
    freedom_error: ErrorFreedom = (len(treatments) - 1) * (len(blocks) - 1)
    mean_square_between: BetweenMeanSquare = between / freedom_between
    mean_square_error: ErrorMeanSquare = error / freedom_error
    return mean_square_between / mean_square_error


@relation(cite("fisher1925", "randomised blocks", "memory"), procedure=True)
def blocked_table(*, treatments: Groups) -> AnovaTable:
    """Analysis-of-variance table of randomised blocks: treatments, blocks, error, total.

    Parameters
    ----------
    treatments : readings by treatment, block after block, shape (t, r) [degBx]

    Returns
    -------
    Four rows: source, degrees of freedom, sum of squares, mean square, F, p.

    Raises
    ------
    OutOfRange : too few treatments or blocks, a block without some treatment, or a reading outside the scale.

    Examples
    --------
    >>> [row.freedom for row in blocked_table(treatments=[[4.0, 5.0, 6.0], [6.0, 7.0, 7.5]])]
    [1, 2, 2, 5]
    """
    if len({len(group) for group in treatments}) > 1:
        raise OutOfRange("treatments: some block lacks a treatment. Give one reading of each treatment in each block.")
    centre = mean([reading for group in treatments for reading in group])
    # Distances from the grand mean, not from zero, keep the digits when readings are large and close together.
    offsets = [[reading - centre for reading in group] for group in treatments]
    blocks = list(zip(*offsets, strict=True))
    shift = mean([offset for group in offsets for offset in group])
    between = math.fsum(len(group) * (mean(group) - shift) ** 2 for group in offsets)
    between_blocks = math.fsum(len(block) * (mean(block) - shift) ** 2 for block in blocks)
    error = math.fsum(
        (offset - mean(group) - mean(block) + shift) ** 2
        for group in offsets for offset, block in zip(group, blocks, strict=True)
    )
    freedom, freedom_blocks = len(treatments) - 1, len(blocks) - 1
    freedom_error = freedom * freedom_blocks
    rest = error / freedom_error

    def line(source: str, degrees: int, squares: float) -> AnovaRow:
        ratio = squares / degrees / rest if rest else math.inf
        return AnovaRow(source, degrees, squares, squares / degrees, ratio, f_tail(ratio, degrees, freedom_error))

    return (
        line("treatments", freedom, between),
        line("blocks", freedom_blocks, between_blocks),
        AnovaRow("error", freedom_error, error, rest, None, None),
        AnovaRow("total", freedom + freedom_blocks + freedom_error, between + between_blocks + error, None, None, None),
    )


@relation(cite("yates1935", "efficiency of blocks against no blocks", "memory"))
def blocking_efficiency(
    *, block_square: BlockSquare, error_square: MeanSquare, treatments: GroupCount, blocks: BlockCount
) -> Efficiency:
    """How many times as many units a trial without blocks would have needed.

    Parameters
    ----------
    block_square : mean square between blocks [degBx^2]
    error_square : mean square of the error [degBx^2]
    treatments : number of treatments, a whole number
    blocks : number of blocks, a whole number

    Returns
    -------
    Relative efficiency, a pure number; above 1 the blocks were worth it.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> blocking_efficiency(block_square=1.0, error_square=1.0, treatments=4.0, blocks=3.0)
    1.0
    """
    return ((blocks - 1) * block_square + blocks * (treatments - 1) * error_square) / (
        (blocks * treatments - 1) * error_square
    )


@relation(cite("fisher1925", "t times the standard error of a difference", "memory"))
def least_significant_difference(
    *, mean_square: MeanSquare, group_size: UnitsEach, freedom: ErrorFreedom, confidence: Confidence = 95.0
) -> LeastDifference:
    """Least difference of two means that one comparison planned beforehand calls significant.

    Parameters
    ----------
    mean_square : mean square of the error [degBx^2]
    group_size : units in each group, a whole number
    freedom : degrees of freedom of the error
    confidence : confidence level [percent]

    Returns
    -------
    Least significant difference [degBx].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Made for a single comparison. For all pairs use the honestly significant difference.

    Examples
    --------
    >>> round(least_significant_difference(mean_square=0.38859593, group_size=10.0, freedom=27.0), 3)
    0.572
    """
    share: TailShare = (1 + confidence / HUNDRED_PERCENT) / 2
    return t_quantile(share, freedom) * math.sqrt(2 * mean_square / group_size)


@relation(cite("tukey1953", "studentized range times the standard error of a mean", "memory"))
def honestly_significant_difference(
    *, mean_square: MeanSquare, group_size: UnitsEach, groups: GroupCount, freedom: ErrorFreedom,
    confidence: Confidence = 95.0,
) -> HonestDifference:
    """Least difference of two means that counts as significant when all pairs are compared.

    Parameters
    ----------
    mean_square : mean square of the error [degBx^2]
    group_size : units in each group, a whole number
    groups : number of groups, a whole number
    freedom : degrees of freedom of the error
    confidence : confidence level for all pairs together [percent]

    Returns
    -------
    Honestly significant difference [degBx].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(honestly_significant_difference(mean_square=0.38859593, group_size=10.0, groups=3.0, freedom=27.0), 3)
    0.691
    """
    share: CurveShare = confidence / HUNDRED_PERCENT
    return studentized_quantile(share, groups, freedom) * math.sqrt(mean_square / group_size)


@dataclass(frozen=True, slots=True)
class TukeyRow:
    """One pair of groups, counted from 1: difference first minus second, its interval, and p for all pairs together."""

    first: int
    second: int
    difference: float
    low: float
    high: float
    p_value: float


TukeyTable = Annotated[tuple[TukeyRow, ...], Quantity("", "degBx", "intervals of all differences")]


@relation(
    cite("tukey1953", "studentized range", "memory"), cite("kramer1956", "groups of unequal size", "memory"),
    procedure=True,
)
def tukey_intervals(*, groups: Groups, confidence: Confidence = 95.0) -> TukeyTable:
    """Tukey's intervals for the differences of all pairs of means, by Kramer's rule where groups differ in size.

    Parameters
    ----------
    groups : two or more groups of two or more readings, shape (g, n_i) [degBx]
    confidence : confidence level for all pairs together [percent]

    Returns
    -------
    A row for each pair: the two groups, difference, lower and upper end [degBx], p.

    Raises
    ------
    OutOfRange : too few groups or readings, an argument outside its range, or no spread within any group.

    Examples
    --------
    >>> table = tukey_intervals(groups=[[4.0, 5.0, 6.0], [6.0, 7.0, 8.0], [5.0, 6.0, 7.0]])
    >>> [row.difference for row in table]
    [-2.0, -1.0, 1.0]
    """
    from scipy.stats import studentized_range

    within = anova_table(groups=groups)[1]
    if not within.squares:
        raise OutOfRange("groups: no reading differs from its group mean. Give readings with some spread.")
    share = float(confidence / HUNDRED_PERCENT)
    critical = studentized_quantile(share, float(len(groups)), float(within.freedom))
    rows = []
    for first in range(len(groups)):
        for second in range(first + 1, len(groups)):
            difference = mean(groups[first]) - mean(groups[second])
            error = math.sqrt(
                within.squares / within.freedom * (1 / len(groups[first]) + 1 / len(groups[second])) / 2
            )
            p_value = float(studentized_range.sf(abs(difference) / error, len(groups), within.freedom))
            half = critical * error
            rows.append(TukeyRow(first + 1, second + 1, difference, difference - half, difference + half, p_value))
    return tuple(rows)
