"""Sugar, two groups: Welch's and Student's t, pairs, and how far apart two means are."""

import math
from collections.abc import Sequence
from typing import Annotated

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.quantity import OutOfRange, Quantity, cite, relation
from waterleaf.calc.sugar.statistics import (
    ANY_SCALE,
    MOST,
    Confidence,
    Deviation,
    HalfWidth,
    PValue,
    SquareSum,
    TailShare,
    mean_reading,
    standard_error,
    t_quantile,
    t_tail,
)

FirstReadings = Annotated[
    Sequence[float], Quantity("x_1", "degBx", "readings of the first group", 0, MOST, many=1, fewest=2, basis=ANY_SCALE)
]
SecondReadings = Annotated[
    Sequence[float],
    Quantity("x_2", "degBx", "readings of the second group", 0, MOST, many=1, fewest=2, basis=ANY_SCALE),
]
PairDifferences = Annotated[
    Sequence[float],
    Quantity("d", "degBx", "differences within pairs", -MOST, MOST, many=1, fewest=2, basis="any scale"),
]
MeanFirst = Annotated[float, Quantity("bar x_1", "degBx", "mean of the first group", 0, MOST)]
MeanSecond = Annotated[float, Quantity("bar x_2", "degBx", "mean of the second group", 0, MOST)]
MeanDifference = Annotated[float, Quantity("bar d", "degBx", "mean difference", -MOST, MOST)]
SquaresFirst = Annotated[float, Quantity("SS_1", "degBx^2", "sum of squared distances in the first group", 0)]
SquaresSecond = Annotated[float, Quantity("SS_2", "degBx^2", "sum of squared distances in the second group", 0)]
PooledDeviation = Annotated[float, Quantity("s_p", "degBx", "standard deviation pooled over both groups", 0, MOST)]
DifferenceError = Annotated[float, Quantity("SE_d", "degBx", "standard error of the difference", 0, MOST)]
ErrorFirst = Annotated[float, Quantity("SE_1", "degBx", "standard error of the first group", 0, MOST)]
ErrorSecond = Annotated[float, Quantity("SE_2", "degBx", "standard error of the second group", 0, MOST)]
TValue = Annotated[float, Quantity("t", "", "Student's or Welch's t")]
TFound = Annotated[float, Quantity("t", "", "t found", -100, 100)]
TSize = Annotated[float, Quantity("t_abs", "", "t without its sign", 0)]
TFreedom = Annotated[float, Quantity("df", "", "degrees of freedom", 1)]


@relation(cite("welch1947", "statistic for unequal variances", "memory"))
def welch_t(*, first: FirstReadings, second: SecondReadings) -> TValue:
    """Welch's t for the difference of two means, first minus second.

    Parameters
    ----------
    first : readings of the first group, shape (n1,) [degBx]
    second : readings of the second group, shape (n2,) [degBx]

    Returns
    -------
    t, a pure number.

    Raises
    ------
    OutOfRange : fewer than two readings a group, or one outside the scale.

    Examples
    --------
    >>> round(welch_t(first=[5.0, 6.0, 7.0], second=[4.0, 5.0, 6.0]), 4)
    1.2247
    """
    mean_first: MeanFirst = mean_reading(readings=first)
    mean_second: MeanSecond = mean_reading(readings=second)
    error_first: ErrorFirst = standard_error(readings=first)
    error_second: ErrorSecond = standard_error(readings=second)
    return (mean_first - mean_second) / math.sqrt(error_first**2 + error_second**2)


@relation(cite("welch1947", "approximate degrees of freedom", "memory"))
def welch_freedom(*, first: FirstReadings, second: SecondReadings) -> TFreedom:
    """Degrees of freedom that go with Welch's t.

    Parameters
    ----------
    first : readings of the first group, shape (n1,) [degBx]
    second : readings of the second group, shape (n2,) [degBx]

    Returns
    -------
    Degrees of freedom, seldom whole.

    Raises
    ------
    OutOfRange : fewer than two readings a group, or one outside the scale.

    Examples
    --------
    >>> round(welch_freedom(first=[5.0, 6.0, 7.0], second=[4.0, 5.0, 6.0]), 6)
    4.0
    """
    error_first: ErrorFirst = standard_error(readings=first)
    error_second: ErrorSecond = standard_error(readings=second)
    return (error_first**2 + error_second**2) ** 2 / (
        error_first**4 / (len(first) - 1) + error_second**4 / (len(second) - 1)
    )


@relation(cite("welch1947", "interval with the approximate degrees of freedom", "memory"))
def welch_half_width(*, first: FirstReadings, second: SecondReadings, confidence: Confidence = 95.0) -> HalfWidth:
    """Half-width of the confidence interval of a difference of two means, by Welch's method.

    Parameters
    ----------
    first : readings of the first group, shape (n1,) [degBx]
    second : readings of the second group, shape (n2,) [degBx]
    confidence : confidence level [percent]

    Returns
    -------
    Half-width: the interval is the difference minus and plus this [degBx].

    Raises
    ------
    OutOfRange : fewer than two readings a group, or an argument outside its range.

    Examples
    --------
    >>> round(welch_half_width(first=[5.0, 6.0, 7.0], second=[4.0, 5.0, 6.0]), 4)
    2.267
    """
    error_first: ErrorFirst = standard_error(readings=first)
    error_second: ErrorSecond = standard_error(readings=second)
    freedom: TFreedom = welch_freedom(first=first, second=second)
    share: TailShare = (1 + confidence / HUNDRED_PERCENT) / 2
    return t_quantile(share, freedom) * math.sqrt(error_first**2 + error_second**2)


