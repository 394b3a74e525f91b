"""Bringing oxygen back: aerators in the field, air from a blower, and the pressure it works against."""

from typing import Annotated, Final

from waterleaf.calc.air.demand import OxygenDemand
from waterleaf.calc.air.oxygen import AirPressure, WaterTemperature
from waterleaf.calc.chemistry.ammonia import KELVIN_OFFSET, AbsoluteTemperature
from waterleaf.calc.chemistry.masses import OXYGEN
from waterleaf.calc.common import (
    GRAMS_PER_KILOGRAM,
    HOURS_PER_DAY,
    HUNDRED_PERCENT,
    LITRES_PER_CUBIC_METRE,
    MINUTES_PER_HOUR,
)
from waterleaf.calc.quantity import Constant, Quantity, cite, relation

STANDARD_SATURATION: Final = Constant(
    9.09, symbol="C_20", unit="mg/L", name="oxygen at saturation at 20 degrees Celsius",
    source=cite("en25814", "table of saturation, 20 degrees"),
)
STANDARD_TEMPERATURE: Final = Constant(
    20, symbol="20", unit="", name="temperature of a standard aeration test",
    source=cite("aeration_standard", "20 degrees, no oxygen in the water, one atmosphere"),
)
OXYGEN_IN_AIR: Final = Constant(
    20.946, symbol="y_O2", unit="percent", name="oxygen in dry air, by volume",
    source=cite("iupac_goldbook", "composition of pure air"),
)
GAS_CONSTANT: Final = Constant(
    8.314462618, symbol="R", unit="J/mol/K", name="gas constant",
    source=cite("si2019", "exact since 2019, product of the Avogadro and Boltzmann constants", "definition"),
)
PASCALS_PER_KILOPASCAL: Final = Constant(
    1000, symbol="1000", unit="Pa/kPa", name="pascals in a kilopascal",
    source=cite("arithmetic", "definition of the unit", "definition"),
)
WATTS_PER_KILOWATT: Final = Constant(
    1000, symbol="1000", unit="W/kW", name="watts in a kilowatt",
    source=cite("arithmetic", "definition of the unit", "definition"),
)
GRAVITY: Final = Constant(
    9.80665, symbol="g", unit="m/s^2", name="standard acceleration of gravity",
    source=cite("us_standard_atmosphere", "gravity at sea level", "definition"),
)
WATER_DENSITY: Final = Constant(
    1000, symbol="ρ", unit="kg/m^3", name="density of water",
    source=cite("trade", "one kilogram a litre, at most 0.5 % too much up to 30 degrees", "common practice"),
    low=995, high=1000,
)

StandardEfficiency = Annotated[float, Quantity("SAE", "kg/kWh", "standard aeration efficiency", 0.1, 10)]
FieldEfficiency = Annotated[float, Quantity("FAE", "kg/kWh", "aeration efficiency in the field", 0.01, 10)]
StandardRate = Annotated[float, Quantity("SOTR", "kg/hour", "standard oxygen transfer rate", 0.001, 1000)]
FieldRate = Annotated[float, Quantity("OTR", "kg/hour", "oxygen transfer rate in the field", 0)]
FieldFactor = Annotated[float, Quantity("k_f", "", "field factor", 0.01, 2)]
TransferRatio = Annotated[float, Quantity("α", "", "transfer in this water over that in clean water", 0.3, 1.1)]
SaturationRatio = Annotated[float, Quantity("β", "", "saturation of this water over that of clean water", 0.8, 1)]
TransferBase = Annotated[float, Quantity("θ", "", "factor of the transfer for each degree", 1, 1.05)]
TransferWarmth = Annotated[float, Quantity("k_T", "", "transfer here over that at 20 degrees", 0)]
DrivingForce = Annotated[float, Quantity("D", "mg/L", "oxygen that the water still lacks", -60, 60)]
CleanSaturation = Annotated[float, Quantity("C_s", "mg/L", "oxygen at saturation in clean water here", 5, 15)]
HeldOxygen = Annotated[float, Quantity("C", "mg/L", "oxygen to be held in the water", 0, 12)]
Power = Annotated[float, Quantity("P", "W", "power of the aerator", 0, 1e9)]
AirTemperature = Annotated[float, Quantity("T", "degC", "air temperature", -20, 50)]
OxygenContent = Annotated[float, Quantity("ρ_O2", "g/m^3", "oxygen in a cubic metre of air", 100, 500)]
TransferEfficiency = Annotated[
    float, Quantity("e", "percent", "share of the oxygen blown in that dissolves", 0.5, 60)
]
AirFlow = Annotated[float, Quantity("Q_a", "L/min", "air flow", 0.01, 1e8)]
Outlets = Annotated[float, Quantity("n", "", "number of like outlets", 1, 10_000, whole=True)]
OutletFlow = Annotated[float, Quantity("q", "L/min", "flow through one outlet", 0.01, 100_000)]
CombinedFlow = Annotated[float, Quantity("Q", "L/min", "flow through all outlets", 0)]
Depth = Annotated[float, Quantity("H", "m", "depth of the air outlet below the surface", 0.01, 20)]
WaterPressure = Annotated[float, Quantity("p_w", "kPa", "pressure of the water above the outlet", 0, 500)]
PipeLoss = Annotated[float, Quantity("p_l", "kPa", "pressure lost in pipes and stones", 0, 50)]
BlowerPressure = Annotated[float, Quantity("p_b", "kPa", "pressure that the blower must reach", 0, 1000)]


