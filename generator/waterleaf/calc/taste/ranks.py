"""Taste, continued: ranking several products."""

import math
from collections.abc import Sequence
from typing import Annotated

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.quantity import OutOfRange, Quantity, cite, lookup, relation
from waterleaf.calc.sugar.statistics import normal_quantile
from waterleaf.calc.sugar.units import chi_square_tail
from waterleaf.calc.taste.difference import Assessors, Probability, Significance
from waterleaf.calc.taste.prime import bell, integral

Products = Annotated[float, Quantity("k", "", "number of products", 3, 26, whole=True)]
RankSums = Annotated[
    Sequence[float], Quantity("R_sum", "", "rank sums of the products", 1, 100_000, many=1, fewest=3)
]
FoundRankSums = Annotated[tuple[float, ...], Quantity("R", "", "rank sums of the products", 1, many=1)]
Scores = Annotated[
    Sequence[Sequence[float]],
    Quantity("y", "", "scores or ranks, one group for each assessor", -10_000, 10_000, many=2, fewest=2),
]
SquareSum = Annotated[float, Quantity("S", "", "sum of squares", 0)]
Friedman = Annotated[float, Quantity("F", "", "Friedman's statistic", 0, 100_000)]
FoundFriedman = Annotated[float, Quantity("F", "", "Friedman's statistic", 0)]
CriticalValue = Annotated[float, Quantity("F_α", "", "critical value of Friedman's statistic", 0)]
Freedom = Annotated[float, Quantity("df", "", "degrees of freedom", 1)]
Concordance = Annotated[float, Quantity("W", "", "Kendall's coefficient of concordance", 0, 1)]
RankDifference = Annotated[float, Quantity("D", "", "difference of two rank sums", 0)]
Quantile = Annotated[float, Quantity("z", "", "normal quantile")]
RangeQuantile = Annotated[float, Quantity("q", "", "quantile of the studentized range")]


@lookup("c", "the chi-square value for", cite("fisher1925", "table of chi-square, computed by scipy", "computed"))
def chi_square_quantile(tail: float, freedom: float) -> float:
    """Value above which `tail` of the chi-square curve lies."""
    from scipy.special import chdtri  # slow to load, and only some topics need it

    return float(chdtri(freedom, tail))


@lookup("q", "the studentized range for", cite("tukey1953", "range of normal values, by quadrature", "computed"))
def range_quantile(share: float, count: float) -> float:
    """Value below which the range of `count` standard normal values stays in `share` of all cases."""
    from scipy.optimize import brentq
    from scipy.special import ndtr

    def excess(width: float) -> float:
        inside = integral(lambda z: bell(z) * (ndtr(z) - ndtr(z - width)) ** (count - 1), -9.0, 9.0 + width)
        return count * inside - share

    return float(brentq(excess, 1e-6, 30.0, xtol=1e-12))


def mid_ranks(scores: Sequence[float]) -> list[float]:
    """Ranks of the scores, 1 for the lowest; equal scores share the mean of their ranks."""
    ordered = sorted(scores)
    return [(ordered.index(score) + 1 + len(ordered) - ordered[::-1].index(score)) / 2 for score in scores]


def _rectangle(scores: Sequence[Sequence[float]]) -> int:
    """The number of products, the same for every assessor."""
    products = len(scores[0])
    if any(len(row) != products for row in scores) or products < 3:
        raise OutOfRange("scores: every assessor must have scored the same products. Give three or more for each.")
    return products


@relation(cite("friedman1937", "ranks within each row, added by column", "memory"), procedure=True)
def rank_sums(*, scores: Scores) -> FoundRankSums:
    """Rank sums of several products from the scores or ranks that each assessor gave.

    Parameters
    ----------
    scores : for each assessor one score for each product, in one order of products, shape (n, k)

    Returns
    -------
    Rank sum of each product; rank 1 goes to the lowest score, equal scores share their ranks.

    Raises
    ------
    OutOfRange : fewer than two assessors or three products, or assessors who scored different numbers of products.

    Notes
    -----
    The sums must add up to n k (k + 1) / 2; if they do not, a rank was misread.

    Examples
    --------
    >>> rank_sums(scores=[[7.0, 5.0, 4.9], [9.9, 5.7, 7.6]])
    (6.0, 3.0, 3.0)
    """
    products = _rectangle(scores)
    ranks = [mid_ranks(row) for row in scores]
    return tuple(math.fsum(row[product] for row in ranks) for product in range(products))


@relation(cite("friedman1937", "statistic of the test", "memory"), cite("iso8587", "test of Friedman", "memory"))
def friedman_statistic(*, rank_sums: RankSums, assessors: Assessors) -> FoundFriedman:
    """Friedman's statistic: do the rank sums differ more than chance would make them.

    Parameters
    ----------
    rank_sums : rank sum of each product, shape (k,)
    assessors : number of assessors, each of whom ranked all products without ties

    Returns
    -------
    F, a pure number, to compare with chi-square for k - 1 degrees of freedom.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Check first that the sums add up to n k (k + 1) / 2. Chi-square is rough for fewer than about ten assessors.

    Examples
    --------
    >>> round(friedman_statistic(rank_sums=[17.0, 31.0, 32.0, 23.0, 17.0], assessors=8), 4)
    10.6
    """
    products: Products = len(rank_sums)
    squares: SquareSum = math.fsum(rank_sum**2 for rank_sum in rank_sums)
    return 12 / (assessors * products * (products + 1)) * squares - 3 * assessors * (products + 1)