@relation(cite("student1908", "standard deviation of two groups taken together", "memory"))
def pooled_deviation(*, first: FirstReadings, second: SecondReadings) -> PooledDeviation:
    """Standard deviation of two groups taken together, each round its own mean.

    Parameters
    ----------
    first : readings of the first group, shape (n1,) [degBx]
    second : readings of the second group, shape (n2,) [degBx]

    Returns
    -------
    Pooled standard deviation [degBx].

    Raises
    ------
    OutOfRange : fewer than two readings a group, or one outside the scale.

    Examples
    --------
    >>> pooled_deviation(first=[5.0, 6.0, 7.0], second=[4.0, 5.0, 6.0])
    1.0
    """
    mean_first: MeanFirst = mean_reading(readings=first)
    mean_second: MeanSecond = mean_reading(readings=second)
    squares_first: SquaresFirst = math.fsum((reading - mean_first) ** 2 for reading in first)
    squares_second: SquaresSecond = math.fsum((reading - mean_second) ** 2 for reading in second)
    return math.sqrt((squares_first + squares_second) / (len(first) + len(second) - 2))


@relation(cite("student1908", "difference of two means over its pooled standard error", "memory"))
def pooled_t(*, first: FirstReadings, second: SecondReadings) -> TValue:
    """Student's t for the difference of two means with one spread, first minus second.

    Parameters
    ----------
    first : readings of the first group, shape (n1,) [degBx]
    second : readings of the second group, shape (n2,) [degBx]

    Returns
    -------
    t, a pure number; its degrees of freedom are n1 + n2 - 2.

    Raises
    ------
    OutOfRange : fewer than two readings a group, or one outside the scale.

    Notes
    -----
    Takes the spread of both groups to be the same. Welch's t does not, and is the safer habit.

    Examples
    --------
    >>> round(pooled_t(first=[5.0, 6.0, 7.0], second=[4.0, 5.0, 6.0]), 4)
    1.2247
    """
    mean_first: MeanFirst = mean_reading(readings=first)
    mean_second: MeanSecond = mean_reading(readings=second)
    deviation: PooledDeviation = pooled_deviation(first=first, second=second)
    return (mean_first - mean_second) / (deviation * math.sqrt(1 / len(first) + 1 / len(second)))


@relation(cite("arithmetic", "subtraction pair by pair", "definition"), procedure=True)
def pair_differences(*, first: FirstReadings, second: SecondReadings) -> PairDifferences:
    """Differences within pairs, first minus second, in order.

    Parameters
    ----------
    first : first reading of each pair, shape (n,) [degBx]
    second : second reading of each pair, shape (n,) [degBx]

    Returns
    -------
    Differences, shape (n,) [degBx].

    Raises
    ------
    OutOfRange : lists of different length, fewer than two pairs, or a reading outside the scale.

    Examples
    --------
    >>> pair_differences(first=[5.0, 6.5], second=[4.5, 6.0])
    (0.5, 0.5)
    """
    if len(first) != len(second):
        raise OutOfRange(f"first: {len(first)} readings against {len(second)}. A pair needs one of each.")
    return tuple(one - other for one, other in zip(first, second, strict=True))


@relation(cite("student1908", "t of the differences within pairs", "memory"))
def paired_t(*, differences: PairDifferences) -> TValue:
    """Student's t of the differences within pairs.

    Parameters
    ----------
    differences : first minus second, pair by pair, shape (n,) [degBx]

    Returns
    -------
    t, a pure number; its degrees of freedom are one less than the pairs.

    Raises
    ------
    OutOfRange : fewer than two pairs, or a difference outside the scale.

    Examples
    --------
    >>> round(paired_t(differences=[0.2, 0.4, 0.6]), 4)
    3.4641
    """
    mean_difference: MeanDifference = math.fsum(differences) / len(differences)
    squares: SquareSum = math.fsum((difference - mean_difference) ** 2 for difference in differences)
    deviation: Deviation = math.sqrt(squares / (len(differences) - 1))
    error: DifferenceError = deviation / math.sqrt(len(differences))
    return mean_difference / error


@relation(cite("student1908", "interval of the mean difference within pairs", "memory"))
def paired_half_width(*, differences: PairDifferences, confidence: Confidence = 95.0) -> HalfWidth:
    """Half-width of the confidence interval of the mean difference within pairs.

    Parameters
    ----------
    differences : first minus second, pair by pair, shape (n,) [degBx]
    confidence : confidence level [percent]

    Returns
    -------
    Half-width: the interval is the mean difference minus and plus this [degBx].

    Raises
    ------
    OutOfRange : fewer than two pairs, or an argument outside its range.

    Examples
    --------
    >>> round(paired_half_width(differences=[0.2, 0.4, 0.6]), 4)
    0.4968
    """
    mean_difference: MeanDifference = math.fsum(differences) / len(differences)
    squares: SquareSum = math.fsum((difference - mean_difference) ** 2 for difference in differences)
    deviation: Deviation = math.sqrt(squares / (len(differences) - 1))
    error: DifferenceError = deviation / math.sqrt(len(differences))
    share: TailShare = (1 + confidence / HUNDRED_PERCENT) / 2
    return t_quantile(share, len(differences) - 1) * error


@relation(cite("student1908", "both tails of the t distribution", "memory"))
def two_sided_p(*, t_found: TFound, freedom: TFreedom) -> PValue:
    """Two-sided p value of a t: how often chance alone would give one as far from zero.

    Parameters
    ----------
    t_found : Student's or Welch's t, a pure number
    freedom : its degrees of freedom, which need not be whole

    Returns
    -------
    p, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(two_sided_p(t_found=-2.77645, freedom=4.0), 4)
    0.05
    """
    size: TSize = math.fabs(t_found)
    return 2 * t_tail(size, freedom)
