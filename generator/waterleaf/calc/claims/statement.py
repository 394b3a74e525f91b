"""Claims, in words: the plain statement that a trial allows, and no stronger one."""

from typing import Annotated, Final, Literal

from waterleaf.calc.claims.many import Comparisons, Significance
from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.quantity import OutOfRange, Quantity, cite, relation
from waterleaf.calc.sugar.statistics import t_quantile

Difference = Annotated[float, Quantity("d", "degBx", "difference of the means", -1_000_000, 1_000_000)]
Margin = Annotated[float, Quantity("D", "degBx", "margin, the smallest difference that matters", 0.0001, 100_000)]
PValue = Annotated[float, Quantity("p", "", "p value", 0, 1)]
ErrorOrNone = Annotated[float, Quantity("SE", "degBx", "standard error of the difference, 0 for none", 0, 100_000)]
FreedomOrNone = Annotated[float, Quantity("df", "", "degrees of freedom, 0 for none", 0, 100_000)]
Units = Annotated[float, Quantity("N", "", "independent units in the whole trial", 1, 100_000, whole=True)]
GroupCount = Annotated[float, Quantity("k", "", "number of groups", 1, 50, whole=True)]

StatementKey = Literal[
    "observed_not_tested", "could_not_tell", "similar_within_margin", "differs_but_within_margin",
    "higher_here", "lower_here", "higher_by_margin", "lower_by_margin",
    "could_be_told_apart", "not_told_apart", "preferred_by_panel", "preference_not_established",
]
Statement = Annotated[StatementKey, Quantity("", "", "statement that the trial allows")]

# Fill in what stands in braces. Each speaks of what was measured, in this trial, and of nothing else.
WORDING: Final[dict[StatementKey, str]] = {
    "observed_not_tested": "Observed here, not tested: nothing here shows how much units of one kind differ.",
    "could_not_tell": "This trial could not tell the two apart, nor show them to be alike.",
    "similar_within_margin": "In this trial the means were similar within {margin}, a margin fixed beforehand.",
    "differs_but_within_margin": "In this trial the means differed, but by less than {margin}, the margin set.",
    "higher_here": "In this trial, cultivar and season the mean was higher by {difference} ({interval}).",
    "lower_here": "In this trial, cultivar and season the mean was lower by {difference} ({interval}).",
    "higher_by_margin": "In this trial, cultivar and season the mean was higher by more than {margin} ({interval}).",
    "lower_by_margin": "In this trial, cultivar and season the mean was lower by more than {margin} ({interval}).",
    "could_be_told_apart": "Assessors could tell the two apart; which is better was not asked.",
    "not_told_apart": "These assessors were not shown to tell the two apart; that is not proof that they are the same.",
    "preferred_by_panel": "Preferred by {number} of {panel} people of this panel.",
    "preference_not_established": "No preference was established with this panel.",
}


@relation(
    cite("hurlbert1984", "the unit that was treated is the unit that counts"),
    cite("schuirmann1987", "similar only by a test of equivalence", "memory"),
    procedure=True,
)
def allowed_statement(
    *, units: Units, groups: GroupCount = 2.0, difference: Difference, standard_error: ErrorOrNone = 0.0,
    freedom: FreedomOrNone = 0.0, margin: Margin, significance: Significance = 5.0, comparisons: Comparisons = 1.0,
) -> Statement:
    """The strongest statement that a comparison of two means allows.

    Parameters
    ----------
    units : independent units (tanks, beds) in the whole trial, a whole number
    groups : number of groups in the trial, a whole number
    difference : first mean minus second [degBx]
    standard_error : standard error of the difference, from units, not from sub-samples; 0 for none [degBx]
    freedom : degrees of freedom of the standard error; 0 for none
    margin : smallest difference that matters, fixed beforehand [degBx]
    significance : level for all comparisons together [percent]
    comparisons : comparisons made with these data, a whole number

    Returns
    -------
    Key of a statement in WORDING.

    Raises
    ------
    OutOfRange : an argument outside its valid range, or more degrees of freedom than the units can give.

    Notes
    -----
    The level is shared out among the comparisons. An unreplicated trial, or one without a standard error, is never
    tested, whatever the numbers; a difference that is not significant is never called the same. Nothing here speaks
    of sweetness: that is for assessors to say.

    Examples
    --------
    >>> allowed_statement(units=2.0, difference=1.4, margin=0.5)  # one tank of each kind
    'observed_not_tested'
    >>> allowed_statement(units=6.0, difference=0.9, standard_error=0.3, freedom=4.0, margin=0.5)
    'higher_here'
    """
    most = max(0.0, units - groups)
    if freedom > most + 1e-9:  # Welch's degrees of freedom may overshoot by a rounding error
        raise OutOfRange(
            f"freedom: {freedom:g} is more than {units:g} units in {groups:g} groups can give. Give at most {most:g}: "
            "sub-samples of one unit do not count."
        )
    if groups < 2 or units <= groups or freedom < 1 or standard_error <= 0:
        return "observed_not_tested"
    level = significance / float(HUNDRED_PERCENT) / comparisons
    half = t_quantile(1 - level / 2, freedom) * standard_error
    alike = abs(difference) + t_quantile(1 - level, freedom) * standard_error < margin
    if abs(difference) <= half:
        return "similar_within_margin" if alike else "could_not_tell"
    if alike:
        return "differs_but_within_margin"
    if difference > 0:
        return "higher_by_margin" if difference - half > margin else "higher_here"
    return "lower_by_margin" if difference + half < -margin else "lower_here"


@relation(cite("iso4120", "what a triangle test can show", "memory"), procedure=True)
def allowed_difference_statement(*, p_value: PValue, significance: Significance = 5.0) -> Statement:
    """The statement that a triangle, duo-trio or other test of difference by assessors allows.

    Parameters
    ----------
    p_value : exact one-sided p of the test, a pure number
    significance : level [percent]

    Returns
    -------
    Key of a statement in WORDING.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> allowed_difference_statement(p_value=0.01)
    'could_be_told_apart'
    """
    return "could_be_told_apart" if p_value <= significance / float(HUNDRED_PERCENT) else "not_told_apart"


@relation(cite("gost_r_53161", "two-sided where no direction was fixed", "memory"), procedure=True)
def allowed_preference_statement(*, p_value: PValue, significance: Significance = 5.0) -> Statement:
    """The statement that a paired preference test allows.

    Parameters
    ----------
    p_value : exact two-sided p of the test, a pure number
    significance : level [percent]

    Returns
    -------
    Key of a statement in WORDING.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> allowed_preference_statement(p_value=0.0577)
    'preference_not_established'
    """
    return "preferred_by_panel" if p_value <= significance / float(HUNDRED_PERCENT) else "preference_not_established"
