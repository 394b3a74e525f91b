"""Returns: what a kilogram of feed yields, what water a closed loop takes, and where a solute settles."""

import math
from dataclasses import dataclass
from typing import Annotated

from waterleaf.calc.common import GRAMS_PER_KILOGRAM, HUNDRED_PERCENT
from waterleaf.calc.feed.ration import FeedFed
from waterleaf.calc.quantity import Quantity, cite, relation
from waterleaf.calc.solids.sludge import MILLIGRAMS_PER_GRAM

FishYield = Annotated[float, Quantity("Y_fish", "kg", "fish harvested, live weight", 0, 100_000_000)]
FishSold = Annotated[float, Quantity("Y_fish", "kg", "fish harvested, live weight", 0.001, 100_000_000)]
CropYield = Annotated[float, Quantity("Y_crop", "kg", "crops harvested", 0, 100_000_000)]
OtherYield = Annotated[float, Quantity("Y_more", "kg", "product grown on returned nutrients", 0, 100_000_000)]
ProductPerFeed = Annotated[float, Quantity("y", "", "product for a kilogram of feed", 0, 1000)]
CropsPerFish = Annotated[float, Quantity("k", "", "crops for a kilogram of fish", 0, 1000)]
FishPrice = Annotated[float, Quantity("c_fish", "dollar/kg", "price of the fish", 0, 1000)]
CropPrice = Annotated[float, Quantity("c_crop", "dollar/kg", "price of the crops", 0, 1000)]
FishRevenue = Annotated[float, Quantity("M_fish", "dollar", "revenue from fish", 0, 1e10)]
CropRevenue = Annotated[float, Quantity("M_crop", "dollar", "revenue from crops", 0, 1e10)]
ReturnedValue = Annotated[float, Quantity("M_more", "dollar", "value of the returned nutrients", 0, 1e9)]
RevenuePerFeed = Annotated[float, Quantity("m", "dollar/kg", "revenue for a kilogram of feed", 0, 10_000)]
ReturnedNutrient = Annotated[float, Quantity("N_ret", "g", "nutrient returned to crops", 0, 1e9)]
NutrientPrice = Annotated[float, Quantity("c_N", "dollar/kg", "price of the nutrient in bought fertiliser", 0.01, 1000)]
WaterArea = Annotated[float, Quantity("A_w", "m^2", "open water surface", 0.01, 1_000_000)]
EvaporationDepth = Annotated[float, Quantity("e", "mm/day", "evaporation", 0, 30)]
Evaporation = Annotated[float, Quantity("V_evap", "L/day", "water evaporated", 0, 10_000_000)]
Transpiration = Annotated[float, Quantity("V_trans", "L/day", "water transpired by the crop", 0, 10_000_000)]
SludgeWater = Annotated[float, Quantity("V_sludge", "L/day", "water that leaves with sludge", 0, 10_000_000)]
OtherLoss = Annotated[float, Quantity("V_other", "L/day", "splash, leaks and water in the harvest", 0, 10_000_000)]
RainWater = Annotated[float, Quantity("V_rain", "L/day", "rain that falls in or is led in", 0, 10_000_000)]
MakeUp = Annotated[float, Quantity("V_make", "L/day", "new water")]
CatchArea = Annotated[float, Quantity("A_c", "m^2", "catching area, seen from above", 0.1, 1_000_000)]
RainDepth = Annotated[float, Quantity("h", "mm/day", "rain", 0, 500)]
CatchShare = Annotated[float, Quantity("k", "percent", "share of the rain that is caught", 1, 100)]
Release = Annotated[float, Quantity("P", "g/day", "solute released a day", 0.001, 1_000_000)]
ExchangedWater = Annotated[float, Quantity("Q", "L/day", "water exchanged a day", 0.01, 100_000_000)]
SourceLevel = Annotated[float, Quantity("C_in", "mg/L", "solute in the new water", 0, 50)]
SteadyLevel = Annotated[float, Quantity("C", "mg/L", "solute in the system at rest", 0, 100_000)]
LevelLimit = Annotated[float, Quantity("C_max", "mg/L", "highest solute allowed", 20, 10_000)]


@relation(cite("arithmetic", "products over feed", "definition"), cite("rakocy2006", "fish and crops of one year"))
def product_per_feed(
    *, feed_fed: FeedFed, fish: FishYield, crops: CropYield, other: OtherYield = 0.0
) -> ProductPerFeed:
    """Food grown for each kilogram of feed when fish, crops and what grows on returned nutrients are counted.

    Parameters
    ----------
    feed_fed : feed fed over the period [kg]
    fish : fish harvested in the period, live weight [kg]
    crops : crops harvested in the period [kg]
    other : product of soil beds or trees that live on the sludge [kg]

    Returns
    -------
    Product for a kilogram of feed, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Fresh weights of unlike foods are added: lettuce is mostly water. Say so beside the number, and count a
    product only if the feed, and not bought fertiliser, grew it.

    Examples
    --------
    >>> product_per_feed(feed_fed=1700.0, fish=1000.0, crops=2400.0)
    2.0
    """
    return (fish + crops + other) / feed_fed


