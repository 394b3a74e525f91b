"""Solids over time: how long a cone lasts without a flush, and how fast the water turns cloudy after that."""

import math
from typing import Annotated

from waterleaf.calc.common import HUNDRED_PERCENT, LITRES_PER_CUBIC_METRE
from waterleaf.calc.quantity import Constant, Quantity, cite, relation
from waterleaf.calc.solids.load import ConeVolume, SludgeSolids, SystemVolume

GRAMS_PER_LITRE: Constant = Constant(
    1000, symbol="1000", unit="g/L", name="mass of a litre of sludge, taken as that of water",
    source=cite("arithmetic", "a litre of water has a mass of a kilogram", "definition"),
)
MILLIGRAMS: Constant = Constant(
    1000, symbol="1000", unit="mg/g", name="milligrams in a gram",
    source=cite("arithmetic", "definition of the unit", "definition"),
)

StoredSolids = Annotated[float, Quantity("X_0", "g", "dry solids in the cone already", 0, 1e8)]
ConeSolids = Annotated[float, Quantity("X_max", "g", "dry solids that the cone holds", 0)]
KeptDaily = Annotated[float, Quantity("S_kept", "g/day", "dry solids that the settling tank keeps a day", 0.001, 1e7)]
DaysToFull = Annotated[float, Quantity("t_full", "day", "days until the cone is full")]
LooseDaily = Annotated[float, Quantity("S_loose", "g/day", "dry solids that stay in the water a day", 0.001, 1e7)]
SuspendedNow = Annotated[float, Quantity("C_0", "mg/L", "suspended solids now", 0, 5000)]
SuspendedLimit = Annotated[float, Quantity("C_lim", "mg/L", "suspended solids that shall not be passed", 1, 5000)]
CloudyDays = Annotated[float, Quantity("t_cloud", "day", "days until the water is too cloudy")]
CloudyRise = Annotated[float, Quantity("d_C", "mg/L/day", "rise of the suspended solids a day", 0)]
ClearingRate = Annotated[float, Quantity("k", "1/day", "share of the suspended solids that goes a day", 0.001, 50)]
SuspendedRest = Annotated[float, Quantity("C_rest", "mg/L", "suspended solids at rest", 0)]
GoneShare = Annotated[float, Quantity("x", "percent", "share that is broken down", 0.1, 99.9)]
GoneDays = Annotated[float, Quantity("t", "day", "days of breakdown", 0.1, 4000)]
GoneRate = Annotated[float, Quantity("k", "1/day", "first-order rate of breakdown", 0)]


@relation(cite("arithmetic", "room left over what comes in a day", "definition"))
def days_until_cone_full(
    *, cone_volume: ConeVolume, sludge_solids: SludgeSolids, stored_solids: StoredSolids, kept_solids: KeptDaily
) -> DaysToFull:
    """Days without a flush until the cone of a settling tank is full.

    Parameters
    ----------
    cone_volume : volume of the sludge cone [L]
    sludge_solids : solids content of the sludge [percent]
    stored_solids : dry solids in the cone already [g]
    kept_solids : dry solids that the settling tank keeps a day [g/day]

    Returns
    -------
    Days; below zero where the cone is overfull already [day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    A full cone keeps nothing more: what comes in goes out again. Foul sludge gives off gas that numbs the nose before
    it kills.

    Examples
    --------
    >>> round(days_until_cone_full(cone_volume=40.0, sludge_solids=1.2, stored_solids=0.0, kept_solids=156.0), 2)
    3.08
    """
    room: ConeSolids = cone_volume * GRAMS_PER_LITRE * sludge_solids / HUNDRED_PERCENT
    return (room - stored_solids) / kept_solids


@relation(cite("arithmetic", "mass balance of the water", "definition"))
def days_until_cloudy(
    *, suspended_now: SuspendedNow, suspended_limit: SuspendedLimit, loose_solids: LooseDaily,
    system_volume: SystemVolume,
) -> CloudyDays:
    """Days until suspended solids reach a limit, while a day's solids stay in the water.

    Parameters
    ----------
    suspended_now : suspended solids now [mg/L]
    suspended_limit : suspended solids that shall not be passed [mg/L]
    loose_solids : dry solids that stay in the water a day [g/day]
    system_volume : water in the whole system [m^3]

    Returns
    -------
    Days; below zero where the limit is passed already [day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The worst case: breakdown and settling in other places are left out, and make it a little longer.

    Examples
    --------
    >>> days_until_cloudy(suspended_now=10.0, suspended_limit=40.0, loose_solids=180.0, system_volume=9.0)
    1.5
    """
    rise: CloudyRise = loose_solids * MILLIGRAMS / (system_volume * LITRES_PER_CUBIC_METRE)
    return (suspended_limit - suspended_now) / rise


@relation(cite("arithmetic", "mass balance of the water at rest", "definition"))
def suspended_at_rest(
    *, loose_solids: LooseDaily, clearing_rate: ClearingRate, system_volume: SystemVolume
) -> SuspendedRest:
    """Suspended solids at which the water comes to rest, when a fixed share of them goes every day.

    Parameters
    ----------
    loose_solids : dry solids that stay in the water a day [g/day]
    clearing_rate : share of the suspended solids that breaks down, settles or leaves a day [1/day]
    system_volume : water in the whole system [m^3]

    Returns
    -------
    Suspended solids [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(suspended_at_rest(loose_solids=22.0, clearing_rate=0.4, system_volume=9.0), 1)
    6.1
    """
    return loose_solids * MILLIGRAMS / (clearing_rate * system_volume * LITRES_PER_CUBIC_METRE)


@relation(cite("arithmetic", "first-order breakdown, turned round", "definition"))
def breakdown_rate(*, share: GoneShare, days: GoneDays) -> GoneRate:
    """First-order rate at which a share of something breaks down in some days.

    Parameters
    ----------
    share : share that is broken down [percent]
    days : days of breakdown [day]

    Returns
    -------
    Rate [1/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(breakdown_rate(share=75.34, days=14.0), 3)
    0.1
    """
    return -math.log(1 - share / HUNDRED_PERCENT) / days
