"""Settling: overflow rate and plan area, how fast a particle sinks, and how much a tank catches."""

import math
from dataclasses import dataclass
from typing import Annotated, Final

from waterleaf.calc.common import HOURS_PER_DAY, HUNDRED_PERCENT, LITRES_PER_CUBIC_METRE, MINUTES_PER_HOUR
from waterleaf.calc.loop.turnover import GRAVITY, MILLIMETRES_PER_METRE, PI
from waterleaf.calc.quantity import Constant, OutOfRange, Quantity, cite, relation
from waterleaf.calc.solids.load import DrySolids, WaterFlow

_SPREAD: Final = "published rates run from 40 m/day for ponds to some 700 m/day for swirl separators"

PlanArea = Annotated[float, Quantity("A", "m^2", "plan area of the settling tank", 0.001, 100_000)]
OverflowRate = Annotated[float, Quantity("v_0", "m/day", "overflow rate", 0.5, 5000, basis=_SPREAD)]
FlowPerDay = Annotated[float, Quantity("Q_d", "m^3/day", "water flow a day", 0.00001, 10_000_000)]
Diameter = Annotated[float, Quantity("d", "m", "diameter of the round tank", 0.01, 400)]
SettlingVelocity = Annotated[
    float,
    Quantity(
        "v", "mm/s", "settling velocity", 0.0001, 500,
        basis="from particles of a few micrometres to sinking feed pellets at 330 mm/s",
    ),
]
ParticleRate = Annotated[float, Quantity("v_p", "m/day", "overflow rate of the particle", 0.01, 50_000)]
SettlingRatio = Annotated[float, Quantity("k", "", "settling velocity over overflow rate", 0.0001, 10_000)]
ParticleDiameter = Annotated[
    float,
    Quantity("d", "um", "particle diameter", 1, 500, basis="range of fish solids for which Stokes can hold"),
]
ParticleMetres = Annotated[float, Quantity("d_m", "m", "particle diameter in metres", 1e-6, 1e-3)]
ParticleDensity = Annotated[
    float,
    Quantity("D_p", "kg/m^3", "density of the particle", 1000.5, 3000, basis="fish solids 1,050 to 1,190, sand 2,650"),
]
WaterDensity = Annotated[float, Quantity("D_w", "kg/m^3", "density of the water", 950, 1000.4)]
Viscosity = Annotated[
    float,
    Quantity("μ", "mPa*s", "viscosity of the water", 0.3, 1.8, basis="water from 0 to about 90 degrees Celsius"),
]
ViscositySI = Annotated[float, Quantity("μ_SI", "Pa*s", "viscosity in pascal seconds", 0.0003, 0.0018)]
VelocitySI = Annotated[float, Quantity("v_SI", "m/s", "settling velocity in metres a second", 1e-7, 0.5)]
Reynolds = Annotated[float, Quantity("Re", "", "Reynolds number of the particle", 1e-9, 1e6)]
SolidsIn = Annotated[float, Quantity("C_in", "mg/L", "suspended solids flowing in", 0.01, 100_000)]
SolidsOut = Annotated[float, Quantity("C_out", "mg/L", "suspended solids flowing out", 0, 100_000)]
Capture = Annotated[float, Quantity("E", "percent", "capture efficiency", 0, 100)]
KeptSolids = Annotated[float, Quantity("S_kept", "g/day", "dry solids kept back", 0, 5_000_000)]
EscapedSolids = Annotated[float, Quantity("S_esc", "g/day", "dry solids that go on", 0, 5_000_000)]

SECONDS_PER_DAY: Final = Constant(
    86400, symbol="86400", unit="s/day", name="seconds in a day", source=cite("arithmetic", "24 hours", "definition"),
)
MICROMETRES_PER_METRE: Final = Constant(
    1_000_000, symbol="1000000", unit="um/m", name="micrometres in a metre",
    source=cite("arithmetic", "prefix", "definition"),
)
MILLIPASCALS_PER_PASCAL: Final = Constant(
    1000, symbol="1000", unit="mPa/Pa", name="millipascals in a pascal",
    source=cite("arithmetic", "prefix", "definition"),
)
# Above a Reynolds number of 1 a sphere falls clearly slower than Stokes says.
LARGEST_REYNOLDS: Final = 1.0


@relation(cite("davidson2005", "surface loading 0.0031 m3/s per square metre"))
def overflow_rate(*, water_flow: WaterFlow, plan_area: PlanArea) -> OverflowRate:
    """Overflow rate of a settling tank: the flow over the area seen from above.

    Parameters
    ----------
    water_flow : water through the tank [L/min]
    plan_area : area of the water surface that settles [m^2]

    Returns
    -------
    Overflow rate, the speed at which water rises through the tank [m/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Neither the volume nor the wall counts. A particle that sinks faster than this is caught in a calm tank; inlets
    that stir make a real tank worse.

    Examples
    --------
    >>> round(overflow_rate(water_flow=340.0, plan_area=1.83), 1)  # Davidson and Summerfelt 2005: 268
    267.5
    """
    flow: FlowPerDay = water_flow * MINUTES_PER_HOUR * HOURS_PER_DAY / LITRES_PER_CUBIC_METRE
    return flow / plan_area


