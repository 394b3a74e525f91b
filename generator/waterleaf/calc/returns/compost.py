"""Sludge put to use: compost, with dry browns for the carbon."""

from typing import Annotated

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.quantity import Quantity, cite, relation

SludgeDry = Annotated[float, Quantity("m_s", "kg", "dry solids of the sludge", 0.01, 1_000_000)]
SludgeCarbon = Annotated[float, Quantity("c_s", "percent", "carbon in the dry sludge", 10, 60)]
DrySludgeNitrogen = Annotated[float, Quantity("n_s", "percent", "nitrogen in the dry sludge", 0.5, 12)]
BrownsCarbon = Annotated[float, Quantity("c_b", "percent", "carbon in the dry browns", 20, 65)]
BrownsNitrogen = Annotated[float, Quantity("n_b", "percent", "nitrogen in the dry browns", 0.02, 2)]
CarbonRatio = Annotated[float, Quantity("R", "", "carbon to nitrogen of the mix", 15, 45)]
Browns = Annotated[float, Quantity("m_b", "kg", "dry browns to be mixed in", 0.001, 100_000_000)]
MixCarbon = Annotated[float, Quantity("C_mix", "kg", "carbon in the mix", 0.001, 1e9)]
MixNitrogen = Annotated[float, Quantity("N_mix", "kg", "nitrogen in the mix", 0.00001, 1e9)]
BrownsAdded = Annotated[float, Quantity("m_b", "kg", "dry browns mixed in", 0, 1_000_000)]


@relation(
    cite("arithmetic", "total carbon over total nitrogen", "definition"),
    cite("richard_compost", "quantities that enter the ratio of a mix"),
)
def compost_ratio(
    *, sludge_dry: SludgeDry, sludge_carbon: SludgeCarbon, sludge_nitrogen: DrySludgeNitrogen, browns: BrownsAdded,
    browns_carbon: BrownsCarbon, browns_nitrogen: BrownsNitrogen,
) -> CarbonRatio:
    """Carbon to nitrogen of a compost of sludge and browns: total carbon over total nitrogen.

    Parameters
    ----------
    sludge_dry : dry solids of the sludge [kg]
    sludge_carbon : carbon in the dry sludge [percent]
    sludge_nitrogen : nitrogen in the dry sludge [percent]
    browns : dry straw, leaves or shavings [kg]
    browns_carbon : carbon in the dry browns [percent]
    browns_nitrogen : nitrogen in the dry browns [percent]

    Returns
    -------
    Carbon to nitrogen, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Never the mean of the two ratios. All masses dry.

    Examples
    --------
    >>> round(compost_ratio(sludge_dry=10.0, sludge_carbon=40.0, sludge_nitrogen=5.0, browns=30.0,
    ...                     browns_carbon=48.0, browns_nitrogen=0.5), 2)
    28.31
    """
    carbon: MixCarbon = (sludge_dry * sludge_carbon + browns * browns_carbon) / HUNDRED_PERCENT
    nitrogen: MixNitrogen = (sludge_dry * sludge_nitrogen + browns * browns_nitrogen) / HUNDRED_PERCENT
    return carbon / nitrogen


@relation(
    cite("arithmetic", "the ratio of a mix, turned round", "definition"),
    cite("cornell_fs2", "about 30 parts of carbon to one of nitrogen"),
)
def browns_for_compost(
    *, sludge_dry: SludgeDry, sludge_carbon: SludgeCarbon, sludge_nitrogen: DrySludgeNitrogen,
    browns_carbon: BrownsCarbon, browns_nitrogen: BrownsNitrogen, wished_ratio: CarbonRatio = 30.0,
) -> Browns:
    """Browns to be mixed with sludge so that the compost has a wished ratio of carbon to nitrogen.

    Parameters
    ----------
    sludge_dry : dry solids of the sludge [kg]
    sludge_carbon : carbon in the dry sludge [percent]
    sludge_nitrogen : nitrogen in the dry sludge [percent]
    browns_carbon : carbon in the dry browns [percent]
    browns_nitrogen : nitrogen in the dry browns [percent]
    wished_ratio : carbon to nitrogen wished, about 30

    Returns
    -------
    Dry browns [kg].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Holds while the wished ratio lies between those of sludge and browns; a mass below zero says that it does not. Wet
    sludge also needs browns to soak it up: keep the heap below 60 % water, or it turns foul for want of air.

    Examples
    --------
    >>> round(browns_for_compost(sludge_dry=10.0, sludge_carbon=40.0, sludge_nitrogen=5.0, browns_carbon=48.0,
    ...                          browns_nitrogen=0.5), 2)
    33.33
    """
    return (
        sludge_dry * (wished_ratio * sludge_nitrogen - sludge_carbon) / (browns_carbon - wished_ratio * browns_nitrogen)
    )
