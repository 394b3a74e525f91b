"""Sugar: reading a refractometer, and saying how sure a mean or a difference is."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.quantity import Quantity, cite, lookup, relation

_BRIX_RANGE: Final = "hand refractometers read from 0 to 32 degrees Brix"

Readings = Annotated[Sequence[float], Quantity("x", "degBx", "readings", 0, 32, many=1, fewest=2, basis=_BRIX_RANGE)]
FirstReadings = Annotated[
    Sequence[float], Quantity("x_1", "degBx", "readings of the first group", 0, 32, many=1, fewest=2, basis=_BRIX_RANGE)
]
SecondReadings = Annotated[
    Sequence[float], Quantity("x_2", "degBx", "readings of the second group", 0, 32, many=1, fewest=2, basis=_BRIX_RANGE)
]
Groups = Annotated[
    Sequence[Sequence[float]],
    Quantity("x", "degBx", "readings of all groups", 0, 32, many=2, fewest=2, basis=_BRIX_RANGE),
]
Mean = Annotated[float, Quantity("bar x", "degBx", "mean", 0, 32)]
GrandMean = Annotated[float, Quantity("bar x", "degBx", "mean of all readings", 0, 32)]
SquareSum = Annotated[float, Quantity("SS", "degBx^2", "sum of squared distances from the mean", 0)]
BetweenSquares = Annotated[float, Quantity("SS_between", "degBx^2", "sum of squares between groups", 0)]
WithinSquares = Annotated[float, Quantity("SS_within", "degBx^2", "sum of squares within groups", 0)]
BetweenFreedom = Annotated[float, Quantity("df_between", "", "degrees of freedom between groups", 1)]
WithinFreedom = Annotated[float, Quantity("df_within", "", "degrees of freedom within groups", 1)]
BetweenMeanSquare = Annotated[float, Quantity("MS_between", "degBx^2", "mean square between groups", 0)]
WithinMeanSquare = Annotated[float, Quantity("MS_within", "degBx^2", "mean square within groups", 0)]
Deviation = Annotated[float, Quantity("s", "degBx", "standard deviation", 0, 32)]
Spread = Annotated[float, Quantity("s", "degBx", "standard deviation", 0.001, 32)]
StandardError = Annotated[float, Quantity("SE", "degBx", "standard error of the mean", 0, 32)]
ErrorFirst = Annotated[float, Quantity("SE_1", "degBx", "standard error of the first group", 0, 32)]
ErrorSecond = Annotated[float, Quantity("SE_2", "degBx", "standard error of the second group", 0, 32)]
MeanFirst = Annotated[float, Quantity("bar x_1", "degBx", "mean of the first group", 0, 32)]
MeanSecond = Annotated[float, Quantity("bar x_2", "degBx", "mean of the second group", 0, 32)]
Confidence = Annotated[float, Quantity("C", "percent", "confidence level", 50, 99.9)]
TailShare = Annotated[float, Quantity("q", "", "share of the curve below the upper limit", 0.5, 1)]
HalfWidth = Annotated[float, Quantity("E", "degBx", "half-width of the interval", 0, 100)]
TValue = Annotated[float, Quantity("t", "", "Welch's t")]
TFreedom = Annotated[float, Quantity("df", "", "degrees of freedom", 1)]
FValue = Annotated[float, Quantity("F", "", "F ratio", 0)]
Reading = Annotated[float, Quantity("B_read", "degBx", "reading of the refractometer", 0, 20, basis="columns of the published table")]
PrismTemperature = Annotated[
    float,
    Quantity("T", "degC", "temperature of juice and prism", 10, 22, basis="rows of the published table that were read"),
]
TrueBrix = Annotated[float, Quantity("B_20", "degBx", "soluble solids at 20 degrees Celsius", -1, 40)]
Correction = Annotated[float, Quantity("c", "degBx", "temperature correction", -2, 2)]
Difference = Annotated[float, Quantity("d", "degBx", "smallest difference that matters", 0.05, 20)]
Significance = Annotated[float, Quantity("a", "percent", "significance level, two-sided", 0.1, 20)]
Power = Annotated[float, Quantity("P", "percent", "wished power", 50, 99.5)]
AlphaQuantile = Annotated[float, Quantity("z_a", "", "normal quantile for the significance level")]
PowerQuantile = Annotated[float, Quantity("z_P", "", "normal quantile for the power")]
GroupSize = Annotated[float, Quantity("n", "", "independent units a group", 1)]


@lookup("t", "Student's t for", cite("student1908", "table of t, computed by scipy.stats", "computed"))
def t_quantile(share: float, freedom: float) -> float:
    """Value of Student's t below which `share` of the curve lies."""
    from scipy.special import stdtrit  # slow to load, and only some topics need it

    return float(stdtrit(freedom, share))


@lookup("z", "the normal quantile for", cite("fisher1925", "table of the normal curve, computed by scipy", "computed"))
def normal_quantile(share: float) -> float:
    """Value of the standard normal variable below which `share` of the curve lies."""
    from scipy.special import ndtri

    return float(ndtri(share))


