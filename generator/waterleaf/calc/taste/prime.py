"""Taste, continued: d-prime, the size of a difference in units of how much a taste varies, whatever the test.

The model: each tasting of a product gives a strength drawn from a normal curve of spread one; the two products' curves
lie d-prime apart; the assessor compares the strengths and answers by the rule of the test.
"""

import functools
import math
from collections.abc import Callable
from typing import Annotated, Any, Final

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.quantity import Quantity, cite, lookup, relation
from waterleaf.calc.sugar.statistics import normal_quantile

_FARTHEST: Final = 12.0
_TAIL: Final = 9.0  # beyond nine spreads the normal curve is below the last digit of a float
_BASIS: Final = "from a pure guess to a share that a class panel can still tell from all"

DPrime = Annotated[float, Quantity("d", "", "d-prime", 0, 10)]
FoundDPrime = Annotated[float, Quantity("d", "", "d-prime", 0, _FARTHEST)]
RightShare = Annotated[float, Quantity("p_c", "percent", "share of correct answers", 0, 100)]
OfThree = Annotated[
    float, Quantity("p_c", "percent", "share of correct answers", 100 / 3, 99.9, basis=_BASIS)
]
OfTwo = Annotated[float, Quantity("p_c", "percent", "share of correct answers", 50, 99.9, basis=_BASIS)]
NearShare = Annotated[float, Quantity("N", "", "chance that the two samples fall in the true order", 0.5, 1)]
FarShare = Annotated[float, Quantity("M", "", "chance that the reference falls on its own side of the middle", 0.5, 1)]
Quantile = Annotated[float, Quantity("z", "", "normal quantile")]


@lookup("N", "the normal share below", cite("fisher1925", "table of the normal curve, computed by scipy", "computed"))
def normal_share(value: float) -> float:
    """Share of the standard normal curve below a value."""
    from scipy.special import ndtr  # slow to load, and only some topics need it

    return float(ndtr(value))


@functools.cache
def _points() -> tuple[Any, Any]:
    """Points and weights of the rule, found once."""
    from numpy.polynomial.legendre import leggauss

    return leggauss(160)


def integral(function: Callable[[Any], Any], low: float, high: float) -> float:
    """Integral of a smooth function of an array between two limits, by 160 Gauss-Legendre points."""
    points, weights = _points()
    half = (high - low) / 2
    return half * float((weights * function(low + half * (points + 1))).sum())


def bell(strength: Any) -> Any:
    """Height of the standard normal curve over each member of an array."""
    import numpy

    return numpy.exp(-(strength**2) / 2) / math.sqrt(2 * math.pi)


def _triangle(d_prime: float) -> float:
    from scipy.special import ndtr

    shift = d_prime * math.sqrt(2 / 3)
    return 2 * integral(
        lambda z: (ndtr(-z * math.sqrt(3) + shift) + ndtr(-z * math.sqrt(3) - shift)) * bell(z), 0.0, _TAIL
    )


def _duo_trio(d_prime: float) -> float:
    near, far = normal_share(d_prime / math.sqrt(2)), normal_share(d_prime / math.sqrt(6))
    return 1 - near - far + 2 * near * far


def _three_choice(d_prime: float) -> float:
    from scipy.special import ndtr

    return integral(lambda z: bell(z - d_prime) * ndtr(z) ** 2, -_TAIL, _TAIL + d_prime)


def _tetrad(d_prime: float) -> float:
    from scipy.special import ndtr

    return 1 - 2 * integral(
        lambda z: bell(z) * (2 * ndtr(z) * ndtr(z - d_prime) - ndtr(z - d_prime) ** 2), -_TAIL, _TAIL
    )


def _inverse(function: Callable[[float], float], correct_share: float) -> float:
    """The d-prime at which a test yields a share of correct answers; 0 at a pure guess."""
    from scipy.optimize import brentq

    wanted = correct_share / HUNDRED_PERCENT
    if wanted <= function(0.0):
        return 0.0
    return float(brentq(lambda d_prime: function(d_prime) - wanted, 0.0, _FARTHEST, xtol=1e-12))


@relation(cite("ennis1993", "integral for the triangular method", "memory"), procedure=True)
def triangle_correct_share(*, d_prime: DPrime) -> RightShare:
    """Share of correct answers that a triangle test yields at a d-prime.

    Parameters
    ----------
    d_prime : distance of the two products in spreads of one tasting

    Returns
    -------
    Share of correct answers [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(triangle_correct_share(d_prime=1.0), 3)
    41.805
    """
    return HUNDRED_PERCENT * _triangle(d_prime)


