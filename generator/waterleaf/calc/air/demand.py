"""Who uses the oxygen, what they give off, and how much water it takes to bring it."""

from typing import Annotated, Final

from waterleaf.calc.chemistry.ammonia import NITROGEN_IN_PROTEIN, Protein
from waterleaf.calc.chemistry.filter import MILLIGRAMS_PER_GRAM
from waterleaf.calc.chemistry.masses import CARBON, CARBON_DIOXIDE, OXYGEN
from waterleaf.calc.common import (
    GRAMS_PER_KILOGRAM,
    HOURS_PER_DAY,
    HUNDRED_PERCENT,
    MINUTES_PER_HOUR,
)
from waterleaf.calc.feed.ration import DailyFeed
from waterleaf.calc.quantity import Constant, Quantity, cite, relation
from waterleaf.calc.solids.load import WaterFlow

_BOYD: Final = cite("boyd_demand", "oxygen demand of feed from its carbon and nitrogen")
OXYGEN_FOR_CARBON: Final = Constant(2.67, symbol="2.67", unit="g/g", name="oxygen for a gram of carbon", source=_BOYD)
OXYGEN_FOR_NITROGEN: Final = Constant(
    4.57, symbol="4.57", unit="g/g", name="oxygen for a gram of nitrogen", source=_BOYD
)

OxygenPerFeed = Annotated[
    float,
    Quantity(
        "q", "g/kg", "oxygen used for a kilogram of feed", 100, 1500,
        basis="250 for fish alone to 1,250 for full oxidation in a pond",
    ),
]
FishOxygen = Annotated[float, Quantity("O_f", "g/day", "oxygen used by the fish a day", 0, 1e8)]
BacterialOxygen = Annotated[float, Quantity("O_b", "g/day", "oxygen used by the nitrifying bacteria a day", 0, 1e8)]
BreakdownOxygen = Annotated[float, Quantity("O_w", "g/day", "oxygen used by the breakdown of waste a day", 0, 1e8)]
OxygenDemand = Annotated[float, Quantity("O", "g/day", "oxygen used a day", 0.1, 1e9)]
FeedCarbon = Annotated[float, Quantity("c_C", "percent", "carbon in the feed", 20, 60)]
CarbonKept = Annotated[float, Quantity("k_C", "percent", "share of the carbon that the fish keep", 0, 50)]
NitrogenKept = Annotated[float, Quantity("k_N", "percent", "share of the nitrogen that the fish keep", 0, 70)]
CarbonLost = Annotated[float, Quantity("m_C", "g/day", "carbon that the fish do not keep", 0)]
NitrogenLost = Annotated[float, Quantity("m_N", "g/day", "nitrogen that the fish do not keep", 0)]
OrganicCarbon = Annotated[float, Quantity("m_C", "g/day", "organic carbon broken down a day", 0.01, 1e8)]
RespiratoryQuotient = Annotated[
    float, Quantity("RQ", "", "carbon dioxide given off for oxygen used, by molecules", 0.6, 1.3)
]
OxygenUsed = Annotated[float, Quantity("O", "g/day", "oxygen used a day", 0.01, 1e9)]
CarbonDioxide = Annotated[float, Quantity("m_CO2", "g/day", "carbon dioxide given off a day", 0)]
OxygenDrop = Annotated[float, Quantity("d", "mg/L", "oxygen that the water gives up on its way", 0.05, 50)]
InflowOxygen = Annotated[float, Quantity("C_in", "mg/L", "oxygen in the water that flows in", 3, 40)]
OutflowOxygen = Annotated[float, Quantity("C_out", "mg/L", "oxygen in the water that flows out", 0, 20)]


@relation(cite("timmons_ebeling", "0.25 to 0.5 kg of oxygen for a kilogram of feed", "memory"))
def oxygen_demand_of_feed(*, daily_feed: DailyFeed, oxygen_per_feed: OxygenPerFeed) -> OxygenDemand:
    """Oxygen used in a day, from the feed and a share for each kilogram of it.

    Parameters
    ----------
    daily_feed : feed for the whole system [g/day]
    oxygen_per_feed : oxygen used for a kilogram of feed [g/kg]

    Returns
    -------
    Oxygen [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The share depends on what is counted: about 250 g for the fish alone, 500 g with nitrification and breakdown in a
    tank, 1,100 to 1,250 g for full oxidation of everything (Boyd). It is an argument, so that the choice is seen.

    Examples
    --------
    >>> oxygen_demand_of_feed(daily_feed=10000.0, oxygen_per_feed=400.0)
    4000.0
    """
    return daily_feed * oxygen_per_feed / GRAMS_PER_KILOGRAM


