"""Crops, comparison: yields of unlike crops and methods on one footing."""

from typing import Annotated

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.crops.picking import CropYield
from waterleaf.calc.crops.planting import WeeksInBed
from waterleaf.calc.quantity import Quantity, cite, relation

WeekYield = Annotated[float, Quantity("u", "kg/m^2/week", "yield a square metre and week", 0.0001, 100)]
Amount = Annotated[float, Quantity("a", "", "amount", 0.000001, 1_000_000_000)]
Reference = Annotated[float, Quantity("b", "", "amount it is compared with, in the same unit", 0.000001, 1_000_000_000)]
Ratio = Annotated[float, Quantity("R", "", "times as much")]
PercentMore = Annotated[float, Quantity("D", "percent", "difference in per cent of the reference")]


@relation(
    cite("uvi_home", "value of a crop judged by density, growth period, yield and price"),
    cite("arithmetic", "yield over time", "definition"),
)
def yield_per_week(*, crop_yield: CropYield, weeks_in_bed: WeeksInBed) -> WeekYield:
    """Yield a square metre and week, so that crops of different length can be compared.

    Parameters
    ----------
    crop_yield : yield of the whole stand [kg/m^2]
    weeks_in_bed : weeks the bed was taken [week]

    Returns
    -------
    Yield a week [kg/m^2/week].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> yield_per_week(crop_yield=6.0, weeks_in_bed=12.0)
    0.5
    """
    return crop_yield / weeks_in_bed


@relation(cite("arithmetic", "a quotient", "definition"))
def times_as_much(*, amount: Amount, reference: Reference) -> Ratio:
    """How many times a reference an amount is.

    Parameters
    ----------
    amount : amount
    reference : amount it is compared with, in the same unit

    Returns
    -------
    Ratio, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Three times as much is 200 % more.

    Examples
    --------
    >>> times_as_much(amount=250.0, reference=20.0)
    12.5
    """
    return amount / reference


@relation(cite("arithmetic", "a difference in per cent of the reference", "definition"))
def percent_more_than(*, amount: Amount, reference: Reference) -> PercentMore:
    """By how many per cent an amount is higher than a reference.

    Parameters
    ----------
    amount : amount
    reference : amount it is compared with, in the same unit

    Returns
    -------
    Difference in per cent of the reference; negative where the amount is lower [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The base is the reference: a yield 60 % below another leaves that other 149 % above it, not 60 %.

    Examples
    --------
    >>> percent_more_than(amount=15.0, reference=12.0)
    25.0
    """
    return HUNDRED_PERCENT * (amount - reference) / reference
