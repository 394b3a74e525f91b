"""Pumps that lift water with air: submergence, power and efficiency."""

import math
from typing import Annotated, Final

from waterleaf.calc.air.oxygen import AirPressure
from waterleaf.calc.air.supply import GRAVITY, PASCALS_PER_KILOPASCAL, WATER_DENSITY, AirFlow, Depth
from waterleaf.calc.common import HUNDRED_PERCENT, LITRES_PER_CUBIC_METRE
from waterleaf.calc.quantity import Constant, Quantity, cite, relation
from waterleaf.calc.solids.load import WaterFlow

_DEFINED: Final = cite("arithmetic", "definition of the unit", "definition")
SECONDS_PER_MINUTE: Final = Constant(60, symbol="60", unit="s/min", name="seconds in a minute", source=_DEFINED)

SubmergedLength = Annotated[float, Quantity("H_s", "m", "length of pipe under water, from the injector", 0.01, 20)]
Lift = Annotated[float, Quantity("H_l", "m", "lift above the water level", 0.001, 10)]
PipeLength = Annotated[float, Quantity("L", "m", "length of pipe from injector to outlet", 0.05, 30)]
Submergence = Annotated[float, Quantity("S", "percent", "submergence ratio", 1, 100)]
Compression = Annotated[float, Quantity("c", "", "pressure under water over air pressure", 1)]
AirPower = Annotated[float, Quantity("P_a", "W", "least power that compresses the air", 0.0001, 1e8)]
LiftingPower = Annotated[float, Quantity("P_w", "W", "power that lifts the water", 0)]
LiftEfficiency = Annotated[float, Quantity("η", "percent", "share of the air's power that lifts water", 0)]
MotorPower = Annotated[float, Quantity("P_m", "W", "power of the motor", 0.1, 1e7)]
BlowerEfficiency = Annotated[float, Quantity("η_b", "percent", "share of the motor's power that compresses air", 0)]
WaterPerAir = Annotated[float, Quantity("r", "", "water moved for the air used, by volume", 0)]
EnergyOfWater = Annotated[float, Quantity("e", "J/L", "energy for a litre of water", 0)]
LiftFeet = Annotated[float, Quantity("h", "ft", "lift above the water level", 0.05, 100)]
SubmergedFeet = Annotated[float, Quantity("H", "ft", "depth of the injector", 0.5, 200)]
AirHead = Annotated[float, Quantity("H_0", "ft", "height of water that balances the air", 20, 34.5)]
HandbookConstant = Annotated[
    float, Quantity("K", "", "handbook constant", 200, 400, basis="216 at 35 % submergence to 366 at 75 %")
]
FreeAir = Annotated[float, Quantity("V_a", "ft^3/gallon", "free air for a gallon of water", 0)]


@relation(cite("wurts1994", "submerged length over total length, from the injector"))
def submergence_ratio(*, submerged_length: SubmergedLength, lift: Lift) -> Submergence:
    """Submergence ratio of an airlift: the part of its pipe that is under water.

    Parameters
    ----------
    submerged_length : length of pipe under water, from the injector [m]
    lift : lift above the water level [m]

    Returns
    -------
    Submergence ratio [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Over the whole length from injector to outlet, not over the lift; from the injector, not from the end of the pipe.

    Examples
    --------
    >>> submergence_ratio(submerged_length=0.8, lift=0.2)
    80.0
    """
    return submerged_length / (submerged_length + lift) * HUNDRED_PERCENT


@relation(cite("ali_airlift", "pipes of 0.5 to 1.5 m, submergence of 70 to 90 %"))
def airlift_lift(*, pipe_length: PipeLength, submergence: Submergence) -> Lift:
    """Lift of an airlift from the length of its pipe and its submergence ratio.

    Parameters
    ----------
    pipe_length : length of pipe from injector to outlet [m]
    submergence : submergence ratio [percent]

    Returns
    -------
    Lift above the water level [m].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(airlift_lift(pipe_length=1.5, submergence=80.0), 2)
    0.3
    """
    return pipe_length * (1 - submergence / HUNDRED_PERCENT)


@relation(cite("ali_airlift", "pipes of 0.5 to 1.5 m, submergence of 70 to 90 %"))
def submerged_length(*, pipe_length: PipeLength, submergence: Submergence) -> SubmergedLength:
    """Length of an airlift's pipe that must be under water.

    Parameters
    ----------
    pipe_length : length of pipe from injector to outlet [m]
    submergence : submergence ratio [percent]

    Returns
    -------
    Length under water, from the injector [m].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(submerged_length(pipe_length=1.5, submergence=90.0), 2)
    1.35
    """
    return pipe_length * submergence / HUNDRED_PERCENT


@relation(cite("wurts1994", "water and air of one lift"))
def water_per_air(*, water_flow: WaterFlow, air_flow: AirFlow) -> WaterPerAir:
    """Water that an airlift moves for the air it uses, by volume.

    Parameters
    ----------
    water_flow : water moved [L/min]
    air_flow : air used [L/min]

    Returns
    -------
    Ratio, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    More air moves more water only up to a peak.

    Examples
    --------
    >>> round(water_per_air(water_flow=111.0, air_flow=71.0), 2)
    1.56
    """
    return water_flow / air_flow


