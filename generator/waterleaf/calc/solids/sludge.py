"""Sludge: how much gathers, how often tanks are cleaned, how much is stored, and how far water is used again."""

from typing import Annotated, Final

from waterleaf.calc.common import HOURS_PER_DAY, HUNDRED_PERCENT, LITRES_PER_CUBIC_METRE
from waterleaf.calc.feed.ration import DAYS_PER_YEAR
from waterleaf.calc.quantity import Constant, Quantity, cite, relation
from waterleaf.calc.solids.load import (
    DrySolids,
    FlushVolume,
    NewWater,
    ReplacementShare,
    SludgeDensity,
    SludgeSolids,
    SludgeStrength,
    SystemLitres,
    SystemVolume,
    WaterFlow,
    flush_volume,
)
from waterleaf.calc.solids.settling import EscapedSolids, captured_solids, escaped_solids

TankLitres = Annotated[float, Quantity("V", "L", "water held by the tank", 1, 10_000_000)]
SludgeRoom = Annotated[float, Quantity("V_room", "L", "sludge that the tank may hold", 0.01, 10_000_000)]
FullShare = Annotated[float, Quantity("p", "percent", "share of the tank that may fill with sludge", 1, 100)]
CleaningInterval = Annotated[float, Quantity("T", "day", "days between cleanings", 0.01, 10_000)]
StorageDays = Annotated[float, Quantity("t", "day", "days of storage", 1, 400)]
SpareShare = Annotated[float, Quantity("a", "percent", "share of the store left empty", 0, 80)]
UsedShare = Annotated[float, Quantity("u", "percent", "share of the store that may fill", 20, 100)]
StorageVolume = Annotated[float, Quantity("V_store", "m^3", "volume of the sludge store", 0.0001, 1_000_000)]
StoredLitres = Annotated[float, Quantity("V_L", "L", "sludge stored", 0.1, 1e9)]
ReusedFlow = Annotated[float, Quantity("Q_re", "m^3/hour", "water that is treated and used again", 0.001, 1_000_000)]
FreshFlow = Annotated[float, Quantity("Q_new", "m^3/hour", "new water", 0, 1_000_000)]
Recirculation = Annotated[float, Quantity("R", "percent", "degree of recirculation", 0, 100)]
Production = Annotated[float, Quantity("B_year", "kg/year", "fish produced in a year", 0.1, 100_000_000)]
WaterUse = Annotated[
    float,
    Quantity(
        "w", "m^3/kg", "new water for a kilogram of fish", 0.01, 100,
        basis="from 0.3 for intensive recirculation to 30 for flow-through",
    ),
]
WaterPerYear = Annotated[float, Quantity("V_year", "m^3/year", "new water in a year", 0.001, 1e10)]
FishHarvest = Annotated[float, Quantity("B", "kg", "fish produced", 0.01, 100_000_000)]
WaterVolume = Annotated[float, Quantity("V", "m^3", "new water used", 0.0001, 1e10)]
DrainShare = Annotated[float, Quantity("s", "percent", "share of the flow that leaves by the bottom drain", 1, 100)]
DrainFlow = Annotated[float, Quantity("Q_drain", "L/min", "flow of the bottom drain", 0.0001, 1_000_000)]
DailyFeedMass = Annotated[float, Quantity("F", "kg/day", "daily feed", 0.0001, 10_000)]
WaterPerFeed = Annotated[float, Quantity("w_F", "L/kg", "new water for a kilogram of feed", 0, 1_000_000)]
SuspendedSolids = Annotated[float, Quantity("C_TSS", "mg/L", "dry solids in a litre of sludge", 100, 300_000)]
FirstCapture = Annotated[float, Quantity("E_1", "percent", "capture efficiency of the clarifier", 0, 99.9)]
FineCapture = Annotated[float, Quantity("E_2", "percent", "capture efficiency of the fine-solids tank", 0.1, 100)]
FineSolids = Annotated[float, Quantity("S_fine", "g/day", "dry solids kept by the fine-solids tank", 0, 5_000_000)]

MILLIGRAMS_PER_GRAM: Final = Constant(
    1000, symbol="1000", unit="mg/g", name="milligrams in a gram", source=cite("arithmetic", "prefix", "definition"),
)


