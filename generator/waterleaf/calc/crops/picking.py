"""Crops, picking: yields, and what repeated cuts add up to."""

import math
from collections.abc import Sequence
from typing import Annotated, Final

from waterleaf.calc.common import GRAMS_PER_KILOGRAM, HUNDRED_PERCENT
from waterleaf.calc.crops.planting import DAYS_PER_WEEK, Density, HarvestArea
from waterleaf.calc.crops.timing import CropsPerYear
from waterleaf.calc.quantity import Quantity, cite, relation

_YIELD_BASIS: Final = "published yields of one crop run from 1 to about 75 kg a square metre"
Harvest = Annotated[float, Quantity("M", "kg", "harvest", 0.001, 100_000_000)]
CropYield = Annotated[float, Quantity("Y", "kg/m^2", "yield a square metre and crop", 0.01, 200, basis=_YIELD_BASIS)]
YearYield = Annotated[float, Quantity("Y_year", "kg/m^2/year", "yield a square metre and year", 0.01, 1000)]
HeadWeight = Annotated[float, Quantity("m", "g/plant", "weight of a head", 1, 10_000)]
PlantYield = Annotated[float, Quantity("y", "kg/plant", "yield a plant", 0.001, 200)]
FruitCount = Annotated[float, Quantity("f", "fruit/m^2", "fruits a square metre", 0.1, 10_000)]
FruitsPerPlant = Annotated[float, Quantity("f_p", "fruit/plant", "fruits a plant", 0.01, 5000)]
FruitWeight = Annotated[float, Quantity("m_f", "g/fruit", "mean weight of a fruit", 0.1, 20_000)]
LossShare = Annotated[float, Quantity("z", "percent", "share of the harvest lost or not sold", 0, 95)]
Sold = Annotated[float, Quantity("M_s", "kg", "harvest that is sold", 0.00005, 100_000_000)]
PicksPerWeek = Annotated[float, Quantity("c", "1/week", "pickings a week", 0.1, 14)]
PickingDays = Annotated[float, Quantity("t_p", "day", "days of picking", 1, 400)]
Picks = Annotated[float, Quantity("n_p", "", "number of pickings", 0.01, 1000)]
StandWeeks = Annotated[float, Quantity("t", "week", "weeks in the bed", 2, 60)]
FirstCutWeek = Annotated[float, Quantity("t_1", "week", "week of the first cut", 1, 40)]
CutInterval = Annotated[float, Quantity("i_c", "week", "weeks between cuts", 0.2, 20)]
CutCount = Annotated[float, Quantity("n_c", "", "number of cuts", 1, 200)]
WholeCuts = Annotated[float, Quantity("n_c", "", "number of cuts", 1, 200, whole=True)]
Cuts = Annotated[Sequence[float], Quantity("y", "kg/m^2", "yields of the cuts", 0.001, 50, many=1, fewest=1)]
FirstCut = Annotated[float, Quantity("y_1", "kg/m^2", "yield of the first cut", 0.001, 50)]
LaterCut = Annotated[float, Quantity("y_2", "kg/m^2", "mean yield of a later cut", 0.001, 50)]
Regrowth = Annotated[float, Quantity("k", "percent", "each cut as a share of the one before", 5, 99)]
RegrowthShare = Annotated[float, Quantity("k_1", "", "each cut as a fraction of the one before", 0.05, 0.99)]


@relation(cite("rakocy2004", "basil: 5.01 t on 214 m2 is 23.4 kg/m2"))
def yield_per_area(*, harvest: Harvest, bed_area: HarvestArea) -> CropYield:
    """Yield a square metre from the whole harvest.

    Parameters
    ----------
    harvest : weight harvested [kg]
    bed_area : planted area [m^2]

    Returns
    -------
    Yield [kg/m^2], a crop or a year as the harvest was.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(yield_per_area(harvest=5010.0, bed_area=214.0), 1)
    23.4
    """
    return harvest / bed_area


@relation(cite("rakocy2004", "basil: 23.4 and 25.0 kg/m2 on 214 m2"))
def harvest_from_area(*, crop_yield: CropYield, bed_area: HarvestArea) -> Harvest:
    """Harvest from a yield and an area.

    Parameters
    ----------
    crop_yield : yield a square metre [kg/m^2]
    bed_area : planted area [m^2]

    Returns
    -------
    Harvest [kg], a crop or a year as the yield was.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> harvest_from_area(crop_yield=2.5, bed_area=12.0)
    30.0
    """
    return crop_yield * bed_area


@relation(cite("gobilik_columns", "63 plants/m2 of 82.1 g in the raft"))
def yield_from_heads(*, density: Density, head_weight: HeadWeight) -> CropYield:
    """Yield a square metre of a crop that is cut once.

    Parameters
    ----------
    density : plants a square metre [plant/m^2]
    head_weight : mean weight of a head [g/plant]

    Returns
    -------
    Yield of one crop [kg/m^2].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> yield_from_heads(density=25.0, head_weight=160.0)
    4.0
    """
    return density * head_weight / GRAMS_PER_KILOGRAM


@relation(cite("uvi_cucumber", "8 plants and up to 6.2 kg a square metre"))
def yield_per_plant(*, crop_yield: CropYield, density: Density) -> PlantYield:
    """Yield of one plant.

    Parameters
    ----------
    crop_yield : yield of one crop [kg/m^2]
    density : plants a square metre [plant/m^2]

    Returns
    -------
    Yield a plant [kg/plant].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> yield_per_plant(crop_yield=6.2, density=8.0)
    0.775
    """
    return crop_yield / density