@relation(cite("arithmetic", "work of slow compression at constant temperature", "definition"))
def ideal_air_power(*, air_flow: AirFlow, depth: Depth, air_pressure: AirPressure = 101.325) -> AirPower:
    """Least power that compresses an air flow to the pressure at a depth.

    Parameters
    ----------
    air_flow : air flow, measured at air pressure [L/min]
    depth : depth of the air outlet below the surface [m]
    air_pressure : air pressure where the blower stands [kPa]

    Returns
    -------
    Power [W].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Slow compression that stays cool. Blowers take two to four times as much, and their pipes get hot enough to burn.

    Examples
    --------
    >>> round(ideal_air_power(air_flow=1988.0, depth=0.826), 0)
    258.0
    """
    compression: Compression = 1 + WATER_DENSITY * GRAVITY * depth / (air_pressure * PASCALS_PER_KILOPASCAL)
    return (
        air_pressure * PASCALS_PER_KILOPASCAL * air_flow / LITRES_PER_CUBIC_METRE / SECONDS_PER_MINUTE
        * math.log(compression)
    )


@relation(cite("arithmetic", "weight of water lifted in a second", "definition"))
def lifting_power(*, water_flow: WaterFlow, lift: Lift) -> LiftingPower:
    """Power that lifts a water flow, without any loss.

    Parameters
    ----------
    water_flow : water lifted [L/min]
    lift : lift above the water level [m]

    Returns
    -------
    Power [W].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(lifting_power(water_flow=111.0, lift=0.1), 2)
    1.81
    """
    return WATER_DENSITY * GRAVITY * water_flow / LITRES_PER_CUBIC_METRE / SECONDS_PER_MINUTE * lift


@relation(cite("arithmetic", "lifting power over ideal air power", "definition"))
def airlift_efficiency(
    *, water_flow: WaterFlow, lift: Lift, air_flow: AirFlow, depth: Depth, air_pressure: AirPressure = 101.325,
) -> LiftEfficiency:
    """Share of the compressed air's power that an airlift turns into lifted water.

    Parameters
    ----------
    water_flow : water lifted [L/min]
    lift : lift above the water level [m]
    air_flow : air used, measured at air pressure [L/min]
    depth : depth of the injector below the surface [m]
    air_pressure : air pressure where the blower stands [kPa]

    Returns
    -------
    Efficiency [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(airlift_efficiency(water_flow=111.0, lift=0.1, air_flow=71.0, depth=0.8), 1)
    20.3
    """
    lifting: LiftingPower = lifting_power(water_flow=water_flow, lift=lift)
    air: AirPower = ideal_air_power(air_flow=air_flow, depth=depth, air_pressure=air_pressure)
    return lifting / air * HUNDRED_PERCENT


@relation(cite("arithmetic", "ideal air power over motor power", "definition"))
def blower_efficiency(*, air_power: AirPower, motor_power: MotorPower) -> BlowerEfficiency:
    """Share of a blower's motor power that ends in compressed air.

    Parameters
    ----------
    air_power : least power that compresses the air [W]
    motor_power : power of the motor [W]

    Returns
    -------
    Efficiency [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(blower_efficiency(air_power=258.0, motor_power=750.0), 1)
    34.4
    """
    return air_power / motor_power * HUNDRED_PERCENT


@relation(cite("arithmetic", "power over flow", "definition"))
def energy_of_water(*, motor_power: MotorPower, water_flow: WaterFlow) -> EnergyOfWater:
    """Energy that moving a litre of water takes; the same number as watts for a litre a second.

    Parameters
    ----------
    motor_power : power of the motor [W]
    water_flow : water moved [L/min]

    Returns
    -------
    Energy [J/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(energy_of_water(motor_power=750.0, water_flow=3107.0), 1)
    14.5
    """
    return motor_power / water_flow * SECONDS_PER_MINUTE


@relation(
    cite("air_handbooks", "free air for an airlift, constant by submergence", "memory"),
    empirical="a handbook formula in feet, cubic feet and gallons",
)
def free_air_for_airlift(
    *, lift: LiftFeet, submergence: SubmergedFeet, air_head: AirHead, constant: HandbookConstant
) -> FreeAir:
    """Free air that an airlift needs for a gallon of water, by the handbooks of compressor makers.

    Parameters
    ----------
    lift : lift above the water level [ft]
    submergence : depth of the injector [ft]
    air_head : height of water that balances the air, 34 at sea level [ft]
    constant : handbook constant for the submergence ratio

    Returns
    -------
    Free air [ft^3/gallon].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Made for deep wells; at the small lifts of fish tanks only a rough guide. The constant is an argument because the
    printed tables differ.

    Examples
    --------
    >>> round(free_air_for_airlift(lift=2.0, submergence=6.0, air_head=34.0, constant=366.0), 4)
    0.0774
    """
    return lift / (constant * math.log10((submergence + air_head) / air_head))
