"""Head: friction by Hazen-Williams, fittings, and what a pump has to give."""

from typing import Annotated, Final

from waterleaf.calc.common import LITRES_PER_CUBIC_METRE
from waterleaf.calc.loop.pipe import (
    Bore,
    FrictionFactor,
    FrictionHead,
    PipeFlow,
    PipeRun,
    PipeVelocity,
    RelativeRoughness,
    Reynolds,
    Roughness,
    Viscosity,
    friction_factor_swamee_jain,
    head_loss_darcy_weisbach,
    pipe_velocity,
    reynolds_number,
)
from waterleaf.calc.loop.turnover import GRAVITY, MILLIMETRES_PER_METRE, SECONDS_PER_MINUTE, WATER_DENSITY
from waterleaf.calc.quantity import Constant, Quantity, cite, relation

HAZEN_WILLIAMS_FACTOR: Final = Constant(
    10.67, symbol="k", unit="", name="Hazen-Williams factor for metres and cubic metres a second",
    source=cite("epanet", "head loss of a pipe, Hazen-Williams; 4.727 in feet and cubic feet a second"),
    low=10.66, high=10.68,
)
PASCALS_PER_KILOPASCAL: Final = Constant(
    1000, symbol="1000", unit="Pa/kPa", name="pascals in a kilopascal",
    source=cite("arithmetic", "definition of the unit", "definition"),
)

FittingHead = Annotated[float, Quantity("h_fit", "m", "head lost in fittings", 0, 1000)]
LossCoefficients = Annotated[float, Quantity("K", "", "sum of the loss coefficients of the fittings", 0, 500)]
StaticLift = Annotated[float, Quantity("h_lift", "m", "static lift, water level to water level", 0, 500)]
PumpHead = Annotated[float, Quantity("H", "m", "head that the pump has to give", 0.01, 10_000)]
HazenCoefficient = Annotated[float, Quantity("C", "", "Hazen-Williams coefficient", 60, 160)]
FlowInCubicMetres = Annotated[float, Quantity("q", "m^3/s", "water flow in cubic metres a second", 0)]
BoreInMetres = Annotated[float, Quantity("d", "m", "inside diameter in metres", 0)]
GaugePressure = Annotated[float, Quantity("p", "kPa", "pressure on the gauge", 0.01, 5000)]
PressureHead = Annotated[float, Quantity("h_p", "m", "height of water of the same pressure", 0)]


@relation(
    cite("epanet", "head loss of a pipe, Hazen-Williams"), cite("toolbox_hazen", "worked example of a 3 inch pipe"),
    empirical="a fit for metres and cubic metres a second",
)
def friction_head_hazen_williams(
    *, flow: PipeFlow, pipe_run: PipeRun, bore: Bore, hazen_coefficient: HazenCoefficient
) -> FrictionHead:
    """Head lost to friction in a pipe from its flow, by the Hazen-Williams equation.

    Parameters
    ----------
    flow : water flow [L/min]
    pipe_run : length of pipe [m]
    bore : inside diameter [mm]
    hazen_coefficient : the higher, the smoother; sources give 140 to 150 for plastic

    Returns
    -------
    Head lost [m].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    For water near 15 degrees Celsius at about 1 m/s. Printed forms differ by a percent or so: the power of the bore is
    4.871 here, 4.8704 and 4.8655 elsewhere. Darcy-Weisbach is the default of this module, since it knows the
    temperature and slow flow.

    Examples
    --------
    >>> round(friction_head_hazen_williams(flow=100.0, pipe_run=20.0, bore=50.0, hazen_coefficient=150.0), 3)
    0.31
    """
    cubic_metres: FlowInCubicMetres = flow / (LITRES_PER_CUBIC_METRE * SECONDS_PER_MINUTE)
    metres: BoreInMetres = bore / MILLIMETRES_PER_METRE
    return float(HAZEN_WILLIAMS_FACTOR * pipe_run * cubic_metres**1.852 / (hazen_coefficient**1.852 * metres**4.871))


@relation(cite("darcy_weisbach", "velocity head"), cite("arithmetic", "coefficient times velocity head", "definition"))
def fitting_head_loss(*, loss_coefficients: LossCoefficients, velocity: PipeVelocity) -> FittingHead:
    """Head lost in bends, valves and ends of a pipe.

    Parameters
    ----------
    loss_coefficients : sum of the loss coefficients of all fittings
    velocity : mean velocity in the pipe [m/s]

    Returns
    -------
    Head lost [m].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(fitting_head_loss(loss_coefficients=5.0, velocity=1.0), 3)
    0.255
    """
    return loss_coefficients * velocity**2 / (2 * GRAVITY)


