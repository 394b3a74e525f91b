"""Sludge put to use: aerated batches that give nutrients back, and trees in pots."""

import math
from typing import Annotated, Final

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.quantity import Constant, Quantity, cite, relation
from waterleaf.calc.solids.load import FlushVolume, SludgeDensity, SludgeSolids, SludgeStrength

FillDays = Annotated[float, Quantity("t_fill", "day", "days of filling", 0.5, 60)]
TreatDays = Annotated[float, Quantity("t_air", "day", "days under air", 1, 200)]
RestDays = Annotated[float, Quantity("t_rest", "day", "days of settling and drawing off", 0, 14)]
EmptyShare = Annotated[float, Quantity("a", "percent", "share of the tank left empty for foam", 0, 60)]
FillableShare = Annotated[float, Quantity("u", "percent", "share of the tank that fills", 40, 100)]
BatchLitres = Annotated[float, Quantity("V_b", "L", "sludge of one batch", 0.01, 10_000_000)]
BatchTank = Annotated[float, Quantity("V_tank", "L", "volume of one batch tank", 0.01, 100_000_000)]
TankCount = Annotated[float, Quantity("n", "", "tanks in rotation", 1, 1000)]
CycleDays = Annotated[float, Quantity("t_cyc", "day", "days of a whole cycle", 1.5, 300)]
FirstSolids = Annotated[float, Quantity("X_0", "kg", "dry solids in the batch at the start", 0.001, 1_000_000)]
SolidsLeft = Annotated[float, Quantity("X", "kg", "dry solids left", 0, 1_000_000)]
BrokenDown = Annotated[float, Quantity("X_gone", "kg", "dry solids broken down", 0, 1_000_000)]
BreakdownRate = Annotated[
    float,
    Quantity("k", "1/day", "first-order rate of breakdown", 0.001, 1, basis="to be measured on your own sludge"),
]
BreakdownDays = Annotated[float, Quantity("t", "day", "days of breakdown", 0.5, 400)]
BreakdownShare = Annotated[float, Quantity("x", "percent", "share of the solids to be broken down", 1, 99)]
SettledShare = Annotated[float, Quantity("s", "percent", "share of the batch that settles as sludge", 1, 90)]
SettledVolume = Annotated[float, Quantity("V_set", "mL", "settled sludge in the sample", 1, 2000)]
SampleVolume = Annotated[float, Quantity("V_0", "mL", "mixed sample", 50, 2000)]
ClearWater = Annotated[float, Quantity("V_clear", "L", "clear water of one batch", 0.001, 10_000_000)]
WeeklyDraw = Annotated[float, Quantity("V_week", "L/week", "clear water drawn in a week", 0.001, 100_000_000)]
SludgeLitres = Annotated[float, Quantity("V", "L", "sludge", 0.01, 100_000_000)]
SolidsNitrogen = Annotated[float, Quantity("n_s", "percent", "nitrogen in the dry solids", 0.5, 12)]
SludgeNitrogen = Annotated[float, Quantity("N", "g", "nitrogen in the sludge", 0.0001, 1e10)]
NitrogenRate = Annotated[float, Quantity("R", "g/tree", "nitrogen that a tree may get in the season", 0.5, 1000)]
AvailableShare = Annotated[
    float, Quantity("v", "percent", "share of the nitrogen that plants get in the season", 5, 100)
]
AvailableNitrogen = Annotated[float, Quantity("N_av", "g", "nitrogen available in the season", 0.0001, 1e10)]
NitrogenStrength = Annotated[float, Quantity("C_N", "g/L", "nitrogen in a litre of sludge", 0.005, 20)]
SludgePerTree = Annotated[float, Quantity("V_tree", "L/tree", "sludge for one tree in the season", 0.01, 1_000_000)]
TreeCount = Annotated[float, Quantity("n", "tree", "trees that the sludge feeds", 0.0001, 1e9)]

DAYS_PER_WEEK: Final = Constant(
    7, symbol="7", unit="day/week", name="days in a week", source=cite("arithmetic", "seven days", "definition"),
)


@relation(cite("arithmetic", "inflow times days", "definition"))
def batch_sludge(*, sludge: FlushVolume, fill_days: FillDays) -> BatchLitres:
    """Sludge of one batch: all that comes while one tank is filled.

    Parameters
    ----------
    sludge : sludge drawn in a day [L/day]
    fill_days : days for which one tank is filled [day]

    Returns
    -------
    Volume of one batch [L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> batch_sludge(sludge=484.0, fill_days=10.0)
    4840.0
    """
    return sludge * fill_days


