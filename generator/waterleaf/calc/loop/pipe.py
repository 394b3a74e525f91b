"""Pipes: velocity, Reynolds number, and the friction of Darcy-Weisbach."""

import math
from typing import Annotated, Final

from waterleaf.calc.common import LITRES_PER_CUBIC_METRE
from waterleaf.calc.loop.turnover import GRAVITY, MILLIMETRES_PER_METRE, PI, SECONDS_PER_MINUTE, WATER_DENSITY
from waterleaf.calc.quantity import Citation, Constant, Quantity, cite, relation

_VISCOSITY: Final[Citation] = cite("water_properties", "viscosity as a function of temperature")
VISCOSITY_FACTOR: Final = Constant(
    0.02414, symbol="A", unit="mPa*s", name="factor of the viscosity formula", source=_VISCOSITY,
)
VISCOSITY_SLOPE: Final = Constant(247.8, symbol="B", unit="K", name="slope of the viscosity formula", source=_VISCOSITY)
VISCOSITY_SHIFT: Final = Constant(140, symbol="C", unit="K", name="shift of the viscosity formula", source=_VISCOSITY)
KELVIN_OFFSET: Final = Constant(
    273.15, symbol="273.15", unit="K", name="absolute temperature of 0 degrees Celsius",
    source=cite("arithmetic", "definition of the Celsius scale", "definition"),
)

Bore = Annotated[float, Quantity("b", "mm", "inside diameter of the pipe", 3, 2000)]
PipeVelocity = Annotated[float, Quantity("v", "m/s", "velocity in the pipe", 0.0001, 30)]
WishedVelocity = Annotated[float, Quantity("v", "m/s", "wished velocity", 0.05, 5)]
WaterTemperature = Annotated[float, Quantity("T", "degC", "water temperature", 1, 60)]
Exponent = Annotated[float, Quantity("x", "", "power of ten", 0, 3)]
DynamicViscosity = Annotated[float, Quantity("μ", "mPa*s", "dynamic viscosity", 0.3, 2)]
Viscosity = Annotated[
    float,
    Quantity(
        "ν", "mm^2/s", "kinematic viscosity", 0.1, 20,
        basis="water runs from 0.3 hot to 1.8 ice-cold; the rest leaves room for the thin oils of published examples",
    ),
]
Reynolds = Annotated[float, Quantity("Re", "", "Reynolds number", 1e-6, 1e10)]
TurbulentReynolds = Annotated[
    float, Quantity("Re", "", "Reynolds number", 5e3, 1e8, basis="range that the formula is published for"),
]
LaminarReynolds = Annotated[
    float, Quantity("Re", "", "Reynolds number", 1, 2300, basis="smooth flow ends at about 2,300"),
]
Roughness = Annotated[float, Quantity("ε", "mm", "roughness of the wall", 0.0005, 5)]
RelativeRoughness = Annotated[
    float, Quantity("r", "", "roughness over bore", 1e-6, 0.05, basis="range that the formula is published for"),
]
FrictionFactor = Annotated[float, Quantity("f", "", "Darcy friction factor", 0.005, 70)]
PipeRun = Annotated[float, Quantity("L", "m", "length of pipe", 0.05, 10_000)]
FrictionHead = Annotated[float, Quantity("h_pipe", "m", "head lost to friction in the pipe", 0, 10_000)]
PipeFlow = Annotated[float, Quantity("Q", "L/min", "water flow", 0.05, 100_000)]
Section = Annotated[float, Quantity("a", "m^2", "inside area of the pipe", 0)]


@relation(cite("arithmetic", "flow over area", "definition"))
def pipe_velocity(*, flow: PipeFlow, bore: Bore) -> PipeVelocity:
    """Mean velocity of the water in a full pipe.

    Parameters
    ----------
    flow : water flow [L/min]
    bore : inside diameter; the trade size of a pipe is not its bore [mm]

    Returns
    -------
    Velocity [m/s].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(pipe_velocity(flow=100.0, bore=50.0), 3)
    0.849
    """
    area: Section = PI / 4 * (bore / MILLIMETRES_PER_METRE) ** 2
    return flow / (LITRES_PER_CUBIC_METRE * SECONDS_PER_MINUTE * area)


@relation(cite("arithmetic", "area from flow and velocity", "definition"))
def bore_for_velocity(*, flow: PipeFlow, velocity: WishedVelocity) -> Bore:
    """Bore in which a flow has a wished velocity.

    Parameters
    ----------
    flow : water flow [L/min]
    velocity : wished velocity [m/s]

    Returns
    -------
    Inside diameter; take the next larger pipe [mm].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(bore_for_velocity(flow=94.6, velocity=0.7), 1)
    53.6
    """
    area: Section = flow / (LITRES_PER_CUBIC_METRE * SECONDS_PER_MINUTE * velocity)
    return math.sqrt(4 * area / PI) * MILLIMETRES_PER_METRE


@relation(_VISCOSITY, empirical="a fit to measured viscosities on the absolute temperature scale")
def water_viscosity(*, temperature: WaterTemperature) -> Viscosity:
    """Kinematic viscosity of fresh water: how far it resists flowing.

    Parameters
    ----------
    temperature : water temperature [degC]

    Returns
    -------
    Kinematic viscosity [mm^2/s].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Takes 1,000 kg a cubic metre for the density; the table read beside it has 1.004 at 20 degrees, 0.2 % more.

    Examples
    --------
    >>> round(water_viscosity(temperature=20.0), 3)
    1.002
    """
    exponent: Exponent = VISCOSITY_SLOPE / (temperature + KELVIN_OFFSET - VISCOSITY_SHIFT)
    dynamic: DynamicViscosity = VISCOSITY_FACTOR * 10**exponent
    return dynamic * LITRES_PER_CUBIC_METRE / WATER_DENSITY


