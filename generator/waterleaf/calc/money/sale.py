"""Money, sale and work: prices by season, bundles, shade on a neighbour, and hours."""

import math
from collections.abc import Sequence
from typing import Annotated

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.crops.planting import HarvestArea
from waterleaf.calc.money.breakeven import HeadCost, HeadMargin
from waterleaf.calc.money.margin import HeadPrice, MarginRate, Revenue
from waterleaf.calc.quantity import Quantity, cite, relation

Prices = Annotated[
    Sequence[float], Quantity("P", "dollar/kg", "prices of the seasons", 0.001, 10_000, many=1, fewest=2)
]
MeanPrice = Annotated[float, Quantity("P_mean", "dollar/kg", "mean price of the year", 0.001, 10_000)]
SeasonPrice = Annotated[float, Quantity("P_season", "dollar/kg", "price in a season", 0.001, 10_000)]
PriceIndex = Annotated[float, Quantity("I", "percent", "price index, the year's mean being 100 %", 1, 1000)]
BundlePrice = Annotated[float, Quantity("P_b", "dollar", "price of a bundle", 0.01, 10_000)]
BundleUnits = Annotated[float, Quantity("n", "head", "heads in a bundle", 2, 100, whole=True)]
SinglesPrice = Annotated[float, Quantity("P_n", "dollar", "price of as many single heads", 0.02, 100_000)]
Discount = Annotated[float, Quantity("q", "percent", "discount of the bundle", -10_000, 100)]
BundleMargin = Annotated[float, Quantity("m_b", "dollar", "gross margin of a bundle", -100_000, 10_000)]
GainedBundle = Annotated[
    float,
    Quantity(
        "m_b", "dollar", "gross margin of a bundle", 0.001, 10_000,
        basis="a bundle at or below the variable cost of its heads earns nothing",
    ),
]
SinglesSold = Annotated[float, Quantity("N", "head", "single heads sold so far", 1, 1_000_000)]
SinglesMargin = Annotated[
    float, Quantity("M", "dollar", "gross margin of the single heads", -1_000_000_000, 1_000_000_000)
]
Bundles = Annotated[float, Quantity("n_b", "", "bundles to sell")]
Height = Annotated[float, Quantity("H", "m", "height of the trellis above the neighbour's leaves", 0.05, 10)]
SunHeight = Annotated[
    float,
    Quantity(
        "b", "degree", "height of the sun above the horizon", 2, 89,
        basis="below 2 degrees shadows run off the site",
    ),
]
ShadowLength = Annotated[float, Quantity("L", "m", "length of the shadow", 0.05, 300)]
Path = Annotated[float, Quantity("p", "m", "path between trellis and bed", 0, 5)]
BedWidth = Annotated[float, Quantity("w", "m", "width of the bed", 0.1, 20)]
BedLength = Annotated[float, Quantity("l", "m", "length of the bed along the trellis", 0.1, 200)]
ShadedWidth = Annotated[float, Quantity("w_s", "m", "width of bed in the shadow", 0, 20)]
ShadedArea = Annotated[float, Quantity("A_s", "m^2", "bed area in the shadow", 0, 4000)]
MarginLoss = Annotated[float, Quantity("x", "percent", "share of the margin lost in the shadow", 0, 100)]
ShadedWeeks = Annotated[float, Quantity("t", "week", "weeks in which the shadow falls", 0.1, 60)]
ShadeCost = Annotated[float, Quantity("C_s", "dollar", "margin lost to the shadow", -1_000_000_000, 1_000_000_000)]
LabourRate = Annotated[float, Quantity("a", "hour/m^2/week", "labour a square metre and week", 0.0001, 20)]
LabourNeed = Annotated[float, Quantity("a", "hour/m^2", "labour a square metre and season", 0.0001, 100)]
Weeks = Annotated[float, Quantity("t", "week", "weeks of work", 0.1, 60)]
Hours = Annotated[float, Quantity("h", "hour", "labour", 0.001, 1_000_000_000)]
WorkArea = Annotated[float, Quantity("A", "m^2", "area to be worked", 0.001, 100_000_000_000)]
HoursAWeek = Annotated[float, Quantity("h_w", "hour/week", "hours a person works a week", 1, 80)]
Workers = Annotated[float, Quantity("n_w", "", "people needed", 0)]
Wage = Annotated[float, Quantity("W", "dollar/hour", "wage", 0.01, 500)]
LabourCost = Annotated[float, Quantity("C_l", "dollar", "cost of labour", 0, 1_000_000_000)]
OtherCost = Annotated[float, Quantity("C_o", "dollar", "costs other than labour", 0, 1_000_000_000)]
HourReturn = Annotated[float, Quantity("r", "dollar/hour", "return to an hour of labour")]