@relation(cite("egpet_pump", "static lift and friction make the head"), cite("arithmetic", "a sum", "definition"))
def pump_head(*, static_lift: StaticLift, friction_head: FrictionHead, fitting_head: FittingHead) -> PumpHead:
    """Head that a pump has to give: static lift, pipe friction and fittings.

    Parameters
    ----------
    static_lift : height from the water in the sump to the water or the open end above [m]
    friction_head : head lost in the pipe [m]
    fitting_head : head lost in fittings [m]

    Returns
    -------
    Pump head [m].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Read the pump's flow at this head; the flow on the box is for no head at all.

    Examples
    --------
    >>> pump_head(static_lift=1.5, friction_head=0.25, fitting_head=0.25)
    2.0
    """
    return static_lift + friction_head + fitting_head


@relation(cite("darcy_weisbach", "head loss in a full pipe"), cite("swamee1976", "explicit friction factor"))
def pump_head_darcy_weisbach(
    *, static_lift: StaticLift, flow: PipeFlow, pipe_run: PipeRun, bore: Bore, roughness: Roughness,
    loss_coefficients: LossCoefficients, viscosity: Viscosity = 1.004,
) -> PumpHead:
    """Pump head of one pipe run, with friction by Darcy-Weisbach and the factor of Swamee and Jain.

    Parameters
    ----------
    static_lift : height from water to water or open end [m]
    flow : water flow [L/min]
    pipe_run : length of pipe [m]
    bore : inside diameter [mm]
    roughness : roughness of the wall [mm]
    loss_coefficients : sum of the loss coefficients of all fittings
    viscosity : kinematic viscosity; 1.004 is water at 20 degrees Celsius [mm^2/s]

    Returns
    -------
    Pump head [m].

    Raises
    ------
    OutOfRange : an argument outside its valid range, or a Reynolds number below 5,000.

    Examples
    --------
    >>> round(pump_head_darcy_weisbach(static_lift=1.5, flow=100.0, pipe_run=20.0, bore=50.0, roughness=0.05,
    ...                                loss_coefficients=5.0), 2)
    2.05
    """
    velocity: PipeVelocity = pipe_velocity(flow=flow, bore=bore)
    reynolds: Reynolds = reynolds_number(velocity=velocity, bore=bore, viscosity=viscosity)
    relative_roughness: RelativeRoughness = roughness / bore
    factor: FrictionFactor = friction_factor_swamee_jain(reynolds=reynolds, relative_roughness=relative_roughness)
    friction: FrictionHead = head_loss_darcy_weisbach(
        friction_factor=factor, pipe_run=pipe_run, bore=bore, velocity=velocity
    )
    fittings: FittingHead = fitting_head_loss(loss_coefficients=loss_coefficients, velocity=velocity)
    return static_lift + friction + fittings


@relation(
    cite("epanet", "head loss of a pipe, Hazen-Williams"), empirical="a fit for metres and cubic metres a second",
)
def pump_head_hazen_williams(
    *, static_lift: StaticLift, flow: PipeFlow, pipe_run: PipeRun, bore: Bore, hazen_coefficient: HazenCoefficient,
    loss_coefficients: LossCoefficients,
) -> PumpHead:
    """Pump head of one pipe run, with friction by Hazen-Williams.

    Parameters
    ----------
    static_lift : height from water to water or open end [m]
    flow : water flow [L/min]
    pipe_run : length of pipe [m]
    bore : inside diameter [mm]
    hazen_coefficient : the higher, the smoother; sources give 140 to 150 for plastic
    loss_coefficients : sum of the loss coefficients of all fittings

    Returns
    -------
    Pump head [m].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(pump_head_hazen_williams(static_lift=1.5, flow=100.0, pipe_run=20.0, bore=50.0, hazen_coefficient=150.0,
    ...                                loss_coefficients=5.0), 2)
    1.99
    """
    velocity: PipeVelocity = pipe_velocity(flow=flow, bore=bore)
    friction: FrictionHead = friction_head_hazen_williams(
        flow=flow, pipe_run=pipe_run, bore=bore, hazen_coefficient=hazen_coefficient
    )
    fittings: FittingHead = fitting_head_loss(loss_coefficients=loss_coefficients, velocity=velocity)
    return static_lift + friction + fittings


@relation(
    cite("arithmetic", "weight of a column of water", "definition"),
    cite("irrigation_formulas", "1 psi is 2.31 ft of water"),
)
def pressure_head(*, gauge_pressure: GaugePressure) -> PressureHead:
    """Height of water that presses as hard as a gauge shows.

    Parameters
    ----------
    gauge_pressure : pressure on the gauge [kPa]

    Returns
    -------
    Height of water [m].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(pressure_head(gauge_pressure=9.80665), 6)
    1.0
    """
    return gauge_pressure * PASCALS_PER_KILOPASCAL / (WATER_DENSITY * GRAVITY)
