"""Solids: what the fish leave behind, how it settles, and how often it is flushed."""

from typing import Annotated

from waterleaf.calc.common import HOURS_PER_DAY, HUNDRED_PERCENT, LITRES_PER_CUBIC_METRE
from waterleaf.calc.feed.ration import DailyFeed
from waterleaf.calc.quantity import Quantity, cite, relation

SolidsShare = Annotated[
    float,
    Quantity(
        "f", "percent", "dry solids as a share of the feed", 10, 65,
        basis="published shares run from 20 to 65 %",
    ),
]
DrySolids = Annotated[float, Quantity("S", "g/day", "dry solids a day", 0.01, 5_000_000)]
WaterFlow = Annotated[float, Quantity("Q", "L/min", "water flow", 0.01, 1_000_000)]
RetentionTime = Annotated[float, Quantity("t", "min", "retention time", 0.1, 100_000)]
SettlingVolume = Annotated[float, Quantity("V", "L", "settling volume", 0.1, 10_000_000)]
SludgeSolids = Annotated[
    float,
    Quantity(
        "c", "percent", "solids content of the sludge", 0.02, 20,
        basis="sludge as drawn runs from 0.02 % at its thinnest to about 14 % well thickened",
    ),
]
SludgeDensity = Annotated[float, Quantity("d", "g/L", "mass of a litre of sludge", 900, 1200)]
FlushVolume = Annotated[float, Quantity("V_f", "L/day", "sludge to flush a day", 0.001, 1_000_000)]
ConeVolume = Annotated[float, Quantity("V_c", "L", "volume of the sludge cone", 0.1, 100_000)]
FillShare = Annotated[float, Quantity("p", "percent", "share of the cone that may fill", 5, 100)]
FlushInterval = Annotated[float, Quantity("T", "hour", "time between flushes", 0.01, 100_000)]
NewWater = Annotated[float, Quantity("V_new", "L/day", "new water a day", 0, 100_000_000)]
SystemVolume = Annotated[float, Quantity("V_sys", "m^3", "water in the whole system", 0.05, 1_000_000)]
SystemLitres = Annotated[float, Quantity("V_L", "L", "water in the whole system in litres", 50, 1_000_000_000)]
ReplacementShare = Annotated[float, Quantity("w", "percent/day", "water replaced a day", 0, 500)]
FirstFlush = Annotated[float, Quantity("h_1", "hour", "time of the first flush, in hours after midnight", 0, 23.99)]
FlushCount = Annotated[float, Quantity("k", "", "number of flushes", 1, 24, whole=True)]
FlushTimes = Annotated[tuple[float, ...], Quantity("h", "hour", "flush times, in hours after midnight", 0, 200, many=1)]


@relation(
    cite("rakocy2007", "guideline 5, about 25 % of the feed", "memory"),
    cite("stechey1990", "0.30 kg a kg of feed, as quoted there"),
)
def faecal_solids(*, daily_feed: DailyFeed, solids_share: SolidsShare) -> DrySolids:
    """Dry solids that the fish leave behind in a day.

    Parameters
    ----------
    daily_feed : feed for the whole system [g/day]
    solids_share : dry solids as a share of the feed [percent]

    Returns
    -------
    Dry solids [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Sources differ, so the share is an argument. 25 % is the working figure of raft growers (Rakocy 2007, from memory)
    and the course's default, since the raft figures of the course come from the same system. 30 % is printed by Stechey
    and Trudell (1990), 30 to 65 % by Henderson and Bromage (1988), 30 to 40 % for salmon and 20 to 70 % for catfish in
    a congress abstract, up to 50 % of the feed's dry matter by Chen (1997). Size a clarifier on 30 % or more.

    Examples
    --------
    >>> faecal_solids(daily_feed=1000.0, solids_share=25.0)
    250.0
    """
    return daily_feed * solids_share / HUNDRED_PERCENT


@relation(cite("hager2021", "clarifier sizing: 30 minutes at 25 US gal/min is 750 US gal"))
def settling_volume(*, water_flow: WaterFlow, retention_time: RetentionTime) -> SettlingVolume:
    """Volume of a settling tank that holds the flow for a given time.

    Parameters
    ----------
    water_flow : water through the tank [L/min]
    retention_time : wished retention time [min]

    Returns
    -------
    Settling volume [L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> settling_volume(water_flow=94.6, retention_time=30.0)  # 25 US gal/min: about 750 US gal
    2838.0
    """
    return water_flow * retention_time


