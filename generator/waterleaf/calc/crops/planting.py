"""Crops: how many plants, when to sow, how much is picked."""

import math
from typing import Annotated, Final

from waterleaf.calc.quantity import Constant, Quantity, cite, relation

_UNIT_SOURCE: Final = cite("arithmetic", "definition of the unit", "definition")
SQUARE_CENTIMETRES_PER_SQUARE_METRE: Final = Constant(
    10_000, symbol="10000", unit="cm^2/m^2", name="square centimetres in a square metre", source=_UNIT_SOURCE
)
DAYS_PER_WEEK: Final = Constant(7, symbol="7", unit="day/week", name="days in a week", source=_UNIT_SOURCE)
WEEKS_PER_YEAR: Final = Constant(
    52, symbol="52", unit="week/year", name="whole weeks in a year", source=_UNIT_SOURCE
)

_DENSITY_BASIS: Final = "tables run from 0.03 for orchard trees to 1550 at an inch each way"
RowSpacing = Annotated[float, Quantity("r", "cm", "distance between rows", 1, 1000)]
PlantSpacing = Annotated[float, Quantity("s", "cm", "distance between plants in the row", 1, 1000)]
EvenSpacing = Annotated[float, Quantity("s", "cm", "distance between neighbouring plants", 1, 1000)]
Density = Annotated[float, Quantity("d", "plant/m^2", "plant density", 0.01, 2000, basis=_DENSITY_BASIS)]
FirstDensity = Annotated[float, Quantity("d_1", "plant/m^2", "density of the first stage", 1, 5000)]
LastDensity = Annotated[float, Quantity("d_2", "plant/m^2", "density of the last stage", 0.05, 2000)]
Plants = Annotated[float, Quantity("N", "plant", "number of plants", 0.01, 100_000_000)]
HeadsPerWeek = Annotated[float, Quantity("h", "head/week", "heads harvested a week", 0.1, 10_000_000)]
HeadsPerYear = Annotated[float, Quantity("H", "head/year", "heads harvested a year", 1, 1_000_000_000)]
WeeksInBed = Annotated[
    float, Quantity("t", "week", "weeks in the bed", 0.5, 60, basis="from baby leaf to a ten-month vine")
]
HarvestArea = Annotated[float, Quantity("A", "m^2", "bed area", 0.001, 10_000_000)]
OneBed = Annotated[float, Quantity("A_1", "m^2", "area of one bed", 0.1, 10_000)]
Beds = Annotated[float, Quantity("n_b", "", "number of beds, before rounding up", 0, 1_000_000)]
PlantsPerDay = Annotated[float, Quantity("q", "plant/day", "plants moved into the stage a day", 0.01, 2_000_000)]
StageDays = Annotated[float, Quantity("t", "day", "days in the stage", 1, 400)]
FirstDays = Annotated[float, Quantity("t_1", "day", "days in the first stage", 1, 400)]
LastDays = Annotated[float, Quantity("t_2", "day", "days in the last stage", 1, 400)]
StageArea = Annotated[float, Quantity("A", "m^2", "area of the stage", 0.0001, 10_000_000)]
FirstArea = Annotated[float, Quantity("A_1", "m^2", "area of the first stage", 0.0001, 10_000_000)]
LastArea = Annotated[float, Quantity("A_2", "m^2", "area of the last stage", 0.0001, 10_000_000)]
StagedArea = Annotated[float, Quantity("A", "m^2", "area of both stages", 0.0002, 20_000_000)]


@relation(cite("bailey1911", "number of plants to set an acre: area over the product of the two distances"))
def density_from_spacing(*, row_spacing: RowSpacing, plant_spacing: PlantSpacing) -> Density:
    """Plants a square metre when rows and plants stand at given distances.

    Parameters
    ----------
    row_spacing : distance between rows [cm]
    plant_spacing : distance between plants in the row [cm]

    Returns
    -------
    Density of the planted area [plant/m^2].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Counts the planted bed only, full to its edge; paths and aisles come on top.

    Examples
    --------
    >>> density_from_spacing(row_spacing=20.0, plant_spacing=20.0)
    25.0
    """
    return SQUARE_CENTIMETRES_PER_SQUARE_METRE / (row_spacing * plant_spacing)


@relation(cite("bailey1911", "same rule, solved for the distance"))
def square_spacing(*, density: Density) -> EvenSpacing:
    """Distance between plants on a square grid for a wished density.

    Parameters
    ----------
    density : plants a square metre [plant/m^2]

    Returns
    -------
    Distance between neighbours [cm].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> square_spacing(density=25.0)
    20.0
    """
    return math.sqrt(SQUARE_CENTIMETRES_PER_SQUARE_METRE / density)


@relation(
    cite("greentree", "triangle planting: add 15 % to the square count"),
    cite("arithmetic", "area of an equilateral triangle", "definition"),
)
def staggered_density(*, spacing: EvenSpacing) -> Density:
    """Plants a square metre in staggered rows, where each plant is equally far from six neighbours.

    Parameters
    ----------
    spacing : distance between neighbouring plants [cm]

    Returns
    -------
    Density of the planted area [plant/m^2].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    2 over the square root of 3 is 1.155: about 15 % more plants than on a square grid at the same distance.

    Examples
    --------
    >>> round(staggered_density(spacing=20.0), 2)
    28.87
    """
    return 2 * SQUARE_CENTIMETRES_PER_SQUARE_METRE / (math.sqrt(3) * spacing**2)


