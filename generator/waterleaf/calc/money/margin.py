"""Money: which crop earns its space, and what a change is worth."""

from typing import Annotated

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.crops.picking import CropYield, Harvest, LossShare, Sold
from waterleaf.calc.crops.planting import Density, HarvestArea, WeeksInBed
from waterleaf.calc.quantity import Quantity, cite, relation

HeadPrice = Annotated[float, Quantity("P", "dollar/head", "price of a head", 0.1, 1000)]
KilogramPrice = Annotated[float, Quantity("P", "dollar/kg", "price of a kilogram", 0.01, 10_000)]
AreaRevenue = Annotated[float, Quantity("U_A", "dollar/m^2", "revenue a square metre and crop", 0.0001, 1_000_000)]
RevenueRate = Annotated[float, Quantity("u", "dollar/m^2/week", "revenue a square metre and week", 0.0001, 1_000_000)]
WeeksSold = Annotated[float, Quantity("w", "week", "weeks with sales", 1, 60)]
Revenue = Annotated[float, Quantity("U", "dollar", "revenue", 0, 1_000_000_000)]
VariableCost = Annotated[float, Quantity("V", "dollar", "variable cost", 0, 1_000_000_000)]
FixedCost = Annotated[float, Quantity("K", "dollar", "fixed cost", 0, 1_000_000_000)]
TotalCost = Annotated[float, Quantity("C", "dollar", "total cost", 0.01, 1_000_000_000)]
GrossMargin = Annotated[float, Quantity("GM", "dollar", "gross margin", -1_000_000_000, 1_000_000_000)]
NetReturn = Annotated[float, Quantity("NR", "dollar", "net return", -2_000_000_000, 1_000_000_000)]
MarginRate = Annotated[
    float, Quantity("g", "dollar/m^2/week", "gross margin a square metre and week", -100_000, 100_000)
]
YearCost = Annotated[float, Quantity("C_y", "dollar/year", "cost a year", 0.01, 1_000_000_000)]
AreaYearCost = Annotated[float, Quantity("C_A", "dollar/m^2/year", "cost a square metre and year", 0.000001, 1_000_000)]
CostShare = Annotated[float, Quantity("x", "percent", "share of the cost", 0, 100)]
CostPart = Annotated[float, Quantity("C_x", "dollar", "part of the cost", 0, 1_000_000_000)]
AddedRevenue = Annotated[float, Quantity("U_more", "dollar", "added revenue", 0, 1_000_000_000)]
LostRevenue = Annotated[float, Quantity("U_less", "dollar", "lost revenue", 0, 1_000_000_000)]
AddedCost = Annotated[float, Quantity("C_more", "dollar", "added cost", 0, 1_000_000_000)]
SavedCost = Annotated[float, Quantity("C_less", "dollar", "saved cost", 0, 1_000_000_000)]
Better = Annotated[float, Quantity("B_plus", "dollar", "what the change brings", 0, 2_000_000_000)]
Worse = Annotated[float, Quantity("B_minus", "dollar", "what the change costs", 0, 2_000_000_000)]
NetChange = Annotated[float, Quantity("B", "dollar", "net change", -2_000_000_000, 2_000_000_000)]


@relation(cite("pattillo2023", "price times heads a square metre"))
def revenue_per_area(*, price: HeadPrice, density: Density) -> AreaRevenue:
    """Revenue that one crop brings a square metre.

    Parameters
    ----------
    price : price of a head [dollar/head]
    density : heads sold a square metre [plant/m^2]

    Returns
    -------
    Revenue of one crop [dollar/m^2].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Count heads sold, not heads planted.

    Examples
    --------
    >>> revenue_per_area(price=0.87, density=16.0)  # romaine, after Bailey and Ferrarezi 2017
    13.92
    """
    return price * density


@relation(
    cite("pattillo2023", "price, density and weeks of romaine and bibb lettuce"),
    cite("uvi_home", "value by density, growth period, yield and price"),
)
def revenue_rate(*, price: HeadPrice, density: Density, weeks_in_bed: WeeksInBed) -> RevenueRate:
    """Revenue a square metre and week, so that crops of different length can be compared.

    Parameters
    ----------
    price : price of a head [dollar/head]
    density : heads sold a square metre [plant/m^2]
    weeks_in_bed : weeks from transplanting to harvest [week]

    Returns
    -------
    Revenue a week [dollar/m^2/week].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The crop dearer a head need not be the one dearer a square metre and week: romaine and bibb change places.

    Examples
    --------
    >>> revenue_rate(price=0.75, density=30.0, weeks_in_bed=3.0)  # bibb, after Bailey and Ferrarezi 2017
    7.5
    """
    revenue: AreaRevenue = revenue_per_area(price=price, density=density)
    return revenue / weeks_in_bed


@relation(cite("uvi_home", "value by density, growth period, yield and price"))
def revenue_rate_by_weight(*, price: KilogramPrice, crop_yield: CropYield, weeks_in_bed: WeeksInBed) -> RevenueRate:
    """Revenue a square metre and week of a crop sold by weight.

    Parameters
    ----------
    price : price of a kilogram [dollar/kg]
    crop_yield : yield sold of the whole stand [kg/m^2]
    weeks_in_bed : weeks the bed was taken [week]

    Returns
    -------
    Revenue a week [dollar/m^2/week].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> revenue_rate_by_weight(price=4.0, crop_yield=6.0, weeks_in_bed=8.0)
    3.0
    """
    return price * crop_yield / weeks_in_bed