@relation(cite("lobillo2020", "62 kg of fish and 352 kg of crops in one year"))
def crops_per_fish(*, fish: FishSold, crops: CropYield) -> CropsPerFish:
    """Crops grown for each kilogram of fish.

    Parameters
    ----------
    fish : fish harvested, live weight [kg]
    crops : crops harvested in the same time [kg]

    Returns
    -------
    Crops for a kilogram of fish, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(crops_per_fish(fish=62.0, crops=352.0), 2)
    5.68
    """
    return crops / fish


@relation(cite("arithmetic", "nutrient times its price", "definition"))
def fertiliser_value(*, returned_nutrient: ReturnedNutrient, nutrient_price: NutrientPrice) -> ReturnedValue:
    """What the returned nutrient would cost as bought fertiliser.

    Parameters
    ----------
    returned_nutrient : nutrient that crops got from sludge or its water [g]
    nutrient_price : price of one kilogram of that nutrient in bought fertiliser [dollar/kg]

    Returns
    -------
    Value [dollar].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> fertiliser_value(returned_nutrient=2000.0, nutrient_price=3.0)
    6.0
    """
    return returned_nutrient * nutrient_price / GRAMS_PER_KILOGRAM


@relation(cite("arithmetic", "revenue over feed", "definition"))
def revenue_per_feed(
    *, feed_fed: FeedFed, fish: FishYield, fish_price: FishPrice, crops: CropYield, crop_price: CropPrice,
    returned_value: ReturnedValue = 0.0,
) -> RevenuePerFeed:
    """Revenue for each kilogram of feed from fish, crops and returned nutrients.

    Parameters
    ----------
    feed_fed : feed fed over the period [kg]
    fish : fish sold, live weight [kg]
    fish_price : price of the fish [dollar/kg]
    crops : crops sold [kg]
    crop_price : price of the crops [dollar/kg]
    returned_value : bought fertiliser that sludge replaced [dollar]

    Returns
    -------
    Revenue for a kilogram of feed [dollar/kg].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Revenue, not profit: seed, labour, power and water are not in it. Sold weight, not grown weight.

    Examples
    --------
    >>> revenue_per_feed(feed_fed=100.0, fish=60.0, fish_price=5.0, crops=200.0, crop_price=4.0)
    11.0
    """
    fish_revenue: FishRevenue = fish * fish_price
    crop_revenue: CropRevenue = crops * crop_price
    return (fish_revenue + crop_revenue + returned_value) / feed_fed


@relation(cite("arithmetic", "a millimetre on a square metre is a litre", "definition"))
def evaporation_loss(*, water_area: WaterArea, evaporation: EvaporationDepth) -> Evaporation:
    """Water that an open surface loses to the air.

    Parameters
    ----------
    water_area : water surface open to the air; a raft covers what lies under it [m^2]
    evaporation : evaporation from open water [mm/day]

    Returns
    -------
    Water evaporated [L/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    A millimetre of water on a square metre is one litre.

    Examples
    --------
    >>> evaporation_loss(water_area=12.0, evaporation=4.0)
    48.0
    """
    return water_area * evaporation


@relation(cite("arithmetic", "a millimetre on a square metre is a litre", "definition"))
def rain_catch(*, catch_area: CatchArea, rain: RainDepth, caught: CatchShare) -> RainWater:
    """Rain water that a roof or an open tank catches.

    Parameters
    ----------
    catch_area : area of roof or tank seen from above, not along the slope [m^2]
    rain : rain, on the mean of the period [mm/day]
    caught : share that reaches the tank, after splash and first flush [percent]

    Returns
    -------
    Water caught [L/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Roof water brings bird droppings and metal. Treat it before it meets edible leaves, and ask the local code whether
    roof water may be used.

    Examples
    --------
    >>> rain_catch(catch_area=100.0, rain=3.0, caught=80.0)
    240.0
    """
    return catch_area * rain * caught / HUNDRED_PERCENT


