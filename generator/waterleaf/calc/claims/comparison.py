"""Claims: what a comparison of two means shows, and what it does not: difference, equivalence, superiority."""

import math
from typing import Annotated

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.quantity import Quantity, cite, relation
from waterleaf.calc.sugar.statistics import t_quantile, t_tail

Difference = Annotated[float, Quantity("d", "degBx", "difference of the means", -1_000_000, 1_000_000)]
DifferenceSize = Annotated[float, Quantity("d_abs", "degBx", "difference without its sign", 0)]
StandardError = Annotated[float, Quantity("SE", "degBx", "standard error of the difference", 0.0001, 100_000)]
Freedom = Annotated[float, Quantity("df", "", "degrees of freedom", 1, 100_000)]
Margin = Annotated[float, Quantity("D", "degBx", "margin, the smallest difference that matters", 0.0001, 100_000)]
MarginOrNone = Annotated[float, Quantity("D", "degBx", "margin, 0 for any difference", 0, 100_000)]
Confidence = Annotated[float, Quantity("C", "percent", "confidence level", 50, 99.9)]
Significance = Annotated[float, Quantity("a", "percent", "significance level", 0.1, 20)]
TailShare = Annotated[float, Quantity("q", "", "share of the curve below the upper limit", 0.5, 1)]
TValue = Annotated[float, Quantity("t", "", "t of the difference")]
TSize = Annotated[float, Quantity("t_abs", "", "t without its sign", 0)]
TBeyondMargin = Annotated[float, Quantity("t", "", "t of the difference beyond the margin")]
TLow = Annotated[float, Quantity("t_1", "", "t against the lower margin")]
THigh = Annotated[float, Quantity("t_2", "", "t against the upper margin")]
PValue = Annotated[float, Quantity("p", "", "p value", 0, 1)]
PLow = Annotated[float, Quantity("p_1", "", "p against the lower margin", 0, 1)]
PHigh = Annotated[float, Quantity("p_2", "", "p against the upper margin", 0, 1)]
IntervalEnd = Annotated[float, Quantity("L", "degBx", "end of the interval")]
HalfWidth = Annotated[float, Quantity("E", "degBx", "half-width of the interval", 0)]
FarthestEnd = Annotated[float, Quantity("L_far", "degBx", "end of the interval that lies farther from zero", 0)]
MeanValue = Annotated[float, Quantity("bar x", "degBx", "mean", 0.001, 1_000_000)]
ShareThatMatters = Annotated[float, Quantity("s", "percent", "share of the mean that matters", 0.1, 100)]
InstrumentStep = Annotated[float, Quantity("e", "degBx", "difference that the instrument can tell", 0, 1000)]
ShareOfMean = Annotated[float, Quantity("D_share", "degBx", "share of the mean, as a difference", 0)]


@relation(cite("student1908", "difference over its standard error", "memory"))
def difference_t(*, difference: Difference, standard_error: StandardError) -> TValue:
    """t of a difference of means against no difference at all.

    Parameters
    ----------
    difference : first mean minus second [degBx]
    standard_error : standard error of the difference [degBx]

    Returns
    -------
    t, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> difference_t(difference=0.9, standard_error=0.3)
    3.0
    """
    return difference / standard_error


@relation(cite("student1908", "both tails of the t distribution", "memory"))
def difference_p(*, difference: Difference, standard_error: StandardError, freedom: Freedom) -> PValue:
    """Two-sided p of a difference of means: how often chance alone would give one as large.

    Parameters
    ----------
    difference : first mean minus second [degBx]
    standard_error : standard error of the difference [degBx]
    freedom : degrees of freedom of the standard error

    Returns
    -------
    p, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    A p above the level does not show that two means are the same: that needs the test of equivalence.

    Examples
    --------
    >>> round(difference_p(difference=0.9, standard_error=0.3, freedom=4.0), 4)
    0.0399
    """
    t_size: TSize = math.fabs(difference) / standard_error
    return 2 * t_tail(t_size, freedom)


