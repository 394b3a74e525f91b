"""Taste, continued: how many people truly perceive a difference, within which limits, and what counts as similar."""

import math
from typing import Annotated

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.quantity import OutOfRange, Quantity, cite, lookup, relation
from waterleaf.calc.sugar.statistics import normal_quantile
from waterleaf.calc.taste.difference import (
    Alternatives,
    Assessors,
    Correct,
    CorrectShare,
    Discriminators,
    Guess,
    TailLevel,
    TrueShare,
    count_or_beyond,
)

MissRisk = Annotated[float, Quantity("β", "percent", "risk of calling different products similar", 0.01, 25)]
MissShare = Annotated[float, Quantity("β_share", "", "risk of calling different products similar, as a share", 0, 1)]
LargestCorrect = Annotated[float, Quantity("x_β", "", "largest number correct", 0)]
CorrectPercent = Annotated[float, Quantity("p_c", "percent", "share of correct answers", 0, 100)]
FoundDiscriminators = Annotated[float, Quantity("D", "percent", "true discriminators", -100, 100)]
DiscriminatorError = Annotated[float, Quantity("s_D", "percent", "standard error of the true discriminators", 0, 100)]
LowerLimit = Annotated[float, Quantity("D_low", "percent", "lower limit of the true discriminators", -200, 200)]
UpperLimit = Annotated[float, Quantity("D_up", "percent", "upper limit of the true discriminators", -200, 200)]
OneSided = Annotated[float, Quantity("C", "percent", "one-sided confidence level", 50, 99.99)]
TwoSided = Annotated[float, Quantity("C", "percent", "two-sided confidence level", 50, 99.9)]
Quantile = Annotated[float, Quantity("z", "", "normal quantile")]
Wrong = Annotated[float, Quantity("w", "", "number of wrong answers", 0)]


@lookup("x_max", "the largest number correct for", cite("arithmetic", "exact binomial sum, by scipy", "computed"))
def largest_count(assessors: float, chance: float, risk: float) -> float:
    """Largest number of successes below which a panel that succeeds with `chance` falls in no more than `risk`."""
    count = count_or_beyond(int(assessors), 1 - chance, risk)
    if count > assessors:
        raise OutOfRange(
            f"assessors: {assessors:g} are too few to show similarity at a risk of {100 * risk:g} %. "
            "Give more assessors or a higher risk."
        )
    return float(int(assessors) - count)


@lookup("B", "the exact lower limit for", cite("clopper1934", "exact limits of a share, by scipy.special", "computed"))
def exact_low(correct: float, assessors: float, tail: float) -> float:
    """Share at which at least `correct` successes come up in `tail` of all panels."""
    from scipy.special import betaincinv

    if not 0 <= correct <= assessors:
        raise OutOfRange(f"correct: {correct:g} of {assessors:g} assessors cannot be. Give at most {assessors:g}.")
    return 0.0 if correct <= 0 else float(betaincinv(correct, assessors - correct + 1, tail))


@relation(
    cite("iso4120", "B.3, share of true discriminators", "memory"),
    cite("gost_r_53161", "note to table A.3, 2(x/n) - 1"),
)
def discriminators(*, correct: Correct, assessors: Assessors, alternatives: Alternatives) -> FoundDiscriminators:
    """Share of people who truly perceive the difference, after taking off the lucky guesses.

    Parameters
    ----------
    correct : number of correct answers, not above the number of assessors
    assessors : number of assessors, one answer each
    alternatives : answers open to a guess: 3 for triangle, 3-AFC and tetrad, 2 for duo-trio and paired tests

    Returns
    -------
    True discriminators [percent]; below zero where the panel did worse than guessing.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(discriminators(correct=14, assessors=24, alternatives=3), 4)  # 1.5 x 14/24 - 0.5
    37.5
    """
    share: CorrectShare = correct / assessors
    guess: Guess = 1 / alternatives
    return HUNDRED_PERCENT * (share - guess) / (1 - guess)


@relation(cite("iso4120", "B.3, standard deviation of the share of true discriminators", "memory"))
def discriminators_error(*, correct: Correct, assessors: Assessors, alternatives: Alternatives) -> DiscriminatorError:
    """Standard error of the share of true discriminators.

    Parameters
    ----------
    correct : number of correct answers, not above the number of assessors
    assessors : number of assessors, one answer each
    alternatives : answers open to a guess: 3 for triangle, 3-AFC and tetrad, 2 for duo-trio and paired tests

    Returns
    -------
    Standard error [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(discriminators_error(correct=14, assessors=24, alternatives=3), 3)
    15.095
    """
    share: CorrectShare = correct / assessors
    guess: Guess = 1 / alternatives
    return HUNDRED_PERCENT * math.sqrt(share * (1 - share) / assessors) / (1 - guess)


