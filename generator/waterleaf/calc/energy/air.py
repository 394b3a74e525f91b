"""Ventilation: how much air rises through side and roof vents by its own warmth, and how much is needed."""

import math
from typing import Annotated, Final

from waterleaf.calc.energy.warmth import AIR_HEAT, AirChanges, HouseVolume, InsideTemperature
from waterleaf.calc.loop.pipe import KELVIN_OFFSET
from waterleaf.calc.loop.turnover import GRAVITY
from waterleaf.calc.quantity import Constant, Quantity, cite, relation

SECONDS_PER_HOUR: Final = Constant(
    3600, symbol="3600", unit="s/hour", name="seconds in an hour",
    source=cite("arithmetic", "definition of the unit", "definition"),
)

SideVents = Annotated[float, Quantity("A_side", "m^2", "free opening of the side vents", 0.001, 10_000)]
RoofVents = Annotated[float, Quantity("A_roof", "m^2", "free opening of the roof vents", 0.001, 10_000)]
VentArea = Annotated[float, Quantity("A", "m^2", "effective area of side and roof vents", 0.0001, 10_000)]
VentHeight = Annotated[float, Quantity("h", "m", "height from middle of side vents to middle of roof vents", 0.05, 50)]
TemperatureRise = Annotated[float, Quantity("ΔT", "K", "inside minus outside temperature", 0.05, 60)]
VentDischarge = Annotated[
    float,
    Quantity(
        "C", "", "discharge coefficient of a vent", 0.1, 1,
        basis="about 0.6 for an open vent, less behind a screen",
    ),
]
Airflow = Annotated[float, Quantity("Q", "m^3/hour", "airflow", 0.01, 100_000_000)]
RisingSpeed = Annotated[float, Quantity("v", "m/s", "speed of the air without losses", 0)]
SurplusHeat = Annotated[float, Quantity("H", "W", "heat to be carried off", 0.1, 1_000_000_000)]


@relation(
    cite("arithmetic", "two openings in series share the pressure", "computed"),
    cite("boulard1997", "side and roof vents", "memory"),
)
def stack_vent_area(*, side_vents: SideVents, roof_vents: RoofVents) -> VentArea:
    """Effective area of side and roof vents that the same air passes one after the other.

    Parameters
    ----------
    side_vents : free opening of the side vents [m^2]
    roof_vents : free opening of the roof vents [m^2]

    Returns
    -------
    Effective area, smaller than either [m^2].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The smaller opening rules: doubling the larger one helps little.

    Examples
    --------
    >>> stack_vent_area(side_vents=3.0, roof_vents=4.0)
    2.4
    """
    return side_vents * roof_vents / math.sqrt(side_vents**2 + roof_vents**2)


@relation(cite("ashrae1997", "page 25.13, equation 37"), empirical="the absolute temperature inside enters")
def stack_airflow(
    *, vent_area: VentArea, vent_height: VentHeight, temperature_rise: TemperatureRise,
    inside_temperature: InsideTemperature, discharge: VentDischarge,
) -> Airflow:
    """Air that rises through a warm house by stack effect, with no wind.

    Parameters
    ----------
    vent_area : effective area of side and roof vents [m^2]
    vent_height : height from the middle of the side vents to the middle of the roof vents [m]
    temperature_rise : inside minus outside temperature [K]
    inside_temperature : temperature inside [degC]
    discharge : discharge coefficient of a vent

    Returns
    -------
    Airflow [m^3/hour].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The source measures the height from one opening to the level of equal pressure; with both openings in the effective
    area, the height is that between them. Wind adds to it, or works against it.

    Examples
    --------
    >>> round(stack_airflow(vent_area=2.4, vent_height=2.0, temperature_rise=5.0, inside_temperature=25.0,
    ...                     discharge=0.6))
    4205
    """
    speed: RisingSpeed = math.sqrt(
        2 * GRAVITY * vent_height * temperature_rise / (inside_temperature + KELVIN_OFFSET)
    )
    return discharge * vent_area * speed * SECONDS_PER_HOUR


@relation(cite("ashrae1997", "page 25.13, equation 37"), empirical="the absolute temperature inside enters")
def vent_area_for_airflow(
    *, airflow: Airflow, vent_height: VentHeight, temperature_rise: TemperatureRise,
    inside_temperature: InsideTemperature, discharge: VentDischarge,
) -> VentArea:
    """Effective vent area through which a wished airflow rises by stack effect.

    Parameters
    ----------
    airflow : wished airflow [m^3/hour]
    vent_height : height from the middle of the side vents to the middle of the roof vents [m]
    temperature_rise : inside minus outside temperature that is bearable [K]
    inside_temperature : temperature inside [degC]
    discharge : discharge coefficient of a vent

    Returns
    -------
    Effective area; equal side and roof vents need 1.41 times as much each [m^2].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(vent_area_for_airflow(airflow=4205.0, vent_height=2.0, temperature_rise=5.0, inside_temperature=25.0,
    ...                             discharge=0.6), 1)
    2.4
    """
    speed: RisingSpeed = math.sqrt(
        2 * GRAVITY * vent_height * temperature_rise / (inside_temperature + KELVIN_OFFSET)
    )
    return airflow / (discharge * speed * SECONDS_PER_HOUR)


@relation(cite("ashrae1997", "page 25.13, equation 38"), empirical="a fit to measured openings")
def two_way_discharge(*, temperature_rise: TemperatureRise) -> VentDischarge:
    """Discharge coefficient of a single opening in which warm air leaves above and cold air enters below.

    Parameters
    ----------
    temperature_rise : inside minus outside temperature [K]

    Returns
    -------
    Discharge coefficient, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    For one opening at one height. Where air enters below and leaves above, take the coefficient of a plain opening.

    Examples
    --------
    >>> round(two_way_discharge(temperature_rise=10.0), 3)
    0.445
    """
    return 0.40 + 0.0045 * temperature_rise


@relation(cite("arithmetic", "flow over volume", "definition"))
def air_changes(*, airflow: Airflow, house_volume: HouseVolume) -> AirChanges:
    """Times an hour that a flow replaces the air of a house.

    Parameters
    ----------
    airflow : airflow [m^3/hour]
    house_volume : air in the house [m^3]

    Returns
    -------
    Air changes an hour [1/hour].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> air_changes(airflow=12000.0, house_volume=600.0)
    20.0
    """
    return airflow / house_volume


@relation(cite("air_heat", "0.335 times flow times difference"))
def airflow_for_heat(*, surplus_heat: SurplusHeat, temperature_rise: TemperatureRise) -> Airflow:
    """Airflow that carries off a heat with a given rise of temperature.

    Parameters
    ----------
    surplus_heat : heat to be carried off, such as sun that neither plants nor water take up [W]
    temperature_rise : inside minus outside temperature that is bearable [K]

    Returns
    -------
    Airflow [m^3/hour].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(airflow_for_heat(surplus_heat=33500.0, temperature_rise=5.0), 6)
    20000.0
    """
    return surplus_heat / (AIR_HEAT * temperature_rise)
