"""Crops, timing: sowings, harvest days, degree days, and the length of vines."""

from typing import Annotated, Final

from waterleaf.calc.crops.nursery import NurseryDays
from waterleaf.calc.crops.planting import _UNIT_SOURCE, HeadsPerWeek
from waterleaf.calc.quantity import Constant, Quantity, cite, relation

DAYS_PER_YEAR: Final = Constant(365, symbol="365", unit="day/year", name="days in a year", source=_UNIT_SOURCE)

_TEMPERATURE_BASIS: Final = "temperatures in which the crops of this course are grown"
_DAY_BASIS: Final = "days counted from the first of January, up to two years on"
WeeksFromSeed = Annotated[float, Quantity("t_s", "week", "weeks from sowing to harvest", 1, 60)]
SowingInterval = Annotated[float, Quantity("s", "week", "time between sowings", 0.1, 30)]
SowingsInHouse = Annotated[float, Quantity("n", "", "sowings in the house at once", 1, 500)]
PlantsPerSowing = Annotated[float, Quantity("N_s", "head", "heads wanted from each sowing", 0.01, 100_000_000)]
FirstDay = Annotated[float, Quantity("D_first", "day", "day of the first sowing", 0, 731, basis=_DAY_BASIS)]
SowingStep = Annotated[float, Quantity("s", "day", "days between sowings", 0.5, 200)]
SowingCount = Annotated[float, Quantity("n", "", "number of sowings", 1, 60, whole=True)]
SowingDays = Annotated[tuple[float, ...], Quantity("D", "day", "sowing days", 0, 20_000, many=1)]
SowingDay = Annotated[float, Quantity("D_sow", "day", "day of sowing", 0, 731, basis=_DAY_BASIS)]
HarvestDay = Annotated[float, Quantity("D_cut", "day", "day of harvest", 0, 1300, basis=_DAY_BASIS)]
WishedDay = Annotated[float, Quantity("D_cut", "day", "wished day of harvest", 0, 1300, basis=_DAY_BASIS)]
BedDays = Annotated[float, Quantity("t_b", "day", "days in the bed", 5, 400)]
DaysFromSeed = Annotated[float, Quantity("t_s", "day", "days from seed to harvest", 6, 520)]
EmptyDays = Annotated[float, Quantity("t_e", "day", "days a bed lies empty between crops", 0, 120)]
CycleDays = Annotated[float, Quantity("t_c", "day", "days from one crop to the next", 5, 520)]
CropsPerYear = Annotated[float, Quantity("k", "crop/year", "crops a year", 0.5, 75)]
DayHigh = Annotated[
    float, Quantity("T_max", "degC", "highest temperature of the day", -5, 45, basis=_TEMPERATURE_BASIS)
]
DayLow = Annotated[float, Quantity("T_min", "degC", "lowest temperature of the day", -15, 35, basis=_TEMPERATURE_BASIS)]
BaseTemperature = Annotated[
    float,
    Quantity(
        "T_base", "degC", "base temperature", 0, 15,
        basis="published bases run from 0 to 12 degrees Celsius",
    ),
]
TopTemperature = Annotated[
    float,
    Quantity(
        "T_top", "degC", "temperature above which nothing is gained", 20, 40,
        basis="published tops lie near 30",
    ),
]
ClippedHigh = Annotated[float, Quantity("T_h", "degC", "highest temperature that counts", 0, 40)]
ClippedLow = Annotated[float, Quantity("T_l", "degC", "lowest temperature that counts", 0, 40)]
MeanTemperature = Annotated[float, Quantity("T", "degC", "mean of the day", -10, 40, basis=_TEMPERATURE_BASIS)]
DayDegrees = Annotated[float, Quantity("G_d", "degC", "degree days of one day", 0.1, 40)]
NeededDegrees = Annotated[float, Quantity("G", "degC*day", "degree days to maturity", 10, 5000)]
DaysNeeded = Annotated[float, Quantity("t", "day", "days to maturity", 0.25, 50_000)]


