"""Taste, continued: marks on the nine-point scale of liking, and the difference in liking of two products."""

import math
from collections.abc import Sequence
from typing import Annotated, Final

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.quantity import Quantity, cite, relation
from waterleaf.calc.sugar.statistics import t_quantile, t_tail
from waterleaf.calc.taste.difference import Probability

_MARKS: Final = "nine-point scale, from dislike extremely to like extremely"

Marks = Annotated[Sequence[float], Quantity("y", "", "marks", 1, 9, many=1, fewest=2, basis=_MARKS)]
MeanMark = Annotated[float, Quantity("bar y", "", "mean mark", 1, 9)]
MarkDifferences = Annotated[
    Sequence[float],
    Quantity("d", "", "differences of marks, one for each assessor", -8, 8, many=1, fewest=2, basis=_MARKS),
]
MeanDifference = Annotated[float, Quantity("bar d", "", "mean difference of marks", -8, 8)]
Deviation = Annotated[float, Quantity("s", "", "standard deviation", 0)]
MarkError = Annotated[float, Quantity("SE", "", "standard error of the mean", 0)]
TValue = Annotated[float, Quantity("t", "", "paired t")]
Confidence = Annotated[float, Quantity("C", "percent", "confidence level", 50, 99.9)]
TailShare = Annotated[float, Quantity("p", "", "share of the curve below the upper limit", 0.5, 1)]
HalfWidth = Annotated[float, Quantity("E", "", "half-width of the interval", 0)]
SquareSum = Annotated[float, Quantity("S", "", "sum of squares", 0)]


@relation(cite("peryam1957", "nine-point scale of liking"), cite("arithmetic", "definition of the mean", "definition"))
def mean_liking(*, marks: Marks) -> MeanMark:
    """Mean mark of a product on the nine-point scale of liking.

    Parameters
    ----------
    marks : one mark for each assessor, shape (n,); 9 is like extremely, 5 is neither, 1 is dislike extremely

    Returns
    -------
    Mean mark.

    Raises
    ------
    OutOfRange : fewer than two marks, or one outside the scale.

    Notes
    -----
    Scales in words and in numbers are not interchangeable. Where an assessor tasted twice, take his or her mean first.

    Examples
    --------
    >>> mean_liking(marks=[7.0, 6.0, 8.0, 5.0])
    6.5
    """
    return math.fsum(marks) / len(marks)


@relation(cite("student1908", "standard error of a mean", "memory"))
def liking_error(*, marks: Marks) -> MarkError:
    """Standard error of a mean mark of liking.

    Parameters
    ----------
    marks : one mark for each assessor, shape (n,)

    Returns
    -------
    Standard error of the mean.

    Raises
    ------
    OutOfRange : fewer than two marks, or one outside the scale.

    Examples
    --------
    >>> round(liking_error(marks=[7.0, 6.0, 8.0, 5.0]), 4)
    0.6455
    """
    centre: MeanMark = math.fsum(marks) / len(marks)
    squares: SquareSum = math.fsum((mark - centre) ** 2 for mark in marks)
    deviation: Deviation = math.sqrt(squares / (len(marks) - 1))
    return deviation / math.sqrt(len(marks))


@relation(cite("arithmetic", "definition of the mean", "definition"))
def liking_difference(*, differences: MarkDifferences) -> MeanDifference:
    """Mean difference in liking of two products that every assessor marked.

    Parameters
    ----------
    differences : mark of the first product less that of the second, one for each assessor, shape (n,)

    Returns
    -------
    Mean difference.

    Raises
    ------
    OutOfRange : fewer than two differences, or one outside the scale.

    Examples
    --------
    >>> liking_difference(differences=[1.0, 2.0, 0.0, 1.0])
    1.0
    """
    return math.fsum(differences) / len(differences)


@relation(cite("student1908", "paired comparison of means", "memory"))
def liking_difference_error(*, differences: MarkDifferences) -> MarkError:
    """Standard error of the mean difference in liking, each assessor compared with himself or herself.

    Parameters
    ----------
    differences : mark of the first product less that of the second, one for each assessor, shape (n,)

    Returns
    -------
    Standard error of the mean difference.

    Raises
    ------
    OutOfRange : fewer than two differences, or one outside the scale.

    Examples
    --------
    >>> round(liking_difference_error(differences=[1.0, 2.0, 0.0, 1.0]), 4)
    0.4082
    """
    centre: MeanDifference = math.fsum(differences) / len(differences)
    squares: SquareSum = math.fsum((difference - centre) ** 2 for difference in differences)
    deviation: Deviation = math.sqrt(squares / (len(differences) - 1))
    return deviation / math.sqrt(len(differences))


@relation(cite("student1908", "paired comparison of means", "memory"))
def liking_t(*, differences: MarkDifferences) -> TValue:
    """Student's t for a difference in liking, each assessor compared with himself or herself.

    Parameters
    ----------
    differences : mark of the first product less that of the second, one for each assessor, shape (n,)

    Returns
    -------
    t, a pure number, with n - 1 degrees of freedom.

    Raises
    ------
    OutOfRange : fewer than two differences, or one outside the scale.

    Notes
    -----
    Comparing the two columns of marks as if other people had given them throws the pairing away and may hide a
    difference.

    Examples
    --------
    >>> round(liking_t(differences=[1.0, 2.0, 0.0, 1.0]), 4)
    2.4495
    """
    centre: MeanDifference = liking_difference(differences=differences)
    error: MarkError = liking_difference_error(differences=differences)
    return centre / error


@relation(cite("student1908", "paired comparison of means", "memory"))
def liking_p_value(*, differences: MarkDifferences) -> Probability:
    """Two-sided chance of such a difference in liking if there is none.

    Parameters
    ----------
    differences : mark of the first product less that of the second, one for each assessor, shape (n,)

    Returns
    -------
    Two-sided p-value, a pure number.

    Raises
    ------
    OutOfRange : fewer than two differences, or one outside the scale.

    Examples
    --------
    >>> round(liking_p_value(differences=[1.0, 2.0, 0.0, 1.0]), 4)
    0.0917
    """
    statistic: TValue = liking_t(differences=differences)
    return 2 * t_tail(math.fabs(statistic), len(differences) - 1)


@relation(cite("student1908", "interval from the t distribution", "memory"))
def liking_half_width(*, differences: MarkDifferences, confidence: Confidence = 95.0) -> HalfWidth:
    """Half-width of the confidence interval of a mean difference in liking.

    Parameters
    ----------
    differences : mark of the first product less that of the second, one for each assessor, shape (n,)
    confidence : confidence level [percent]

    Returns
    -------
    Half-width: the interval is the mean difference minus and plus this.

    Raises
    ------
    OutOfRange : fewer than two differences, or an argument outside its range.

    Examples
    --------
    >>> round(liking_half_width(differences=[1.0, 2.0, 0.0, 1.0]), 3)
    1.299
    """
    error: MarkError = liking_difference_error(differences=differences)
    share: TailShare = (1 + confidence / HUNDRED_PERCENT) / 2
    return t_quantile(share, len(differences) - 1) * error
