"""Taste: can people tell two products apart, how sure is that, and how many people does it take.

Before anybody tastes: tell them what they get, ask about allergies and what they may not eat, take consent (for minors
a guardian's too), let them refuse, spit or stop at any time without a mark, and serve only food that local rules call
safe. The institution decides whether a tasting may be held, and its ethics rules go before anything printed here.
"""

import bisect
from typing import Annotated, Final

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.quantity import OutOfRange, Quantity, cite, lookup, relation

_PANEL: Final = "limit set for this course: panels of a class or an open day"

Assessors = Annotated[float, Quantity("n", "", "number of assessors", 3, 10_000, whole=True, basis=_PANEL)]
Correct = Annotated[float, Quantity("x", "", "number of correct answers", 0, 400, whole=True, basis=_PANEL)]
Preferring = Annotated[float, Quantity("x", "", "number who chose the first product", 0, 400, whole=True, basis=_PANEL)]
Larger = Annotated[float, Quantity("x_more", "", "answers on the side that has more", 0)]
Alternatives = Annotated[
    float,
    Quantity(
        "m", "", "number of answers open to a guess", 2, 10, whole=True,
        basis="2 for paired and duo-trio tests, 3 for triangle, 3-AFC and tetrad, 10 for two out of five",
    ),
]
Guess = Annotated[float, Quantity("p_0", "", "chance of a correct guess", 0, 1)]
Significance = Annotated[float, Quantity("α", "percent", "significance level", 0.01, 25)]
FalseAlarm = Annotated[float, Quantity("α_share", "", "significance level as a share", 0, 1)]
TailLevel = Annotated[float, Quantity("α_half", "", "share of panels left out at each end", 0, 1)]
SmallestCorrect = Annotated[float, Quantity("x_α", "", "smallest number correct", 1)]
Probability = Annotated[float, Quantity("p", "", "p-value", 0, 1)]
CorrectShare = Annotated[float, Quantity("p_c", "", "share of correct answers", 0, 1)]
TrueShare = Annotated[float, Quantity("p_d", "", "share of true discriminators", 0, 1)]
Discriminators = Annotated[float, Quantity("D", "percent", "true discriminators", 10, 95)]
WishedPower = Annotated[float, Quantity("P", "percent", "wished power", 50, 99.9)]
Power = Annotated[float, Quantity("P", "percent", "power", 0, 100)]
AssessorsNeeded = Annotated[float, Quantity("n", "", "assessors needed", 1)]


@lookup("P", "the binomial chance of at least", cite("arithmetic", "exact binomial sum, by scipy", "computed"))
def binomial_tail(correct: float, assessors: float, chance: float) -> float:
    """Chance of at least `correct` successes in `assessors` trials that each succeed with `chance`."""
    from scipy.special import bdtrc  # slow to load, and only some topics need it

    if correct > assessors:
        raise OutOfRange(f"correct: {correct:g} of {assessors:g} assessors cannot be. Give at most {assessors:g}.")
    return 1.0 if correct <= 0 else float(bdtrc(correct - 1, int(assessors), chance))


@lookup("x_min", "the smallest number correct for", cite("arithmetic", "exact binomial sum, by scipy", "computed"))
def smallest_count(assessors: float, chance: float, level: float) -> float:
    """Smallest number of successes that chance alone reaches in no more than `level` of all panels."""
    count = count_or_beyond(int(assessors), chance, level)
    if count > assessors:
        raise OutOfRange(
            f"assessors: {assessors:g} are too few; even if all are correct, chance alone does as well in more than "
            f"{100 * level:g} % of panels. Give more assessors or a higher significance level."
        )
    return float(count)


def count_or_beyond(assessors: int, chance: float, level: float) -> int:
    """Smallest number of successes whose tail is within `level`; one more than `assessors` where there is none."""
    allowed = level * (1 + 1e-12)  # a tail that equals the level but for the last binary digit still counts
    return bisect.bisect_left(
        range(assessors + 1), True, key=lambda count: binomial_tail(count, assessors, chance) <= allowed
    )


