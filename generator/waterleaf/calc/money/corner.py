"""Money, two crops and two limits: where bed and hours are both used up, and what one unit more of each is worth."""

from typing import Annotated

from waterleaf.calc.money.plan import HoursSupply, WholeArea
from waterleaf.calc.quantity import Quantity, cite, relation

BusyMargin = Annotated[
    float, Quantity("g_1", "dollar/m^2/week", "gross margin of the crop that takes more work", 0, 10_000)
]
EasyMargin = Annotated[
    float, Quantity("g_2", "dollar/m^2/week", "gross margin of the crop that takes less work", 0, 10_000)
]
BusyLabour = Annotated[
    float, Quantity("a_1", "hour/m^2/week", "work for a square metre of the crop that takes more", 0.001, 1000)
]
EasyLabour = Annotated[
    float, Quantity("a_2", "hour/m^2/week", "work for a square metre of the crop that takes less", 0, 999)
]
BusyArea = Annotated[float, Quantity("A_1", "m^2", "area of the crop that takes more work")]
HourWorth = Annotated[float, Quantity("w_h", "dollar/hour", "what one hour more a week brings")]
AreaWorth = Annotated[float, Quantity("w_A", "dollar/m^2/week", "what one square metre more brings a week")]
EasyHours = Annotated[float, Quantity("h_2", "hour/week", "work if the easy crop had all the beds")]


@relation(cite("lpsolve_farm", "farmer's problem of wheat and barley, its corner"))
def busy_crop_area(
    *, bed_area: WholeArea, labour_supply: HoursSupply, busy_labour: BusyLabour, easy_labour: EasyLabour
) -> BusyArea:
    """Area of the crop that takes more work, when two crops use up all beds and all hours.

    Parameters
    ----------
    bed_area : bed area to be had [m^2]
    labour_supply : labour to be had [hour/week]
    busy_labour : work for a square metre of the crop that takes more [hour/m^2/week]
    easy_labour : work for a square metre of the crop that takes less [hour/m^2/week]

    Returns
    -------
    Area; below zero or above the beds, both limits cannot be used up at once [m^2].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Give all beds to the easy crop first. The hours that are left turn bed over to the busy one.

    Examples
    --------
    >>> busy_crop_area(bed_area=100.0, labour_supply=30.0, busy_labour=0.5, easy_labour=0.25)
    20.0
    """
    easy_hours: EasyHours = easy_labour * bed_area
    return (labour_supply - easy_hours) / (busy_labour - easy_labour)


@relation(cite("lpsolve_farm", "farmer's problem of wheat and barley, its corner"))
def worth_of_hour(
    *, busy_margin: BusyMargin, easy_margin: EasyMargin, busy_labour: BusyLabour, easy_labour: EasyLabour
) -> HourWorth:
    """What one hour more a week brings, when two crops use up all beds and all hours.

    Parameters
    ----------
    busy_margin : gross margin of the crop that takes more work [dollar/m^2/week]
    easy_margin : gross margin of the crop that takes less work [dollar/m^2/week]
    busy_labour : work for a square metre of the crop that takes more [hour/m^2/week]
    easy_labour : work for a square metre of the crop that takes less [hour/m^2/week]

    Returns
    -------
    Worth of an hour [dollar/hour].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    An hour more turns bed over from the easy to the busy crop. Holds as long as both crops stand in the plan.

    Examples
    --------
    >>> worth_of_hour(busy_margin=6.0, easy_margin=4.0, busy_labour=0.5, easy_labour=0.25)
    8.0
    """
    return (busy_margin - easy_margin) / (busy_labour - easy_labour)


@relation(cite("lpsolve_farm", "farmer's problem of wheat and barley, its corner"))
def worth_of_area(
    *, busy_margin: BusyMargin, easy_margin: EasyMargin, busy_labour: BusyLabour, easy_labour: EasyLabour
) -> AreaWorth:
    """What one square metre more brings a week, when two crops use up all beds and all hours: its shadow price.

    Parameters
    ----------
    busy_margin : gross margin of the crop that takes more work [dollar/m^2/week]
    easy_margin : gross margin of the crop that takes less work [dollar/m^2/week]
    busy_labour : work for a square metre of the crop that takes more [hour/m^2/week]
    easy_labour : work for a square metre of the crop that takes less [hour/m^2/week]

    Returns
    -------
    Worth of a square metre [dollar/m^2/week].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    It is the margin of the easy crop less the worth of the hours that it takes away: fewer hours are left for the busy
    crop. So it is less than either margin.

    Examples
    --------
    >>> worth_of_area(busy_margin=6.0, easy_margin=4.0, busy_labour=0.5, easy_labour=0.25)
    2.0
    """
    hour: HourWorth = worth_of_hour(
        busy_margin=busy_margin, easy_margin=easy_margin, busy_labour=busy_labour, easy_labour=easy_labour
    )
    return easy_margin - easy_labour * hour
