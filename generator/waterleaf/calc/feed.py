"""Feed: how much, for how many plants, for how many fish, and what comes of it."""

from typing import Annotated

from waterleaf.calc.common import GRAMS_PER_KILOGRAM, HUNDRED_PERCENT
from waterleaf.calc.quantity import Quantity, cite, relation

BedArea = Annotated[float, Quantity("A", "m^2", "growing area of the beds", 0.1, 100_000)]
FeedRatio = Annotated[
    float,
    Quantity(
        "R", "g/m^2/day", "feed ratio", 5, 200,
        basis="published ratios run from 15 for water spinach to 110 for a fully stocked raft system",
    ),
]
DailyFeed = Annotated[float, Quantity("F", "g/day", "daily feed", 0.1, 10_000_000)]
MealsPerDay = Annotated[float, Quantity("n", "meal/day", "meals a day", 1, 24, whole=True)]
MealSize = Annotated[float, Quantity("m", "g/meal", "feed a meal", 0.01, 10_000_000)]
Biomass = Annotated[float, Quantity("B", "kg", "live weight of all fish", 0.01, 1_000_000)]
BiomassGrams = Annotated[float, Quantity("B_g", "g", "live weight of all fish in grams", 10, 1_000_000_000)]
Ration = Annotated[float, Quantity("r", "percent/day", "ration, share of live weight fed a day", 0.05, 30)]
FeedFed = Annotated[float, Quantity("F_fed", "kg", "feed fed over the period", 0.001, 10_000_000)]
StartWeight = Annotated[float, Quantity("B_1", "kg", "live weight at the start", 0, 10_000_000)]
EndWeight = Annotated[float, Quantity("B_2", "kg", "live weight at the end", 0, 10_000_000)]
LiveGain = Annotated[float, Quantity("G", "kg", "live weight gained", 0.0001, 10_000_000)]
ConversionRatio = Annotated[float, Quantity("FCR", "", "feed conversion ratio", 0.3, 20)]


@relation(cite("rakocy2007", "guideline 1 and its worked example"), cite("somerville2014", "section 8.1"))
def daily_feed(*, bed_area: BedArea, feed_ratio: FeedRatio) -> DailyFeed:
    """Feed that the plants on a bed area can use in a day.

    Parameters
    ----------
    bed_area : growing area of the beds [m^2]
    feed_ratio : feed for each square metre of bed [g/m^2/day]

    Returns
    -------
    Feed for the whole system [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Holds for a mature system with even stocking; the ratio depends on crop, feed protein and how solids are handled.

    Examples
    --------
    >>> daily_feed(bed_area=200.0, feed_ratio=100.0)  # Rakocy 2007: 20,000 g for 200 m2
    20000.0
    """
    return bed_area * feed_ratio


@relation(cite("rakocy2007", "guideline 1 and its worked example"))
def bed_area_for_feed(*, daily_feed: DailyFeed, feed_ratio: FeedRatio) -> BedArea:
    """Bed area whose plants can use a daily feed.

    Parameters
    ----------
    daily_feed : feed for the whole system [g/day]
    feed_ratio : feed for each square metre of bed [g/m^2/day]

    Returns
    -------
    Growing area [m^2].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(bed_area_for_feed(daily_feed=1000.0, feed_ratio=60.0), 1)  # Rakocy 2007: 16.7 m2
    16.7
    """
    return daily_feed / feed_ratio


@relation(cite("rakocy2007", "guideline 1, definition of the ratio"))
def feed_ratio(*, daily_feed: DailyFeed, bed_area: BedArea) -> FeedRatio:
    """Feed given for each square metre of bed a day.

    Parameters
    ----------
    daily_feed : feed for the whole system [g/day]
    bed_area : growing area of the beds [m^2]

    Returns
    -------
    Feed ratio [g/m^2/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> feed_ratio(daily_feed=12000.0, bed_area=200.0)
    60.0
    """
    return daily_feed / bed_area


@relation(cite("arithmetic", "even split of a day's feed", "definition"))
def feed_per_meal(*, daily_feed: DailyFeed, meals: MealsPerDay) -> MealSize:
    """Feed for each meal when a day's feed is split evenly.

    Parameters
    ----------
    daily_feed : feed for the whole system [g/day]
    meals : meals a day, a whole number [meal/day]

    Returns
    -------
    Feed for one meal [g/meal].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> feed_per_meal(daily_feed=600.0, meals=3.0)
    200.0
    """
    return daily_feed / meals


@relation(cite("somerville2014", "chapter 8, ration of growing fish", "memory"), cite("arithmetic", "definition", "definition"))
def ration_from_biomass(*, daily_feed: DailyFeed, biomass: Biomass) -> Ration:
    """Daily feed as a percentage of the live weight of the fish.

    Parameters
    ----------
    daily_feed : feed for the whole system [g/day]
    biomass : live weight of all fish [kg]

    Returns
    -------
    Ration [percent/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> ration_from_biomass(daily_feed=200.0, biomass=20.0)  # FAO 589: 200 g for 20 kg is 1 %
    1.0
    """
    weight: BiomassGrams = biomass * GRAMS_PER_KILOGRAM
    return HUNDRED_PERCENT * daily_feed / weight


@relation(cite("somerville2014", "chapter 8, ration of growing fish", "memory"), cite("arithmetic", "definition", "definition"))
def feed_from_biomass(*, biomass: Biomass, ration: Ration) -> DailyFeed:
    """Daily feed for a known live weight of fish at a known ration.

    Parameters
    ----------
    biomass : live weight of all fish [kg]
    ration : share of live weight fed each day [percent/day]

    Returns
    -------
    Feed for the whole system [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> feed_from_biomass(biomass=20.0, ration=1.0)  # FAO 589: 20 kg at 1 % is 200 g
    200.0
    """
    weight: BiomassGrams = biomass * GRAMS_PER_KILOGRAM
    return weight * ration / HUNDRED_PERCENT


@relation(cite("hager2021", "feed conversion"), cite("arithmetic", "definition", "definition"))
def feed_conversion_ratio(*, feed_fed: FeedFed, start_weight: StartWeight, end_weight: EndWeight) -> ConversionRatio:
    """Feed fed for each kilogram of live weight gained.

    Parameters
    ----------
    feed_fed : feed fed over the period [kg]
    start_weight : live weight at the start [kg]
    end_weight : live weight at the end, above the start [kg]

    Returns
    -------
    Feed conversion ratio, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Uses the gain, not the harvest: the fish already weighed something when they came.

    Examples
    --------
    >>> feed_conversion_ratio(feed_fed=17.0, start_weight=2.0, end_weight=12.0)
    1.7
    """
    gain: LiveGain = end_weight - start_weight
    return feed_fed / gain