# Rows: temperature; columns: reading 0, 5, 10, 15, 20 degrees Brix. To be added to the reading.
_CORRECTION_COLUMNS: Final = (0.0, 5.0, 10.0, 15.0, 20.0)
TEMPERATURE_CORRECTIONS: Final[dict[float, tuple[float, ...]]] = {
    10.0: (-0.50, -0.54, -0.58, -0.61, -0.64),
    12.0: (-0.42, -0.45, -0.48, -0.50, -0.52),
    13.0: (-0.37, -0.40, -0.42, -0.44, -0.46),
    15.0: (-0.27, -0.29, -0.31, -0.33, -0.34),
    16.0: (-0.22, -0.24, -0.25, -0.26, -0.27),
    18.0: (-0.12, -0.13, -0.13, -0.14, -0.14),
    20.0: (0.0, 0.0, 0.0, 0.0, 0.0),
    21.0: (0.06, 0.07, 0.07, 0.07, 0.07),
    22.0: (0.13, 0.13, 0.14, 0.14, 0.15),
}


@lookup("c", "the table correction at", cite("gost_refractometer", "table A.1"))
def table_correction(temperature: float, reading: float) -> float:
    """Temperature correction between the nearest rows and columns of the table [degBx]."""
    rows = sorted(TEMPERATURE_CORRECTIONS)
    low, high, share = _neighbours(rows, temperature)
    return (1 - share) * _along_row(low, reading) + share * _along_row(high, reading)


def _along_row(temperature: float, reading: float) -> float:
    low, high, share = _neighbours(_CORRECTION_COLUMNS, reading)
    row = TEMPERATURE_CORRECTIONS[temperature]
    return (1 - share) * row[_CORRECTION_COLUMNS.index(low)] + share * row[_CORRECTION_COLUMNS.index(high)]


def _neighbours(marks: Sequence[float], value: float) -> tuple[float, float, float]:
    """The marks on either side of a value, and how far it lies between them."""
    low = max(mark for mark in marks if mark <= value)
    high = min(mark for mark in marks if mark >= value)
    return low, high, 0.0 if high == low else (value - low) / (high - low)


@relation(cite("gost_refractometer", "table A.1"), empirical="the correction is read from a table")
def corrected_brix(*, reading: Reading, temperature: PrismTemperature) -> TrueBrix:
    """Reading of a refractometer without automatic compensation, brought to 20 degrees Celsius.

    Parameters
    ----------
    reading : what the scale shows [degBx]
    temperature : temperature of juice and prism [degC]

    Returns
    -------
    Soluble solids at 20 degrees Celsius [degBx].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    For an instrument zeroed at 20 degrees Celsius. One that compensates by itself must not be corrected again.

    Examples
    --------
    >>> round(corrected_brix(reading=10.0, temperature=15.0), 2)  # table A.1: -0.31 at 15 C, 10 Brix
    9.69
    """
    correction: Correction = table_correction(temperature, reading)
    return reading + correction


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
    return sum(readings) / len(readings)


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
    mean: Mean = sum(readings) / len(readings)
    squares: SquareSum = sum((reading - mean) ** 2 for reading in readings)
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
    return sum(readings) / len(readings) - half


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
    return sum(readings) / len(readings) + half


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
    grand_mean: GrandMean = sum(sum(group) for group in groups) / sum(len(group) for group in groups)
    between: BetweenSquares = sum(len(group) * (mean(group) - grand_mean) ** 2 for group in groups)
    within: WithinSquares = sum(sum((reading - mean(group)) ** 2 for reading in group) for group in groups)
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


@relation(cite("fisher1925", "analysis of variance", "memory"), cite("nist2012", "one-way analysis of variance"), procedure=True)
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


@relation(cite("cohen1988", "chapter 2, two means; with the z-squared-over-4 term for the t test", "memory"))
def group_size(*, difference: Difference, deviation: Spread, significance: Significance = 5.0, power: Power = 80.0) -> GroupSize:
    """Independent units needed in each of two groups to find a difference of means.

    Parameters
    ----------
    difference : smallest difference that matters [degBx]
    deviation : standard deviation among units of one group [degBx]
    significance : two-sided significance level [percent]
    power : wished chance of finding the difference if it is there [percent]

    Returns
    -------
    Units a group, before rounding up.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Round up. The formula is within one unit of the exact answer from the noncentral t distribution down to 5 units.

    Examples
    --------
    >>> math.ceil(group_size(difference=0.5, deviation=1.0))  # Cohen 1988: 64
    64
    """
    alpha_quantile: AlphaQuantile = normal_quantile(1 - significance / (2 * HUNDRED_PERCENT))
    power_quantile: PowerQuantile = normal_quantile(power / HUNDRED_PERCENT)
    return 2 * ((alpha_quantile + power_quantile) * deviation / difference) ** 2 + alpha_quantile**2 / 4
