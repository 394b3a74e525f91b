"""Sugar, units and ranks: what sub-samples are worth, what few units can show, and the test of ranks."""

import math
from typing import Annotated

from waterleaf.calc.quantity import OutOfRange, Quantity, cite, lookup, relation
from waterleaf.calc.sugar.statistics import MOST, GroupCount, Groups, PValue

SubSamples = Annotated[float, Quantity("m", "", "sub-samples in each unit", 1, 10_000, whole=True)]
Intraclass = Annotated[float, Quantity("ICC", "", "intraclass correlation", 0, 1)]
DesignEffect = Annotated[float, Quantity("deff", "", "design effect", 1, 10_000)]
AllSubSamples = Annotated[float, Quantity("N", "", "sub-samples in all units", 1, 1_000_000, whole=True)]
EffectiveSample = Annotated[float, Quantity("N_eff", "", "independent readings that would tell as much", 0)]
UnitSquare = Annotated[float, Quantity("MS_unit", "degBx^2", "mean square between units", 0.0001, MOST)]
SubSquare = Annotated[float, Quantity("MS_sub", "degBx^2", "mean square of sub-samples within units", 0.0001, MOST)]
FirstSize = Annotated[float, Quantity("n_1", "", "units in the first group", 1, 200, whole=True)]
SecondSize = Annotated[float, Quantity("n_2", "", "units in the second group", 1, 200, whole=True)]
PairCount = Annotated[float, Quantity("n", "", "pairs", 1, 200, whole=True)]
RankH = Annotated[float, Quantity("H", "", "Kruskal-Wallis H", 0, 1000)]
GroupFreedom = Annotated[float, Quantity("df", "", "degrees of freedom between groups", 1)]


@lookup("tail_chi", "the share of chi-square beyond", cite("fisher1925", "table, computed by scipy", "computed"))
def chi_square_tail(value: float, freedom: float) -> float:
    """Share of the chi-square curve above a value."""
    from scipy.special import chdtrc

    return float(chdtrc(freedom, value))


@relation(cite("kruskal1952", "H with the correction for ties", "memory"), procedure=True)
def kruskal_wallis_h(*, groups: Groups) -> RankH:
    """Kruskal-Wallis H: do the ranks of some group lie higher, whatever the shape of the spread.

    Parameters
    ----------
    groups : two or more groups of two or more readings, shape (g, n_i) [degBx]

    Returns
    -------
    H, corrected for ties, a pure number.

    Raises
    ------
    OutOfRange : too few groups or readings, one outside the scale, or all readings alike.

    Examples
    --------
    >>> round(kruskal_wallis_h(groups=[[1.0, 2.0, 3.0], [4.0, 5.0, 6.0]]), 4)
    3.8571
    """
    ordered = sorted(reading for group in groups for reading in group)
    count = len(ordered)
    rank: dict[float, float] = {}
    ties = 0
    for value in dict.fromkeys(ordered):
        below, alike = ordered.index(value), ordered.count(value)
        rank[value] = below + (alike + 1) / 2
        ties += alike**3 - alike
    spread = 1 - ties / (count**3 - count)
    if spread <= 0:
        raise OutOfRange("groups: all readings are alike, so nothing can be ranked. Give readings that differ.")
    squares = math.fsum(math.fsum(rank[reading] for reading in group) ** 2 / len(group) for group in groups)
    return (12 / (count * (count + 1)) * squares - 3 * (count + 1)) / spread


@relation(cite("kruskal1952", "H against chi-square", "memory"))
def kruskal_wallis_p(*, rank_h: RankH, groups: GroupCount) -> PValue:
    """Approximate p value of a Kruskal-Wallis H.

    Parameters
    ----------
    rank_h : H, corrected for ties, a pure number
    groups : number of groups, a whole number

    Returns
    -------
    p, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Chi-square is a good likeness from about five units a group on; below that read an exact table.

    Examples
    --------
    >>> round(kruskal_wallis_p(rank_h=5.99146, groups=3.0), 4)
    0.05
    """
    freedom: GroupFreedom = groups - 1
    return chi_square_tail(rank_h, freedom)


@relation(cite("wilcoxon1945", "one ordering in both directions among all orderings", "memory"), procedure=True)
def smallest_rank_sum_p(*, first_size: FirstSize, second_size: SecondSize) -> PValue:
    """Smallest two-sided p that a rank-sum test can give with so few units.

    Parameters
    ----------
    first_size : units in the first group, a whole number
    second_size : units in the second group, a whole number

    Returns
    -------
    p when the groups do not overlap at all, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> smallest_rank_sum_p(first_size=3.0, second_size=3.0)  # three tanks each cannot reach 0.05
    0.1
    """
    return min(1.0, 2 / math.comb(int(first_size + second_size), int(first_size)))


@relation(cite("wilcoxon1945", "one choice of signs in both directions among all choices", "memory"))
def smallest_sign_p(*, pairs: PairCount) -> PValue:
    """Smallest two-sided p that a sign or signed-rank test can give with so few pairs.

    Parameters
    ----------
    pairs : number of pairs, a whole number

    Returns
    -------
    p when all pairs point the same way, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> smallest_sign_p(pairs=5.0)
    0.0625
    """
    return 2 / 2**pairs


@relation(cite("fisher1925", "intraclass correlation from mean squares", "memory"))
def intraclass_correlation(*, unit_square: UnitSquare, sub_square: SubSquare, sub_samples: SubSamples) -> Intraclass:
    """Likeness of sub-samples of one unit, from the mean squares between and within units.

    Parameters
    ----------
    unit_square : mean square between units that were treated alike [degBx^2]
    sub_square : mean square of sub-samples within units [degBx^2]
    sub_samples : sub-samples in each unit, a whole number

    Returns
    -------
    Intraclass correlation, a pure number; below zero when units differ less than chance would make them.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(intraclass_correlation(unit_square=5.0, sub_square=1.0, sub_samples=4.0), 2)
    0.5
    """
    return (unit_square - sub_square) / (unit_square + (sub_samples - 1) * sub_square)


@relation(
    cite("kish1965", "design effect of equal clusters", "memory"),
    cite("hurlbert1984", "sub-samples are no replicates"),
)
def design_effect(*, sub_samples: SubSamples, intraclass: Intraclass) -> DesignEffect:
    """Factor by which sub-samples of one unit inflate the variance of a mean.

    Parameters
    ----------
    sub_samples : sub-samples in each unit, a whole number
    intraclass : intraclass correlation, a pure number

    Returns
    -------
    Design effect, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(design_effect(sub_samples=20.0, intraclass=0.3), 2)
    6.7
    """
    return 1 + (sub_samples - 1) * intraclass


@relation(cite("kish1965", "effective sample size", "memory"), cite("hurlbert1984", "sub-samples are no replicates"))
def effective_sample(*, all_sub_samples: AllSubSamples, design_effect: DesignEffect) -> EffectiveSample:
    """Independent readings that would tell as much about a mean as all the sub-samples do.

    Parameters
    ----------
    all_sub_samples : sub-samples in all units, a whole number
    design_effect : variance inflation, a pure number

    Returns
    -------
    Effective number of readings, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Good for describing a mean. To compare treatments, average the sub-samples of each unit and count the units.

    Examples
    --------
    >>> round(effective_sample(all_sub_samples=120.0, design_effect=6.7), 1)
    17.9
    """
    return all_sub_samples / design_effect