@relation(
    cite("timmons_ebeling", "field correction of a standard aeration test", "memory"),
    empirical="the temperature factor is a power counted in whole degrees",
)
def field_factor(
    *, transfer_ratio: TransferRatio, saturation_ratio: SaturationRatio, transfer_base: TransferBase,
    temperature: WaterTemperature, clean_saturation: CleanSaturation, held_oxygen: HeldOxygen,
) -> FieldFactor:
    """Share of a standard aeration rate that is left in the tank.

    Parameters
    ----------
    transfer_ratio : transfer in this water over that in clean water (alpha)
    saturation_ratio : saturation of this water over that of clean water (beta)
    transfer_base : factor of the transfer for each degree (theta)
    temperature : water temperature [degC]
    clean_saturation : oxygen at saturation in clean water at this temperature and pressure [mg/L]
    held_oxygen : oxygen to be held in the water [mg/L]

    Returns
    -------
    Factor, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    A standard test runs in clean water without oxygen at 20 degrees; the nearer the tank is to saturation, the less an
    aerator brings. All three ratios depend on aerator and water and are arguments.

    Examples
    --------
    >>> round(field_factor(
    ...     transfer_ratio=1.0, saturation_ratio=1.0, transfer_base=1.024, temperature=20.0, clean_saturation=9.09,
    ...     held_oxygen=0.0), 3)
    1.0
    """
    warmth: TransferWarmth = transfer_base ** (temperature - STANDARD_TEMPERATURE)
    driving: DrivingForce = saturation_ratio * clean_saturation - held_oxygen
    return transfer_ratio * warmth * driving / STANDARD_SATURATION


@relation(cite("timmons_ebeling", "field correction of a standard aeration test", "memory"))
def field_aeration_efficiency(*, standard_efficiency: StandardEfficiency, field_factor: FieldFactor) -> FieldEfficiency:
    """Oxygen that an aerator brings for a kilowatt hour in the tank.

    Parameters
    ----------
    standard_efficiency : standard aeration efficiency, from its maker's test [kg/kWh]
    field_factor : share of the standard rate that is left in the tank

    Returns
    -------
    Efficiency in the field [kg/kWh].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> field_aeration_efficiency(standard_efficiency=1.2, field_factor=0.25)
    0.3
    """
    return standard_efficiency * field_factor


@relation(cite("timmons_ebeling", "field correction of a standard aeration test", "memory"))
def field_transfer_rate(*, standard_rate: StandardRate, field_factor: FieldFactor) -> FieldRate:
    """Oxygen that an aerator brings in an hour in the tank.

    Parameters
    ----------
    standard_rate : standard oxygen transfer rate, from its maker's test [kg/hour]
    field_factor : share of the standard rate that is left in the tank

    Returns
    -------
    Oxygen [kg/hour].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> field_transfer_rate(standard_rate=2.0, field_factor=0.25)
    0.5
    """
    return standard_rate * field_factor


