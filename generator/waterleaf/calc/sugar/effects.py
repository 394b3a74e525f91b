"""Sugar, effects: how large a difference is against the spread, whatever the number of units."""

import math
from collections.abc import Sequence
from typing import Annotated

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.quantity import Quantity, cite, relation
from waterleaf.calc.sugar.groups import (
    FirstReadings,
    MeanFirst,
    MeanSecond,
    PooledDeviation,
    SecondReadings,
    pooled_deviation,
)
from waterleaf.calc.sugar.statistics import ANY_SCALE, MOST, Groups, Variation, mean_reading
from waterleaf.calc.sugar.variance import BetweenSquares, GrandMean, MeanSquare, TotalSquares, mean

EffectSize = Annotated[float, Quantity("d", "", "Cohen's d, a difference in standard deviations")]
GivenMean = Annotated[float, Quantity("bar x", "degBx", "mean of all readings", 0.0001, MOST)]
GroupMeans = Annotated[
    Sequence[float], Quantity("m", "degBx", "means expected", 0, MOST, many=1, fewest=2, basis=ANY_SCALE)
]
MeanOfMeans = Annotated[float, Quantity("bar m", "degBx", "mean of the means", 0, MOST)]
GivenDeviation = Annotated[float, Quantity("s", "degBx", "standard deviation within groups", 0.0001, MOST)]
MeansSpread = Annotated[float, Quantity("s_m", "degBx", "spread of the means", 0, MOST)]
EtaSquared = Annotated[float, Quantity("e_sq", "", "eta squared, share of squares between groups", 0, 0.99)]
EffectF = Annotated[float, Quantity("f", "", "Cohen's f, spread of the means in standard deviations", 0)]


@relation(cite("cohen1988", "chapter 2, d for two means", "memory"))
def cohen_d(*, first: FirstReadings, second: SecondReadings) -> EffectSize:
    """Difference of two means in pooled standard deviations, first minus second.

    Parameters
    ----------
    first : readings of the first group, shape (n1,) [degBx]
    second : readings of the second group, shape (n2,) [degBx]

    Returns
    -------
    Cohen's d, a pure number.

    Raises
    ------
    OutOfRange : fewer than two readings a group, or one outside the scale.

    Examples
    --------
    >>> cohen_d(first=[5.0, 6.0, 7.0], second=[4.0, 5.0, 6.0])
    1.0
    """
    mean_first: MeanFirst = mean_reading(readings=first)
    mean_second: MeanSecond = mean_reading(readings=second)
    deviation: PooledDeviation = pooled_deviation(first=first, second=second)
    return (mean_first - mean_second) / deviation


@relation(
    cite("cohen1988", "chapter 8, eta squared", "memory"), cite("nist2012", "R-squared of the certified data sets")
)
def eta_squared(*, groups: Groups) -> EtaSquared:
    """Share of all squares that lies between groups, also called R squared.

    Parameters
    ----------
    groups : two or more groups of two or more readings, shape (g, n_i) [degBx]

    Returns
    -------
    Eta squared, a pure number.

    Raises
    ------
    OutOfRange : too few groups or readings, or one outside the scale.

    Examples
    --------
    >>> eta_squared(groups=[[4.0, 5.0, 6.0], [6.0, 7.0, 8.0]])
    0.6
    """
    grand_mean: GrandMean = math.fsum(math.fsum(group) for group in groups) / sum(len(group) for group in groups)
    between: BetweenSquares = math.fsum(len(group) * (mean(group) - grand_mean) ** 2 for group in groups)
    total: TotalSquares = math.fsum(math.fsum((reading - grand_mean) ** 2 for reading in group) for group in groups)
    return between / total


@relation(cite("cohen1988", "chapter 8, f from eta squared", "memory"))
def cohen_f_from_eta(*, eta: EtaSquared) -> EffectF:
    """Cohen's f that belongs to an eta squared.

    Parameters
    ----------
    eta : eta squared, a pure number

    Returns
    -------
    Cohen's f, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> cohen_f_from_eta(eta=0.5)
    1.0
    """
    return math.sqrt(eta / (1 - eta))


@relation(cite("cohen1988", "chapter 8, f for equal groups", "memory"))
def cohen_f(*, means: GroupMeans, deviation: GivenDeviation) -> EffectF:
    """Cohen's f of means that are expected, for groups of equal size.

    Parameters
    ----------
    means : mean expected of each group, shape (g,) [degBx]
    deviation : standard deviation within groups [degBx]

    Returns
    -------
    Cohen's f, a pure number.

    Raises
    ------
    OutOfRange : fewer than two means, or an argument outside its range.

    Examples
    --------
    >>> cohen_f(means=[4.0, 6.0], deviation=2.0)
    0.5
    """
    grand_mean: MeanOfMeans = math.fsum(means) / len(means)
    spread: MeansSpread = math.sqrt(math.fsum((value - grand_mean) ** 2 for value in means) / len(means))
    return spread / deviation


@relation(cite("fisher1925", "standard deviation of the error as a share of the mean", "memory"))
def experiment_variation(*, mean_square: MeanSquare, grand_mean: GivenMean) -> Variation:
    """Coefficient of variation of a trial, from the mean square of its error.

    Parameters
    ----------
    mean_square : mean square of the error [degBx^2]
    grand_mean : mean of all readings [degBx]

    Returns
    -------
    Coefficient of variation [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> experiment_variation(mean_square=0.25, grand_mean=5.0)
    10.0
    """
    return HUNDRED_PERCENT * math.sqrt(mean_square) / grand_mean