@relation(cite("iso4120", "B.3, one-sided confidence limit", "memory"))
def discriminators_low(
    *, correct: Correct, assessors: Assessors, alternatives: Alternatives, confidence: OneSided = 95.0
) -> LowerLimit:
    """Lower one-sided confidence limit of the share of true discriminators.

    Parameters
    ----------
    correct : number of correct answers, not above the number of assessors
    assessors : number of assessors, one answer each
    alternatives : answers open to a guess: 3 for triangle, 3-AFC and tetrad, 2 for duo-trio and paired tests
    confidence : one-sided confidence level [percent]

    Returns
    -------
    Lower limit [percent]; below zero means that nobody may have perceived a difference.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    From the normal approximation, as the standards print it. Near the border it may disagree with the exact test:
    report the exact p-value. Both limits at 95 % enclose a two-sided interval of 90 %.

    Examples
    --------
    >>> round(discriminators_low(correct=14, assessors=24, alternatives=3), 2)
    12.67
    """
    found: FoundDiscriminators = discriminators(correct=correct, assessors=assessors, alternatives=alternatives)
    error: DiscriminatorError = discriminators_error(correct=correct, assessors=assessors, alternatives=alternatives)
    quantile: Quantile = normal_quantile(confidence / HUNDRED_PERCENT)
    return found - quantile * error


@relation(
    cite("gost_r_53161", "note to table A.3, upper limit for similarity"),
    cite("iso4120", "B.3, one-sided confidence limit", "memory"),
)
def discriminators_high(
    *, correct: Correct, assessors: Assessors, alternatives: Alternatives, confidence: OneSided = 95.0
) -> UpperLimit:
    """Upper one-sided confidence limit of the share of true discriminators: the limit for similarity.

    Parameters
    ----------
    correct : number of correct answers, not above the number of assessors
    assessors : number of assessors, one answer each
    alternatives : answers open to a guess: 3 for triangle, 3-AFC and tetrad, 2 for duo-trio and paired tests
    confidence : one-sided confidence level, one hundred less the risk of calling different products similar [percent]

    Returns
    -------
    Upper limit [percent]; products are similar if it lies below the share fixed before the tasting.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Similar within a stated share, at a stated risk: never "the same". Fewer than 30 assessors seldom suffice.

    Examples
    --------
    >>> round(discriminators_high(correct=14, assessors=24, alternatives=3), 2)
    62.33
    """
    found: FoundDiscriminators = discriminators(correct=correct, assessors=assessors, alternatives=alternatives)
    error: DiscriminatorError = discriminators_error(correct=correct, assessors=assessors, alternatives=alternatives)
    quantile: Quantile = normal_quantile(confidence / HUNDRED_PERCENT)
    return found + quantile * error


@relation(cite("gost_r_53161", "table A.3, exact binomial values for similarity"))
def largest_correct_for_similarity(
    *, assessors: Assessors, alternatives: Alternatives, discriminators: Discriminators, miss_risk: MissRisk = 5.0
) -> LargestCorrect:
    """Largest number of correct answers with which products may still be called similar.

    Parameters
    ----------
    assessors : number of assessors, one answer each
    alternatives : answers open to a guess: 3 for triangle, 3-AFC and tetrad, 2 for duo-trio and paired tests
    discriminators : share of people who may perceive the difference, fixed before the tasting [percent]
    miss_risk : risk of calling products similar though that share perceives a difference [percent]

    Returns
    -------
    Largest number correct.

    Raises
    ------
    OutOfRange : an argument outside its valid range, or too few assessors for that risk.

    Notes
    -----
    Exact binomial rule. The normal rule, an upper limit below the agreed share, may allow one more: with 36 assessors
    of a triangle test and a share of 30 % it gives 14, the exact rule 13. Say which rule was used.

    Examples
    --------
    >>> largest_correct_for_similarity(assessors=60, alternatives=3, discriminators=30.0)
    25.0
    """
    guess: Guess = 1 / alternatives
    true_share: TrueShare = discriminators / HUNDRED_PERCENT
    chance: CorrectShare = guess + true_share * (1 - guess)
    risk: MissShare = miss_risk / HUNDRED_PERCENT
    return largest_count(assessors, chance, risk)


@relation(cite("clopper1934", "exact limits of a share", "memory"))
def correct_share_low(*, correct: Correct, assessors: Assessors, confidence: TwoSided = 95.0) -> CorrectPercent:
    """Lower end of the exact two-sided interval for the share of correct answers.

    Parameters
    ----------
    correct : number of correct answers
    assessors : number of assessors, one answer each
    confidence : two-sided confidence level [percent]

    Returns
    -------
    Lower end [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range, or more correct answers than assessors.

    Notes
    -----
    The interval of Clopper and Pearson: it holds for small panels too, and is a little too wide rather than too narrow.

    Examples
    --------
    >>> round(correct_share_low(correct=15, assessors=20), 4)
    50.8954
    """
    tail: TailLevel = (1 - confidence / HUNDRED_PERCENT) / 2
    return HUNDRED_PERCENT * exact_low(correct, assessors, tail)


@relation(cite("clopper1934", "exact limits of a share", "memory"))
def correct_share_high(*, correct: Correct, assessors: Assessors, confidence: TwoSided = 95.0) -> CorrectPercent:
    """Upper end of the exact two-sided interval for the share of correct answers.

    Parameters
    ----------
    correct : number of correct answers
    assessors : number of assessors, one answer each
    confidence : two-sided confidence level [percent]

    Returns
    -------
    Upper end [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range, or more correct answers than assessors.

    Notes
    -----
    One less the lower limit for the share of wrong answers.

    Examples
    --------
    >>> round(correct_share_high(correct=15, assessors=20), 4)
    91.3429
    """
    tail: TailLevel = (1 - confidence / HUNDRED_PERCENT) / 2
    wrong: Wrong = assessors - correct
    return HUNDRED_PERCENT * (1 - exact_low(wrong, assessors, tail))
