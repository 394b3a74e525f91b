"""Water over time: how ammonia and nitrate come to rest, how long a limit is away, and how pH follows alkalinity."""

import math
from typing import Annotated

from waterleaf.calc.chemistry.filter import MILLIGRAMS_PER_GRAM
from waterleaf.calc.chemistry.nitrate import ExchangeWater, NitrateSurplus, SourceNitrate, steady_nitrate
from waterleaf.calc.common import HUNDRED_PERCENT, LITRES_PER_CUBIC_METRE
from waterleaf.calc.quantity import Quantity, cite, relation
from waterleaf.calc.solids.load import SystemVolume

DailyAmmonia = Annotated[float, Quantity("P_N", "g/day", "ammonia nitrogen that comes into the water a day", 0, 1e6)]
FirstAmmonia = Annotated[float, Quantity("C_0", "mg/L", "total ammonia at the start, as nitrogen", 0, 100)]
LaterAmmonia = Annotated[float, Quantity("C_t", "mg/L", "total ammonia after that time, as nitrogen", 0)]
RestAmmonia = Annotated[float, Quantity("C_rest", "mg/L", "total ammonia at which the water comes to rest", 0)]
FilterFlow = Annotated[float, Quantity("Q", "m^3/day", "water through the filter a day", 0.001, 1e7)]
FilterShare = Annotated[float, Quantity("E", "percent", "share of the ammonia removed in one pass", 1, 100)]
TurnoverRate = Annotated[float, Quantity("k", "1/day", "share of the ammonia that the filter takes a day", 0)]
Days = Annotated[float, Quantity("t", "day", "days that go by", 0, 4000)]
FirstNitrate = Annotated[float, Quantity("C_0", "mg/L", "nitrate nitrogen at the start", 0, 2000)]
RestNitrate = Annotated[float, Quantity("C_rest", "mg/L", "nitrate nitrogen at which the water comes to rest", 0, 1e8)]
LaterNitrate = Annotated[float, Quantity("C_t", "mg/L", "nitrate nitrogen after that time", 0, 1e8)]
NitrateLimit = Annotated[float, Quantity("C_lim", "mg/L", "nitrate nitrogen that shall not be passed", 0.1, 2000)]
WayDone = Annotated[float, Quantity("x", "percent", "part of the way to rest that is done")]
WayBefore = Annotated[float, Quantity("x", "percent", "part of the way to rest that is done", 0, 99.9)]
DaysToLimit = Annotated[float, Quantity("t", "day", "days until the limit", 0)]
FirstAlkalinity = Annotated[
    float, Quantity("A_0", "mg/L", "alkalinity at the start, as calcium carbonate", 0.01, 1000)
]
LaterAlkalinity = Annotated[float, Quantity("A_t", "mg/L", "alkalinity later, as calcium carbonate", 0.01, 1000)]
LaterAcidity = Annotated[float, Quantity("pH_t", "", "pH later")]
FirstAcidity = Annotated[float, Quantity("pH_0", "", "pH at the start", 4, 11)]
AcidityChange = Annotated[float, Quantity("d_pH", "", "change of pH")]


@relation(cite("arithmetic", "mass balance of a mixed tank and its filter, solved for time", "definition"))
def ammonia_after_days(
    *, daily_ammonia: DailyAmmonia, first_ammonia: FirstAmmonia, filter_flow: FilterFlow, filter_share: FilterShare,
    system_volume: SystemVolume, days: Days,
) -> LaterAmmonia:
    """Ammonia after some days, while a filter takes a fixed share of what passes it.

    Parameters
    ----------
    daily_ammonia : ammonia nitrogen that comes into the water a day [g/day]
    first_ammonia : total ammonia at the start, as nitrogen [mg/L]
    filter_flow : water through the filter a day [m^3/day]
    filter_share : share of the ammonia removed in one pass [percent]
    system_volume : water in the whole system [m^3]
    days : days that go by [day]

    Returns
    -------
    Total ammonia, as nitrogen [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Holds as long as the filter has bacteria enough; then its capacity, not its flow, is the limit. The value at rest is
    that of `held_ammonia`.

    Examples
    --------
    >>> round(ammonia_after_days(daily_ammonia=26.0, first_ammonia=2.0, filter_flow=86.4, filter_share=50.0,
    ...                          system_volume=9.0, days=30.0), 3)
    0.602
    """
    rate: TurnoverRate = filter_flow * filter_share / HUNDRED_PERCENT / system_volume
    rest: RestAmmonia = daily_ammonia / (rate * system_volume) * MILLIGRAMS_PER_GRAM / LITRES_PER_CUBIC_METRE
    return rest + (first_ammonia - rest) * math.exp(-rate * days)


