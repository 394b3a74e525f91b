"""The biofilter: what nitrification uses, how large the filter must be, how much water must pass it."""

from typing import Annotated, Final

from waterleaf.calc.chemistry.ammonia import AmmoniaLoad
from waterleaf.calc.chemistry.masses import (
    CALCIUM_CARBONATE,
    NITROGEN,
    OXYGEN,
)
from waterleaf.calc.common import (
    GRAMS_PER_KILOGRAM,
    HOURS_PER_DAY,
    HUNDRED_PERCENT,
    LITRES_PER_CUBIC_METRE,
    MINUTES_PER_HOUR,
)
from waterleaf.calc.feed.ration import DailyFeed
from waterleaf.calc.quantity import Constant, Quantity, cite, relation
from waterleaf.calc.solids.load import WaterFlow

MILLIGRAMS_PER_GRAM: Final = Constant(
    1000, symbol="1000", unit="mg/g", name="milligrams in a gram",
    source=cite("arithmetic", "definition of the unit", "definition"),
)

NitrifiedNitrogen = Annotated[float, Quantity("P_N", "g/day", "ammonia nitrified a day, as nitrogen", 0.001, 1e6)]
NitrificationOxygen = Annotated[float, Quantity("O_N", "g/day", "oxygen used by the nitrifying bacteria", 0, 1e7)]
OxygenRatio = Annotated[
    float, Quantity("q_O", "g/g", "oxygen for a gram of nitrogen", 3, 5, basis="published ratios lie near 4.2 to 4.6")
]
AlkalinityDemand = Annotated[
    float, Quantity("A", "g/day", "alkalinity used up a day, as calcium carbonate", 0.001, 1e7)
]
AlkalinityRatio = Annotated[
    float,
    Quantity("q_A", "g/g", "alkalinity for a gram of nitrogen", 5, 8, basis="published ratios run from 6.3 to 7.4"),
]
RemovalRate = Annotated[float, Quantity("r", "g/m^2/day", "ammonia removed by a square metre a day", 0.01, 10)]
VolumeRate = Annotated[float, Quantity("r_V", "g/m^3/day", "ammonia removed by a cubic metre a day", 1, 10_000)]
FilterArea = Annotated[float, Quantity("A_f", "m^2", "surface of the filter media", 0.001, 1e7)]
SpecificSurface = Annotated[float, Quantity("a", "m^2/m^3", "surface of a cubic metre of media", 10, 10_000)]
MediaVolume = Annotated[float, Quantity("V_m", "m^3", "volume of the filter media", 0.00001, 1e6)]
MediaLitres = Annotated[float, Quantity("V_m", "L", "volume of the filter media", 0.01, 1e6)]
AmmoniaPerFeed = Annotated[float, Quantity("g_N", "g/kg", "ammonia made from a kilogram of feed", 5, 80)]
MediaAmmonia = Annotated[float, Quantity("N_m", "g/day", "ammonia that the media can remove", 0)]
RateTemperature = Annotated[float, Quantity("T", "degC", "water temperature", 5, 40)]
ReferenceTemperature = Annotated[float, Quantity("T_ref", "degC", "temperature at which the rate was measured", 5, 40)]
RateBase = Annotated[float, Quantity("θ", "", "factor for each degree Celsius", 1, 1.2)]
RateFactor = Annotated[float, Quantity("k_T", "", "rate over the rate as measured", 0)]
MeasuredRate = Annotated[float, Quantity("r_ref", "g/m^2/day", "rate as measured", 0.01, 10)]
HeldAmmonia = Annotated[float, Quantity("C_TAN", "mg/L", "total ammonia in the tank, as nitrogen", 0.01, 50)]
FilterEfficiency = Annotated[float, Quantity("E", "percent", "share of the ammonia removed in one pass", 1, 100)]
RemovedAmmonia = Annotated[float, Quantity("C_rem", "mg/L", "ammonia removed from the water in one pass", 0)]


@relation(cite("iupac_weights", "NH4+ + 2 O2 = NO3- + 2 H+ + H2O, by molar masses", "computed"))
def nitrification_oxygen(*, nitrified: NitrifiedNitrogen) -> NitrificationOxygen:
    """Oxygen that the filter's bacteria use to turn ammonia into nitrate.

    Parameters
    ----------
    nitrified : ammonia nitrified in a day, as nitrogen [g/day]

    Returns
    -------
    Oxygen [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    4.57 g for each gram of nitrogen, all of it burnt for energy. Bacteria that also grow use a little less: see
    `nitrification_oxygen_with_growth`.

    Examples
    --------
    >>> round(nitrification_oxygen(nitrified=1.0), 2)
    4.57
    """
    return nitrified * 2 * OXYGEN / NITROGEN