@relation(cite("arithmetic", "inflow times days, with room for foam", "definition"))
def batch_tank_volume(*, sludge: FlushVolume, fill_days: FillDays, empty: EmptyShare = 0.0) -> BatchTank:
    """Volume of one tank of an aerated batch mineralisation.

    Parameters
    ----------
    sludge : sludge drawn in a day [L/day]
    fill_days : days for which one tank is filled [day]
    empty : share of the tank left empty, for aerated sludge foams [percent]

    Returns
    -------
    Volume of one tank [L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Without air the sludge makes hydrogen sulphide, which numbs the nose before it kills, and methane, which burns. Keep
    the tank open to moving air, alarm the blower, and never lean into or enter the tank. Blower and plugs stand dry and
    on a ground-fault device; local codes decide.

    Examples
    --------
    >>> batch_tank_volume(sludge=484.0, fill_days=10.0)
    4840.0
    """
    batch: BatchLitres = batch_sludge(sludge=sludge, fill_days=fill_days)
    fillable: FillableShare = HUNDRED_PERCENT - empty
    return batch * HUNDRED_PERCENT / fillable


@relation(
    cite("arithmetic", "one tank fills while the others finish", "definition"),
    empirical="tanks come in whole numbers: the count is rounded up",
)
def tanks_in_rotation(*, fill_days: FillDays, treat_days: TreatDays, rest_days: RestDays) -> TankCount:
    """Tanks that must take turns so that one is always ready to be filled.

    Parameters
    ----------
    fill_days : days for which one tank is filled [day]
    treat_days : days under air after filling [day]
    rest_days : days of settling, drawing off and emptying [day]

    Returns
    -------
    Tanks, a whole number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> tanks_in_rotation(fill_days=7.0, treat_days=14.0, rest_days=1.0)
    4
    """
    cycle: CycleDays = fill_days + treat_days + rest_days
    return math.ceil(cycle / fill_days)


@relation(cite("arithmetic", "first-order breakdown", "definition"))
def solids_left(*, first_solids: FirstSolids, rate: BreakdownRate, days: BreakdownDays) -> SolidsLeft:
    """Dry solids left in a batch after some days of first-order breakdown.

    Parameters
    ----------
    first_solids : dry solids at the start [kg]
    rate : first-order rate, from your own measurements [1/day]
    days : days of breakdown [day]

    Returns
    -------
    Dry solids left [kg].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The rate is an argument, for it differs with warmth, air and sludge. Part of the solids never breaks down, so over
    long times this is too hopeful. Measured: half or more of the solids gone (Delaide 2018).

    Examples
    --------
    >>> round(solids_left(first_solids=5.0, rate=0.10, days=14.0), 3)
    1.233
    """
    return first_solids * math.exp(-rate * days)


@relation(cite("arithmetic", "first-order breakdown", "definition"), cite("delaide2018", "half or more removed"))
def solids_broken_down(*, first_solids: FirstSolids, rate: BreakdownRate, days: BreakdownDays) -> BrokenDown:
    """Dry solids of a batch that are broken down after some days.

    Parameters
    ----------
    first_solids : dry solids at the start [kg]
    rate : first-order rate, from your own measurements [1/day]
    days : days of breakdown [day]

    Returns
    -------
    Dry solids broken down [kg].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(solids_broken_down(first_solids=5.0, rate=0.10, days=14.0), 3)
    3.767
    """
    left: SolidsLeft = solids_left(first_solids=first_solids, rate=rate, days=days)
    return first_solids - left


@relation(cite("arithmetic", "first-order breakdown, turned round", "definition"))
def days_to_break_down(*, share: BreakdownShare, rate: BreakdownRate) -> BreakdownDays:
    """Days until a share of the solids is broken down.

    Parameters
    ----------
    share : share to be broken down [percent]
    rate : first-order rate, from your own measurements [1/day]

    Returns
    -------
    Days [day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(days_to_break_down(share=50.0, rate=0.10), 2)
    6.93
    """
    return -math.log(1 - share / HUNDRED_PERCENT) / rate


