"""Crops, nursery: seeds to sow, and the seedlings that wait for a place in the bed."""

from typing import Annotated

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.crops.planting import DAYS_PER_WEEK, Plants
from waterleaf.calc.quantity import Quantity, cite, relation

NurseryDensity = Annotated[float, Quantity("d_n", "plant/m^2", "plants a square metre in the nursery", 1, 20_000)]
PlantsWanted = Annotated[float, Quantity("N", "plant", "plants wanted in the bed", 1, 10_000_000)]
SeedsSown = Annotated[float, Quantity("n_s", "seed", "seeds sown", 1, 100_000_000)]
Germination = Annotated[float, Quantity("g", "percent", "germination, share of the seeds that come up", 5, 100)]
Survival = Annotated[float, Quantity("v", "percent", "share of the seedlings that reach the bed", 5, 100)]
PlantShare = Annotated[float, Quantity("p", "percent", "share of the seeds that become plants", 0.1, 100)]
SeedsPerWeek = Annotated[float, Quantity("w", "seed/week", "seeds sown a week", 0.1, 10_000_000)]
NurseryDays = Annotated[float, Quantity("t_n", "day", "days in the nursery", 1, 120)]
Seedlings = Annotated[float, Quantity("N_n", "plant", "seedlings in the nursery", 0.1, 100_000_000)]
NurseryArea = Annotated[float, Quantity("A_n", "m^2", "area of the nursery", 0.0001, 100_000)]


@relation(cite("rutgers_lettuce", "1,200 seeds sown, 960 transplanted"))
def seeds_to_sow(*, plants_wanted: PlantsWanted, germination: Germination, survival: Survival) -> SeedsSown:
    """Seeds to sow so that enough plants reach the bed.

    Parameters
    ----------
    plants_wanted : plants wanted in the bed [plant]
    germination : share of the seeds that come up [percent]
    survival : share of the seedlings that reach the bed [percent]

    Returns
    -------
    Seeds, before rounding up [seed].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Divide by the share, do not add the loss: where 80 % of the seeds become plants, 20 % more seed leaves 4 % too few.

    Examples
    --------
    >>> round(seeds_to_sow(plants_wanted=100.0, germination=90.0, survival=95.0), 1)
    117.0
    """
    share: PlantShare = germination * survival / HUNDRED_PERCENT
    return HUNDRED_PERCENT * plants_wanted / share


@relation(cite("rutgers_lettuce", "1,200 seeds sown, 960 transplanted"))
def plants_from_seeds(*, seeds_sown: SeedsSown, germination: Germination, survival: Survival) -> Plants:
    """Plants that come of a sowing.

    Parameters
    ----------
    seeds_sown : seeds sown [seed]
    germination : share of the seeds that come up [percent]
    survival : share of the seedlings that reach the bed [percent]

    Returns
    -------
    Plants that reach the bed [plant].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> plants_from_seeds(seeds_sown=200.0, germination=90.0, survival=90.0)
    162.0
    """
    share: PlantShare = germination * survival / HUNDRED_PERCENT
    return seeds_sown * share / HUNDRED_PERCENT


@relation(
    cite("rutgers_lettuce", "1,200 seeds a day, 12 days in the growth room"),
    cite("arithmetic", "rate times time is the stand", "definition"),
)
def seedlings_in_nursery(*, seeds_per_week: SeedsPerWeek, nursery_days: NurseryDays) -> Seedlings:
    """Places taken in the nursery when the same number is sown every week.

    Parameters
    ----------
    seeds_per_week : seeds sown a week, losses not yet taken off [seed/week]
    nursery_days : days from sowing to transplanting [day]

    Returns
    -------
    Seedlings, or sown places, at any one time [plant].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> seedlings_in_nursery(seeds_per_week=140.0, nursery_days=21.0)
    420.0
    """
    return seeds_per_week * nursery_days / DAYS_PER_WEEK


@relation(cite("arithmetic", "seedlings over their density", "definition"))
def nursery_area(*, seedlings: Seedlings, nursery_density: NurseryDensity) -> NurseryArea:
    """Area of trays that the nursery needs.

    Parameters
    ----------
    seedlings : places taken at any one time [plant]
    nursery_density : cells or seedlings a square metre of tray [plant/m^2]

    Returns
    -------
    Area of trays [m^2].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> nursery_area(seedlings=420.0, nursery_density=1000.0)
    0.42
    """
    return seedlings / nursery_density