@relation(cite("iupac_weights", "two equivalents of acid for each nitrogen, by molar masses", "computed"))
def nitrification_alkalinity(*, nitrified: NitrifiedNitrogen) -> AlkalinityDemand:
    """Alkalinity that nitrification uses up, counted as calcium carbonate.

    Parameters
    ----------
    nitrified : ammonia nitrified in a day, as nitrogen [g/day]

    Returns
    -------
    Alkalinity as calcium carbonate [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    7.14 g for each gram of nitrogen (7.145 exactly). Plants that take up nitrate give some of it back.

    Examples
    --------
    >>> round(nitrification_alkalinity(nitrified=1.0), 2)
    7.15
    """
    return nitrified * 2 * (CALCIUM_CARBONATE / 2) / NITROGEN


@relation(cite("ebeling2006", "4.18 g with cell growth", "memory"), cite("epa1975", "4.6 measured in the field"))
def nitrification_oxygen_with_growth(*, nitrified: NitrifiedNitrogen, oxygen_ratio: OxygenRatio) -> NitrificationOxygen:
    """Oxygen used by nitrifying bacteria at a ratio that allows for their growth.

    Parameters
    ----------
    nitrified : ammonia nitrified in a day, as nitrogen [g/day]
    oxygen_ratio : oxygen used for a gram of nitrogen [g/g]

    Returns
    -------
    Oxygen [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(nitrification_oxygen_with_growth(nitrified=58.88, oxygen_ratio=4.18), 1)
    246.1
    """
    return nitrified * oxygen_ratio


@relation(cite("ebeling2006", "7.05 g with cell growth", "memory"), cite("epa1975", "6.3 to 7.4 measured in the field"))
def nitrification_alkalinity_with_growth(
    *, nitrified: NitrifiedNitrogen, alkalinity_ratio: AlkalinityRatio
) -> AlkalinityDemand:
    """Alkalinity used up by nitrification at a ratio that allows for growth of the bacteria.

    Parameters
    ----------
    nitrified : ammonia nitrified in a day, as nitrogen [g/day]
    alkalinity_ratio : alkalinity used up for a gram of nitrogen [g/g]

    Returns
    -------
    Alkalinity as calcium carbonate [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(nitrification_alkalinity_with_growth(nitrified=58.88, alkalinity_ratio=7.05), 1)
    415.1
    """
    return nitrified * alkalinity_ratio


@relation(cite("somerville2014", "appendix 4, 0.57 g a square metre a day", "memory"))
def biofilter_area(*, ammonia_load: AmmoniaLoad, removal_rate: RemovalRate) -> FilterArea:
    """Surface of media on which bacteria can remove a day's ammonia.

    Parameters
    ----------
    ammonia_load : total ammonia made in a day, as nitrogen [g/day]
    removal_rate : ammonia removed by a square metre in a day [g/m^2/day]

    Returns
    -------
    Surface [m^2].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Published rates run from 0.2 to 2 g/m2/day (0.45 for a trickling filter, 0.57 by the FAO): the rate is an argument.
    Count load and rate in the same form, nitrogen or ammonia.

    Examples
    --------
    >>> round(biofilter_area(ammonia_load=7.5, removal_rate=0.57), 1)
    13.2
    """
    return ammonia_load / removal_rate


@relation(cite("somerville2014", "appendix 4, 300 m2 in a cubic metre of volcanic gravel", "memory"))
def media_volume_from_surface(*, filter_area: FilterArea, specific_surface: SpecificSurface) -> MediaVolume:
    """Volume of media that offers a wished surface.

    Parameters
    ----------
    filter_area : surface of the media [m^2]
    specific_surface : surface of a cubic metre of media [m^2/m^3]

    Returns
    -------
    Volume [m^3].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(media_volume_from_surface(filter_area=13.15, specific_surface=300.0), 4)
    0.0438
    """
    return filter_area / specific_surface