@relation(cite("student1908", "interval from the t distribution", "memory"))
def difference_half_width(
    *, standard_error: StandardError, freedom: Freedom, confidence: Confidence = 95.0
) -> HalfWidth:
    """Half-width of the confidence interval of a difference, which is also the least difference called significant.

    Parameters
    ----------
    standard_error : standard error of the difference [degBx]
    freedom : degrees of freedom of the standard error
    confidence : confidence level [percent]

    Returns
    -------
    Half-width [degBx].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(difference_half_width(standard_error=0.3, freedom=4.0), 4)
    0.8329
    """
    share: TailShare = (1 + confidence / HUNDRED_PERCENT) / 2
    return t_quantile(share, freedom) * standard_error


@relation(cite("student1908", "interval from the t distribution", "memory"))
def difference_low(
    *, difference: Difference, standard_error: StandardError, freedom: Freedom, confidence: Confidence = 95.0
) -> IntervalEnd:
    """Lower end of the confidence interval of a difference of means.

    Parameters
    ----------
    difference : first mean minus second [degBx]
    standard_error : standard error of the difference [degBx]
    freedom : degrees of freedom of the standard error
    confidence : confidence level; 90 % goes with a test of equivalence at 5 % [percent]

    Returns
    -------
    Lower end [degBx].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(difference_low(difference=0.9, standard_error=0.3, freedom=4.0), 4)
    0.0671
    """
    half: HalfWidth = difference_half_width(standard_error=standard_error, freedom=freedom, confidence=confidence)
    return difference - half


@relation(cite("student1908", "interval from the t distribution", "memory"))
def difference_high(
    *, difference: Difference, standard_error: StandardError, freedom: Freedom, confidence: Confidence = 95.0
) -> IntervalEnd:
    """Upper end of the confidence interval of a difference of means.

    Parameters
    ----------
    difference : first mean minus second [degBx]
    standard_error : standard error of the difference [degBx]
    freedom : degrees of freedom of the standard error
    confidence : confidence level; 90 % goes with a test of equivalence at 5 % [percent]

    Returns
    -------
    Upper end [degBx].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(difference_high(difference=0.9, standard_error=0.3, freedom=4.0), 4)
    1.7329
    """
    half: HalfWidth = difference_half_width(standard_error=standard_error, freedom=freedom, confidence=confidence)
    return difference + half


@relation(cite("schuirmann1987", "one-sided t against a margin", "memory"))
def superiority_t(*, difference: Difference, margin: MarginOrNone, standard_error: StandardError) -> TBeyondMargin:
    """t of a difference against a margin: is the first mean higher by more than the margin.

    Parameters
    ----------
    difference : first mean minus second [degBx]
    margin : smallest difference that matters, fixed beforehand; 0 for any difference [degBx]
    standard_error : standard error of the difference [degBx]

    Returns
    -------
    t, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(superiority_t(difference=0.9, margin=0.3, standard_error=0.3), 6)
    2.0
    """
    return (difference - margin) / standard_error


@relation(cite("schuirmann1987", "one-sided t against a margin", "memory"))
def superiority_p(
    *, difference: Difference, margin: MarginOrNone, standard_error: StandardError, freedom: Freedom
) -> PValue:
    """One-sided p that the first mean is higher by more than a margin.

    Parameters
    ----------
    difference : first mean minus second [degBx]
    margin : smallest difference that matters, fixed beforehand [degBx]
    standard_error : standard error of the difference [degBx]
    freedom : degrees of freedom of the standard error

    Returns
    -------
    p, a pure number; above one half when the difference is below the margin.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    One-sided only if the direction was fixed before the trial.

    Examples
    --------
    >>> round(superiority_p(difference=0.9, margin=0.3, standard_error=0.3, freedom=4.0), 4)
    0.0581
    """
    t_beyond: TBeyondMargin = superiority_t(difference=difference, margin=margin, standard_error=standard_error)
    return t_tail(t_beyond, freedom)


