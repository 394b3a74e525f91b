"""Loop: how much water the tanks hold, and how fast it goes round."""

import math
from collections.abc import Sequence
from typing import Annotated, Final

from waterleaf.calc.common import HOURS_PER_DAY, LITRES_PER_CUBIC_METRE, MINUTES_PER_HOUR
from waterleaf.calc.quantity import Constant, Quantity, cite, relation

PI: Final = Constant(
    math.pi, symbol="π", unit="", name="ratio of circumference to diameter",
    source=cite("arithmetic", "definition of the circle", "definition"),
)
GRAVITY: Final = Constant(
    9.80665, symbol="g", unit="m/s^2", name="standard acceleration of free fall",
    source=cite("cgpm1901", "declaration on the unit of mass and on weight", "definition"), low=9.78, high=9.83,
)
WATER_DENSITY: Final = Constant(
    1000, symbol="ρ", unit="kg/m^3", name="density of water",
    source=cite("merkley_allen", "kilowatts as litres a second times metres over 102, which takes 1,000 kg/m3"),
    low=993, high=1000,
)
MILLIMETRES_PER_METRE: Final = Constant(
    1000, symbol="1000", unit="mm/m", name="millimetres in a metre",
    source=cite("arithmetic", "definition of the unit", "definition"),
)
SECONDS_PER_MINUTE: Final = Constant(
    60, symbol="60", unit="s/min", name="seconds in a minute",
    source=cite("arithmetic", "definition of the unit", "definition"),
)

TankLength = Annotated[float, Quantity("L", "m", "inside length of the tank", 0.05, 1000)]
TankWidth = Annotated[float, Quantity("W", "m", "inside width of the tank", 0.05, 500)]
Diameter = Annotated[float, Quantity("D", "m", "inside diameter of the tank", 0.05, 100)]
WaterDepth = Annotated[float, Quantity("h", "m", "depth of water", 0.005, 20)]
ConeDepth = Annotated[float, Quantity("h_cone", "m", "depth of the cone", 0.005, 20)]
ConeSlope = Annotated[float, Quantity("s", "degree", "slope of the cone wall against the level", 10, 80)]
TankVolume = Annotated[float, Quantity("V", "L", "water in the tank", 0.01, 10_000_000)]
CylinderVolume = Annotated[float, Quantity("V_cyl", "L", "water in the upright part", 0.01, 10_000_000)]
ConeVolume = Annotated[float, Quantity("V_cone", "L", "water in the cone", 0.01, 10_000_000)]
TankVolumes = Annotated[Sequence[float], Quantity("V", "L", "volumes of the tanks", 0.01, 10_000_000, many=1)]
SystemWater = Annotated[float, Quantity("V_sys", "L", "water in the whole system", 0.01, 100_000_000)]
Flow = Annotated[float, Quantity("Q", "L/min", "water flow", 0.01, 1_000_000)]
TurnoverTime = Annotated[float, Quantity("t", "hour", "turnover time", 0.001, 10_000)]
Turnovers = Annotated[float, Quantity("n", "1/day", "turnovers a day", 0.01, 2000)]
PlanArea = Annotated[float, Quantity("A", "m^2", "area that the water flows over", 0.01, 100_000)]
LoadingRate = Annotated[float, Quantity("q", "m/day", "hydraulic loading rate", 0.001, 100_000)]


@relation(cite("arithmetic", "volume of a box", "definition"))
def rectangular_tank_volume(*, length: TankLength, width: TankWidth, water_depth: WaterDepth) -> TankVolume:
    """Water in a tank with upright walls and a rectangular floor.

    Parameters
    ----------
    length : inside length [m]
    width : inside width [m]
    water_depth : depth of water, not of the wall [m]

    Returns
    -------
    Water in the tank [L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(rectangular_tank_volume(length=6.0, width=1.2, water_depth=0.3), 6)
    2160.0
    """
    return length * width * water_depth * LITRES_PER_CUBIC_METRE


@relation(cite("arithmetic", "volume of a cylinder", "definition"))
def round_tank_volume(*, diameter: Diameter, water_depth: WaterDepth) -> TankVolume:
    """Water in a round tank with upright walls and a flat floor.

    Parameters
    ----------
    diameter : inside diameter [m]
    water_depth : depth of water, not of the wall [m]

    Returns
    -------
    Water in the tank [L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(round_tank_volume(diameter=2.0, water_depth=1.0), 1)
    3141.6
    """
    return PI * diameter**2 / 4 * water_depth * LITRES_PER_CUBIC_METRE


@relation(cite("arithmetic", "a cylinder's depth from its volume", "definition"))
def round_tank_depth(*, tank_volume: TankVolume, diameter: Diameter) -> WaterDepth:
    """Depth at which a volume of water stands in a round tank.

    Parameters
    ----------
    tank_volume : water in the tank [L]
    diameter : inside diameter [m]

    Returns
    -------
    Depth of water [m].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The wall minus this depth is the freeboard: what the tank can still take before it runs over.

    Examples
    --------
    >>> round(round_tank_depth(tank_volume=200000.0, diameter=16.0), 3)  # 200 m3 in a tank of 16 m
    0.995
    """
    return 4 * tank_volume / (PI * diameter**2 * LITRES_PER_CUBIC_METRE)


