"""Cohorts: staggered batches of fish, their harvests, and the feed that all of them eat together."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final

from waterleaf.calc.common import GRAMS_PER_KILOGRAM, HUNDRED_PERCENT
from waterleaf.calc.feed.growth import SpecificGrowth
from waterleaf.calc.feed.ration import Biomass, DailyFeed, Ration
from waterleaf.calc.feed.stock import Harvest
from waterleaf.calc.quantity import Constant, OutOfRange, Quantity, cite, relation

GrowOut = Annotated[float, Quantity("G", "week", "grow-out time", 1, 200)]
CohortCount = Annotated[float, Quantity("n", "", "cohorts", 1, 52, whole=True)]
HarvestInterval = Annotated[float, Quantity("T", "week", "time between harvests", 0.1, 200)]
HarvestsPerYear = Annotated[float, Quantity("h", "1/year", "harvests a year", 0.2, 400)]
AnnualHarvest = Annotated[float, Quantity("B_year", "kg/year", "live weight harvested in a year", 0.001, 100_000_000)]
StockingWeight = Annotated[float, Quantity("W_0", "g", "weight of a fish when it is stocked", 0.001, 30_000)]
IntervalDays = Annotated[float, Quantity("T_d", "day", "days between cohorts", 1, 1000)]
IntervalGrowth = Annotated[float, Quantity("g", "", "logarithm of the growth from cohort to cohort", 0.0001, 500)]
CohortWeights = Annotated[tuple[float, ...], Quantity("W", "g", "weights of the cohorts", 0.001, 1e9, many=1)]
Weights = Annotated[Sequence[float], Quantity("W", "g", "mean weights of the cohorts", 0.001, 30_000, many=1)]
Counts = Annotated[Sequence[float], Quantity("N", "fish", "fish in the cohorts", 1, 10_000_000, many=1)]
Rations = Annotated[Sequence[float], Quantity("r", "percent/day", "rations of the cohorts", 0.05, 30, many=1)]
FishPerCohort = Annotated[float, Quantity("N", "fish", "fish in each cohort", 1, 10_000_000)]
WeightSum = Annotated[float, Quantity("W_sum", "g", "sum of the mean weights", 0.001, 1e9)]

WEEKS_PER_YEAR: Final = Constant(
    52, symbol="52", unit="week/year", name="weeks in a year", source=cite("arithmetic", "whole weeks", "definition"),
)


@relation(cite("uvi2010", "24 weeks of rearing, four tanks, a harvest every 6 weeks"))
def harvest_interval(*, grow_out: GrowOut, cohorts: CohortCount) -> HarvestInterval:
    """Weeks between harvests of cohorts that are evenly staggered.

    Parameters
    ----------
    grow_out : weeks from stocking to harvest [week]
    cohorts : cohorts (tanks) in rotation, a whole number

    Returns
    -------
    Weeks between harvests [week].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> harvest_interval(grow_out=24.0, cohorts=4)
    6.0
    """
    return grow_out / cohorts


@relation(cite("rakocy2004", "annual yield from one harvest each 6 weeks"))
def harvests_a_year(*, interval: HarvestInterval) -> HarvestsPerYear:
    """Harvests in a year of 52 weeks.

    Parameters
    ----------
    interval : weeks between harvests [week]

    Returns
    -------
    Harvests in a year [1/year].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(harvests_a_year(interval=6.0), 2)
    8.67
    """
    return WEEKS_PER_YEAR / interval


@relation(cite("rakocy2004", "annual yield of the two tilapias"))
def annual_harvest(*, harvest: Harvest, harvests: HarvestsPerYear) -> AnnualHarvest:
    """Live weight harvested in a year.

    Parameters
    ----------
    harvest : live weight of one harvest, of one cohort only [kg]
    harvests : harvests in a year [1/year]

    Returns
    -------
    Live weight in a year [kg/year].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    One tank is harvested each time. Counting all tanks at each harvest is the usual slip.

    Examples
    --------
    >>> round(annual_harvest(harvest=479.7, harvests=52 / 6))  # Rakocy 2004 prints 4.16 t
    4157
    """
    return harvest * harvests


@relation(cite("arithmetic", "steady specific growth over equal steps", "definition"))
def cohort_weights(
    *, start_weight: StockingWeight, growth_rate: SpecificGrowth, interval: IntervalDays, cohorts: CohortCount
) -> CohortWeights:
    """Weights of staggered cohorts on one day, youngest first, at a steady specific growth rate.

    Parameters
    ----------
    start_weight : weight of a fish when it is stocked [g]
    growth_rate : specific growth rate [percent/day]
    interval : days between one cohort and the next [day]
    cohorts : cohorts in rotation, a whole number

    Returns
    -------
    Weight of a fish of each cohort [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Real growth slows with size, so weighed cohorts are better than these.

    Examples
    --------
    >>> [round(weight, 1) for weight in cohort_weights(start_weight=10.0, growth_rate=2.0, interval=30.0, cohorts=3)]
    [10.0, 18.2, 33.2]
    """
    growth: IntervalGrowth = growth_rate * interval / HUNDRED_PERCENT
    return tuple(start_weight * math.exp(growth * number) for number in range(int(cohorts)))


@relation(cite("apu_tilapia", "five cohorts of 350 fish"), cite("arithmetic", "sum over cohorts", "definition"))
def standing_biomass(*, fish_per_cohort: FishPerCohort, weights: Weights) -> Biomass:
    """Live weight that stands in all cohorts together, each with the same number of fish.

    Parameters
    ----------
    fish_per_cohort : fish in each cohort [fish]
    weights : mean weight of a fish of each cohort, shape (n,) [g]

    Returns
    -------
    Live weight of all cohorts [kg].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(standing_biomass(fish_per_cohort=350.0, weights=[8.0, 34.0, 84.0, 165.0, 300.0]), 2)  # printed as 207
    206.85
    """
    weight_sum: WeightSum = math.fsum(weights)
    return fish_per_cohort * weight_sum / GRAMS_PER_KILOGRAM



@relation(cite("arithmetic", "sum over cohorts, turned round", "definition"))
def fish_for_feed(*, daily_feed: DailyFeed, ration: Ration, weights: Weights) -> FishPerCohort:
    """Fish in each cohort so that all cohorts together eat a daily feed at one common ration.

    Parameters
    ----------
    daily_feed : feed that the plants need [g/day]
    ration : share of live weight fed each day, the same for all cohorts [percent/day]
    weights : mean weight of a fish of each cohort, shape (n,) [g]

    Returns
    -------
    Fish in each cohort, before rounding [fish].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Small fish eat a larger share than big ones. Where rations differ, use the table of cohort feed.

    Examples
    --------
    >>> fish_for_feed(daily_feed=600.0, ration=2.0, weights=[50.0, 150.0, 300.0])
    60.0
    """
    weight_sum: WeightSum = math.fsum(weights)
    return HUNDRED_PERCENT * daily_feed / (ration * weight_sum)


@dataclass(frozen=True, slots=True)
class CohortRow:
    """One cohort, or all of them in the last row, where weight and ration are means over the live weight."""

    cohort: str
    fish: float
    weight: float
    biomass: float
    ration: float
    feed: float


CohortTable = Annotated[tuple[CohortRow, ...], Quantity("", "", "feed of the cohorts")]


@relation(cite("arithmetic", "sum over cohorts", "definition"), procedure=True)
def cohort_feed(*, counts: Counts, weights: Weights, rations: Rations) -> CohortTable:
    """Standing weight and daily feed of each cohort, and of all: the last is what the plants get.

    Parameters
    ----------
    counts : fish in each cohort, shape (n,) [fish]
    weights : mean weight of a fish of each cohort, shape (n,) [g]
    rations : share of live weight fed each day to each cohort, shape (n,) [percent/day]

    Returns
    -------
    Rows: cohort, fish, weight [g], biomass [kg], ration [percent/day], feed [g/day]; the last row is for all.

    Raises
    ------
    OutOfRange : an argument outside its valid range, or lists of different lengths.

    Examples
    --------
    >>> cohort_feed(counts=[100.0, 90.0], weights=[50.0, 300.0], rations=[4.0, 1.5])[-1].feed
    605.0
    """
    if not len(counts) == len(weights) == len(rations):
        raise OutOfRange(
            f"counts, weights, rations: {len(counts)}, {len(weights)} and {len(rations)} readings. "
            "Give one of each for every cohort."
        )
    rows = [
        CohortRow(str(number), fish, weight, fish * weight / 1000, ration, fish * weight * ration / 100)
        for number, (fish, weight, ration) in enumerate(zip(counts, weights, rations, strict=True), start=1)
    ]
    fish, biomass, feed = (math.fsum(getattr(row, part) for row in rows) for part in ("fish", "biomass", "feed"))
    return (*rows, CohortRow("all", fish, 1000 * biomass / fish, biomass, feed / (10 * biomass), feed))