@relation(cite("arithmetic", "oxygen over oxygen for a unit of energy", "definition"))
def aeration_power(*, oxygen_demand: OxygenDemand, field_efficiency: FieldEfficiency) -> Power:
    """Electric power that brings the oxygen used.

    Parameters
    ----------
    oxygen_demand : oxygen used in a day [g/day]
    field_efficiency : aeration efficiency in the field [kg/kWh]

    Returns
    -------
    Power, running all day [W].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Electricity beside water: earth-fault protection and dry sockets as the local code asks, and a second circuit or a
    battery for the air, because one trip must not stop all of it.

    Examples
    --------
    >>> round(aeration_power(oxygen_demand=4000.0, field_efficiency=0.5))
    333
    """
    return oxygen_demand / GRAMS_PER_KILOGRAM / HOURS_PER_DAY / field_efficiency * WATTS_PER_KILOWATT


@relation(cite("iupac_goldbook", "composition of pure air"), cite("si2019", "gas constant", "definition"))
def oxygen_in_air(*, air_temperature: AirTemperature, air_pressure: AirPressure) -> OxygenContent:
    """Oxygen in a cubic metre of dry air.

    Parameters
    ----------
    air_temperature : air temperature [degC]
    air_pressure : air pressure [kPa]

    Returns
    -------
    Oxygen [g/m^3].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(oxygen_in_air(air_temperature=20.0, air_pressure=101.325), 1)
    278.6
    """
    absolute: AbsoluteTemperature = air_temperature + KELVIN_OFFSET
    return (
        OXYGEN_IN_AIR / HUNDRED_PERCENT * air_pressure * PASCALS_PER_KILOPASCAL * OXYGEN / (GAS_CONSTANT * absolute)
    )


@relation(cite("arithmetic", "oxygen over oxygen in the air that dissolves", "definition"))
def air_flow_for_oxygen(
    *, oxygen_demand: OxygenDemand, oxygen_content: OxygenContent, transfer_efficiency: TransferEfficiency
) -> AirFlow:
    """Air that a blower must move so that enough of its oxygen dissolves.

    Parameters
    ----------
    oxygen_demand : oxygen used in a day [g/day]
    oxygen_content : oxygen in a cubic metre of air [g/m^3]
    transfer_efficiency : share of the oxygen blown in that dissolves [percent]

    Returns
    -------
    Air flow [L/min].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(air_flow_for_oxygen(oxygen_demand=4000.0, oxygen_content=278.6, transfer_efficiency=5.0))
    199
    """
    return (
        oxygen_demand / oxygen_content / transfer_efficiency * HUNDRED_PERCENT * LITRES_PER_CUBIC_METRE
        / (HOURS_PER_DAY * MINUTES_PER_HOUR)
    )


@relation(cite("wurts1994", "28 lifts on one blower"))
def combined_flow(*, outlets: Outlets, outlet_flow: OutletFlow) -> CombinedFlow:
    """Flow through a number of like outlets: what a blower must deliver, or what a row of airlifts moves.

    Parameters
    ----------
    outlets : number of like outlets
    outlet_flow : flow through one outlet [L/min]

    Returns
    -------
    Flow through all of them [L/min].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> combined_flow(outlets=28.0, outlet_flow=71.0)  # Wurts et al. 1994: air for 28 lifts
    1988.0
    """
    return outlets * outlet_flow


@relation(cite("arithmetic", "weight of a column of water over its base", "definition"))
def water_pressure(*, depth: Depth) -> WaterPressure:
    """Pressure of the water above an air outlet.

    Parameters
    ----------
    depth : depth of the air outlet below the surface [m]

    Returns
    -------
    Pressure above that of the air [kPa].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(water_pressure(depth=0.8), 2)
    7.85
    """
    return WATER_DENSITY * GRAVITY * depth / PASCALS_PER_KILOPASCAL


@relation(cite("arithmetic", "sum of the pressures to overcome", "definition"))
def blower_pressure(*, depth: Depth, pipe_loss: PipeLoss) -> BlowerPressure:
    """Pressure that a blower must reach to push air out at a depth.

    Parameters
    ----------
    depth : depth of the air outlet below the surface [m]
    pipe_loss : pressure lost in pipes and stones [kPa]

    Returns
    -------
    Pressure above that of the air [kPa].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Below the pressure of the water no air comes out at all. A blower set below the water needs a check valve, or the
    water siphons into it when the power fails.

    Examples
    --------
    >>> round(blower_pressure(depth=0.8, pipe_loss=2.0), 2)
    9.85
    """
    water: WaterPressure = water_pressure(depth=depth)
    return water + pipe_loss
