"""Energy: what a house loses to the cold."""

import math
from typing import Annotated, Final

from waterleaf.calc.common import HOURS_PER_DAY, HUNDRED_PERCENT
from waterleaf.calc.loop.power import WATTS_PER_KILOWATT
from waterleaf.calc.quantity import Constant, Quantity, cite, relation

AIR_HEAT: Final = Constant(
    0.335, symbol="c_air", unit="W*hour/m^3/K", name="heat that a cubic metre of air takes up for each degree",
    source=cite("air_heat", "1.2 kg/m3 times 1,005 J/kg/K over 3,600"), low=0.33, high=0.34,
)
WATER_HEAT: Final = Constant(
    4.186, symbol="c_water", unit="kJ/kg/K", name="heat that a kilogram of water takes up for each degree",
    source=cite("libretexts_heat", "4,186 J for a kilogram and a degree"), low=4.178, high=4.2,
)
KILOJOULES_PER_KILOWATT_HOUR: Final = Constant(
    3600, symbol="3600", unit="kJ/kWh", name="kilojoules in a kilowatt hour",
    source=cite("arithmetic", "definition of the unit", "definition"),
)
US_U_VALUE: Final = Constant(
    5.678263, symbol="5.678263", unit="W*hour*ft^2*delta_degF/m^2/K/Btu", name="US U-value in SI units",
    source=cite("arithmetic", "1,055.056 J, 3,600 s, 0.3048 m and 5/9 K", "definition"),
)

ThermalResistance = Annotated[float, Quantity("R", "m^2*K/W", "thermal resistance of the cover", 0.01, 20)]
UValue = Annotated[float, Quantity("U", "W/m^2/K", "heat that passes a square metre for each degree", 0.05, 100)]
UsUValue = Annotated[float, Quantity("U_US", "Btu/hour/ft^2/delta_degF", "U-value in US units", 0.01, 20)]
CoverArea = Annotated[float, Quantity("A", "m^2", "area of the cover, roof and walls", 0.1, 1_000_000)]
InsideTemperature = Annotated[float, Quantity("T_in", "degC", "temperature inside", -10, 50)]
OutsideTemperature = Annotated[float, Quantity("T_out", "degC", "temperature outside", -60, 50)]
CoverLoss = Annotated[float, Quantity("Q_cover", "W", "heat lost through the cover")]
AirLoss = Annotated[float, Quantity("Q_air", "W", "heat lost with the air that leaks")]
HeatLoss = Annotated[float, Quantity("Q", "W", "heat loss")]
CertainLoss = Annotated[float, Quantity("Q_cover", "W", "heat lost through the cover", 0.1, 100_000_000)]
Allowance = Annotated[float, Quantity("p", "percent", "allowance for leaks and wind", 0, 100)]
HouseVolume = Annotated[float, Quantity("V", "m^3", "air in the house", 0.1, 1_000_000)]
AirChanges = Annotated[
    float,
    Quantity(
        "N", "1/hour", "air changes an hour", 0.05, 300,
        basis="leaks run from 0.5 to 4 an hour, wide-open vents reach a hundred or more",
    ),
]
HouseLength = Annotated[float, Quantity("L", "m", "length of the house", 0.5, 500)]
HouseWidth = Annotated[float, Quantity("W", "m", "width of the house", 0.5, 100)]
Eave = Annotated[float, Quantity("h_eave", "m", "height of the eave", 0.2, 20)]
Rise = Annotated[float, Quantity("h_rise", "m", "rise of the roof from eave to ridge", 0.05, 20)]
Slope = Annotated[float, Quantity("s", "m", "length of one slope of the roof", 0.1, 100)]
DegreeDays = Annotated[float, Quantity("D", "K*day", "heating degree days of the season", 1, 15_000)]
SeasonHeat = Annotated[float, Quantity("E", "kWh", "heat lost over the season", 0)]
BareLoss = Annotated[float, Quantity("Q_1", "W", "heat loss before", 0.001, 100_000_000)]
CurtainLoss = Annotated[float, Quantity("Q_2", "W", "heat loss after", 0, 100_000_000)]
Saving = Annotated[float, Quantity("p", "percent", "heat saved")]