@relation(cite("guerdat2010", "removal by a cubic metre of media, three filters", "memory"))
def media_volume_from_rate(*, ammonia_load: AmmoniaLoad, volume_rate: VolumeRate) -> MediaVolume:
    """Volume of media that removes a day's ammonia, from its removal by volume.

    Parameters
    ----------
    ammonia_load : total ammonia made in a day, as nitrogen [g/day]
    volume_rate : ammonia removed by a cubic metre in a day [g/m^3/day]

    Returns
    -------
    Volume [m^3].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(media_volume_from_rate(ammonia_load=570.0, volume_rate=586.0), 3)
    0.973
    """
    return ammonia_load / volume_rate


@relation(cite("somerville2014", "appendix 4, feed for a litre of media", "memory"))
def feed_supported_by_media(
    *, media_volume: MediaLitres, specific_surface: SpecificSurface, removal_rate: RemovalRate,
    ammonia_per_feed: AmmoniaPerFeed,
) -> DailyFeed:
    """Feed whose ammonia a volume of media can remove.

    Parameters
    ----------
    media_volume : volume of the media [L]
    specific_surface : surface of a cubic metre of media [m^2/m^3]
    removal_rate : ammonia removed by a square metre in a day [g/m^2/day]
    ammonia_per_feed : ammonia made from a kilogram of feed [g/kg]

    Returns
    -------
    Feed [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(feed_supported_by_media(
    ...     media_volume=1.0, specific_surface=300.0, removal_rate=0.57, ammonia_per_feed=37.5), 2)
    4.56
    """
    ammonia: MediaAmmonia = media_volume / LITRES_PER_CUBIC_METRE * specific_surface * removal_rate
    return ammonia / ammonia_per_feed * GRAMS_PER_KILOGRAM


@relation(
    cite("rusten2006", "1.09 for each degree", "memory"),
    empirical="an exponential fitted to measured rates, counted in whole degrees",
)
def rate_at_temperature(
    *, measured_rate: MeasuredRate, temperature: RateTemperature, reference_temperature: ReferenceTemperature,
    rate_base: RateBase,
) -> RemovalRate:
    """Removal rate of a filter brought from one temperature to another.

    Parameters
    ----------
    measured_rate : rate as measured [g/m^2/day]
    temperature : water temperature [degC]
    reference_temperature : temperature at which the rate was measured [degC]
    rate_base : factor for each degree Celsius

    Returns
    -------
    Rate [g/m^2/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(rate_at_temperature(
    ...     measured_rate=1.0, temperature=25.0, reference_temperature=15.0, rate_base=1.09), 3)
    2.367
    """
    factor: RateFactor = rate_base ** (temperature - reference_temperature)
    return measured_rate * factor


@relation(cite("arithmetic", "mass balance of a tank and its filter", "definition"))
def recirculation_flow(
    *, ammonia_load: AmmoniaLoad, held_ammonia: HeldAmmonia, filter_efficiency: FilterEfficiency
) -> WaterFlow:
    """Flow through the filter that holds the ammonia of the tank at a wished level.

    Parameters
    ----------
    ammonia_load : total ammonia made in a day, as nitrogen [g/day]
    held_ammonia : total ammonia in the tank, as nitrogen [mg/L]
    filter_efficiency : share of the ammonia removed in one pass [percent]

    Returns
    -------
    Water flow [L/min].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(recirculation_flow(ammonia_load=570.0, held_ammonia=1.0, filter_efficiency=50.0))
    792
    """
    removed: RemovedAmmonia = held_ammonia * filter_efficiency / HUNDRED_PERCENT
    return ammonia_load * MILLIGRAMS_PER_GRAM / removed / (HOURS_PER_DAY * MINUTES_PER_HOUR)


@relation(cite("arithmetic", "mass balance of a tank and its filter", "definition"))
def held_ammonia(
    *, ammonia_load: AmmoniaLoad, water_flow: WaterFlow, filter_efficiency: FilterEfficiency
) -> HeldAmmonia:
    """Ammonia at which a tank settles, for a given flow through its filter.

    Parameters
    ----------
    ammonia_load : total ammonia made in a day, as nitrogen [g/day]
    water_flow : water through the filter [L/min]
    filter_efficiency : share of the ammonia removed in one pass [percent]

    Returns
    -------
    Total ammonia in the tank, as nitrogen [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(held_ammonia(ammonia_load=570.0, water_flow=792.0, filter_efficiency=50.0), 2)
    1.0
    """
    removed: RemovedAmmonia = ammonia_load * MILLIGRAMS_PER_GRAM / (water_flow * HOURS_PER_DAY * MINUTES_PER_HOUR)
    return removed / filter_efficiency * HUNDRED_PERCENT