@relation(cite("darcy_weisbach", "Reynolds number from velocity, diameter and viscosity"))
def reynolds_number(*, velocity: PipeVelocity, bore: Bore, viscosity: Viscosity = 1.004) -> Reynolds:
    """Reynolds number of the flow in a pipe: below about 2,300 smooth, above 4,000 turbulent.

    Parameters
    ----------
    velocity : mean velocity [m/s]
    bore : inside diameter [mm]
    viscosity : kinematic viscosity; 1.004 is water at 20 degrees Celsius [mm^2/s]

    Returns
    -------
    Reynolds number, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(reynolds_number(velocity=1.0, bore=50.0, viscosity=1.0))
    50000
    """
    return velocity * MILLIMETRES_PER_METRE * bore / viscosity


@relation(cite("modelica", "wall friction of laminar flow: 64 over Re"))
def friction_factor_laminar(*, reynolds: LaminarReynolds) -> FrictionFactor:
    """Friction factor of smooth (laminar) flow, whatever the wall.

    Parameters
    ----------
    reynolds : Reynolds number, up to 2,300

    Returns
    -------
    Darcy friction factor, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> friction_factor_laminar(reynolds=1600.0)
    0.04
    """
    return 64 / reynolds


@relation(cite("swamee1976", "explicit friction factor"))
def friction_factor_swamee_jain(
    *, reynolds: TurbulentReynolds, relative_roughness: RelativeRoughness
) -> FrictionFactor:
    """Friction factor of turbulent flow by the equation of Swamee and Jain.

    Parameters
    ----------
    reynolds : Reynolds number
    relative_roughness : roughness of the wall over bore

    Returns
    -------
    Darcy friction factor, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range; slow flow in small pipes needs `friction_factor_laminar`.

    Notes
    -----
    The default of this module. Over its range it stays within 3 % of the implicit Colebrook equation, Haaland's
    within 1.5 %.

    Examples
    --------
    >>> round(friction_factor_swamee_jain(reynolds=400000.0, relative_roughness=0.004), 4)  # Lindeburg 2011: 0.0288
    0.0288
    """
    return 0.25 / math.log10(relative_roughness / 3.7 + 5.74 / reynolds**0.9) ** 2


@relation(cite("haaland1983", "explicit friction factor"))
def friction_factor_haaland(*, reynolds: TurbulentReynolds, relative_roughness: RelativeRoughness) -> FrictionFactor:
    """Friction factor of turbulent flow by Haaland's equation.

    Parameters
    ----------
    reynolds : Reynolds number
    relative_roughness : roughness of the wall over bore

    Returns
    -------
    Darcy friction factor, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(friction_factor_haaland(reynolds=100000.0, relative_roughness=0.0001), 5)
    0.01827
    """
    return 1 / (1.8 * math.log10((relative_roughness / 3.7) ** 1.11 + 6.9 / reynolds)) ** 2


@relation(cite("darcy_weisbach", "head loss from factor, length, diameter and velocity"))
def head_loss_darcy_weisbach(
    *, friction_factor: FrictionFactor, pipe_run: PipeRun, bore: Bore, velocity: PipeVelocity
) -> FrictionHead:
    """Head lost to friction in a pipe by the Darcy-Weisbach equation.

    Parameters
    ----------
    friction_factor : Darcy friction factor, four times the Fanning factor
    pipe_run : length of pipe [m]
    bore : inside diameter [mm]
    velocity : mean velocity [m/s]

    Returns
    -------
    Head lost [m].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(head_loss_darcy_weisbach(friction_factor=0.02, pipe_run=20.0, bore=50.0, velocity=1.0), 3)
    0.408
    """
    return friction_factor * pipe_run * MILLIMETRES_PER_METRE / bore * velocity**2 / (2 * GRAVITY)


@relation(cite("darcy_weisbach", "head loss in a full pipe"), cite("swamee1976", "explicit friction factor"))
def friction_head_darcy_weisbach(
    *, flow: PipeFlow, pipe_run: PipeRun, bore: Bore, roughness: Roughness, viscosity: Viscosity = 1.004
) -> FrictionHead:
    """Head lost to friction in a pipe from its flow, by Darcy-Weisbach with the factor of Swamee and Jain.

    Parameters
    ----------
    flow : water flow [L/min]
    pipe_run : length of pipe [m]
    bore : inside diameter [mm]
    roughness : roughness of the wall [mm]
    viscosity : kinematic viscosity; 1.004 is water at 20 degrees Celsius [mm^2/s]

    Returns
    -------
    Head lost [m].

    Raises
    ------
    OutOfRange : an argument outside its valid range, or a Reynolds number below 5,000.

    Examples
    --------
    >>> round(friction_head_darcy_weisbach(flow=100.0, pipe_run=20.0, bore=50.0, roughness=0.05), 3)
    0.364
    """
    velocity: PipeVelocity = pipe_velocity(flow=flow, bore=bore)
    reynolds: TurbulentReynolds = reynolds_number(velocity=velocity, bore=bore, viscosity=viscosity)
    relative_roughness: RelativeRoughness = roughness / bore
    factor: FrictionFactor = friction_factor_swamee_jain(reynolds=reynolds, relative_roughness=relative_roughness)
    return head_loss_darcy_weisbach(friction_factor=factor, pipe_run=pipe_run, bore=bore, velocity=velocity)