@relation(cite("arithmetic", "water balance of a tank whose level stays the same", "definition"))
def make_up_water(
    *, evaporation: Evaporation, transpiration: Transpiration, sludge_water: SludgeWater, other_loss: OtherLoss = 0.0,
    rain: RainWater = 0.0,
) -> MakeUp:
    """New water of a system without discharge: what leaves as vapour and sludge, less the rain.

    Parameters
    ----------
    evaporation : water evaporated [L/day]
    transpiration : water transpired by the crop [L/day]
    sludge_water : water that leaves with sludge and is not brought back [L/day]
    other_loss : splash, leaks and water in the harvest [L/day]
    rain : rain that falls in or is led in [L/day]

    Returns
    -------
    New water; below zero it is surplus that must be stored [L/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    A system that never discharges keeps every salt that crops, fish and sludge do not take: sodium, for one.
    Whether water that is let out counts as a discharge is for the state to say.

    Examples
    --------
    >>> make_up_water(evaporation=48.0, transpiration=90.0, sludge_water=25.0, other_loss=7.0, rain=20.0)
    150.0
    """
    return evaporation + transpiration + sludge_water + other_loss - rain


@dataclass(frozen=True, slots=True)
class WaterRow:
    """One way in or out for the water, in litres a day."""

    part: str
    litres_in: float
    litres_out: float


WaterTable = Annotated[tuple[WaterRow, ...], Quantity("", "", "water balance")]


@relation(cite("arithmetic", "water balance of a tank whose level stays the same", "definition"), procedure=True)
def water_balance(
    *, evaporation: Evaporation, transpiration: Transpiration, sludge_water: SludgeWater, other_loss: OtherLoss = 0.0,
    rain: RainWater = 0.0,
) -> WaterTable:
    """Water balance of a system without discharge, line by line, closed by new water or by surplus to store.

    Parameters
    ----------
    evaporation : water evaporated [L/day]
    transpiration : water transpired by the crop [L/day]
    sludge_water : water that leaves with sludge and is not brought back [L/day]
    other_loss : splash, leaks and water in the harvest [L/day]
    rain : rain that falls in or is led in [L/day]

    Returns
    -------
    Rows: part, litres in, litres out; the last row holds the totals, which are equal.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> water_balance(evaporation=48.0, transpiration=90.0, sludge_water=25.0, other_loss=7.0, rain=20.0)[-1]
    WaterRow(part='total', litres_in=170.0, litres_out=170.0)
    """
    make_up = math.fsum((evaporation, transpiration, sludge_water, other_loss, -rain))
    rows = (
        WaterRow("new water", max(make_up, 0.0), 0.0),
        WaterRow("rain", rain, 0.0),
        WaterRow("evaporation", 0.0, evaporation),
        WaterRow("transpiration", 0.0, transpiration),
        WaterRow("water in sludge", 0.0, sludge_water),
        WaterRow("other losses", 0.0, other_loss),
        WaterRow("surplus to store", 0.0, max(-make_up, 0.0)),
    )
    total_in = math.fsum(row.litres_in for row in rows)
    return (*rows, WaterRow("total", total_in, math.fsum(row.litres_out for row in rows)))


@relation(cite("arithmetic", "mass balance at rest: what is released leaves with the water", "definition"))
def steady_concentration(
    *, release: Release, exchange: ExchangedWater, source_level: SourceLevel = 0.0
) -> SteadyLevel:
    """Concentration at which a solute settles when it leaves only with the water exchanged, such as nitrate or salt.

    Parameters
    ----------
    release : solute that comes into the water and is taken up by nothing [g/day]
    exchange : water exchanged [L/day]
    source_level : solute in the new water [mg/L]

    Returns
    -------
    Concentration at rest [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Reached only after several times the time in which the whole volume is exchanged, and an upper bound for nitrate,
    since mud and roots turn some of it into nitrogen gas. Water lost as vapour takes no solute along: count only
    water that leaves as water.

    Examples
    --------
    >>> round(steady_concentration(release=29.4, exchange=150.0))
    196
    """
    return source_level + release * MILLIGRAMS_PER_GRAM / exchange


@relation(cite("arithmetic", "mass balance at rest, turned round", "definition"))
def exchange_for_concentration(
    *, release: Release, source_level: SourceLevel = 0.0, highest_level: LevelLimit
) -> ExchangedWater:
    """Water to exchange in a day so that a solute stays at a limit.

    Parameters
    ----------
    release : solute that comes into the water and is taken up by nothing [g/day]
    source_level : solute in the new water, below the limit [mg/L]
    highest_level : highest concentration allowed [mg/L]

    Returns
    -------
    Water to exchange [L/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Where the new water itself is at the limit, no exchange helps. Letting water out may need a permit.

    Examples
    --------
    >>> exchange_for_concentration(release=30.0, highest_level=150.0)
    200.0
    """
    return release * MILLIGRAMS_PER_GRAM / (highest_level - source_level)