@relation(cite("arithmetic", "rate times area times time", "definition"))
def season_revenue(*, revenue_rate: RevenueRate, bed_area: HarvestArea, weeks_sold: WeeksSold) -> Revenue:
    """Revenue of an area over a season.

    Parameters
    ----------
    revenue_rate : revenue a square metre and week [dollar/m^2/week]
    bed_area : area of the crop [m^2]
    weeks_sold : weeks with sales [week]

    Returns
    -------
    Revenue [dollar].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    An upper bound: it supposes that every week sells out at the same price.

    Examples
    --------
    >>> season_revenue(revenue_rate=7.5, bed_area=20.0, weeks_sold=30.0)
    4500.0
    """
    return revenue_rate * bed_area * weeks_sold


@relation(cite("missouri_pumpkin", "30,000 lb at 0.20 dollars"), cite("loss_rate", "5 % taken off all yields"))
def sales_revenue(*, harvest: Harvest, price: KilogramPrice, loss: LossShare = 0.0) -> Revenue:
    """Revenue of a harvest sold by weight.

    Parameters
    ----------
    harvest : weight harvested [kg]
    price : price of a kilogram [dollar/kg]
    loss : share lost or not sold [percent]

    Returns
    -------
    Revenue [dollar].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> sales_revenue(harvest=200.0, price=5.0, loss=5.0)
    950.0
    """
    sold: Sold = harvest * (HUNDRED_PERCENT - loss) / HUNDRED_PERCENT
    return sold * price


@relation(cite("smith_budget", "gross margin is revenue less variable cost"))
def gross_margin(*, revenue: Revenue, variable_cost: VariableCost) -> GrossMargin:
    """What a crop leaves after the costs that it caused.

    Parameters
    ----------
    revenue : revenue of the crop [dollar]
    variable_cost : seed, feed, fertiliser, packing, hired labour and the like [dollar]

    Returns
    -------
    Gross margin [dollar].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Fixed costs stay out: they are there with or without this crop. Price the grower's own labour, or say that it
    was left at zero.

    Examples
    --------
    >>> gross_margin(revenue=950.0, variable_cost=400.0)
    550.0
    """
    return revenue - variable_cost


@relation(cite("arithmetic", "margin over area and time", "definition"))
def margin_rate(*, gross_margin: GrossMargin, bed_area: HarvestArea, weeks_in_bed: WeeksInBed) -> MarginRate:
    """Gross margin a square metre and week.

    Parameters
    ----------
    gross_margin : gross margin of one crop [dollar]
    bed_area : area it took [m^2]
    weeks_in_bed : weeks it took [week]

    Returns
    -------
    Gross margin a week [dollar/m^2/week].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> margin_rate(gross_margin=550.0, bed_area=20.0, weeks_in_bed=5.0)
    5.5
    """
    return gross_margin / (bed_area * weeks_in_bed)


@relation(cite("smith_budget", "net return is revenue less all cost"))
def net_return(*, gross_margin: GrossMargin, fixed_cost: FixedCost) -> NetReturn:
    """What is left when the fixed costs are paid too.

    Parameters
    ----------
    gross_margin : gross margin [dollar]
    fixed_cost : depreciation, interest, rent, insurance and the like, this crop's fair part of them [dollar]

    Returns
    -------
    Net return [dollar].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> net_return(gross_margin=550.0, fixed_cost=700.0)
    -150.0
    """
    return gross_margin - fixed_cost


@relation(cite("mcelroy1978", "annual cost of a tomato house over its floor"))
def cost_per_area(*, year_cost: YearCost, bed_area: HarvestArea) -> AreaYearCost:
    """Cost of a house a square metre and year.

    Parameters
    ----------
    year_cost : cost a year [dollar/year]
    bed_area : area it is spread over [m^2]

    Returns
    -------
    Cost [dollar/m^2/year].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> cost_per_area(year_cost=1200.0, bed_area=48.0)
    25.0
    """
    return year_cost / bed_area


@relation(cite("ohio_tea", "shares of start-up and yearly cost"))
def cost_part(*, total_cost: TotalCost, share: CostShare) -> CostPart:
    """Part of a cost that has a given share.

    Parameters
    ----------
    total_cost : whole cost [dollar]
    share : share of the part [percent]

    Returns
    -------
    Part of the cost [dollar].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> cost_part(total_cost=5000.0, share=42.0)
    2100.0
    """
    return total_cost * share / HUNDRED_PERCENT


@relation(cite("partial_budget", "positive effects less negative effects"))
def partial_budget(
    *, added_revenue: AddedRevenue, saved_cost: SavedCost, lost_revenue: LostRevenue, added_cost: AddedCost,
) -> NetChange:
    """What a change is worth, counting only what changes.

    Parameters
    ----------
    added_revenue : revenue that the change adds [dollar]
    saved_cost : cost that the change saves [dollar]
    lost_revenue : revenue that the change takes away [dollar]
    added_cost : cost that the change adds [dollar]

    Returns
    -------
    Net change of income [dollar].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> partial_budget(added_revenue=300.0, saved_cost=50.0, lost_revenue=120.0, added_cost=90.0)
    140.0
    """
    better: Better = added_revenue + saved_cost
    worse: Worse = lost_revenue + added_cost
    return better - worse