@relation(cite("arithmetic", "U is one over R", "definition"), cite("greenhousegab", "R-values of panels"))
def u_value_from_resistance(*, resistance: ThermalResistance) -> UValue:
    """U-value of a cover from its thermal resistance (R-value).

    Parameters
    ----------
    resistance : thermal resistance in SI units [m^2*K/W]

    Returns
    -------
    U-value [W/m^2/K].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    An R-value printed in the United States is in hour ft2 F/Btu and about 5.7 times the SI figure. Panels of one name
    differ: twin wall is printed from R 1.54 (6 mm) to 1.69 (8 mm), and U from 0.53 to 0.65 in US units.

    Examples
    --------
    >>> u_value_from_resistance(resistance=0.25)
    4.0
    """
    return 1 / resistance


@relation(cite("arithmetic", "conversion of units", "definition"))
def u_value_from_us(*, us_u_value: UsUValue) -> UValue:
    """U-value in SI units from one printed in US units.

    Parameters
    ----------
    us_u_value : U-value as printed [Btu/hour/ft^2/delta_degF]

    Returns
    -------
    U-value [W/m^2/K].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(u_value_from_us(us_u_value=0.7), 2)
    3.97
    """
    return US_U_VALUE * us_u_value


@relation(cite("uga_heating", "Q = U A (Ti - To)"))
def cover_heat_loss(
    *, u_value: UValue, cover_area: CoverArea, inside_temperature: InsideTemperature,
    outside_temperature: OutsideTemperature,
) -> CoverLoss:
    """Heat that a house loses through its cover.

    Parameters
    ----------
    u_value : U-value of the cover [W/m^2/K]
    cover_area : area of roof, walls and gables, not of the floor [m^2]
    inside_temperature : temperature inside [degC]
    outside_temperature : temperature outside [degC]

    Returns
    -------
    Heat loss; negative when it is warmer outside [W].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(cover_heat_loss(u_value=4.0, cover_area=100.0, inside_temperature=15.0, outside_temperature=-5.0), 6)
    8000.0
    """
    return u_value * cover_area * (inside_temperature - outside_temperature)


@relation(cite("air_heat", "0.335 times flow times difference"))
def leakage_heat_loss(
    *, house_volume: HouseVolume, air_changes: AirChanges, inside_temperature: InsideTemperature,
    outside_temperature: OutsideTemperature,
) -> AirLoss:
    """Heat that a house loses with the air that leaks out of it.

    Parameters
    ----------
    house_volume : air in the house [m^3]
    air_changes : times an hour that this air is replaced [1/hour]
    inside_temperature : temperature inside [degC]
    outside_temperature : temperature outside [degC]

    Returns
    -------
    Heat loss; negative when it is warmer outside [W].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Sources use 0.33 to 0.335. A sealed house saves heat and keeps in damp and the fumes of a burner: a burner needs
    its own air and flue, as the local code asks.

    Examples
    --------
    >>> round(leakage_heat_loss(house_volume=100.0, air_changes=1.0, inside_temperature=15.0,
    ...                         outside_temperature=5.0), 6)
    335.0
    """
    return AIR_HEAT * air_changes * house_volume * (inside_temperature - outside_temperature)


@relation(cite("uga_heating", "Q = U A (Ti - To)"), cite("air_heat", "0.335 times flow times difference"))
def house_heat_loss(
    *, u_value: UValue, cover_area: CoverArea, house_volume: HouseVolume, air_changes: AirChanges,
    inside_temperature: InsideTemperature, outside_temperature: OutsideTemperature,
) -> HeatLoss:
    """Heat that a house loses through its cover and with leaking air.

    Parameters
    ----------
    u_value : U-value of the cover [W/m^2/K]
    cover_area : area of roof, walls and gables [m^2]
    house_volume : air in the house [m^3]
    air_changes : air changes an hour [1/hour]
    inside_temperature : temperature inside [degC]
    outside_temperature : temperature outside [degC]

    Returns
    -------
    Heat loss [W].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(house_heat_loss(u_value=3.97, cover_area=360.7, house_volume=634.5, air_changes=1.0,
    ...                       inside_temperature=15.0, outside_temperature=-10.0) / 1000, 1)
    41.1
    """
    cover: CoverLoss = cover_heat_loss(
        u_value=u_value, cover_area=cover_area, inside_temperature=inside_temperature,
        outside_temperature=outside_temperature,
    )
    leakage: AirLoss = leakage_heat_loss(
        house_volume=house_volume, air_changes=air_changes, inside_temperature=inside_temperature,
        outside_temperature=outside_temperature,
    )
    return cover + leakage