@relation(cite("arithmetic", "share of a volume", "definition"))
def settled_share(*, settled_volume: SettledVolume, sample_volume: SampleVolume) -> SettledShare:
    """Share of a batch that settles as sludge, read off a sample in a cylinder or cone.

    Parameters
    ----------
    settled_volume : sludge at the bottom after the time chosen [mL]
    sample_volume : mixed sample poured in [mL]

    Returns
    -------
    Share that settles [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Mix the batch well before the sample is drawn, outdoors, and note the minutes of settling beside the number.

    Examples
    --------
    >>> settled_share(settled_volume=250.0, sample_volume=1000.0)
    25.0
    """
    return HUNDRED_PERCENT * settled_volume / sample_volume


@relation(cite("arithmetic", "clear water of a batch, one batch each filling time", "definition"))
def weekly_draw_off(*, batch: BatchLitres, settled: SettledShare, fill_days: FillDays) -> WeeklyDraw:
    """Clear water that tanks in rotation give back in a week.

    Parameters
    ----------
    batch : sludge of one batch [L]
    settled : share of the batch that settles as sludge after the air is turned off [percent]
    fill_days : days for which one tank is filled: one batch is ready each time [day]

    Returns
    -------
    Clear water in a week [L/week].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Settle for hours, not overnight: without air the sludge turns foul and gives off hydrogen sulphide. Check
    ammonia and nitrite before the water goes back to fish, and give it slowly.

    Examples
    --------
    >>> weekly_draw_off(batch=350.0, settled=20.0, fill_days=7.0)
    280.0
    """
    clear: ClearWater = batch * (HUNDRED_PERCENT - settled) / HUNDRED_PERCENT
    return clear * DAYS_PER_WEEK / fill_days


@relation(cite("arithmetic", "shares of a mass", "definition"))
def sludge_nitrogen(
    *, sludge: SludgeLitres, sludge_solids: SludgeSolids, solids_nitrogen: SolidsNitrogen,
    sludge_density: SludgeDensity = 1000.0,
) -> SludgeNitrogen:
    """Nitrogen in an amount of sludge.

    Parameters
    ----------
    sludge : sludge [L]
    sludge_solids : dry solids in the sludge [percent of mass]
    solids_nitrogen : nitrogen in the dry solids, from an analysis [percent]
    sludge_density : mass of a litre of sludge; thin sludge weighs as much as water [g/L]

    Returns
    -------
    Nitrogen [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> sludge_nitrogen(sludge=100.0, sludge_solids=2.0, solids_nitrogen=4.0)
    80.0
    """
    strength: SludgeStrength = sludge_density * sludge_solids / HUNDRED_PERCENT
    return sludge * strength * solids_nitrogen / HUNDRED_PERCENT


@relation(cite("thompson_citrus", "0.4 to 0.55 lb of nitrogen a tree a year"))
def trees_for_sludge(
    *, sludge_nitrogen: SludgeNitrogen, available: AvailableShare, nitrogen_rate: NitrogenRate
) -> TreeCount:
    """Trees that the nitrogen of a season's sludge can feed.

    Parameters
    ----------
    sludge_nitrogen : nitrogen in the sludge of the season [g]
    available : share of it that plants get in the season [percent]
    nitrogen_rate : nitrogen that a tree may get in the season [g/tree]

    Returns
    -------
    Trees, before rounding down [tree].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Field oranges yielded most at 180 to 250 g of nitrogen a tree a year; a tree in a pot takes a fraction, by its size.
    Spread on soil under non-edible parts only, wash hands, and follow the local rules on sludge and manure.

    Examples
    --------
    >>> trees_for_sludge(sludge_nitrogen=8000.0, available=50.0, nitrogen_rate=40.0)
    100.0
    """
    nitrogen: AvailableNitrogen = sludge_nitrogen * available / HUNDRED_PERCENT
    return nitrogen / nitrogen_rate


@relation(cite("arithmetic", "rate over strength", "definition"))
def sludge_for_tree(
    *, nitrogen_rate: NitrogenRate, nitrogen_strength: NitrogenStrength, available: AvailableShare
) -> SludgePerTree:
    """Sludge that one potted tree may get in a season.

    Parameters
    ----------
    nitrogen_rate : nitrogen that the tree may get in the season [g/tree]
    nitrogen_strength : nitrogen in a litre of sludge [g/L]
    available : share of it that plants get in the season [percent]

    Returns
    -------
    Sludge for one tree [L/tree].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Give it in many small parts: thick sludge seals the soil of a pot, and what runs out below is a discharge.

    Examples
    --------
    >>> sludge_for_tree(nitrogen_rate=40.0, nitrogen_strength=0.8, available=50.0)
    100.0
    """
    return nitrogen_rate * HUNDRED_PERCENT / (nitrogen_strength * available)
