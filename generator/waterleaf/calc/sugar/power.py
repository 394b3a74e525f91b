"""Sugar, planning: how many units a trial needs, and what so few units can find."""

from collections.abc import Callable
from typing import Annotated, Final

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.quantity import OutOfRange, Quantity, cite, relation
from waterleaf.calc.sugar.statistics import GroupCount, normal_quantile

Difference = Annotated[float, Quantity("d", "degBx", "smallest difference that matters", 0.001, 1_000_000)]
Spread = Annotated[float, Quantity("s", "degBx", "standard deviation", 0.001, 1_000_000)]
Significance = Annotated[float, Quantity("a", "percent", "significance level, two-sided", 0.1, 20)]
Power = Annotated[float, Quantity("P", "percent", "wished power", 50, 99.5)]
PowerFound = Annotated[float, Quantity("P", "percent", "power", 0, 100)]
AlphaQuantile = Annotated[float, Quantity("z_a", "", "normal quantile for the significance level")]
PowerQuantile = Annotated[float, Quantity("z_P", "", "normal quantile for the power")]
GroupSize = Annotated[float, Quantity("n", "", "independent units a group", 1)]
GroupSizeGiven = Annotated[float, Quantity("n", "", "independent units a group", 2, 100_000, whole=True)]
FirstUnits = Annotated[float, Quantity("n_1", "", "independent units in the first group", 2, 100_000, whole=True)]
SecondUnits = Annotated[float, Quantity("n_2", "", "independent units in the second group", 2, 100_000, whole=True)]
Pairs = Annotated[float, Quantity("n", "", "independent pairs", 2, 100_000, whole=True)]
Effect = Annotated[float, Quantity("d", "", "difference in standard deviations", 0, 20)]
EffectNeeded = Annotated[float, Quantity("d", "", "difference in standard deviations", 0)]
EffectWished = Annotated[float, Quantity("d", "", "difference in standard deviations", 0.01, 20)]
EffectF = Annotated[float, Quantity("f", "", "Cohen's f, spread of the means in standard deviations", 0, 10)]
EffectFWished = Annotated[float, Quantity("f", "", "Cohen's f, spread of the means in standard deviations", 0.01, 10)]

# Beyond this the power is 1 to the last digit for any trial of two units a group or more.
_LARGEST_NONCENTRALITY: Final = 100_000.0
_MOST_UNITS: Final = 10_000_000


def _power(noncentrality: float, freedom: float, rest: float, significance: float) -> float:
    """Chance in percent that an F test, or a two-sided t test as its square, finds what is there.

    The noncentral F curve is a Poisson mixture of beta curves; summing it directly stays sound where library routines
    for the noncentral curves give up on large trials.
    """
    import numpy as np
    from scipy.special import betaincc, fdtri, gammaln, xlogy

    critical = fdtri(freedom, rest, 1 - significance / 100)
    share = freedom * critical / (freedom * critical + rest)
    centre = min(noncentrality, _LARGEST_NONCENTRALITY) / 2
    reach = 10 * centre**0.5 + 30
    terms = np.arange(max(0.0, np.floor(centre - reach)), centre + reach)
    weights = np.exp(xlogy(terms, centre) - centre - gammaln(terms + 1))
    return 100 * float(np.sum(weights * betaincc(freedom / 2 + terms, rest / 2, share)) / np.sum(weights))


def _smallest(power_at: Callable[[int], float], wish: float, name: str) -> float:
    """Smallest whole number from 2 on at which the power is at least the wish."""
    high = 2
    while power_at(high) < wish:
        high *= 2
        if high > _MOST_UNITS:
            raise OutOfRange(f"{name}: would need more than {_MOST_UNITS:,} units. Wish for a larger one.")
    low = high // 2
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if power_at(middle) >= wish else (middle, high)
    return float(high)