@relation(
    cite("huss1995", "appendix A, minimum number of correct answers of the triangle test"),
    cite("gost_iso_10399", "table A.1, duo-trio test"),
    cite("gost_r_53161", "table A.1, paired test, one-sided"),
)
def smallest_correct(
    *, assessors: Assessors, alternatives: Alternatives, significance: Significance = 5.0
) -> SmallestCorrect:
    """Smallest number of correct answers that shows a difference, one-sided.

    Parameters
    ----------
    assessors : number of assessors, one answer each
    alternatives : answers open to a guess: 3 for triangle, 3-AFC and tetrad, 2 for duo-trio and paired tests
    significance : share of panels that chance alone may fool [percent]

    Returns
    -------
    Smallest number correct.

    Raises
    ------
    OutOfRange : an argument outside its valid range, or too few assessors for that level.

    Notes
    -----
    Exact binomial sum; the normal formula usually agrees, but not always. An answer has to be forced: one who cannot
    tell must guess. A difference found says that products can be told apart, not which is better. Allergies, consent,
    food safety and the right to stop come first; the institution and local rules decide.

    Examples
    --------
    >>> smallest_correct(assessors=24, alternatives=3, significance=5.0)  # FAO paper 348, appendix A: 13
    13.0
    """
    guess: Guess = 1 / alternatives
    level: FalseAlarm = significance / HUNDRED_PERCENT
    return smallest_count(assessors, guess, level)


@relation(cite("gost_r_53161", "paired test, two-sided form", "memory"))
def smallest_agreeing(*, assessors: Assessors, significance: Significance = 5.0) -> SmallestCorrect:
    """Smallest number of assessors who must agree in a two-sided paired test, whichever product they choose.

    Parameters
    ----------
    assessors : number of assessors, one forced choice each
    significance : two-sided significance level [percent]

    Returns
    -------
    Smallest number on the side that has more.

    Raises
    ------
    OutOfRange : an argument outside its valid range, or too few assessors for that level.

    Notes
    -----
    Preference is two-sided. One-sided is honest only if the direction was fixed before anybody tasted.

    Examples
    --------
    >>> smallest_agreeing(assessors=20, significance=5.0)
    15.0
    """
    level: TailLevel = significance / (2 * HUNDRED_PERCENT)
    return smallest_count(assessors, 1 / 2, level)


@relation(cite("iso4120", "the number correct follows a binomial distribution"))
def p_value_one_sided(*, correct: Correct, assessors: Assessors, alternatives: Alternatives) -> Probability:
    """Chance that guessing alone brings at least this many correct answers.

    Parameters
    ----------
    correct : number of correct answers
    assessors : number of assessors, one answer each
    alternatives : answers open to a guess: 3 for triangle, 3-AFC and tetrad, 2 for duo-trio and paired tests

    Returns
    -------
    One-sided p-value, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range, or more correct answers than assessors.

    Examples
    --------
    >>> round(p_value_one_sided(correct=14, assessors=24, alternatives=3), 4)
    0.0103
    """
    guess: Guess = 1 / alternatives
    return binomial_tail(correct, assessors, guess)


@relation(cite("gost_r_53161", "paired test, two-sided form", "memory"))
def p_value_two_sided(*, preferring: Preferring, assessors: Assessors) -> Probability:
    """Chance that a panel without preference splits at least this unevenly, to either side.

    Parameters
    ----------
    preferring : number who chose the first product
    assessors : number of assessors, one forced choice each

    Returns
    -------
    Two-sided p-value, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range, or more choices than assessors.

    Examples
    --------
    >>> round(p_value_two_sided(preferring=15, assessors=20), 4)
    0.0414
    """
    larger: Larger = max(preferring, assessors - preferring)
    return min(1, 2 * binomial_tail(larger, assessors, 1 / 2))


