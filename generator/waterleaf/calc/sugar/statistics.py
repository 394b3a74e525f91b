"""Sugar, statistics: means, spreads and intervals of one group. The readings may be on any scale from zero up."""

import math
from collections.abc import Sequence
from typing import Annotated, Final

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.quantity import Quantity, cite, lookup, relation

# Wide enough for the certified data sets, which sit on a million and more.
MOST: Final = 100_000_000
ANY_SCALE: Final = "any scale from zero up, degrees Brix or other"

Readings = Annotated[Sequence[float], Quantity("x", "degBx", "readings", 0, MOST, many=1, fewest=2, basis=ANY_SCALE)]
Groups = Annotated[
    Sequence[Sequence[float]],
    Quantity("x", "degBx", "readings of all groups", 0, MOST, many=2, fewest=2, basis=ANY_SCALE),
]
Mean = Annotated[float, Quantity("bar x", "degBx", "mean", 0, MOST)]
SquareSum = Annotated[float, Quantity("SS", "degBx^2", "sum of squared distances from the mean", 0)]
Deviation = Annotated[float, Quantity("s", "degBx", "standard deviation", 0, MOST)]
StandardError = Annotated[float, Quantity("SE", "degBx", "standard error of the mean", 0, MOST)]
Confidence = Annotated[float, Quantity("C", "percent", "confidence level", 50, 99.9)]
TailShare = Annotated[float, Quantity("q", "", "share of the curve below the upper limit", 0.5, 1)]
HalfWidth = Annotated[float, Quantity("E", "degBx", "half-width of the interval", 0, MOST)]
Variation = Annotated[float, Quantity("CV", "percent", "coefficient of variation", 0, 1000)]
GroupCount = Annotated[float, Quantity("k", "", "number of groups", 2, 50, whole=True)]
PValue = Annotated[float, Quantity("p", "", "p value", 0, 1)]


@lookup("t", "Student's t for", cite("student1908", "table of t, computed by scipy.stats", "computed"))
def t_quantile(share: float, freedom: float) -> float:
    """Value of Student's t below which `share` of the curve lies."""
    from scipy.special import stdtrit  # slow to load, and only some topics need it

    return float(stdtrit(freedom, share))


@lookup("tail_t", "the share of Student's curve beyond", cite("student1908", "table, computed by scipy", "computed"))
def t_tail(value: float, freedom: float) -> float:
    """Share of Student's curve above a value."""
    from scipy.special import stdtr

    return float(stdtr(freedom, -value))


@lookup("z", "the normal quantile for", cite("fisher1925", "table of the normal curve, computed by scipy", "computed"))
def normal_quantile(share: float) -> float:
    """Value of the standard normal variable below which `share` of the curve lies."""
    from scipy.special import ndtri

    return float(ndtri(share))


@relation(cite("arithmetic", "definition of the mean", "definition"))
def mean_reading(*, readings: Readings) -> Mean:
    """Mean of some readings.

    Parameters
    ----------
    readings : two or more readings, shape (n,) [degBx]

    Returns
    -------
    Mean [degBx].

    Raises
    ------
    OutOfRange : fewer than two readings, or one outside the scale.

    Examples
    --------
    >>> mean_reading(readings=[4.0, 5.0, 6.0])
    5.0
    """
    return math.fsum(readings) / len(readings)


@relation(cite("fisher1925", "estimate of the standard deviation with n - 1", "memory"))
def standard_deviation(*, readings: Readings) -> Deviation:
    """Standard deviation of a sample, with n - 1 in the divisor.

    Parameters
    ----------
    readings : two or more readings, shape (n,) [degBx]

    Returns
    -------
    Standard deviation [degBx].

    Raises
    ------
    OutOfRange : fewer than two readings, or one outside the scale.

    Examples
    --------
    >>> standard_deviation(readings=[4.0, 5.0, 6.0])
    1.0
    """
    mean: Mean = math.fsum(readings) / len(readings)
    squares: SquareSum = math.fsum((reading - mean) ** 2 for reading in readings)
    return math.sqrt(squares / (len(readings) - 1))


