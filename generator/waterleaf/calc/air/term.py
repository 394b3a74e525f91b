"""Oxygen when something changes: a hot day, more feed, less air, or none at all."""

from typing import Annotated

from waterleaf.calc.air.demand import OxygenDemand
from waterleaf.calc.common import HOURS_PER_DAY
from waterleaf.calc.quantity import Constant, Quantity, cite, relation

MILLIGRAMS_IN_GRAM: Constant = Constant(
    1000, symbol="1000", unit="mg/g", name="milligrams in a gram",
    source=cite("arithmetic", "definition of the unit", "definition"),
)

UsualSaturation = Annotated[float, Quantity("C_s0", "mg/L", "saturation as the water usually is", 4, 20)]
UsualOxygen = Annotated[float, Quantity("C_0", "mg/L", "lowest oxygen as it usually is", 0, 20)]
NewSaturation = Annotated[float, Quantity("C_s", "mg/L", "saturation now", 4, 20)]
DemandRatio = Annotated[float, Quantity("r", "", "oxygen used now over the usual use", 0, 100)]
SupplyRatio = Annotated[float, Quantity("a", "", "air supply now over the usual supply", 0.01, 100)]
UsualDeficit = Annotated[float, Quantity("D_0", "mg/L", "usual lack below saturation")]
NewOxygen = Annotated[float, Quantity("C", "mg/L", "oxygen that settles in; below zero there is none left")]
OxygenNow = Annotated[float, Quantity("C", "mg/L", "oxygen now", 0, 25)]
LowestOxygen = Annotated[float, Quantity("C_min", "mg/L", "lowest oxygen that is allowed", 0, 20)]
FishTanks = Annotated[float, Quantity("V", "L", "water in the fish tanks", 1, 1e9)]
OxygenHours = Annotated[float, Quantity("t", "hour", "hours until the lowest oxygen")]


@relation(cite("arithmetic", "transfer goes with the lack below saturation, and equals the use at rest", "definition"))
def oxygen_at_demand(
    *, usual_saturation: UsualSaturation, usual_oxygen: UsualOxygen, saturation: NewSaturation,
    demand_ratio: DemandRatio, supply_ratio: SupplyRatio = 1.0,
) -> NewOxygen:
    """Oxygen that settles in when the use, the air supply or the warmth changes.

    Parameters
    ----------
    usual_saturation : saturation as the water usually is [mg/L]
    usual_oxygen : lowest oxygen as it usually is [mg/L]
    saturation : saturation now [mg/L]
    demand_ratio : oxygen used now over the usual use
    supply_ratio : air supply now over the usual supply

    Returns
    -------
    Oxygen; below zero where the supply cannot meet the use [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Twice the use needs twice the lack below saturation.

    Examples
    --------
    >>> round(oxygen_at_demand(usual_saturation=8.4, usual_oxygen=6.1, saturation=7.6, demand_ratio=1.3), 2)
    4.61
    """
    usual_lack: UsualDeficit = usual_saturation - usual_oxygen
    return saturation - usual_lack * demand_ratio / supply_ratio


@relation(cite("arithmetic", "store over use", "definition"))
def hours_of_oxygen(
    *, oxygen: OxygenNow, lowest_oxygen: LowestOxygen, tank_volume: FishTanks, oxygen_demand: OxygenDemand
) -> OxygenHours:
    """Hours that the oxygen in the fish tanks lasts when all air stops.

    Parameters
    ----------
    oxygen : oxygen now [mg/L]
    lowest_oxygen : lowest oxygen that is allowed [mg/L]
    tank_volume : water in the fish tanks [L]
    oxygen_demand : oxygen used a day [g/day]

    Returns
    -------
    Hours; below zero where it is too low already [hour].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Frightened fish and fish just fed use more, so have spare air ready in half that time. What comes in through the
    still surface is left out; it is little.

    Examples
    --------
    >>> round(hours_of_oxygen(oxygen=6.0, lowest_oxygen=3.0, tank_volume=2800.0, oxygen_demand=320.0), 2)
    0.63
    """
    return (oxygen - lowest_oxygen) * tank_volume / MILLIGRAMS_IN_GRAM / oxygen_demand * HOURS_PER_DAY