@relation(cite("arithmetic", "mass balance of a mixed tank, solved for time", "definition"))
def nitrate_after_days(
    *, nitrate_surplus: NitrateSurplus, new_water: ExchangeWater, system_volume: SystemVolume,
    first_nitrate: FirstNitrate, days: Days, source_nitrate: SourceNitrate = 0.0,
) -> LaterNitrate:
    """Nitrate after some days, when the surplus leaves only with the water exchanged.

    Parameters
    ----------
    nitrate_surplus : nitrate nitrogen that no plant takes up [g/day]
    new_water : new water in a day, as much as leaves as water [L/day]
    system_volume : water in the whole system [m^3]
    first_nitrate : nitrate nitrogen at the start [mg/L]
    days : days that go by [day]
    source_nitrate : nitrate nitrogen in the new water [mg/L]

    Returns
    -------
    Nitrate nitrogen [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    After as many days as one volume takes to be exchanged, 63 % of the way to rest is done; after three times as many,
    95 %. Water lost as vapour takes no nitrate along and does not count.

    Examples
    --------
    >>> round(nitrate_after_days(nitrate_surplus=30.0, new_water=150.0, system_volume=10.0, first_nitrate=40.0,
    ...                          days=56.0), 1)
    130.9
    """
    rest: RestNitrate = steady_nitrate(
        nitrate_surplus=nitrate_surplus, new_water=new_water, source_nitrate=source_nitrate
    )
    rate: TurnoverRate = new_water / LITRES_PER_CUBIC_METRE / system_volume
    return rest + (first_nitrate - rest) * math.exp(-rate * days)


@relation(cite("arithmetic", "share of a difference", "definition"))
def way_to_limit(
    *, first_nitrate: FirstNitrate, nitrate_limit: NitrateLimit, rest_nitrate: RestNitrate
) -> WayDone:
    """Part of the way to rest that is done when the nitrate reaches a limit.

    Parameters
    ----------
    first_nitrate : nitrate nitrogen at the start [mg/L]
    nitrate_limit : nitrate nitrogen that shall not be passed [mg/L]
    rest_nitrate : nitrate nitrogen at which the water comes to rest [mg/L]

    Returns
    -------
    Part of the way; above one hundred, the limit is never reached [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> way_to_limit(first_nitrate=40.0, nitrate_limit=150.0, rest_nitrate=200.0)
    68.75
    """
    return HUNDRED_PERCENT * (nitrate_limit - first_nitrate) / (rest_nitrate - first_nitrate)


@relation(cite("arithmetic", "mass balance of a mixed tank, turned round", "definition"))
def days_on_the_way(*, way_done: WayBefore, new_water: ExchangeWater, system_volume: SystemVolume) -> DaysToLimit:
    """Days in which the water does a part of its way to rest.

    Parameters
    ----------
    way_done : part of the way to rest [percent]
    new_water : new water in a day, as much as leaves as water [L/day]
    system_volume : water in the whole system [m^3]

    Returns
    -------
    Days [day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The last tenth of the way takes as long as the first nine tenths.

    Examples
    --------
    >>> round(days_on_the_way(way_done=68.75, new_water=150.0, system_volume=10.0), 1)
    77.5
    """
    rate: TurnoverRate = new_water / LITRES_PER_CUBIC_METRE / system_volume
    return -math.log(1 - way_done / HUNDRED_PERCENT) / rate


@relation(cite("arithmetic", "law of mass action for carbonic acid, carbon dioxide held", "definition"))
def ph_after_alkalinity(
    *, first_ph: FirstAcidity, first_alkalinity: FirstAlkalinity, later_alkalinity: LaterAlkalinity
) -> LaterAcidity:
    """Value of pH after the alkalinity has changed, while aeration holds the carbon dioxide where it was.

    Parameters
    ----------
    first_ph : pH at the start
    first_alkalinity : alkalinity at the start, as calcium carbonate [mg/L]
    later_alkalinity : alkalinity later, as calcium carbonate [mg/L]

    Returns
    -------
    pH.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Half the alkalinity takes 0.3 off the pH, a tenth of it takes 1. Holds between about pH 6 and 8.3, where alkalinity
    is bicarbonate; a change of carbon dioxide shifts the pH as well.

    Examples
    --------
    >>> round(ph_after_alkalinity(first_ph=7.0, first_alkalinity=80.0, later_alkalinity=40.0), 2)
    6.7
    """
    change: AcidityChange = math.log10(later_alkalinity / first_alkalinity)
    return first_ph + change