@relation(_BOYD)
def oxygen_demand_of_waste(
    *, daily_feed: DailyFeed, feed_carbon: FeedCarbon, carbon_kept: CarbonKept, protein: Protein,
    nitrogen_kept: NitrogenKept,
) -> OxygenDemand:
    """Oxygen for the full oxidation of the carbon and nitrogen of the feed that do not leave as fish.

    Parameters
    ----------
    daily_feed : feed for the whole system [g/day]
    feed_carbon : carbon in the feed [percent]
    carbon_kept : share of the carbon that the fish keep [percent]
    protein : protein in the feed [percent]
    nitrogen_kept : share of the nitrogen that the fish keep [percent]

    Returns
    -------
    Oxygen for fish, breakdown and nitrification together [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Boyd: feed is about 40 % carbon; 8 to 12 % of the carbon and 20 to 30 % of the nitrogen leave as fish. Solids that
    are flushed out in time do not use their share. The factor 2.67 is rounded from 2.664.

    Examples
    --------
    >>> round(oxygen_demand_of_waste(
    ...     daily_feed=1000.0, feed_carbon=40.0, carbon_kept=10.0, protein=32.0, nitrogen_kept=25.0))
    1137
    """
    carbon: CarbonLost = daily_feed * feed_carbon / HUNDRED_PERCENT * (1 - carbon_kept / HUNDRED_PERCENT)
    nitrogen: NitrogenLost = (
        daily_feed * protein / HUNDRED_PERCENT * NITROGEN_IN_PROTEIN / HUNDRED_PERCENT
        * (1 - nitrogen_kept / HUNDRED_PERCENT)
    )
    return OXYGEN_FOR_CARBON * carbon + OXYGEN_FOR_NITROGEN * nitrogen


@relation(cite("iupac_weights", "C + O2 = CO2, by molar masses", "computed"))
def breakdown_oxygen(*, organic_carbon: OrganicCarbon) -> BreakdownOxygen:
    """Oxygen that the breakdown of organic carbon uses.

    Parameters
    ----------
    organic_carbon : organic carbon broken down in a day [g/day]

    Returns
    -------
    Oxygen [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(breakdown_oxygen(organic_carbon=1.0), 3)
    2.664
    """
    return organic_carbon * OXYGEN / CARBON


@relation(cite("arithmetic", "sum of the users", "definition"))
def oxygen_demand(*, fish: FishOxygen, bacteria: BacterialOxygen, breakdown: BreakdownOxygen) -> OxygenDemand:
    """Oxygen used in a day by fish, filter bacteria and the breakdown of waste together.

    Parameters
    ----------
    fish : oxygen used by the fish [g/day]
    bacteria : oxygen used by the nitrifying bacteria [g/day]
    breakdown : oxygen used by the breakdown of waste [g/day]

    Returns
    -------
    Oxygen [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> oxygen_demand(fish=2500.0, bacteria=1000.0, breakdown=500.0)
    4000.0
    """
    return fish + bacteria + breakdown


@relation(cite("iupac_weights", "CO2 over O2 by molar masses", "computed"))
def carbon_dioxide_given_off(
    *, oxygen_used: OxygenUsed, respiratory_quotient: RespiratoryQuotient = 1.0
) -> CarbonDioxide:
    """Carbon dioxide given off for the oxygen used.

    Parameters
    ----------
    oxygen_used : oxygen used in a day [g/day]
    respiratory_quotient : molecules of carbon dioxide for each molecule of oxygen

    Returns
    -------
    Carbon dioxide [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    1.375 g for each gram of oxygen at a quotient of 1. Oxygen used by nitrification gives off none.

    Examples
    --------
    >>> round(carbon_dioxide_given_off(oxygen_used=4000.0))
    5501
    """
    return oxygen_used * respiratory_quotient * CARBON_DIOXIDE / OXYGEN


@relation(cite("arithmetic", "mass balance of the water that flows through", "definition"))
def flow_for_oxygen_drop(*, oxygen_demand: OxygenDemand, oxygen_drop: OxygenDrop) -> WaterFlow:
    """Water flow that brings the oxygen used, when each litre gives up a known amount.

    Parameters
    ----------
    oxygen_demand : oxygen used in a day [g/day]
    oxygen_drop : oxygen that each litre gives up on its way [mg/L]

    Returns
    -------
    Water flow [L/min].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(flow_for_oxygen_drop(oxygen_demand=4000.0, oxygen_drop=3.0))
    926
    """
    return oxygen_demand * MILLIGRAMS_PER_GRAM / oxygen_drop / (HOURS_PER_DAY * MINUTES_PER_HOUR)


@relation(cite("arithmetic", "mass balance of the water that flows through", "definition"))
def flow_for_oxygen(
    *, oxygen_demand: OxygenDemand, inflow_oxygen: InflowOxygen, outflow_oxygen: OutflowOxygen
) -> WaterFlow:
    """Water flow that brings the oxygen used between an inflow and a lowest allowed outflow.

    Parameters
    ----------
    oxygen_demand : oxygen used in a day [g/day]
    inflow_oxygen : oxygen in the water that flows in [mg/L]
    outflow_oxygen : oxygen in the water that flows out [mg/L]

    Returns
    -------
    Water flow [L/min].

    Raises
    ------
    OutOfRange : an argument outside its valid range, or an outflow not below the inflow.

    Examples
    --------
    >>> round(flow_for_oxygen(oxygen_demand=4000.0, inflow_oxygen=8.0, outflow_oxygen=5.0))
    926
    """
    drop: OxygenDrop = inflow_oxygen - outflow_oxygen
    return flow_for_oxygen_drop(oxygen_demand=oxygen_demand, oxygen_drop=drop)