@relation(cite("price_table", "yearly means of monthly prices"), cite("welch_index", "average over the season"))
def mean_price(*, prices: Prices) -> MeanPrice:
    """Mean price over the seasons of a year.

    Parameters
    ----------
    prices : one price for each season, month or week, shape (n,) [dollar/kg]

    Returns
    -------
    Mean price [dollar/kg].

    Raises
    ------
    OutOfRange : fewer than two prices, or one outside its range.

    Examples
    --------
    >>> mean_price(prices=[4.0, 6.0, 5.0, 5.0])
    5.0
    """
    return math.fsum(prices) / len(prices)


@relation(cite("price_table", "each price as a percentage of the year's mean"), cite("welch_index", "seasonal index"))
def price_index(*, season_price: SeasonPrice, prices: Prices) -> PriceIndex:
    """Price of a season as a percentage of the year's mean.

    Parameters
    ----------
    season_price : price in the season looked at [dollar/kg]
    prices : one price for each season of the same year, shape (n,) [dollar/kg]

    Returns
    -------
    Price index [percent]; 100 is the year's mean.

    Raises
    ------
    OutOfRange : fewer than two prices, or one outside its range.

    Notes
    -----
    One year is an anecdote: average the indexes of several years before planning on them.

    Examples
    --------
    >>> price_index(season_price=6.0, prices=[4.0, 6.0, 5.0, 5.0])
    120.0
    """
    mean_of_year: MeanPrice = mean_price(prices=prices)
    return HUNDRED_PERCENT * season_price / mean_of_year


@relation(cite("welch_index", "use of a seasonal index"), cite("arithmetic", "index times mean", "definition"))
def season_price(*, mean_price: MeanPrice, price_index: PriceIndex) -> SeasonPrice:
    """Price to expect in a season.

    Parameters
    ----------
    mean_price : mean price of the year [dollar/kg]
    price_index : price index of the season [percent]

    Returns
    -------
    Price in the season [dollar/kg].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> season_price(mean_price=5.0, price_index=120.0)
    6.0
    """
    return mean_price * price_index / HUNDRED_PERCENT


@relation(cite("arithmetic", "saving over the price of single heads", "definition"))
def bundle_discount(*, bundle_price: BundlePrice, bundle_units: BundleUnits, price: HeadPrice) -> Discount:
    """Discount that a bundle gives on single heads.

    Parameters
    ----------
    bundle_price : price of a bundle [dollar]
    bundle_units : heads in a bundle, a whole number [head]
    price : price of a single head [dollar/head]

    Returns
    -------
    Discount [percent]; below zero the bundle is dearer.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> bundle_discount(bundle_price=6.0, bundle_units=4.0, price=2.0)
    25.0
    """
    singles: SinglesPrice = bundle_units * price
    return HUNDRED_PERCENT * (singles - bundle_price) / singles


@relation(cite("arithmetic", "price less variable cost", "definition"))
def bundle_margin(*, bundle_price: BundlePrice, bundle_units: BundleUnits, variable_cost: HeadCost) -> BundleMargin:
    """Gross margin of a bundle.

    Parameters
    ----------
    bundle_price : price of a bundle [dollar]
    bundle_units : heads in a bundle, a whole number [head]
    variable_cost : variable cost of a head [dollar/head]

    Returns
    -------
    Gross margin of a bundle [dollar].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> bundle_margin(bundle_price=5.0, bundle_units=4.0, variable_cost=0.5)
    3.0
    """
    return bundle_price - bundle_units * variable_cost


@relation(cite("arithmetic", "equal gross margins", "definition"))
def bundles_to_match(*, singles_sold: SinglesSold, unit_margin: HeadMargin, bundle_margin: GainedBundle) -> Bundles:
    """Bundles that must be sold to earn what single heads earned.

    Parameters
    ----------
    singles_sold : single heads sold so far [head]
    unit_margin : gross margin of a single head [dollar/head]
    bundle_margin : gross margin of a bundle, above zero [dollar]

    Returns
    -------
    Bundles, before rounding up.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> bundles_to_match(singles_sold=60.0, unit_margin=1.5, bundle_margin=3.0)
    30.0
    """
    singles_margin: SinglesMargin = singles_sold * unit_margin
    return singles_margin / bundle_margin


@relation(
    cite("sun_shadow", "height over the tangent of the sun's height"),
    empirical="the tangent takes its angle in degrees",
)
def trellis_shadow(*, height: Height, sun_height: SunHeight) -> ShadowLength:
    """Length of the shadow of a trellis, measured straight away from the sun.

    Parameters
    ----------
    height : height of the trellis above the neighbour's leaves [m]
    sun_height : height of the sun above the horizon [degree]

    Returns
    -------
    Length of the shadow [m].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Holds at one moment, for a sun that stands square to the trellis; at a slant less of it falls across the bed.

    Examples
    --------
    >>> round(trellis_shadow(height=2.0, sun_height=45.0), 9)
    2.0
    """
    return height / math.tan(math.radians(sun_height))