@relation(cite("iso4120", "risks and the share of true discriminators, annex A"))
def panel_power(
    *, assessors: Assessors, alternatives: Alternatives, discriminators: Discriminators,
    significance: Significance = 5.0,
) -> Power:
    """Chance that a panel finds a difference that a known share of people can truly perceive.

    Parameters
    ----------
    assessors : number of assessors, one answer each
    alternatives : answers open to a guess: 3 for triangle, 3-AFC and tetrad, 2 for duo-trio and paired tests
    discriminators : people who truly perceive the difference; the rest guess [percent]
    significance : one-sided significance level [percent]

    Returns
    -------
    Power [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range, or too few assessors for that level.

    Notes
    -----
    Power saws up and down with the panel size, since the smallest number correct goes up in whole steps. For a
    two-sided paired test halve the significance level; the wrong direction is then left out, as it should be.

    Examples
    --------
    >>> round(panel_power(assessors=24, alternatives=3, discriminators=50.0), 2)
    93.23
    """
    guess: Guess = 1 / alternatives
    level: FalseAlarm = significance / HUNDRED_PERCENT
    needed: SmallestCorrect = smallest_count(assessors, guess, level)
    true_share: TrueShare = discriminators / HUNDRED_PERCENT
    chance: CorrectShare = guess + true_share * (1 - guess)
    return HUNDRED_PERCENT * binomial_tail(needed, assessors, chance)


def _powers(alternatives: float, discriminators: float, significance: float, stop: int) -> list[float]:
    """Exact power of panels of 1, 2, ... `stop` assessors, as shares; 0 where no number correct suffices."""
    guess, level = 1 / alternatives, significance / HUNDRED_PERCENT * (1 + 1e-12)
    chance = guess + discriminators / HUNDRED_PERCENT * (1 - guess)
    needed, found = 1, []
    for assessors in range(1, stop + 1):
        # One more assessor raises the smallest number correct by one or leaves it where it is.
        if needed <= assessors and binomial_tail(needed, assessors, guess) > level:
            needed += 1
        found.append(binomial_tail(needed, assessors, chance) if needed <= assessors else 0.0)
    return found


def _first_enough(alternatives: float, discriminators: float, significance: float, wished: float) -> int:
    stop = 64
    while True:
        for assessors, reached in enumerate(_powers(alternatives, discriminators, significance, stop), start=1):
            if reached >= wished / HUNDRED_PERCENT:
                return assessors
        stop *= 4


@relation(cite("iso4120", "table A.3, number of assessors of the triangle test", "memory"), procedure=True)
def assessors_needed(
    *, alternatives: Alternatives, discriminators: Discriminators, significance: Significance = 5.0,
    wished_power: WishedPower = 80.0,
) -> AssessorsNeeded:
    """Smallest panel whose exact power reaches the wish.

    Parameters
    ----------
    alternatives : answers open to a guess: 3 for triangle, 3-AFC and tetrad, 2 for duo-trio and paired tests
    discriminators : people who truly perceive the difference; the rest guess [percent]
    significance : one-sided significance level [percent]
    wished_power : wished chance of finding the difference [percent]

    Returns
    -------
    Number of assessors.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The rule of the standard's table: the first panel that reaches the power. A slightly larger panel may fall short
    again; `assessors_always_enough` gives the size from which none does.

    Examples
    --------
    >>> assessors_needed(alternatives=3, discriminators=50.0, significance=5.0, wished_power=90.0)  # ISO 4120: 20
    20.0
    """
    return float(_first_enough(alternatives, discriminators, significance, wished_power))


@relation(cite("arithmetic", "exact binomial power, worked through panel by panel", "computed"), procedure=True)
def assessors_always_enough(
    *, alternatives: Alternatives, discriminators: Discriminators, significance: Significance = 5.0,
    wished_power: WishedPower = 80.0,
) -> AssessorsNeeded:
    """Panel size from which the exact power never falls below the wish again.

    Parameters
    ----------
    alternatives : answers open to a guess: 3 for triangle, 3-AFC and tetrad, 2 for duo-trio and paired tests
    discriminators : people who truly perceive the difference; the rest guess [percent]
    significance : one-sided significance level [percent]
    wished_power : wished chance of finding the difference [percent]

    Returns
    -------
    Number of assessors.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The safe choice where some of the invited may stay away.

    Examples
    --------
    >>> assessors_always_enough(alternatives=3, discriminators=50.0, significance=5.0, wished_power=90.0)
    22.0
    """
    first = _first_enough(alternatives, discriminators, significance, wished_power)
    # The teeth of the saw are short: past twice the first size none reaches down to the wish.
    powers = _powers(alternatives, discriminators, significance, 2 * first + 100)
    return float(1 + max(n for n, reached in enumerate(powers, start=1) if reached < wished_power / HUNDRED_PERCENT))