@relation(cite("student1908", "standard error of a mean", "memory"))
def standard_error(*, readings: Readings) -> StandardError:
    """Standard error of the mean: how far a mean of this many readings is likely to stray.

    Parameters
    ----------
    readings : two or more readings, shape (n,) [degBx]

    Returns
    -------
    Standard error [degBx].

    Raises
    ------
    OutOfRange : fewer than two readings, or one outside the scale.

    Examples
    --------
    >>> round(standard_error(readings=[4.0, 5.0, 6.0, 5.0]), 4)
    0.4082
    """
    deviation: Deviation = standard_deviation(readings=readings)
    return deviation / math.sqrt(len(readings))


@relation(cite("student1908", "interval from the t distribution", "memory"))
def interval_half_width(*, readings: Readings, confidence: Confidence = 95.0) -> HalfWidth:
    """Half-width of the confidence interval of a mean.

    Parameters
    ----------
    readings : two or more readings, shape (n,) [degBx]
    confidence : confidence level [percent]

    Returns
    -------
    Half-width: the interval is the mean minus and plus this [degBx].

    Raises
    ------
    OutOfRange : fewer than two readings, or an argument outside its range.

    Examples
    --------
    >>> round(interval_half_width(readings=[4.0, 5.0, 6.0]), 4)  # t(0.975, 2) = 4.30265 over sqrt(3)
    2.4841
    """
    error: StandardError = standard_error(readings=readings)
    share: TailShare = (1 + confidence / HUNDRED_PERCENT) / 2
    return t_quantile(share, len(readings) - 1) * error


@relation(cite("student1908", "interval from the t distribution", "memory"))
def interval_low(*, readings: Readings, confidence: Confidence = 95.0) -> Mean:
    """Lower end of the confidence interval of a mean.

    Parameters
    ----------
    readings : two or more readings, shape (n,) [degBx]
    confidence : confidence level [percent]

    Returns
    -------
    Lower end [degBx].

    Raises
    ------
    OutOfRange : fewer than two readings, or an argument outside its range.

    Examples
    --------
    >>> round(interval_low(readings=[9.0, 10.0, 11.0]), 3)
    7.516
    """
    half: HalfWidth = interval_half_width(readings=readings, confidence=confidence)
    return math.fsum(readings) / len(readings) - half


@relation(cite("student1908", "interval from the t distribution", "memory"))
def interval_high(*, readings: Readings, confidence: Confidence = 95.0) -> Mean:
    """Upper end of the confidence interval of a mean.

    Parameters
    ----------
    readings : two or more readings, shape (n,) [degBx]
    confidence : confidence level [percent]

    Returns
    -------
    Upper end [degBx].

    Raises
    ------
    OutOfRange : fewer than two readings, or an argument outside its range.

    Examples
    --------
    >>> round(interval_high(readings=[9.0, 10.0, 11.0]), 3)
    12.484
    """
    half: HalfWidth = interval_half_width(readings=readings, confidence=confidence)
    return math.fsum(readings) / len(readings) + half


@relation(cite("fisher1925", "standard deviation as a share of the mean", "memory"))
def coefficient_of_variation(*, readings: Readings) -> Variation:
    """Standard deviation as a percentage of the mean.

    Parameters
    ----------
    readings : two or more readings, shape (n,) [degBx]

    Returns
    -------
    Coefficient of variation [percent].

    Raises
    ------
    OutOfRange : fewer than two readings, or one below zero.

    Examples
    --------
    >>> coefficient_of_variation(readings=[4.0, 5.0, 6.0])
    20.0
    """
    deviation: Deviation = standard_deviation(readings=readings)
    mean_found: Mean = mean_reading(readings=readings)
    return HUNDRED_PERCENT * deviation / mean_found