@relation(cite("arithmetic", "volume of a cone", "definition"))
def cone_volume(*, diameter: Diameter, cone_depth: ConeDepth) -> ConeVolume:
    """Water in a cone that stands on its tip, filled to the rim.

    Parameters
    ----------
    diameter : inside diameter at the rim [m]
    cone_depth : upright depth from rim to tip [m]

    Returns
    -------
    Water in the cone [L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(cone_volume(diameter=2.0, cone_depth=0.9), 1)
    942.5
    """
    return PI * diameter**2 / 12 * cone_depth * LITRES_PER_CUBIC_METRE


@relation(
    cite("arithmetic", "right triangle of rim radius and depth", "definition"),
    empirical="an angle in degrees enters the tangent",
)
def cone_depth(*, diameter: Diameter, cone_slope: ConeSlope) -> ConeDepth:
    """Depth of a cone from its diameter and the slope of its wall.

    Parameters
    ----------
    diameter : inside diameter at the rim [m]
    cone_slope : slope of the wall against the level [degree]

    Returns
    -------
    Depth from rim to tip [m].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(cone_depth(diameter=1.8, cone_slope=45.0), 6)
    0.9
    """
    return diameter / 2 * math.tan(math.radians(cone_slope))


@relation(cite("arithmetic", "cylinder and cone", "definition"))
def cone_bottom_tank_volume(*, diameter: Diameter, water_depth: WaterDepth, cone_depth: ConeDepth) -> TankVolume:
    """Water in a round tank with a cone for a floor.

    Parameters
    ----------
    diameter : inside diameter [m]
    water_depth : depth of water above the rim of the cone [m]
    cone_depth : depth of the cone [m]

    Returns
    -------
    Water in the tank [L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(cone_bottom_tank_volume(diameter=2.0, water_depth=1.0, cone_depth=0.9), 1)
    4084.1
    """
    upright: CylinderVolume = round_tank_volume(diameter=diameter, water_depth=water_depth)
    cone: ConeVolume = cone_volume(diameter=diameter, cone_depth=cone_depth)
    return upright + cone


@relation(cite("uvi2010", "table of components"), cite("arithmetic", "a sum", "definition"))
def system_volume(*, tank_volumes: TankVolumes) -> SystemWater:
    """Water in a whole system, tank by tank.

    Parameters
    ----------
    tank_volumes : water in each tank, shape (n,); a size that is there four times is listed four times [L]

    Returns
    -------
    Water in the system [L].

    Raises
    ------
    OutOfRange : an empty list, or a volume outside its valid range.

    Examples
    --------
    >>> system_volume(tank_volumes=[1000.0, 1000.0, 400.0])
    2400.0
    """
    return math.fsum(tank_volumes)


@relation(cite("hager2021", "clarifier sizing"), cite("arithmetic", "volume over flow", "definition"))
def turnover_time(*, tank_volume: TankVolume, flow: Flow) -> TurnoverTime:
    """Time in which the pump moves as much water as a tank or a system holds.

    Parameters
    ----------
    tank_volume : water in the tank or system [L]
    flow : water through that same tank or system [L/min]

    Returns
    -------
    Turnover time [hour].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Use the flow through the tank in question: four tanks side by side share the flow of the pump.

    Examples
    --------
    >>> round(turnover_time(tank_volume=7800.0, flow=100.0), 2)
    1.3
    """
    return tank_volume / (flow * MINUTES_PER_HOUR)


@relation(cite("arithmetic", "flow of a day over volume", "definition"))
def turnovers_per_day(*, tank_volume: TankVolume, flow: Flow) -> Turnovers:
    """Times a day that the pump moves as much water as a tank or a system holds.

    Parameters
    ----------
    tank_volume : water in the tank or system [L]
    flow : water through that same tank or system [L/min]

    Returns
    -------
    Turnovers a day [1/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> turnovers_per_day(tank_volume=1440.0, flow=10.0)
    10.0
    """
    return flow * MINUTES_PER_HOUR * HOURS_PER_DAY / tank_volume


@relation(cite("arithmetic", "volume of a day's turnovers over the minutes of a day", "definition"))
def flow_for_turnovers(*, tank_volume: TankVolume, turnovers: Turnovers) -> Flow:
    """Flow that turns a tank or a system over a given number of times a day.

    Parameters
    ----------
    tank_volume : water in the tank or system [L]
    turnovers : wished turnovers a day [1/day]

    Returns
    -------
    Flow at the working head, not the flow printed on the pump's box [L/min].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> flow_for_turnovers(tank_volume=1440.0, turnovers=48.0)
    48.0
    """
    return tank_volume * turnovers / (MINUTES_PER_HOUR * HOURS_PER_DAY)


@relation(
    cite("endut2010", "hydraulic loading rate of 1.28 m a day"), cite("arithmetic", "flow over area", "definition"),
)
def hydraulic_loading_rate(*, flow: Flow, plan_area: PlanArea) -> LoadingRate:
    """Depth of water that passes over a bed in a day.

    Parameters
    ----------
    flow : water over the bed [L/min]
    plan_area : area of the bed, seen from above [m^2]

    Returns
    -------
    Hydraulic loading rate [m/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(hydraulic_loading_rate(flow=378.5, plan_area=214.0), 2)
    2.55
    """
    return flow * MINUTES_PER_HOUR * HOURS_PER_DAY / (plan_area * LITRES_PER_CUBIC_METRE)