@relation(cite("ennis1993", "closed form for the duo-trio method", "memory"))
def duo_trio_correct_share(*, d_prime: DPrime) -> RightShare:
    """Share of correct answers that a duo-trio test yields at a d-prime.

    Parameters
    ----------
    d_prime : distance of the two products in spreads of one tasting

    Returns
    -------
    Share of correct answers [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(duo_trio_correct_share(d_prime=1.0), 3)
    58.248
    """
    near: NearShare = normal_share(d_prime / math.sqrt(2))
    far: FarShare = normal_share(d_prime / math.sqrt(6))
    return HUNDRED_PERCENT * (1 - near - far + 2 * near * far)


@relation(cite("ennis1993", "paired comparison", "memory"))
def paired_correct_share(*, d_prime: DPrime) -> RightShare:
    """Share of correct answers that a directional paired test yields at a d-prime.

    Parameters
    ----------
    d_prime : distance of the two products in spreads of one tasting

    Returns
    -------
    Share of correct answers [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(paired_correct_share(d_prime=1.0), 3)
    76.025
    """
    return HUNDRED_PERCENT * normal_share(d_prime / math.sqrt(2))


@relation(cite("ennis1993", "integral for the 3-alternative forced choice", "memory"), procedure=True)
def three_choice_correct_share(*, d_prime: DPrime) -> RightShare:
    """Share of correct answers that a 3-AFC test yields at a d-prime.

    Parameters
    ----------
    d_prime : distance of the two products in spreads of one tasting

    Returns
    -------
    Share of correct answers [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(three_choice_correct_share(d_prime=1.0), 3)
    63.37
    """
    return HUNDRED_PERCENT * _three_choice(d_prime)


@relation(cite("ennis1998", "integral for the unspecified method of tetrads", "memory"), procedure=True)
def tetrad_correct_share(*, d_prime: DPrime) -> RightShare:
    """Share of correct answers that an unspecified tetrad test yields at a d-prime.

    Parameters
    ----------
    d_prime : distance of the two products in spreads of one tasting

    Returns
    -------
    Share of correct answers [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(tetrad_correct_share(d_prime=1.0), 2)
    49.38
    """
    return HUNDRED_PERCENT * _tetrad(d_prime)


@relation(cite("ennis1993", "integral for the triangular method, inverted", "memory"), procedure=True)
def triangle_d_prime(*, correct_share: OfThree) -> FoundDPrime:
    """The d-prime behind the share of correct answers of a triangle test.

    Parameters
    ----------
    correct_share : share of correct answers [percent]

    Returns
    -------
    d-prime, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The same share means another d-prime in another test: 60 % correct is 1.98 here and 0.89 in a 3-AFC test, because
    finding the odd sample is harder than finding the strongest. Compare d-primes, never shares, between tests.

    Examples
    --------
    >>> round(triangle_d_prime(correct_share=50.0), 4)
    1.4663
    """
    return _inverse(_triangle, correct_share)


@relation(cite("ennis1993", "closed form for the duo-trio method, inverted", "memory"), procedure=True)
def duo_trio_d_prime(*, correct_share: OfTwo) -> FoundDPrime:
    """The d-prime behind the share of correct answers of a duo-trio test.

    Parameters
    ----------
    correct_share : share of correct answers [percent]

    Returns
    -------
    d-prime, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(duo_trio_d_prime(correct_share=74.682), 3)
    2.0
    """
    return _inverse(_duo_trio, correct_share)


@relation(cite("ennis1993", "paired comparison, inverted", "memory"))
def paired_d_prime(*, correct_share: OfTwo) -> FoundDPrime:
    """The d-prime behind the share of correct answers of a directional paired test.

    Parameters
    ----------
    correct_share : share of correct answers [percent]

    Returns
    -------
    d-prime, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(paired_d_prime(correct_share=76.025), 3)
    1.0
    """
    quantile: Quantile = normal_quantile(correct_share / HUNDRED_PERCENT)
    return math.sqrt(2) * quantile


@relation(cite("ennis1993", "integral for the 3-alternative forced choice, inverted", "memory"), procedure=True)
def three_choice_d_prime(*, correct_share: OfThree) -> FoundDPrime:
    """The d-prime behind the share of correct answers of a 3-AFC test.

    Parameters
    ----------
    correct_share : share of correct answers [percent]

    Returns
    -------
    d-prime, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(three_choice_d_prime(correct_share=63.37), 3)
    1.0
    """
    return _inverse(_three_choice, correct_share)


@relation(cite("ennis1998", "integral for the unspecified method of tetrads, inverted", "memory"), procedure=True)
def tetrad_d_prime(*, correct_share: OfThree) -> FoundDPrime:
    """The d-prime behind the share of correct answers of an unspecified tetrad test.

    Parameters
    ----------
    correct_share : share of correct answers [percent]

    Returns
    -------
    d-prime, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(tetrad_d_prime(correct_share=49.3808), 3)
    1.0
    """
    return _inverse(_tetrad, correct_share)