@relation(cite("hager2021", "clarifier sizing"), cite("uvi_slides", "clarifier retention of 20 minutes"))
def retention_time(*, settling_volume: SettlingVolume, water_flow: WaterFlow) -> RetentionTime:
    """Time that water stays in a tank on average.

    Parameters
    ----------
    settling_volume : water held by the tank [L]
    water_flow : water through the tank [L/min]

    Returns
    -------
    Retention time [min].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(retention_time(settling_volume=3785.4, water_flow=189.27), 2)  # 1,000 US gal at 50 US gal/min
    20.0
    """
    return settling_volume / water_flow


@relation(cite("arithmetic", "mass of sludge from its solids content", "definition"))
def flush_volume(
    *, dry_solids: DrySolids, sludge_solids: SludgeSolids, sludge_density: SludgeDensity = 1000.0
) -> FlushVolume:
    """Sludge to be flushed in a day, so that the day's solids leave with it.

    Parameters
    ----------
    dry_solids : dry solids caught in a day [g/day]
    sludge_solids : dry solids in the sludge as it is drawn [percent of mass]
    sludge_density : mass of a litre of sludge; thin sludge weighs as much as water [g/L]

    Returns
    -------
    Sludge volume [L/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Sludge left standing turns foul within a day and gives off hydrogen sulphide, which kills without warning because
    the nose stops smelling it, and methane, which burns. Flush often, outdoors or under an open roof, never lean into
    a sludge tank and never enter one. Where sludge may go is for the local code to say.

    Examples
    --------
    >>> flush_volume(dry_solids=250.0, sludge_solids=1.0)
    25.0
    """
    sludge_strength: SludgeStrength = sludge_density * sludge_solids / HUNDRED_PERCENT
    return dry_solids / sludge_strength


SludgeStrength = Annotated[float, Quantity("C", "g/L", "dry solids in a litre of sludge", 0.1, 300)]


@relation(cite("arithmetic", "a vessel fills in volume over inflow", "definition"))
def flush_interval(*, cone_volume: ConeVolume, fill_share: FillShare, flush_volume: FlushVolume) -> FlushInterval:
    """Longest time between flushes, so that the cone never fills beyond a chosen share.

    Parameters
    ----------
    cone_volume : volume of the sludge cone [L]
    fill_share : share of the cone that may fill before it is flushed [percent]
    flush_volume : sludge that gathers in a day [L/day]

    Returns
    -------
    Time between flushes [hour].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> flush_interval(cone_volume=50.0, fill_share=50.0, flush_volume=25.0)
    24.0
    """
    room: ConeRoom = cone_volume * fill_share / HUNDRED_PERCENT
    return HOURS_PER_DAY * room / flush_volume


ConeRoom = Annotated[float, Quantity("V_room", "L", "sludge that the cone may hold", 0.01, 100_000)]


@relation(cite("arithmetic", "equal steps from the first time", "definition"))
def flush_timetable(*, first_flush: FirstFlush, interval: FlushInterval, flushes: FlushCount) -> FlushTimes:
    """Times of the day's flushes, from the first one in equal steps.

    Parameters
    ----------
    first_flush : time of the first flush, hours after midnight [hour]
    interval : time between flushes [hour]
    flushes : number of flushes, a whole number

    Returns
    -------
    Flush times, one for each flush, hours after midnight [hour].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> flush_timetable(first_flush=6.0, interval=4.5, flushes=4)
    (6.0, 10.5, 15.0, 19.5)
    """
    return tuple(first_flush + interval * number for number in range(int(flushes)))


@relation(cite("gullian2013", "252 L a day into 12,000 L"), cite("rakocy2006", "1.5 % of the volume a day"))
def replacement_share(*, new_water: NewWater, system_volume: SystemVolume) -> ReplacementShare:
    """New water a day as a percentage of the water in the system.

    Parameters
    ----------
    new_water : water added in a day [L/day]
    system_volume : water in the whole system [m^3]

    Returns
    -------
    Replacement [percent/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(replacement_share(new_water=252.0, system_volume=12.0), 3)  # Gullian-Klanian 2013: 2.1 %
    2.1
    """
    litres: SystemLitres = system_volume * LITRES_PER_CUBIC_METRE
    return HUNDRED_PERCENT * new_water / litres