@relation(cite("schuirmann1987", "first of the two one-sided tests", "memory"))
def equivalence_low_t(*, difference: Difference, margin: Margin, standard_error: StandardError) -> TLow:
    """First of two one-sided tests of equivalence: t against the lower margin.

    Parameters
    ----------
    difference : first mean minus second [degBx]
    margin : smallest difference that matters, fixed beforehand [degBx]
    standard_error : standard error of the difference [degBx]

    Returns
    -------
    t, a pure number; large and positive speaks for equivalence.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> equivalence_low_t(difference=0.25, margin=0.5, standard_error=0.25)
    3.0
    """
    return (difference + margin) / standard_error


@relation(cite("schuirmann1987", "second of the two one-sided tests", "memory"))
def equivalence_high_t(*, difference: Difference, margin: Margin, standard_error: StandardError) -> THigh:
    """Second of two one-sided tests of equivalence: t against the upper margin.

    Parameters
    ----------
    difference : first mean minus second [degBx]
    margin : smallest difference that matters, fixed beforehand [degBx]
    standard_error : standard error of the difference [degBx]

    Returns
    -------
    t, a pure number; large and negative speaks for equivalence.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> equivalence_high_t(difference=0.25, margin=0.5, standard_error=0.25)
    -1.0
    """
    return (difference - margin) / standard_error


@relation(cite("schuirmann1987", "the larger of the two one-sided p values", "memory"))
def equivalence_p(
    *, difference: Difference, margin: Margin, standard_error: StandardError, freedom: Freedom
) -> PValue:
    """p of equivalence within a margin: the larger p of the two one-sided tests.

    Parameters
    ----------
    difference : first mean minus second [degBx]
    margin : smallest difference that matters, fixed beforehand [degBx]
    standard_error : standard error of the difference [degBx]
    freedom : degrees of freedom of the standard error

    Returns
    -------
    p, a pure number; below the level the means are similar within the margin.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(equivalence_p(difference=0.1, margin=0.5, standard_error=0.2, freedom=8.0), 4)
    0.0403
    """
    t_low: TLow = equivalence_low_t(difference=difference, margin=margin, standard_error=standard_error)
    t_high: THigh = equivalence_high_t(difference=difference, margin=margin, standard_error=standard_error)
    p_low: PLow = t_tail(t_low, freedom)
    p_high: PHigh = t_tail(-t_high, freedom)
    return max(p_low, p_high)


@relation(cite("schuirmann1987", "the interval of twice the level, against the margin", "memory"))
def smallest_margin_shown(
    *, difference: Difference, standard_error: StandardError, freedom: Freedom, significance: Significance = 5.0
) -> FarthestEnd:
    """Smallest margin within which a trial shows two means to be similar.

    Parameters
    ----------
    difference : first mean minus second [degBx]
    standard_error : standard error of the difference [degBx]
    freedom : degrees of freedom of the standard error
    significance : level of each one-sided test [percent]

    Returns
    -------
    Farther end of the interval, 90 % for a level of 5 % [degBx].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Equivalence holds for every margin above this. The margin itself is fixed before the trial, never read off here.

    Examples
    --------
    >>> round(smallest_margin_shown(difference=0.1, standard_error=0.2, freedom=8.0), 4)
    0.4719
    """
    size: DifferenceSize = math.fabs(difference)
    share: TailShare = 1 - significance / HUNDRED_PERCENT
    half: HalfWidth = t_quantile(share, freedom) * standard_error
    return size + half


@relation(cite("trade", "no smaller than the instrument can tell, no smaller than people care for", "common practice"))
def smallest_difference_that_matters(
    *, mean: MeanValue, share: ShareThatMatters, instrument_step: InstrumentStep
) -> Margin:
    """Margin for a trial: a share of the mean, but never less than the instrument can tell.

    Parameters
    ----------
    mean : mean expected [degBx]
    share : share of it that people care for [percent]
    instrument_step : least difference that the instrument can tell [degBx]

    Returns
    -------
    Margin [degBx].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The share is a choice. Write it down, with its reason, before the trial starts.

    Examples
    --------
    >>> smallest_difference_that_matters(mean=5.0, share=10.0, instrument_step=0.2)
    0.5
    """
    share_of_mean: ShareOfMean = mean * share / HUNDRED_PERCENT
    return max(share_of_mean, instrument_step)