@relation(cite("trade", "leaks and wind as 10 to 25 % of the loss through the cover", "common practice"))
def loss_with_allowance(*, cover_loss: CertainLoss, allowance: Allowance) -> HeatLoss:
    """Heat loss when leaks and wind are added as a percentage.

    Parameters
    ----------
    cover_loss : heat lost through the cover [W]
    allowance : allowance for leaks and wind [percent]

    Returns
    -------
    Heat loss [W].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Sources differ: 10 to 25 % of the cover loss, or air changes by the hour as in `leakage_heat_loss`.

    Examples
    --------
    >>> round(loss_with_allowance(cover_loss=94080.0, allowance=15.0), 6)
    108192.0
    """
    return cover_loss * (HUNDRED_PERCENT + allowance) / HUNDRED_PERCENT


@relation(cite("arithmetic", "right triangle of half width and rise", "definition"))
def roof_slope(*, house_width: HouseWidth, rise: Rise) -> Slope:
    """Length of one slope of a gable roof, from eave to ridge.

    Parameters
    ----------
    house_width : width of the house [m]
    rise : rise of the roof from eave to ridge [m]

    Returns
    -------
    Length of the slope [m].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> roof_slope(house_width=8.0, rise=3.0)
    5.0
    """
    return math.sqrt((house_width / 2) ** 2 + rise**2)


@relation(cite("arithmetic", "two slopes, two walls, two gable ends", "definition"))
def gable_cover_area(*, house_length: HouseLength, house_width: HouseWidth, eave: Eave, rise: Rise) -> CoverArea:
    """Cover of a house with a gable roof: both slopes, both walls, both ends.

    Parameters
    ----------
    house_length : length of the house [m]
    house_width : width of the house [m]
    eave : height of the eave [m]
    rise : rise of the roof from eave to ridge [m]

    Returns
    -------
    Area of the cover [m^2].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> gable_cover_area(house_length=10.0, house_width=8.0, eave=2.0, rise=3.0)
    196.0
    """
    slope: Slope = roof_slope(house_width=house_width, rise=rise)
    return 2 * slope * house_length + 2 * eave * house_length + 2 * house_width * (eave + rise / 2)


@relation(cite("arithmetic", "gable area times length", "definition"))
def gable_house_volume(*, house_length: HouseLength, house_width: HouseWidth, eave: Eave, rise: Rise) -> HouseVolume:
    """Air in a house with a gable roof.

    Parameters
    ----------
    house_length : length of the house [m]
    house_width : width of the house [m]
    eave : height of the eave [m]
    rise : rise of the roof from eave to ridge [m]

    Returns
    -------
    Volume [m^3].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> gable_house_volume(house_length=10.0, house_width=8.0, eave=2.0, rise=3.0)
    280.0
    """
    return house_width * house_length * (eave + rise / 2)


@relation(cite("arithmetic", "loss for each degree times degree days", "computed"))
def season_heat(*, u_value: UValue, cover_area: CoverArea, heating_degree_days: DegreeDays) -> SeasonHeat:
    """Heat that a cover loses over a season.

    Parameters
    ----------
    u_value : U-value of the cover [W/m^2/K]
    cover_area : area of the cover [m^2]
    heating_degree_days : degree days of the season at the temperature kept inside [K*day]

    Returns
    -------
    Heat [kWh].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Leaves out leaks and the gain from the sun, which pull in opposite directions.

    Examples
    --------
    >>> round(season_heat(u_value=4.0, cover_area=100.0, heating_degree_days=2500.0), 6)
    24000.0
    """
    return u_value * cover_area * heating_degree_days * HOURS_PER_DAY / WATTS_PER_KILOWATT


@relation(cite("arithmetic", "share of the loss before", "definition"), cite("mihara1979", "saving by a second layer"))
def heat_saving(*, loss_before: BareLoss, loss_after: CurtainLoss) -> Saving:
    """Heat saved by a change, as a percentage of the loss before it.

    Parameters
    ----------
    loss_before : heat loss before [W]
    loss_after : heat loss after [W]

    Returns
    -------
    Saving; negative where the loss grew [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> heat_saving(loss_before=4.0, loss_after=3.0)
    25.0
    """
    return HUNDRED_PERCENT * (loss_before - loss_after) / loss_before