@relation(cite("cohen1988", "chapter 2, two means; with the z-squared-over-4 term for the t test", "memory"))
def group_size(
    *, difference: Difference, deviation: Spread, significance: Significance = 5.0, power: Power = 80.0
) -> GroupSize:
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
    >>> round(group_size(difference=0.5, deviation=1.0), 2)  # Cohen 1988: 64
    63.75
    """
    alpha_quantile: AlphaQuantile = normal_quantile(1 - significance / (2 * HUNDRED_PERCENT))
    power_quantile: PowerQuantile = normal_quantile(power / HUNDRED_PERCENT)
    return 2 * ((alpha_quantile + power_quantile) * deviation / difference) ** 2 + alpha_quantile**2 / 4


@relation(cite("cohen1988", "power of the t test from the noncentral distribution", "memory"), procedure=True)
def group_size_exact(
    *, difference: Difference, deviation: Spread, significance: Significance = 5.0, power: Power = 80.0
) -> GroupSize:
    """Smallest number of units in each of two groups with at least the wished power.

    Parameters
    ----------
    difference : smallest difference that matters [degBx]
    deviation : standard deviation among units of one group [degBx]
    significance : two-sided significance level [percent]
    power : wished chance of finding the difference if it is there [percent]

    Returns
    -------
    Units a group, a whole number of at least 2.

    Raises
    ------
    OutOfRange : an argument outside its valid range, or ten million units would not do.

    Notes
    -----
    The rule is: the smallest n whose power is at least the wish. Printed tables round to the nearest n and are
    therefore sometimes one lower.

    Examples
    --------
    >>> group_size_exact(difference=0.2, deviation=1.0)  # Cohen's table prints 393, which has a power of 79.97 %
    394.0
    """
    effect = min(difference / deviation, 20.0)
    return _smallest(lambda n: _power(effect**2 * n / 2, 1, 2 * n - 2, significance), power, "difference")


@relation(cite("cohen1988", "power of the t test from the noncentral distribution", "memory"), procedure=True)
def two_group_power(
    *, effect: Effect, first_units: FirstUnits, second_units: SecondUnits, significance: Significance = 5.0
) -> PowerFound:
    """Chance that a two-sided t test of two groups finds a difference of a given size.

    Parameters
    ----------
    effect : difference in standard deviations, a pure number
    first_units : independent units in the first group, a whole number
    second_units : independent units in the second group, a whole number
    significance : two-sided significance level [percent]

    Returns
    -------
    Power [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(two_group_power(effect=1.0, first_units=3.0, second_units=3.0), 1)  # three tanks each
    15.9
    """
    harmonic = first_units * second_units / (first_units + second_units)
    return _power(effect**2 * harmonic, 1, first_units + second_units - 2, significance)


@relation(cite("cohen1988", "power of the paired t test", "memory"), procedure=True)
def pairs_power(*, effect: Effect, pairs: Pairs, significance: Significance = 5.0) -> PowerFound:
    """Chance that a two-sided paired t test finds a mean difference of a given size.

    Parameters
    ----------
    effect : mean difference in standard deviations of the differences, a pure number
    pairs : independent pairs, a whole number
    significance : two-sided significance level [percent]

    Returns
    -------
    Power [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(pairs_power(effect=0.2, pairs=20.0), 2)
    13.6
    """
    return _power(effect**2 * pairs, 1, pairs - 1, significance)


@relation(cite("cohen1988", "power of the paired t test", "memory"), procedure=True)
def pairs_exact(*, effect: EffectWished, significance: Significance = 5.0, power: Power = 80.0) -> GroupSize:
    """Smallest number of pairs with at least the wished power.

    Parameters
    ----------
    effect : mean difference in standard deviations of the differences, a pure number
    significance : two-sided significance level [percent]
    power : wished power [percent]

    Returns
    -------
    Pairs, a whole number of at least 2.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> pairs_exact(effect=0.5)
    34.0
    """
    return _smallest(lambda n: _power(effect**2 * n, 1, n - 1, significance), power, "effect")


@relation(cite("cohen1988", "power of the F test, lambda = f squared times all units", "memory"), procedure=True)
def anova_power(
    *, effect: EffectF, groups: GroupCount, group_size: GroupSizeGiven, significance: Significance = 5.0
) -> PowerFound:
    """Chance that a one-way analysis of variance finds means that differ by a given spread.

    Parameters
    ----------
    effect : Cohen's f, a pure number
    groups : number of groups, a whole number
    group_size : independent units in each group, a whole number
    significance : significance level [percent]

    Returns
    -------
    Power [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(anova_power(effect=0.4, groups=3.0, group_size=22.0), 2)
    81.81
    """
    return _power(effect**2 * groups * group_size, groups - 1, groups * (group_size - 1), significance)


@relation(cite("cohen1988", "power of the F test, lambda = f squared times all units", "memory"), procedure=True)
def anova_group_size(
    *, effect: EffectFWished, groups: GroupCount, significance: Significance = 5.0, power: Power = 80.0
) -> GroupSize:
    """Smallest number of units in each of several groups with at least the wished power.

    Parameters
    ----------
    effect : Cohen's f, a pure number
    groups : number of groups, a whole number
    significance : significance level [percent]
    power : wished power [percent]

    Returns
    -------
    Units a group, a whole number of at least 2.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The rule is: the smallest n whose power is at least the wish. Cohen's table rounds to the nearest n, so that it has
    21 where this rule gives 22 (three groups, f = 0.40).

    Examples
    --------
    >>> anova_group_size(effect=0.4, groups=3.0)
    22.0
    """
    return _smallest(
        lambda n: _power(effect**2 * groups * n, groups - 1, groups * (n - 1), significance), power, "effect"
    )


@relation(cite("cohen1988", "power of the t test, solved for the effect", "memory"), procedure=True)
def detectable_effect(
    *, group_size: GroupSizeGiven, significance: Significance = 5.0, power: Power = 80.0
) -> EffectNeeded:
    """Smallest difference, in standard deviations, that two groups of a given size find with the wished power.

    Parameters
    ----------
    group_size : independent units in each group, a whole number
    significance : two-sided significance level [percent]
    power : wished power [percent]

    Returns
    -------
    Difference in standard deviations, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(detectable_effect(group_size=3.0), 2)  # three tanks each find only a giant difference
    3.07
    """
    from scipy.optimize import brentq

    def missing(effect: float) -> float:
        return _power(effect**2 * group_size / 2, 1, 2 * group_size - 2, significance) - power

    high = 1.0
    while missing(high) < 0:
        high *= 2
    return float(brentq(missing, 0.0, high, xtol=1e-12))