@relation(cite("wei2015", "raw sludge of 234 to 4,290 mg/L is 0.02 to 0.43 % solids"))
def sludge_solids_percent(*, suspended_solids: SuspendedSolids, sludge_density: SludgeDensity = 1000.0) -> SludgeSolids:
    """Solids content of sludge, in per cent of its mass, from a laboratory value in milligrams a litre.

    Parameters
    ----------
    suspended_solids : dry solids in a litre of sludge [mg/L]
    sludge_density : mass of a litre of sludge; thin sludge weighs as much as water [g/L]

    Returns
    -------
    Solids content [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    One per cent of thin sludge is 10 g in a litre.

    Examples
    --------
    >>> round(sludge_solids_percent(suspended_solids=4290.0), 2)  # Wei 2015: 0.43 %
    0.43
    """
    strength: SludgeStrength = suspended_solids / MILLIGRAMS_PER_GRAM
    return HUNDRED_PERCENT * strength / sludge_density



@relation(cite("uvi2010", "clarifiers followed by filter tanks"), cite("arithmetic", "shares in turn", "definition"))
def fine_tank_sludge(
    *, dry_solids: DrySolids, clarifier_capture: FirstCapture, fine_capture: FineCapture, sludge_solids: SludgeSolids
) -> FlushVolume:
    """Sludge that gathers in a day in a fine-solids tank, such as a tank of netting, behind a clarifier.

    Parameters
    ----------
    dry_solids : dry solids that reach the clarifier in a day [g/day]
    clarifier_capture : capture efficiency of the clarifier [percent]
    fine_capture : capture efficiency of the fine-solids tank, of what reaches it [percent]
    sludge_solids : dry solids in the sludge as it gathers [percent of mass]

    Returns
    -------
    Sludge volume [L/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Taken as heavy as water. Thick sludge in netting has pockets without oxygen that give off methane and hydrogen
    sulphide: a tank with a strong air supply follows, and nobody leans over the tank while it is being stirred.

    Examples
    --------
    >>> round(fine_tank_sludge(dry_solids=250.0, clarifier_capture=60.0, fine_capture=80.0, sludge_solids=2.0), 9)
    4.0
    """
    escaped: EscapedSolids = escaped_solids(dry_solids=dry_solids, capture=clarifier_capture)
    fine: FineSolids = captured_solids(dry_solids=escaped, capture=fine_capture)
    return flush_volume(dry_solids=fine, sludge_solids=sludge_solids)


@relation(cite("uvi_slides", "filter tanks cleaned once or twice a week"))
def cleaning_interval(*, tank_volume: TankLitres, full_share: FullShare, sludge: FlushVolume) -> CleaningInterval:
    """Longest time between cleanings of a tank that gathers sludge.

    Parameters
    ----------
    tank_volume : water held by the tank [L]
    full_share : share of the tank that may fill with sludge [percent]
    sludge : sludge that gathers in a day [L/day]

    Returns
    -------
    Days between cleanings [day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Sludge fouls before a tank is full: filter tanks of a raft system are cleaned once or twice a week in any case.

    Examples
    --------
    >>> cleaning_interval(tank_volume=700.0, full_share=4.0, sludge=4.0)
    7.0
    """
    room: SludgeRoom = tank_volume * full_share / HUNDRED_PERCENT
    return room / sludge


@relation(cite("arithmetic", "inflow times days, with room to spare", "definition"))
def sludge_storage(*, sludge: FlushVolume, days: StorageDays, spare: SpareShare = 0.0) -> StorageVolume:
    """Volume of a store that holds the sludge of some days.

    Parameters
    ----------
    sludge : sludge drawn in a day [L/day]
    days : days that it must hold [day]
    spare : share of the store left empty as freeboard [percent]

    Returns
    -------
    Volume of the store [m^3].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    A closed store of sludge makes hydrogen sulphide and methane. Keep it open to the air or vented outdoors, keep
    flames away, and never enter it: rescuers die with the first victim. Exposure limits for hydrogen sulphide are
    20 ppm (ceiling, OSHA) and 10 ppm for 10 minutes (NIOSH); local codes decide where a store may stand.

    Examples
    --------
    >>> sludge_storage(sludge=484.0, days=10.0)
    4.84
    """
    litres: StoredLitres = sludge * days
    used: UsedShare = HUNDRED_PERCENT - spare
    return litres * HUNDRED_PERCENT / (used * LITRES_PER_CUBIC_METRE)


