"""Power: what the pump puts into the water, what it draws from the wall, and what that costs."""

from typing import Annotated, Final

from waterleaf.calc.common import HUNDRED_PERCENT, LITRES_PER_CUBIC_METRE
from waterleaf.calc.loop.head import PumpHead
from waterleaf.calc.loop.turnover import GRAVITY, SECONDS_PER_MINUTE, WATER_DENSITY, Flow
from waterleaf.calc.quantity import Constant, Quantity, cite, relation

WATTS_PER_KILOWATT: Final = Constant(
    1000, symbol="1000", unit="W/kW", name="watts in a kilowatt",
    source=cite("arithmetic", "definition of the unit", "definition"),
)

HydraulicPower = Annotated[float, Quantity("P_h", "W", "power given to the water", 0.0001, 10_000_000)]
PumpEfficiency = Annotated[float, Quantity("η_pump", "percent", "efficiency of the pump", 1, 100)]
MotorEfficiency = Annotated[float, Quantity("η_motor", "percent", "efficiency of the motor", 5, 100)]
ShaftPower = Annotated[float, Quantity("P_shaft", "W", "power at the shaft", 0.0001, 100_000_000)]
DrawnPower = Annotated[float, Quantity("P", "W", "power drawn from the wall", 0.01, 100_000_000)]
WireEfficiency = Annotated[float, Quantity("η", "percent", "efficiency from wire to water", 0, 100)]
HoursPerDay = Annotated[float, Quantity("t", "hour/day", "hours run a day", 0.01, 24)]
DayCount = Annotated[float, Quantity("N", "day", "number of days", 0.1, 36_600)]
Electricity = Annotated[float, Quantity("E", "kWh", "electricity used", 0.0001, 1_000_000_000)]
ElectricityPrice = Annotated[float, Quantity("c", "dollar/kWh", "price of electricity", 0.005, 5)]
RunningCost = Annotated[float, Quantity("K", "dollar", "cost of the electricity", 0)]


@relation(cite("egpet_pump", "hydraulic power from flow, density, gravity and head"))
def hydraulic_power(*, flow: Flow, head: PumpHead) -> HydraulicPower:
    """Power that a pump gives to the water.

    Parameters
    ----------
    flow : water flow at that head [L/min]
    head : pump head, friction included [m]

    Returns
    -------
    Hydraulic power [W].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(hydraulic_power(flow=378.5, head=1.5), 1)
    92.8
    """
    return WATER_DENSITY * GRAVITY * flow / (LITRES_PER_CUBIC_METRE * SECONDS_PER_MINUTE) * head


@relation(cite("egpet_pump", "shaft power from hydraulic power and efficiency"))
def pump_input_power(
    *, flow: Flow, head: PumpHead, pump_efficiency: PumpEfficiency, motor_efficiency: MotorEfficiency
) -> DrawnPower:
    """Power that a pump draws from the wall.

    Parameters
    ----------
    flow : water flow at that head [L/min]
    head : pump head, friction included [m]
    pump_efficiency : efficiency of the pump at that flow [percent]
    motor_efficiency : efficiency of the motor; 100 where one figure covers both [percent]

    Returns
    -------
    Power drawn [W].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Electricity beside water can kill: a ground-fault device on the circuit, a drip loop in the cable, and work on the
    pump only with the plug out; the local electrical code decides.

    Examples
    --------
    >>> round(pump_input_power(flow=378.5, head=1.5, pump_efficiency=35.0, motor_efficiency=100.0))
    265
    """
    hydraulic: HydraulicPower = hydraulic_power(flow=flow, head=head)
    shaft: ShaftPower = hydraulic * HUNDRED_PERCENT / pump_efficiency
    return shaft * HUNDRED_PERCENT / motor_efficiency


@relation(cite("arithmetic", "useful power over power drawn", "definition"))
def wire_to_water_efficiency(*, hydraulic_power: HydraulicPower, drawn_power: DrawnPower) -> WireEfficiency:
    """Share of the power drawn that reaches the water.

    Parameters
    ----------
    hydraulic_power : power given to the water [W]
    drawn_power : power drawn from the wall, read on a plug-in meter [W]

    Returns
    -------
    Efficiency from wire to water [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> wire_to_water_efficiency(hydraulic_power=8.0, drawn_power=25.0)
    32.0
    """
    return HUNDRED_PERCENT * hydraulic_power / drawn_power


@relation(cite("arithmetic", "power times time", "definition"))
def electricity_used(*, drawn_power: DrawnPower, hours_per_day: HoursPerDay, days: DayCount) -> Electricity:
    """Electricity that a machine uses over some days.

    Parameters
    ----------
    drawn_power : power drawn while it runs [W]
    hours_per_day : hours it runs each day; 24 for a pump that never stops [hour/day]
    days : number of days [day]

    Returns
    -------
    Electricity [kWh].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> electricity_used(drawn_power=250.0, hours_per_day=24.0, days=365.0)
    2190.0
    """
    return drawn_power * hours_per_day * days / WATTS_PER_KILOWATT


@relation(cite("arithmetic", "amount times price", "definition"))
def running_cost(
    *, drawn_power: DrawnPower, hours_per_day: HoursPerDay, days: DayCount, electricity_price: ElectricityPrice
) -> RunningCost:
    """Cost of the electricity that a machine uses over some days.

    Parameters
    ----------
    drawn_power : power drawn while it runs [W]
    hours_per_day : hours it runs each day [hour/day]
    days : number of days [day]
    electricity_price : price of electricity [dollar/kWh]

    Returns
    -------
    Cost [dollar].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(running_cost(drawn_power=250.0, hours_per_day=24.0, days=365.0, electricity_price=0.2), 6)
    438.0
    """
    electricity: Electricity = electricity_used(drawn_power=drawn_power, hours_per_day=hours_per_day, days=days)
    return electricity * electricity_price