@relation(cite("arithmetic", "time in the house over the time between sowings", "definition"))
def sowings_in_house(*, weeks_from_seed: WeeksFromSeed, sowing_interval: SowingInterval) -> SowingsInHouse:
    """Sowings of different age that stand in the house at once.

    Parameters
    ----------
    weeks_from_seed : weeks from sowing to harvest [week]
    sowing_interval : time between sowings [week]

    Returns
    -------
    Number of sowings.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    An interval as long as the crop leaves one sowing, and everything comes at once.

    Examples
    --------
    >>> sowings_in_house(weeks_from_seed=7.0, sowing_interval=1.0)
    7.0
    """
    return weeks_from_seed / sowing_interval


@relation(cite("arithmetic", "time in the house over the number of sowings", "definition"))
def sowing_interval(*, weeks_from_seed: WeeksFromSeed, sowings: SowingsInHouse) -> SowingInterval:
    """Time between sowings that keeps a wished number of them in the house.

    Parameters
    ----------
    weeks_from_seed : weeks from sowing to harvest [week]
    sowings : sowings in the house at once

    Returns
    -------
    Time between sowings [week].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> sowing_interval(weeks_from_seed=8.0, sowings=4.0)
    2.0
    """
    return weeks_from_seed / sowings


@relation(cite("arithmetic", "harvest a week times weeks between sowings", "definition"))
def heads_per_sowing(*, heads_per_week: HeadsPerWeek, sowing_interval: SowingInterval) -> PlantsPerSowing:
    """Heads that each sowing must give to feed a weekly harvest until the next one is ready.

    Parameters
    ----------
    heads_per_week : heads wanted every week [head/week]
    sowing_interval : time between sowings [week]

    Returns
    -------
    Heads from each sowing [head].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> heads_per_sowing(heads_per_week=60.0, sowing_interval=2.0)
    120.0
    """
    return heads_per_week * sowing_interval


@relation(cite("arithmetic", "equal steps from the first day", "definition"))
def sowing_days(*, first_day: FirstDay, sowing_step: SowingStep, sowings: SowingCount) -> SowingDays:
    """Days on which to sow, in equal steps from the first.

    Parameters
    ----------
    first_day : day of the first sowing, counted from 1 January [day]
    sowing_step : days between sowings [day]
    sowings : number of sowings, a whole number

    Returns
    -------
    Sowing days, one for each sowing [day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> sowing_days(first_day=60.0, sowing_step=14.0, sowings=3)
    (60.0, 74.0, 88.0)
    """
    return tuple(first_day + sowing_step * number for number in range(int(sowings)))


@relation(cite("hager2021", "leafy crops: 3 to 5 weeks from transplant, 6 to 8 from seed"))
def days_from_seed(*, nursery_days: NurseryDays, bed_days: BedDays) -> DaysFromSeed:
    """Days from sowing to harvest.

    Parameters
    ----------
    nursery_days : days from sowing to transplanting [day]
    bed_days : days from transplanting to harvest [day]

    Returns
    -------
    Days from seed to harvest [day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Seed packets count from sowing, or, for transplanted crops, from transplanting: read which.

    Examples
    --------
    >>> days_from_seed(nursery_days=21.0, bed_days=35.0)
    56.0
    """
    return nursery_days + bed_days


@relation(cite("hager2021", "days from seed and from transplant"), cite("arithmetic", "count of days", "definition"))
def harvest_day(*, sowing_day: SowingDay, nursery_days: NurseryDays, bed_days: BedDays) -> HarvestDay:
    """Day of the year on which a sowing is ready.

    Parameters
    ----------
    sowing_day : day of sowing, counted from 1 January [day]
    nursery_days : days from sowing to transplanting [day]
    bed_days : days from transplanting to harvest [day]

    Returns
    -------
    Day of harvest, counted from the same 1 January [day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> harvest_day(sowing_day=61.0, nursery_days=14.0, bed_days=28.0)
    103.0
    """
    total: DaysFromSeed = days_from_seed(nursery_days=nursery_days, bed_days=bed_days)
    return sowing_day + total