@relation(cite("solids_removal", "overflow rates of 40 to 80 m a day"))
def plan_area_for_overflow(*, water_flow: WaterFlow, overflow_rate: OverflowRate) -> PlanArea:
    """Plan area that a settling tank needs for an overflow rate.

    Parameters
    ----------
    water_flow : water through the tank [L/min]
    overflow_rate : overflow rate to keep to [m/day]

    Returns
    -------
    Plan area [m^2].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Ponds and basins at 40 to 80 m/day are quoted as catching 65 to 85 % of suspended solids; small swirl and radial
    settlers run at 270 to 700 m/day and catch the coarse part only.

    Examples
    --------
    >>> plan_area_for_overflow(water_flow=100.0, overflow_rate=40.0)
    3.6
    """
    flow: FlowPerDay = water_flow * MINUTES_PER_HOUR * HOURS_PER_DAY / LITRES_PER_CUBIC_METRE
    return flow / overflow_rate


@relation(cite("arithmetic", "area of a circle, turned round", "definition"))
def clarifier_diameter(*, plan_area: PlanArea) -> Diameter:
    """Diameter of a round tank of a given plan area.

    Parameters
    ----------
    plan_area : area of the water surface [m^2]

    Returns
    -------
    Diameter [m].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(clarifier_diameter(plan_area=1.83), 2)  # the 5-foot tank of Davidson and Summerfelt 2005
    1.53
    """
    return math.sqrt(4 * plan_area / PI)


@relation(cite("arithmetic", "a particle is kept while it sinks faster than the water rises", "definition"))
def overflow_rate_of_particle(*, settling_velocity: SettlingVelocity) -> OverflowRate:
    """Highest overflow rate at which a particle is still kept: its own settling velocity.

    Parameters
    ----------
    settling_velocity : how fast the particle sinks in still water [mm/s]

    Returns
    -------
    Overflow rate [m/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Measured: trout solids 17, stripped trout faeces 7, salmon faeces 40 to 60, feed pellets 150 to 330 mm/s.

    Examples
    --------
    >>> round(overflow_rate_of_particle(settling_velocity=7.0))
    605
    """
    return settling_velocity * SECONDS_PER_DAY / MILLIMETRES_PER_METRE


@relation(cite("arithmetic", "a particle is kept while it sinks faster than the water rises", "definition"))
def settling_ratio(*, settling_velocity: SettlingVelocity, overflow_rate: OverflowRate) -> SettlingRatio:
    """How many times faster a particle sinks than the water of a tank rises.

    Parameters
    ----------
    settling_velocity : how fast the particle sinks in still water [mm/s]
    overflow_rate : overflow rate of the tank [m/day]

    Returns
    -------
    Ratio, a pure number: the particle is kept above 1.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(settling_ratio(settling_velocity=7.0, overflow_rate=103.8), 1)
    5.8
    """
    rate: ParticleRate = overflow_rate_of_particle(settling_velocity=settling_velocity)
    return rate / overflow_rate


@relation(cite("stokes1851", "resistance of a small sphere", "memory"))
def stokes_velocity(
    *, diameter: ParticleDiameter, particle_density: ParticleDensity, water_density: WaterDensity, viscosity: Viscosity
) -> SettlingVelocity:
    """Speed at which a small round particle sinks in still water, after Stokes.

    Parameters
    ----------
    diameter : diameter of the particle [um]
    particle_density : density of the particle [kg/m^3]
    water_density : density of the water [kg/m^3]
    viscosity : dynamic viscosity of the water, near 1 at room temperature [mPa*s]

    Returns
    -------
    Settling velocity [mm/s].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Holds for single hard spheres while the Reynolds number of the particle stays below about 1: check it. Faeces are
    neither hard nor round, so a measured speed is worth more.

    Examples
    --------
    >>> round(stokes_velocity(diameter=100.0, particle_density=1100.0, water_density=1000.0, viscosity=1.0), 4)
    0.5448
    """
    metres: ParticleMetres = diameter / MICROMETRES_PER_METRE
    viscosity_si: ViscositySI = viscosity / MILLIPASCALS_PER_PASCAL
    velocity: VelocitySI = GRAVITY * (particle_density - water_density) * metres**2 / (18 * viscosity_si)
    return velocity * MILLIMETRES_PER_METRE