@relation(cite("uvi_cucumber", "24 fruits and 8 plants a square metre"))
def fruits_per_plant(*, fruit_count: FruitCount, density: Density) -> FruitsPerPlant:
    """Fruits that one plant bears.

    Parameters
    ----------
    fruit_count : fruits a square metre [fruit/m^2]
    density : plants a square metre [plant/m^2]

    Returns
    -------
    Fruits a plant [fruit/plant].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> fruits_per_plant(fruit_count=24.0, density=8.0)
    3.0
    """
    return fruit_count / density


@relation(cite("uvi_cucumber", "24 fruits and up to 6.2 kg a square metre"))
def fruit_weight(*, crop_yield: CropYield, fruit_count: FruitCount) -> FruitWeight:
    """Mean weight of a fruit.

    Parameters
    ----------
    crop_yield : yield of one crop [kg/m^2]
    fruit_count : fruits of the same crop a square metre [fruit/m^2]

    Returns
    -------
    Weight [g/fruit].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> fruit_weight(crop_yield=6.0, fruit_count=24.0)
    250.0
    """
    return GRAMS_PER_KILOGRAM * crop_yield / fruit_count


@relation(cite("rakocy2004", "basil: 23.4 kg/m2 a year, 1.8 kg/m2 a crop"))
def yield_per_year(*, crop_yield: CropYield, crops_per_year: CropsPerYear) -> YearYield:
    """Yield a square metre and year of a crop that is grown again and again.

    Parameters
    ----------
    crop_yield : yield of one crop [kg/m^2]
    crops_per_year : crops that follow each other in a year [crop/year]

    Returns
    -------
    Yield of a year [kg/m^2/year].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> yield_per_year(crop_yield=2.0, crops_per_year=12.5)
    25.0
    """
    return crop_yield * crops_per_year


@relation(cite("loss_rate", "5 % taken off all yields"))
def sold_harvest(*, harvest: Harvest, loss: LossShare) -> Sold:
    """Harvest that is sold, after spoilage, damage and what nobody bought.

    Parameters
    ----------
    harvest : weight harvested [kg]
    loss : share lost or not sold [percent]

    Returns
    -------
    Harvest sold [kg].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> sold_harvest(harvest=200.0, loss=5.0)
    190.0
    """
    return harvest * (HUNDRED_PERCENT - loss) / HUNDRED_PERCENT


@relation(cite("uvi_cucumber", "three pickings a week for 21 days"))
def pickings(*, picks_per_week: PicksPerWeek, picking_days: PickingDays) -> Picks:
    """Number of pickings over a harvest period.

    Parameters
    ----------
    picks_per_week : pickings a week [1/week]
    picking_days : days from the first picking to the end [day]

    Returns
    -------
    Number of pickings.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> pickings(picks_per_week=3.0, picking_days=21.0)
    9.0
    """
    return picks_per_week * picking_days / DAYS_PER_WEEK


@relation(
    cite("heyduck2020", "schedule A: cuts 16, 20 and 24 weeks after sowing"),
    cite("arithmetic", "first cut and equal steps", "definition"),
)
def cuts_in_stand(*, stand_weeks: StandWeeks, first_cut: FirstCutWeek, cut_interval: CutInterval) -> CutCount:
    """Cuts that a stand of cut-and-come-again greens gives.

    Parameters
    ----------
    stand_weeks : weeks the stand stays [week]
    first_cut : week of the first cut [week]
    cut_interval : weeks between cuts [week]

    Returns
    -------
    Number of cuts, the first one counted; round down.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> cuts_in_stand(stand_weeks=24.0, first_cut=16.0, cut_interval=4.0)
    3.0
    """
    return (stand_weeks - first_cut) / cut_interval + 1


@relation(cite("heyduck2020", "mean yields of four cuts of kale"))
def total_of_cuts(*, cuts: Cuts) -> CropYield:
    """Yield of a stand as the sum of its cuts.

    Parameters
    ----------
    cuts : yields of the cuts, shape (n,) [kg/m^2]

    Returns
    -------
    Yield of the stand [kg/m^2].

    Raises
    ------
    OutOfRange : no cut given, or one outside its range.

    Examples
    --------
    >>> total_of_cuts(cuts=[2.5, 1.0, 1.25])
    4.75
    """
    return math.fsum(cuts)


@relation(cite("heyduck2020", "first cut 216 g/ft2, later cuts 88, 109 and 104"))
def stand_yield(*, first_yield: FirstCut, later_yield: LaterCut, cuts: WholeCuts) -> CropYield:
    """Yield of a stand whose later cuts are all alike.

    Parameters
    ----------
    first_yield : yield of the first cut [kg/m^2]
    later_yield : mean yield of a later cut [kg/m^2]
    cuts : number of cuts, the first one counted, a whole number

    Returns
    -------
    Yield of the stand [kg/m^2].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Set against a crop cut once, compare yields a week: see `yield_per_week`.

    Examples
    --------
    >>> stand_yield(first_yield=2.0, later_yield=1.0, cuts=4.0)
    5.0
    """
    return first_yield + later_yield * (cuts - 1)


@relation(cite("arithmetic", "sum of a geometric series", "definition"))
def fading_stand_yield(*, first_yield: FirstCut, regrowth: Regrowth, cuts: WholeCuts) -> CropYield:
    """Yield of a stand whose cuts shrink by the same share each time.

    Parameters
    ----------
    first_yield : yield of the first cut [kg/m^2]
    regrowth : each cut as a share of the one before [percent]
    cuts : number of cuts, the first one counted, a whole number

    Returns
    -------
    Yield of the stand [kg/m^2].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> fading_stand_yield(first_yield=2.0, regrowth=50.0, cuts=3.0)
    3.5
    """
    fraction: RegrowthShare = regrowth / HUNDRED_PERCENT
    return first_yield * (1 - fraction**cuts) / (1 - fraction)
