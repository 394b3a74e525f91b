"""Warm water: heating it, what it gives to the air, and what a kilogram of produce costs in water and energy."""

from typing import Annotated

from waterleaf.calc.common import LITRES_PER_CUBIC_METRE
from waterleaf.calc.energy.warmth import KILOJOULES_PER_KILOWATT_HOUR, WATER_HEAT
from waterleaf.calc.loop.turnover import WATER_DENSITY
from waterleaf.calc.quantity import Quantity, cite, relation

WaterVolume = Annotated[float, Quantity("V", "L", "water to be warmed", 0.1, 100_000_000)]
TemperatureChange = Annotated[float, Quantity("ΔT", "K", "change of temperature", 0.01, 60)]
Heat = Annotated[float, Quantity("E", "kWh", "heat", 0.00001, 1_000_000_000)]
WarmUpTime = Annotated[float, Quantity("t", "hour", "time allowed", 0.05, 10_000)]
HeaterPower = Annotated[float, Quantity("P", "kW", "power of the heater", 0)]
SurfaceArea = Annotated[float, Quantity("A", "m^2", "water surface", 0.01, 100_000)]
SurfaceCoefficient = Annotated[
    float,
    Quantity(
        "h", "W/m^2/K", "heat that a square metre of surface gives for each degree", 0.5, 200,
        basis="measured on sheltered water at 11, on open water at 19 to 29",
    ),
]
WaterTemperature = Annotated[float, Quantity("T_water", "degC", "temperature of the water", 0, 60)]
AirTemperature = Annotated[float, Quantity("T_air", "degC", "temperature of the air", -40, 60)]
HeatGain = Annotated[float, Quantity("Q_gain", "W", "heat that the air gains from the water")]
WaterUsed = Annotated[float, Quantity("V_used", "L", "water used", 0, 10_000_000_000)]
EnergyUsed = Annotated[float, Quantity("E_used", "kWh", "energy used", 0, 10_000_000_000)]
Produce = Annotated[float, Quantity("m", "kg", "produce sold or weighed", 0.001, 1_000_000_000)]
WaterFootprint = Annotated[float, Quantity("w", "L/kg", "water for a kilogram of produce", 0)]
EnergyFootprint = Annotated[float, Quantity("e", "kWh/kg", "energy for a kilogram of produce", 0)]
FirstFigure = Annotated[float, Quantity("x_1", "", "figure of the first method", 0, 1e12)]
SecondFigure = Annotated[float, Quantity("x_2", "", "figure of the second method", 1e-9, 1e12)]
TimesAsMuch = Annotated[float, Quantity("r", "", "first over second", 0)]


@relation(cite("libretexts_heat", "heat from mass, specific heat and change of temperature"))
def water_heating(*, water_volume: WaterVolume, temperature_change: TemperatureChange) -> Heat:
    """Heat that warms water by some degrees, or that it gives up in cooling by them.

    Parameters
    ----------
    water_volume : water to be warmed [L]
    temperature_change : rise or fall of its temperature [K]

    Returns
    -------
    Heat [kWh].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    An electric heater stands in the water: ground-fault device, drip loop, and out of the water only when switched
    off; the local electrical code decides.

    Examples
    --------
    >>> round(water_heating(water_volume=1000.0, temperature_change=10.0), 2)
    11.63
    """
    return (
        water_volume * WATER_DENSITY * WATER_HEAT * temperature_change
        / (LITRES_PER_CUBIC_METRE * KILOJOULES_PER_KILOWATT_HOUR)
    )


@relation(cite("libretexts_heat", "heat from mass, specific heat and change of temperature"))
def water_temperature_change(*, heat: Heat, water_volume: WaterVolume) -> TemperatureChange:
    """Degrees by which a heat warms water, or by which losing it cools water.

    Parameters
    ----------
    heat : heat given or lost [kWh]
    water_volume : water that takes or loses it [L]

    Returns
    -------
    Change of temperature [K].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(water_temperature_change(heat=11.63, water_volume=1000.0), 1)
    10.0
    """
    return heat * KILOJOULES_PER_KILOWATT_HOUR * LITRES_PER_CUBIC_METRE / (water_volume * WATER_DENSITY * WATER_HEAT)