@relation(cite("arithmetic", "definition of the Reynolds number of a particle", "definition"))
def particle_reynolds(
    *, settling_velocity: SettlingVelocity, diameter: ParticleDiameter, water_density: WaterDensity,
    viscosity: Viscosity,
) -> Reynolds:
    """Reynolds number of a sinking particle: below about 1 the law of Stokes may be used.

    Parameters
    ----------
    settling_velocity : how fast the particle sinks [mm/s]
    diameter : diameter of the particle [um]
    water_density : density of the water [kg/m^3]
    viscosity : dynamic viscosity of the water [mPa*s]

    Returns
    -------
    Reynolds number, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(particle_reynolds(settling_velocity=0.5448, diameter=100.0, water_density=1000.0, viscosity=1.0), 3)
    0.054
    """
    metres: ParticleMetres = diameter / MICROMETRES_PER_METRE
    viscosity_si: ViscositySI = viscosity / MILLIPASCALS_PER_PASCAL
    velocity: VelocitySI = settling_velocity / MILLIMETRES_PER_METRE
    return water_density * velocity * metres / viscosity_si


@dataclass(frozen=True, slots=True)
class SettlingRow:
    """A settling velocity with the Reynolds number that allows it and the overflow rate that it stands for."""

    velocity: float
    reynolds: float
    overflow_rate: float


SettlingTable = Annotated[tuple[SettlingRow, ...], Quantity("", "", "settling of a particle")]


@relation(cite("stokes1851", "resistance of a small sphere", "memory"), procedure=True)
def checked_settling(
    *, diameter: ParticleDiameter, particle_density: ParticleDensity, water_density: WaterDensity, viscosity: Viscosity
) -> SettlingTable:
    """Stokes settling velocity that is given only where its Reynolds number allows it.

    Parameters
    ----------
    diameter : diameter of the particle [um]
    particle_density : density of the particle [kg/m^3]
    water_density : density of the water [kg/m^3]
    viscosity : dynamic viscosity of the water [mPa*s]

    Returns
    -------
    One row: velocity [mm/s], Reynolds number, overflow rate up to which the particle is kept [m/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range, or a particle that sinks too fast for the law.

    Examples
    --------
    >>> row = checked_settling(diameter=100.0, particle_density=1100.0, water_density=1000.0, viscosity=1.0)[0]
    >>> round(row.overflow_rate, 1)
    47.1
    """
    velocity = stokes_velocity(
        diameter=diameter, particle_density=particle_density, water_density=water_density, viscosity=viscosity
    )
    metres, pascal_seconds = diameter / MICROMETRES_PER_METRE, viscosity / MILLIPASCALS_PER_PASCAL
    reynolds = water_density * velocity / MILLIMETRES_PER_METRE * metres / pascal_seconds
    if reynolds > LARGEST_REYNOLDS:
        raise OutOfRange(
            f"diameter: {diameter:g} um gives a Reynolds number of {reynolds:.3g}, outside the valid range of the law "
            f"of Stokes (up to {LARGEST_REYNOLDS:g}). Give a smaller particle, or use a measured settling velocity."
        )
    return (SettlingRow(velocity, reynolds, velocity * SECONDS_PER_DAY / MILLIMETRES_PER_METRE),)


@relation(cite("davidson2005", "removal of suspended solids, in per cent of what flows in"))
def capture_efficiency(*, solids_in: SolidsIn, solids_out: SolidsOut) -> Capture:
    """Share of the suspended solids that a settling tank or filter keeps back.

    Parameters
    ----------
    solids_in : suspended solids in the water that flows in [mg/L]
    solids_out : suspended solids in the water that flows out [mg/L]

    Returns
    -------
    Capture efficiency [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Measured on one system at one overflow rate: swirl separator 37 %, radial-flow settler 78 % (Davidson 2005).

    Examples
    --------
    >>> capture_efficiency(solids_in=20.0, solids_out=5.0)
    75.0
    """
    return HUNDRED_PERCENT * (solids_in - solids_out) / solids_in


@relation(cite("arithmetic", "share of a mass", "definition"))
def captured_solids(*, dry_solids: DrySolids, capture: Capture) -> KeptSolids:
    """Dry solids that a settling tank or filter keeps back in a day.

    Parameters
    ----------
    dry_solids : dry solids that reach it in a day [g/day]
    capture : capture efficiency [percent]

    Returns
    -------
    Dry solids kept back [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> captured_solids(dry_solids=250.0, capture=60.0)
    150.0
    """
    return dry_solids * capture / HUNDRED_PERCENT


@relation(cite("wei2015", "capture of 87.1 % without and 97.3 % with polymer"))
def escaped_solids(*, dry_solids: DrySolids, capture: Capture) -> EscapedSolids:
    """Dry solids that slip through a settling tank or filter in a day.

    Parameters
    ----------
    dry_solids : dry solids that reach it in a day [g/day]
    capture : capture efficiency [percent]

    Returns
    -------
    Dry solids that go on with the water [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(escaped_solids(dry_solids=10000.0, capture=87.1))
    1290
    """
    kept: KeptSolids = captured_solids(dry_solids=dry_solids, capture=capture)
    return dry_solids - kept
