"""Stock: how many fish, how close, and how many live to harvest."""

from typing import Annotated, Final

from waterleaf.calc.common import GRAMS_PER_KILOGRAM, HUNDRED_PERCENT
from waterleaf.calc.feed.growth import FirstWeight, GrowthDays, LastWeight
from waterleaf.calc.feed.ration import Biomass, LiveGain
from waterleaf.calc.quantity import Quantity, cite, relation

_CROWDED: Final = "published densities run to 120 kg a cubic metre, with pure oxygen"

FishIn = Annotated[float, Quantity("N_in", "fish", "fish stocked", 1, 10_000_000)]
FishOut = Annotated[float, Quantity("N_out", "fish", "fish alive at the end", 1, 10_000_000)]
Survival = Annotated[float, Quantity("S", "percent", "survival", 1, 100)]
Harvest = Annotated[float, Quantity("B_out", "kg", "live weight harvested", 0.001, 10_000_000)]
Stocked = Annotated[float, Quantity("B_in", "kg", "live weight stocked", 0.001, 10_000_000)]
TankVolume = Annotated[float, Quantity("V", "m^3", "water in the fish tank", 0.001, 100_000)]
Density = Annotated[float, Quantity("D", "kg/m^3", "stocking density", 0.05, 250, basis=_CROWDED)]
FirstDensity = Annotated[float, Quantity("D_1", "kg/m^3", "density at the start", 0.05, 250, basis=_CROWDED)]
LastDensity = Annotated[float, Quantity("D_2", "kg/m^3", "density at the end", 0.05, 250, basis=_CROWDED)]
FishPerVolume = Annotated[float, Quantity("c", "fish/m^3", "fish in a cubic metre", 0.01, 20_000)]
AlivePerVolume = Annotated[float, Quantity("c_out", "fish/m^3", "fish alive in a cubic metre", 0.01, 20_000)]
ProductionRate = Annotated[float, Quantity("P", "kg/m^3/day", "growth of the density", 0.0001, 10)]
FishWeight = Annotated[float, Quantity("W", "g", "mean weight of a fish", 0.001, 30_000)]


@relation(cite("arithmetic", "definition of survival", "definition"))
def survival(*, fish_in: FishIn, fish_out: FishOut) -> Survival:
    """Share of the fish stocked that are alive at the end.

    Parameters
    ----------
    fish_in : fish stocked [fish]
    fish_out : fish alive at the end [fish]

    Returns
    -------
    Survival [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> survival(fish_in=600.0, fish_out=588.0)
    98.0
    """
    return HUNDRED_PERCENT * fish_out / fish_in


@relation(cite("rakocy2004", "fish, survival and harvest weight of the two tilapias"))
def harvest_biomass(*, fish_in: FishIn, survival: Survival, weight: FishWeight) -> Harvest:
    """Live weight harvested from the fish that were stocked.

    Parameters
    ----------
    fish_in : fish stocked [fish]
    survival : share alive at harvest [percent]
    weight : mean weight at harvest [g]

    Returns
    -------
    Live weight [kg].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(harvest_biomass(fish_in=600.0, survival=98.3, weight=813.8), 1)  # Rakocy 2004: one tank of Nile tilapia
    480.0
    """
    alive: FishOut = fish_in * survival / HUNDRED_PERCENT
    return alive * weight / GRAMS_PER_KILOGRAM


@relation(cite("arithmetic", "definition of survival, turned round", "definition"))
def fish_to_stock(*, fish_wanted: FishOut, survival: Survival) -> FishIn:
    """Fish to stock so that a wanted number lives to harvest.

    Parameters
    ----------
    fish_wanted : fish wanted at harvest [fish]
    survival : share expected to live [percent]

    Returns
    -------
    Fish to stock, before rounding up [fish].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Buy only a species that the state allows, and never release fish, plants or water.

    Examples
    --------
    >>> fish_to_stock(fish_wanted=450.0, survival=90.0)
    500.0
    """
    return HUNDRED_PERCENT * fish_wanted / survival


@relation(cite("daudpota2014", "net production of fry in hapas"))
def net_yield(*, fish_in: FishIn, survival: Survival, start_weight: FirstWeight, end_weight: LastWeight) -> LiveGain:
    """Live weight harvested less live weight stocked.

    Parameters
    ----------
    fish_in : fish stocked [fish]
    survival : share alive at harvest [percent]
    start_weight : mean weight at stocking [g]
    end_weight : mean weight at harvest [g]

    Returns
    -------
    Gain of live weight [kg].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The dead count as stocked but not as harvested: multiplying all fish by the gain of one forgets them.

    Examples
    --------
    >>> round(net_yield(fish_in=200.0, survival=100.0, start_weight=2.0, end_weight=49.8), 2)  # Daudpota 2014
    9.56
    """
    stocked: Stocked = fish_in * start_weight / GRAMS_PER_KILOGRAM
    harvested: Harvest = harvest_biomass(fish_in=fish_in, survival=survival, weight=end_weight)
    return harvested - stocked