@relation(cite("iso8587", "test of Friedman, correction for ties", "memory"), procedure=True)
def friedman_tied(*, scores: Scores) -> FoundFriedman:
    """Friedman's statistic corrected for ties, from the scores or ranks that each assessor gave.

    Parameters
    ----------
    scores : for each assessor one score for each product, in one order of products, shape (n, k)

    Returns
    -------
    F, a pure number, to compare with chi-square for k - 1 degrees of freedom.

    Raises
    ------
    OutOfRange : fewer than two assessors or three products, unequal numbers of products, or nothing but ties.

    Notes
    -----
    Divides by 1 - sum(t^3 - t) / (n k (k^2 - 1)), t being the size of each group of equal scores of one assessor.
    Without ties it is the plain statistic.

    Examples
    --------
    >>> round(friedman_tied(scores=[[1.0, 2.0, 3.0], [1.0, 2.5, 2.5], [1.0, 2.0, 3.0]]), 4)
    5.6364
    """
    products, assessors = _rectangle(scores), len(scores)
    ranks = [mid_ranks(row) for row in scores]
    squares = math.fsum(math.fsum(row[product] for row in ranks) ** 2 for product in range(products))
    plain = 12 / (assessors * products * (products + 1)) * squares - 3 * assessors * (products + 1)
    sizes = [row.count(rank) for row in ranks for rank in set(row)]
    ties = sum(size**3 - size for size in sizes)
    free = 1 - ties / (assessors * products * (products**2 - 1))
    if free <= 0:
        raise OutOfRange("scores: no assessor told any products apart. Give at least one row that is not all ties.")
    return plain / free


@relation(cite("friedman1937", "comparison with chi-square", "memory"))
def friedman_p_value(*, statistic: Friedman, products: Products) -> Probability:
    """Chance that rank sums differ this much when no product stands out.

    Parameters
    ----------
    statistic : Friedman's statistic
    products : number of products

    Returns
    -------
    p-value, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(friedman_p_value(statistic=10.6, products=5), 4)
    0.0314
    """
    freedom: Freedom = products - 1
    return chi_square_tail(statistic, freedom)


@relation(cite("friedman1937", "comparison with chi-square", "memory"))
def friedman_critical(*, products: Products, significance: Significance = 5.0) -> CriticalValue:
    """Value that Friedman's statistic must reach to show a difference.

    Parameters
    ----------
    products : number of products
    significance : significance level [percent]

    Returns
    -------
    Critical value, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(friedman_critical(products=5), 3)
    9.488
    """
    freedom: Freedom = products - 1
    return chi_square_quantile(significance / HUNDRED_PERCENT, freedom)


@relation(cite("iso8587", "least significant difference of rank sums", "memory"))
def least_significant_rank_difference(
    *, assessors: Assessors, products: Products, significance: Significance = 5.0
) -> RankDifference:
    """Difference of two rank sums that is significant for one pair fixed before the tasting.

    Parameters
    ----------
    assessors : number of assessors
    products : number of products that each of them ranked
    significance : two-sided significance level [percent]

    Returns
    -------
    Smallest significant difference.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Only after Friedman's test has found a difference, and not for picking the widest of many pairs: for all pairs take
    `honest_rank_difference`.

    Examples
    --------
    >>> round(least_significant_rank_difference(assessors=8, products=5), 2)
    12.4
    """
    quantile: Quantile = normal_quantile(1 - significance / (2 * HUNDRED_PERCENT))
    return quantile * math.sqrt(assessors * products * (products + 1) / 6)


@relation(cite("newell1987", "critical differences of rank sums for all pairs"))
def honest_rank_difference(
    *, assessors: Assessors, products: Products, significance: Significance = 5.0
) -> RankDifference:
    """Difference of two rank sums that is significant when all pairs of products are compared.

    Parameters
    ----------
    assessors : number of assessors
    products : number of products that each of them ranked
    significance : chance of one or more false alarms among all pairs [percent]

    Returns
    -------
    Smallest significant difference; published tables print it rounded up.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> math.ceil(honest_rank_difference(assessors=10, products=4))  # Newell and MacFarlane 1987: 15
    15
    """
    quantile: RangeQuantile = range_quantile(1 - significance / HUNDRED_PERCENT, products)
    return quantile * math.sqrt(assessors * products * (products + 1) / 12)


@relation(cite("kendall1939", "coefficient of concordance", "memory"))
def concordance(*, rank_sums: RankSums, assessors: Assessors) -> Concordance:
    """Kendall's W: how far the assessors agree in their rankings, from 0 for not at all to 1 for fully.

    Parameters
    ----------
    rank_sums : rank sum of each product, shape (k,)
    assessors : number of assessors, each of whom ranked all products without ties

    Returns
    -------
    W, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(concordance(rank_sums=[19.0, 8.0, 8.0, 15.0], assessors=5), 3)
    0.712
    """
    statistic: Friedman = friedman_statistic(rank_sums=rank_sums, assessors=assessors)
    return statistic / (assessors * (len(rank_sums) - 1))