@relation(cite("arithmetic", "energy over time", "definition"))
def water_heater_power(
    *, water_volume: WaterVolume, temperature_change: TemperatureChange, warm_up_time: WarmUpTime
) -> HeaterPower:
    """Power of a heater that warms water in a given time, losses left out.

    Parameters
    ----------
    water_volume : water to be warmed [L]
    temperature_change : rise of its temperature [K]
    warm_up_time : time allowed [hour]

    Returns
    -------
    Power [kW].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(water_heater_power(water_volume=1000.0, temperature_change=10.0, warm_up_time=10.0), 3)
    1.163
    """
    heat: Heat = water_heating(water_volume=water_volume, temperature_change=temperature_change)
    return heat / warm_up_time


@relation(cite("nrc_water_surface", "heat loss from open water in proportion to the difference of temperature"))
def water_to_air_gain(
    *, surface_area: SurfaceArea, surface_coefficient: SurfaceCoefficient, water_temperature: WaterTemperature,
    air_temperature: AirTemperature,
) -> HeatGain:
    """Heat that the air of a house gains from warm water.

    Parameters
    ----------
    surface_area : water surface not under rafts or lids [m^2]
    surface_coefficient : heat a square metre gives for each degree [W/m^2/K]
    water_temperature : temperature of the water [degC]
    air_temperature : temperature of the air [degC]

    Returns
    -------
    Heat gain; negative when the air is warmer [W].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    A sheltered lake measured 23.4 cal/cm2 a day for a degree (11.3 W/m2/K), open ones 40 to 60 (19 to 29). The figure
    lumps radiation, convection and evaporation, so it is an argument to be chosen, not a constant.

    Examples
    --------
    >>> water_to_air_gain(surface_area=20.0, surface_coefficient=10.0, water_temperature=25.0, air_temperature=15.0)
    2000.0
    """
    return surface_area * surface_coefficient * (water_temperature - air_temperature)


@relation(cite("barbosa2015", "water demand in litres a kilogram"))
def water_per_kilogram(*, water_used: WaterUsed, produce: Produce) -> WaterFootprint:
    """Water that a kilogram of produce takes.

    Parameters
    ----------
    water_used : water used over the period, by meter [L]
    produce : produce weighed over the same period [kg]

    Returns
    -------
    Water for a kilogram [L/kg].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> water_per_kilogram(water_used=820.0, produce=41.0)
    20.0
    """
    return water_used / produce


@relation(cite("barbosa2015", "energy demand in kilojoules a kilogram"))
def energy_per_kilogram(*, energy_used: EnergyUsed, produce: Produce) -> EnergyFootprint:
    """Energy that a kilogram of produce takes.

    Parameters
    ----------
    energy_used : electricity and fuel used over the period [kWh]
    produce : produce weighed over the same period [kg]

    Returns
    -------
    Energy for a kilogram [kWh/kg].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> energy_per_kilogram(energy_used=1000.0, produce=40.0)
    25.0
    """
    return energy_used / produce


@relation(cite("barbosa2015", "times as much by one method as by the other"))
def method_ratio(*, first: FirstFigure, second: SecondFigure) -> TimesAsMuch:
    """How many times as much one method takes or gives as another.

    Parameters
    ----------
    first : figure of the first method
    second : figure of the second method, in the same unit

    Returns
    -------
    First over second, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    "Ten times as much" is 900 % more, not 1,000 % more.

    Examples
    --------
    >>> round(method_ratio(first=41.0, second=3.9), 1)
    10.5
    """
    return first / second