@relation(cite("hager2021", "days from seed and from transplant"), cite("arithmetic", "count of days", "definition"))
def sowing_day_for(*, wished_day: WishedDay, nursery_days: NurseryDays, bed_days: BedDays) -> SowingDay:
    """Day on which to sow for a wished day of harvest.

    Parameters
    ----------
    wished_day : wished day of harvest, counted from 1 January [day]
    nursery_days : days from sowing to transplanting [day]
    bed_days : days from transplanting to harvest [day]

    Returns
    -------
    Day of sowing; below zero it lies in the year before [day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> sowing_day_for(wished_day=103.0, nursery_days=14.0, bed_days=28.0)
    61.0
    """
    total: DaysFromSeed = days_from_seed(nursery_days=nursery_days, bed_days=bed_days)
    return wished_day - total


@relation(cite("rakocy2004", "basil: 23.4 kg/m2 a year, 1.8 kg/m2 a crop"))
def crops_per_year(*, bed_days: BedDays, empty_days: EmptyDays = 0.0) -> CropsPerYear:
    """Crops that follow each other in one bed in a year.

    Parameters
    ----------
    bed_days : days from transplanting to the end of harvest [day]
    empty_days : days the bed lies empty between crops [day]

    Returns
    -------
    Crops a year [crop/year].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(crops_per_year(bed_days=28.0), 2)
    13.04
    """
    cycle: CycleDays = bed_days + empty_days
    return DAYS_PER_YEAR / cycle


@relation(
    cite("mcmaster1997", "equation and first interpretation: a mean below the base counts as the base"),
    cite("ucipm_degreedays", "simple average"),
)
def degree_days(*, day_high: DayHigh, day_low: DayLow, base: BaseTemperature) -> DayDegrees:
    """Degree days gathered in one day, from the mean of the day.

    Parameters
    ----------
    day_high : highest temperature of the day [degC]
    day_low : lowest temperature of the day [degC]
    base : temperature below which the crop does not develop [degC]

    Returns
    -------
    Degree days of the day, not below zero [degC].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Two readings of one formula are in use and differ on cold nights (McMaster and Wilhelm 1997): this one averages
    first; `clipped_degree_days` first lifts a night below the base up to the base. Say which was used.

    Examples
    --------
    >>> degree_days(day_high=21.0, day_low=15.0, base=10.0)
    8.0
    """
    mean_of_day: MeanTemperature = (day_high + day_low) / 2
    return max(mean_of_day - base, 0)


@relation(
    cite("iowa541", "rules 1 and 2: a maximum above 86 F counts as 86, a minimum below 50 F as 50"),
    cite("mcmaster1997", "second interpretation"),
)
def clipped_degree_days(
    *, day_high: DayHigh, day_low: DayLow, base: BaseTemperature, top: TopTemperature,
) -> DayDegrees:
    """Degree days gathered in one day, with both temperatures first brought between a base and a top.

    Parameters
    ----------
    day_high : highest temperature of the day [degC]
    day_low : lowest temperature of the day [degC]
    base : temperature below which the crop does not develop [degC]
    top : temperature above which nothing more is gained [degC]

    Returns
    -------
    Degree days of the day [degC].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> clipped_degree_days(day_high=34.0, day_low=4.0, base=10.0, top=30.0)
    10.0
    """
    high: ClippedHigh = min(max(day_high, base), top)
    low: ClippedLow = min(max(day_low, base), top)
    return (high + low) / 2 - base


@relation(
    cite("oregon_degreedays", "sweet corn needs 1,539 degree days (Fahrenheit)"),
    cite("arithmetic", "sum over gain a day", "definition"),
)
def days_to_maturity(*, needed: NeededDegrees, day_degrees: DayDegrees) -> DaysNeeded:
    """Days until a crop has gathered its degree days.

    Parameters
    ----------
    needed : degree days from sowing or transplanting to maturity [degC*day]
    day_degrees : degree days gathered in an average day [degC]

    Returns
    -------
    Days to maturity [day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Holds while temperature is what limits growth; in poor light a warm house gathers degree days without growth.

    Examples
    --------
    >>> days_to_maturity(needed=600.0, day_degrees=12.0)
    50.0
    """
    return needed / day_degrees