@relation(cite("rutgers_lettuce", "21 or 60 holes in a board of 2 by 4 feet"))
def plant_density(*, plants: Plants, bed_area: HarvestArea) -> Density:
    """Plants a square metre from a count of plants or holes.

    Parameters
    ----------
    plants : plants or holes counted [plant]
    bed_area : area they stand on [m^2]

    Returns
    -------
    Density [plant/m^2].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> plant_density(plants=576.0, bed_area=1.44)  # Gobilik and others: 16 columns of 36 cups on 1.2 m by 1.2 m
    400.0
    """
    return plants / bed_area


@relation(
    cite("somerville2014", "chapter 8 worked example", "memory"),
    cite("arithmetic", "definition of density", "definition"),
)
def plants_per_bed(*, bed_area: HarvestArea, density: Density) -> Plants:
    """Plants that a bed holds.

    Parameters
    ----------
    bed_area : planted area of the bed [m^2]
    density : plants a square metre [plant/m^2]

    Returns
    -------
    Plants in the bed, before rounding down [plant].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> plants_per_bed(bed_area=4.0, density=25.0)
    100.0
    """
    return bed_area * density


@relation(
    cite("somerville2014", "chapter 8 worked example", "memory"),
    cite("arithmetic", "rate times time is the stand", "definition"),
)
def bed_area_for_harvest(*, heads_per_week: HeadsPerWeek, weeks_in_bed: WeeksInBed, density: Density) -> HarvestArea:
    """Bed area that gives a steady weekly harvest.

    Parameters
    ----------
    heads_per_week : heads wanted every week [head/week]
    weeks_in_bed : weeks from transplanting to harvest [week]
    density : plants a square metre [plant/m^2]

    Returns
    -------
    Bed area, all sowings together [m^2].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Weeks in the bed count from transplanting: days from seed would ask for too much bed.

    Examples
    --------
    >>> bed_area_for_harvest(heads_per_week=25.0, weeks_in_bed=4.0, density=25.0)
    4.0
    """
    return heads_per_week * weeks_in_bed / density


@relation(cite("arithmetic", "area wanted over the area of one bed", "definition"))
def beds_needed(*, bed_area: HarvestArea, one_bed: OneBed) -> Beds:
    """Beds of one size that make up a bed area.

    Parameters
    ----------
    bed_area : bed area wanted [m^2]
    one_bed : area of one bed [m^2]

    Returns
    -------
    Number of beds; round up.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> beds_needed(bed_area=104.0, one_bed=8.0)
    13.0
    """
    return bed_area / one_bed


@relation(
    cite("pattillo2023", "comparison of romaine and bibb lettuce"),
    cite("arithmetic", "stand over time", "definition"),
)
def harvest_per_week(*, bed_area: HarvestArea, density: Density, weeks_in_bed: WeeksInBed) -> HeadsPerWeek:
    """Heads that beds in steady rotation give every week.

    Parameters
    ----------
    bed_area : planted area, all sowings together [m^2]
    density : plants a square metre [plant/m^2]
    weeks_in_bed : weeks from transplanting to harvest [week]

    Returns
    -------
    Harvest [head/week].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> harvest_per_week(bed_area=1.0, density=30.0, weeks_in_bed=3.0)
    10.0
    """
    return bed_area * density / weeks_in_bed


@relation(cite("rakocy2006", "cases of lettuce a year", "memory"))
def harvest_per_year(*, heads_per_week: HeadsPerWeek) -> HeadsPerYear:
    """Heads in a year of 52 weekly harvests.

    Parameters
    ----------
    heads_per_week : heads harvested every week [head/week]

    Returns
    -------
    Harvest [head/year].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    An upper bound: weeks without a sale, failed sowings and cleaning days come off.

    Examples
    --------
    >>> harvest_per_year(heads_per_week=648.0)
    33696.0
    """
    return WEEKS_PER_YEAR * heads_per_week


@relation(cite("rutgers_lettuce", "81 plants/m2 for 10 days, 28 plants/m2 for 14 days"))
def stage_area(*, plants_per_day: PlantsPerDay, stage_days: StageDays, density: Density) -> StageArea:
    """Area that one stage of a crop takes up when plants are moved in every day.

    Parameters
    ----------
    plants_per_day : plants moved into the stage a day [plant/day]
    stage_days : days they stay [day]
    density : plants a square metre in this stage [plant/m^2]

    Returns
    -------
    Area in steady use [m^2].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> stage_area(plants_per_day=960.0, stage_days=14.0, density=28.0)  # Rutgers floating rafts
    480.0
    """
    return plants_per_day * stage_days / density


@relation(cite("rutgers_lettuce", "81 plants/m2 for 10 days, 28 plants/m2 for 14 days"))
def staged_area(
    *, plants_per_day: PlantsPerDay, first_days: FirstDays, first_density: FirstDensity, last_days: LastDays,
    last_density: LastDensity,
) -> StagedArea:
    """Area of a crop that is respaced once.

    Parameters
    ----------
    plants_per_day : plants moved in a day [plant/day]
    first_days : days at the close spacing [day]
    first_density : plants a square metre at the close spacing [plant/m^2]
    last_days : days at the final spacing [day]
    last_density : plants a square metre at the final spacing [plant/m^2]

    Returns
    -------
    Area of both stages together [m^2].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(staged_area(
    ...     plants_per_day=20.0, first_days=14.0, first_density=100.0, last_days=21.0, last_density=25.0), 1)
    19.6
    """
    first: FirstArea = stage_area(plants_per_day=plants_per_day, stage_days=first_days, density=first_density)
    last: LastArea = stage_area(plants_per_day=plants_per_day, stage_days=last_days, density=last_density)
    return first + last