@relation(cite("arithmetic", "shadow less path, at most the bed's width", "definition"))
def shaded_area(*, shadow: ShadowLength, path: Path, bed_width: BedWidth, bed_length: BedLength) -> ShadedArea:
    """Area of a neighbouring bed that lies in the shadow.

    Parameters
    ----------
    shadow : length of the shadow [m]
    path : path between trellis and bed [m]
    bed_width : width of the bed [m]
    bed_length : length of the bed along the trellis [m]

    Returns
    -------
    Area in the shadow, none where it ends on the path, at most the whole bed [m^2].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> shaded_area(shadow=1.5, path=0.75, bed_width=1.25, bed_length=10.0)
    7.5
    """
    width: ShadedWidth = min(max(shadow - path, 0), bed_width)
    return width * bed_length


@relation(cite("arithmetic", "lost share of the neighbour's margin", "definition"))
def shading_cost(
    *, margin_rate: MarginRate, shaded_area: ShadedArea, margin_loss: MarginLoss, shaded_weeks: ShadedWeeks,
) -> ShadeCost:
    """What a shadow costs in the neighbouring bed.

    Parameters
    ----------
    margin_rate : gross margin of the neighbour in full light [dollar/m^2/week]
    shaded_area : bed area in the shadow [m^2]
    margin_loss : share of the margin lost there [percent]
    shaded_weeks : weeks in which the shadow falls [week]

    Returns
    -------
    Margin lost [dollar]; charge it to the crop that throws the shadow.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The share lost is the grower's own estimate: light lost is not harvest lost one for one.

    Examples
    --------
    >>> shading_cost(margin_rate=5.0, shaded_area=7.5, margin_loss=40.0, shaded_weeks=10.0)
    150.0
    """
    return margin_rate * shaded_area * shaded_weeks * margin_loss / HUNDRED_PERCENT


@relation(cite("labour_tips", "hours an area and week"), cite("arithmetic", "rate times area times time", "definition"))
def labour_hours(*, labour_rate: LabourRate, bed_area: HarvestArea, weeks: Weeks) -> Hours:
    """Labour that a crop takes over its stay.

    Parameters
    ----------
    labour_rate : labour a square metre and week [hour/m^2/week]
    bed_area : area of the crop [m^2]
    weeks : weeks of work [week]

    Returns
    -------
    Labour [hour].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> labour_hours(labour_rate=0.25, bed_area=20.0, weeks=6.0)
    30.0
    """
    return labour_rate * bed_area * weeks


@relation(cite("martin2020", "harvest labour of four fruit crops"))
def workers_needed(
    *, labour_need: LabourNeed, work_area: WorkArea, weeks: Weeks, hours_a_week: HoursAWeek,
) -> Workers:
    """People needed to do a season's work in time.

    Parameters
    ----------
    labour_need : labour a square metre for the whole season [hour/m^2]
    work_area : area to be worked [m^2]
    weeks : weeks in which it must be done [week]
    hours_a_week : hours a person works a week [hour/week]

    Returns
    -------
    Number of people, before rounding up.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> workers_needed(labour_need=1.5, work_area=400.0, weeks=10.0, hours_a_week=20.0)
    3.0
    """
    return labour_need * work_area / (weeks * hours_a_week)


@relation(cite("partial_budget", "hours at 10 dollars"))
def labour_cost(*, hours: Hours, wage: Wage) -> LabourCost:
    """Cost of labour.

    Parameters
    ----------
    hours : labour [hour]
    wage : wage, the grower's own included [dollar/hour]

    Returns
    -------
    Cost [dollar].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> labour_cost(hours=30.0, wage=15.0)
    450.0
    """
    return hours * wage


@relation(
    cite("lobillo2020", "positive accounts, negative once labour is priced"),
    cite("arithmetic", "what is left over the hours", "definition"),
)
def return_to_labour(*, revenue: Revenue, other_cost: OtherCost, hours: Hours) -> HourReturn:
    """What an hour of labour earns when all other costs are paid.

    Parameters
    ----------
    revenue : revenue of the crop [dollar]
    other_cost : all costs other than labour [dollar]
    hours : labour, the grower's own included [hour]

    Returns
    -------
    Return to an hour [dollar/hour].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> return_to_labour(revenue=950.0, other_cost=350.0, hours=40.0)
    15.0
    """
    return (revenue - other_cost) / hours


@relation(cite("arithmetic", "margin over the scarce input", "definition"))
def margin_per_hour(*, margin_rate: MarginRate, labour_rate: LabourRate) -> HourReturn:
    """Gross margin for each hour of labour: the yardstick where hours, not beds, are short.

    Parameters
    ----------
    margin_rate : gross margin a square metre and week, labour not taken off [dollar/m^2/week]
    labour_rate : labour a square metre and week [hour/m^2/week]

    Returns
    -------
    Gross margin an hour [dollar/hour].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> margin_per_hour(margin_rate=5.0, labour_rate=0.25)
    20.0
    """
    return margin_rate / labour_rate