@relation(cite("malone2013", "density classes"), cite("arithmetic", "definition of density", "definition"))
def stocking_density(*, biomass: Biomass, tank_volume: TankVolume) -> Density:
    """Live weight of fish in a cubic metre of tank.

    Parameters
    ----------
    biomass : live weight of the fish in the tank [kg]
    tank_volume : water in the tank [m^3]

    Returns
    -------
    Density [kg/m^3].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Sources differ. Below 15 for brood fish, below 30 for fingerlings, about 60 for food fish and up to 120 kg/m3 with
    every aid (Malone 2013); at most 20 for small teaching systems (Somerville 2014, from memory). The course's default
    is 20, because few fish in much water leave more time to act when a pump stops.

    Examples
    --------
    >>> stocking_density(biomass=20.0, tank_volume=1.0)
    20.0
    """
    return biomass / tank_volume


@relation(cite("rakocy2004", "77 and 154 fish a cubic metre"))
def fish_density(*, fish_in: FishIn, tank_volume: TankVolume) -> FishPerVolume:
    """Number of fish in a cubic metre of tank.

    Parameters
    ----------
    fish_in : fish stocked [fish]
    tank_volume : water in the tank [m^3]

    Returns
    -------
    Fish in a cubic metre [fish/m^3].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(fish_density(fish_in=600.0, tank_volume=7.8), 1)  # printed as 77
    76.9
    """
    return fish_in / tank_volume


@relation(cite("rakocy2004", "density, survival and harvest weight of the two tilapias"))
def harvest_density(*, fish_density: FishPerVolume, survival: Survival, weight: FishWeight) -> Density:
    """Density at harvest from the number stocked in a cubic metre.

    Parameters
    ----------
    fish_density : fish stocked in a cubic metre [fish/m^3]
    survival : share alive at harvest [percent]
    weight : mean weight at harvest [g]

    Returns
    -------
    Density [kg/m^3].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(harvest_density(fish_density=77.0, survival=98.3, weight=813.8), 1)  # Rakocy 2004 prints 61.5
    61.6
    """
    alive: AlivePerVolume = fish_density * survival / HUNDRED_PERCENT
    return alive * weight / GRAMS_PER_KILOGRAM


@relation(cite("losordo_delong", "80 kg a cubic metre in 50 cubic metres"))
def biomass_for_density(*, density: Density, tank_volume: TankVolume) -> Biomass:
    """Live weight that a tank holds at a density.

    Parameters
    ----------
    density : density, such as the one aimed at for harvest [kg/m^3]
    tank_volume : water in the tank [m^3]

    Returns
    -------
    Live weight [kg].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> biomass_for_density(density=80.0, tank_volume=50.0)
    4000.0
    """
    return density * tank_volume


@relation(cite("losordo_guerdat", "100 t of fish at 80 kg a cubic metre"))
def tank_volume_for_density(*, biomass: Biomass, density: Density) -> TankVolume:
    """Tank volume that keeps a live weight of fish at a density.

    Parameters
    ----------
    biomass : live weight of the fish when they are heaviest [kg]
    density : density to keep to [kg/m^3]

    Returns
    -------
    Water in the tank [m^3].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> tank_volume_for_density(biomass=100000.0, density=80.0)
    1250.0
    """
    return biomass / density


@relation(cite("losordo_delong", "80 kg a cubic metre in 50 cubic metres"))
def fish_for_density(*, density: Density, tank_volume: TankVolume, weight: FishWeight) -> FishOut:
    """Number of fish that brings a tank to a density at a given weight.

    Parameters
    ----------
    density : density aimed at, reckoned at harvest weight [kg/m^3]
    tank_volume : water in the tank [m^3]
    weight : mean weight of a fish when that density is reached [g]

    Returns
    -------
    Fish alive at that weight, before rounding down [fish].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(fish_for_density(density=80.0, tank_volume=50.0, weight=680.0))
    5882
    """
    biomass: Biomass = biomass_for_density(density=density, tank_volume=tank_volume)
    return biomass * GRAMS_PER_KILOGRAM / weight


@relation(cite("coche1982", "table 11B, cage trials"))
def production_rate(*, start_density: FirstDensity, end_density: LastDensity, days: GrowthDays) -> ProductionRate:
    """Gain of density on the mean day.

    Parameters
    ----------
    start_density : density at stocking [kg/m^3]
    end_density : density at harvest [kg/m^3]
    days : days between the two [day]

    Returns
    -------
    Growth of the density [kg/m^3/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(production_rate(start_density=12.5, end_density=79.5, days=87.0), 3)
    0.77
    """
    return (end_density - start_density) / days