@relation(cite("davidson2005", "7 to 8 % of the flow leaves by the bottom centre drain"))
def bottom_drain_flow(*, water_flow: WaterFlow, drain_share: DrainShare) -> DrainFlow:
    """Flow that carries the solids from a tank with two drains to the settling tank.

    Parameters
    ----------
    water_flow : water through the fish tank [L/min]
    drain_share : share that leaves by the bottom drain [percent]

    Returns
    -------
    Flow to the settling tank [L/min].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> bottom_drain_flow(water_flow=4800.0, drain_share=7.0)
    336.0
    """
    return water_flow * drain_share / HUNDRED_PERCENT


@relation(cite("bregnballe2015", "chapter 1, formula of the degree of recirculation", "memory"))
def degree_of_recirculation(*, reused_flow: ReusedFlow, new_flow: FreshFlow) -> Recirculation:
    """Share of the water through the fish tanks that is used again.

    Parameters
    ----------
    reused_flow : water that is treated and sent round again [m^3/hour]
    new_flow : new water [m^3/hour]

    Returns
    -------
    Degree of recirculation [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    A weak yardstick near 100 %: from 96 to 99.6 % the new water falls to a tenth.

    Examples
    --------
    >>> round(degree_of_recirculation(reused_flow=4000.0, new_flow=171.2), 1)
    95.9
    """
    return HUNDRED_PERCENT * reused_flow / (reused_flow + new_flow)


@relation(cite("alhafedh2008", "320 L of water for a kilogram of fish"))
def water_for_fish(*, fish: FishHarvest, water_use: WaterUse) -> WaterVolume:
    """New water that an amount of fish takes.

    Parameters
    ----------
    fish : fish produced [kg]
    water_use : new water for each kilogram of fish [m^3/kg]

    Returns
    -------
    New water [m^3].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(water_for_fish(fish=33.5, water_use=0.32), 2)
    10.72
    """
    return fish * water_use


@relation(cite("bregnballe2015", "chapter 1: 500 tonnes a year at 0.3, 3 and 30 m3/kg take 17, 171 and 1,712 m3/h"))
def new_water_flow(*, production: Production, water_use: WaterUse) -> FreshFlow:
    """Flow of new water that a year's production of fish takes.

    Parameters
    ----------
    production : fish produced in a year [kg/year]
    water_use : new water for each kilogram of fish [m^3/kg]

    Returns
    -------
    New water [m^3/hour].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(new_water_flow(production=500000.0, water_use=3.0))  # Bregnballe 2015: 171
    171
    """
    volume: WaterPerYear = production * water_use
    return volume / (DAYS_PER_YEAR * HOURS_PER_DAY)


@relation(cite("losordo_guerdat", "5 to 15 % of the volume a day"), cite("rakocy2006", "1.5 % of the volume a day"))
def new_water_for_replacement(*, replacement: ReplacementShare, system_volume: SystemVolume) -> NewWater:
    """New water a day that replaces a share of the system's water.

    Parameters
    ----------
    replacement : share replaced a day [percent/day]
    system_volume : water in the whole system [m^3]

    Returns
    -------
    New water [L/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Sources differ by kind of system: raft systems with plants replace 1.4 to 1.5 % a day, tanks without plants 5 to
    15 %. The course's default is 1.5, since it teaches raft systems.

    Examples
    --------
    >>> round(new_water_for_replacement(replacement=1.5, system_volume=110.0), 6)
    1650.0
    """
    litres: SystemLitres = system_volume * LITRES_PER_CUBIC_METRE
    return litres * replacement / HUNDRED_PERCENT


@relation(cite("arithmetic", "new water over feed", "definition"))
def new_water_per_feed(*, new_water: NewWater, daily_feed: DailyFeedMass) -> WaterPerFeed:
    """New water for each kilogram of feed, by which systems of different size can be compared.

    Parameters
    ----------
    new_water : new water a day [L/day]
    daily_feed : feed for the whole system [kg/day]

    Returns
    -------
    New water for a kilogram of feed [L/kg].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> new_water_per_feed(new_water=1500.0, daily_feed=20.0)
    75.0
    """
    return new_water / daily_feed
