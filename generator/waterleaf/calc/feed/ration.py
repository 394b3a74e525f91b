"""Feed: how much, for how many plants, for how many fish, and what comes of it."""

from typing import Annotated, Final

from waterleaf.calc.common import GRAMS_PER_KILOGRAM, HUNDRED_PERCENT
from waterleaf.calc.quantity import Constant, Quantity, cite, relation

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
FilmRatio = Annotated[float, Quantity("R_NFT", "g/m^2/day", "feed ratio of a nutrient film system", 1, 50)]
PlantDensity = Annotated[
    float,
    Quantity(
        "p", "plant/m^2", "plants a square metre", 0.5, 500,
        basis="from one fruiting plant on 2 square metres to baby leaf",
    ),
]
FeedPerPlant = Annotated[float, Quantity("F_plant", "g/plant/day", "feed a plant a day", 0.01, 200)]
AnnualGain = Annotated[float, Quantity("G_year", "kg/year", "live weight gained in a year", 0.1, 100_000_000)]

NUTRIENT_FILM_SHARE: Final = Constant(
    25, symbol="s_NFT", unit="percent", name="nutrient film feed ratio as a share of the raft ratio",
    source=cite("rakocy2007", "guideline 1: roughly 25 % of the ratio used for a raft system"),
)
DAYS_PER_YEAR: Final = Constant(
    365, symbol="365", unit="day/year", name="days in a year", source=cite("arithmetic", "common year", "definition"),
)


@relation(
    cite("rakocy2007", "guideline 1 and its worked example"), cite("somerville2014", "section 8.1"),
    cite("rakocy2004_basil", "abstract: 81.4 and 99.6 g/m2 a day"),
)
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
    Sources differ, so the ratio is an argument: 60 to 100 g/m2/day for rafts (Rakocy 2007), 81.4 batch and 99.6
    staggered basil (Rakocy and Shultz 2004), 56 raft lettuce (Al-Hafedh 2008), 40 to 50 leafy and 50 to 80 fruiting
    crops on 32 % protein feed (Somerville 2014), 15 to 42 water spinach (Endut 2010). The course's default is 60, the
    low end of the raft range, because it asks least of the filters: feed can be raised later, spoiled water harms fish
    at once.
    About 180 g/m2/day is quoted as what a raft can clean (UVI slides), which is not what its plants can use.

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


@relation(
    cite("somerville2014", "chapter 8, ration of growing fish", "memory"),
    cite("arithmetic", "definition", "definition"),
)
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


@relation(
    cite("somerville2014", "chapter 8, ration of growing fish", "memory"),
    cite("arithmetic", "definition", "definition"),
)
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

@relation(cite("rakocy2007", "guideline 1: nutrient film is roughly 25 % of the raft ratio"))
def nft_feed_ratio(*, feed_ratio: FeedRatio) -> FilmRatio:
    """Feed ratio of a nutrient film system that goes with the ratio of a raft system.

    Parameters
    ----------
    feed_ratio : feed for each square metre of raft [g/m^2/day]

    Returns
    -------
    Feed for each square metre of nutrient film channel [g/m^2/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    A rough rule of one source. A film system has little water and no raft bottom, so it cleans less.

    Examples
    --------
    >>> nft_feed_ratio(feed_ratio=60.0)
    15.0
    """
    return feed_ratio * NUTRIENT_FILM_SHARE / HUNDRED_PERCENT


@relation(cite("alhafedh2008", "feed ratio 56 at 25 to 42 lettuces a square metre"))
def feed_per_plant(*, feed_ratio: FeedRatio, plant_density: PlantDensity) -> FeedPerPlant:
    """Feed given in a day for each plant of a bed.

    Parameters
    ----------
    feed_ratio : feed for each square metre of bed [g/m^2/day]
    plant_density : plants on a square metre of bed [plant/m^2]

    Returns
    -------
    Feed a plant [g/plant/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(feed_per_plant(feed_ratio=56.0, plant_density=42.0), 2)  # Al-Hafedh 2008: 42 lettuces a square metre
    1.33
    """
    return feed_ratio / plant_density


@relation(cite("somerville2014", "chapter 8, 200 g a day at 1 or 2 % of live weight", "memory"))
def biomass_for_feed(*, daily_feed: DailyFeed, ration: Ration) -> Biomass:
    """Live weight of fish that must stand in the system to eat a daily feed at a known ration.

    Parameters
    ----------
    daily_feed : feed that the plants need [g/day]
    ration : share of live weight fed each day [percent/day]

    Returns
    -------
    Live weight of all fish [kg].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    This is the mean weight over the year. With tanks of different ages add up all tanks, not one tank and not all
    tanks at market size.

    Examples
    --------
    >>> biomass_for_feed(daily_feed=200.0, ration=1.0)
    20.0
    """
    weight: BiomassGrams = HUNDRED_PERCENT * daily_feed / ration
    return weight / GRAMS_PER_KILOGRAM


@relation(cite("arithmetic", "definition of the feed conversion ratio, turned round", "definition"))
def gain_from_feed(*, feed_fed: FeedFed, conversion_ratio: ConversionRatio) -> LiveGain:
    """Live weight gained on an amount of feed.

    Parameters
    ----------
    feed_fed : feed fed over the period [kg]
    conversion_ratio : feed for each kilogram gained

    Returns
    -------
    Live weight gained [kg].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(gain_from_feed(feed_fed=1.0, conversion_ratio=1.7), 3)
    0.588
    """
    return feed_fed / conversion_ratio


@relation(cite("arithmetic", "definition of the feed conversion ratio, turned round", "definition"))
def feed_for_gain(*, gain: LiveGain, conversion_ratio: ConversionRatio) -> FeedFed:
    """Feed needed for a gain of live weight.

    Parameters
    ----------
    gain : live weight to be gained, not the weight at harvest [kg]
    conversion_ratio : feed for each kilogram gained

    Returns
    -------
    Feed [kg].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Published ratios for tilapia run from 1.3 to 1.8 (Hager 2021 gives 1.4 to 1.8 as realistic). Fish that died ate
    too: a ratio reckoned on the fish that lived includes their feed.

    Examples
    --------
    >>> round(feed_for_gain(gain=2690.0, conversion_ratio=1.8), 1)
    4842.0
    """
    return gain * conversion_ratio


@relation(cite("rakocy2004", "annual harvest and feed conversion of the two tilapias"))
def mean_daily_feed(*, annual_gain: AnnualGain, conversion_ratio: ConversionRatio) -> DailyFeed:
    """Feed a day, on the mean of a year, that goes with a year's gain of live weight.

    Parameters
    ----------
    annual_gain : live weight gained in a year [kg/year]
    conversion_ratio : feed for each kilogram gained

    Returns
    -------
    Mean feed for the whole system [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    A harvest in place of the gain gives too much feed by what the young fish weighed when they came.

    Examples
    --------
    >>> round(mean_daily_feed(annual_gain=4160.0, conversion_ratio=1.7), 0)
    19375.0
    """
    feed: AnnualFeed = annual_gain * conversion_ratio
    return feed * GRAMS_PER_KILOGRAM / DAYS_PER_YEAR


AnnualFeed = Annotated[float, Quantity("F_year", "kg/year", "feed fed in a year", 0.1, 100_000_000)]
