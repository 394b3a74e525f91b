"""The published raft system as data, and the same system at any scale."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Final

from waterleaf.calc.loop.pipe import Bore
from waterleaf.calc.loop.turnover import TankLength, TankWidth
from waterleaf.calc.quantity import Citation, Quantity, cite, relation
from waterleaf.calc.scale.factors import FlowScale, RaftArea, RaftTanks, ReferenceBore, ScaleFactor

_PAGE: Final[Citation] = cite("uvi2010", "table of components")
_SHEET: Final[Citation] = cite("uvi_factsheet", "fish tanks and hydroponic tanks")
_SLIDES: Final[Citation] = cite("uvi_slides", "treatment processes")
_TANK_FLOW: Final[Citation] = cite("uvi2010", "25 US gallons a minute a tank, printed as 100 L/min")
_FEED: Final[Citation] = cite("uvi_slides", "60 to 100 g a square metre a day, on the 214 m2 of the page", "computed")
_BULLETIN: Final[Citation] = cite("rakocy2006", "description of the commercial raft system")
_BULLETIN_TABLE: Final[Citation] = cite("rakocy2006", "table of dimensions", "memory")


@dataclass(frozen=True, slots=True)
class Component:
    """One figure of a published system: how many there are, what is measured on each, and who says so."""

    name: str
    count: int
    measure: str
    value: float
    unit: str
    source: Citation

    @property
    def total(self) -> float:
        """All of them together; a diameter or depth has no total of its own."""
        return self.count * self.value


RAFT_SYSTEM: Final = (
    Component("rearing tank", 4, "volume", 7800, "L", _PAGE),
    Component("clarifier", 2, "volume", 3785, "L", _PAGE),
    Component("filter tank", 4, "volume", 700, "L", _PAGE),
    Component("degassing tank", 1, "volume", 700, "L", _PAGE),
    Component("raft tank", 6, "volume", 11_356, "L", _PAGE),
    Component("sump", 1, "volume", 605, "L", _PAGE),
    Component("base addition tank", 1, "volume", 208, "L", _PAGE),
    Component("growing area", 1, "area", 214, "m^2", _PAGE),
    Component("land", 1, "area", 500, "m^2", _PAGE),
    Component("flow through a rearing tank", 4, "flow", 94.635, "L/min", _TANK_FLOW),
    Component("daily feed, low end", 1, "feed", 12_840, "g/day", _FEED),
    Component("daily feed, high end", 1, "feed", 21_400, "g/day", _FEED),
    Component("electric power", 1, "power", 2210, "W", _BULLETIN),
    Component("air stones of a rearing tank", 4, "count", 22, "", _SLIDES),
    Component("air stones of a raft tank", 6, "count", 24, "", _SLIDES),
    Component("rearing tank", 4, "diameter", 3.048, "m", _SHEET),
    Component("rearing tank", 4, "wall height", 1.2192, "m", _SHEET),
    Component("raft tank", 6, "length", 30.48, "m", _SHEET),
    Component("raft tank", 6, "width", 1.2192, "m", _SHEET),
    Component("raft tank", 6, "wall height", 0.4064, "m", _SHEET),
    Component("clarifier", 2, "diameter", 1.8288, "m", _BULLETIN_TABLE),
    Component("sump", 1, "diameter", 1.2192, "m", _BULLETIN_TABLE),
    Component("pump", 1, "power", 372.85, "W", _BULLETIN_TABLE),
    Component("blower of the fish tanks", 1, "power", 1118.55, "W", _BULLETIN_TABLE),
    Component("blower of the raft tanks", 1, "power", 745.7, "W", _BULLETIN_TABLE),
)
# What grows with the duty; a diameter or a wall height is a matter of shape.
DUTY_MEASURES: Final = frozenset({"volume", "area", "flow", "feed", "power", "count"})


def component(name: str, measure: str) -> Component:
    """The figure of the published system with that name and measure."""
    return next(part for part in RAFT_SYSTEM if part.name == name and part.measure == measure)


@relation(cite("uvi_factsheet", "six tanks of 4 by 100 feet"), cite("arithmetic", "length times width", "definition"))
def raft_area(*, raft_length: TankLength, raft_width: TankWidth, raft_tanks: RaftTanks) -> RaftArea:
    """Growing area of some like raft tanks.

    Parameters
    ----------
    raft_length : length covered by rafts, not the length of the tank [m]
    raft_width : width of the tank [m]
    raft_tanks : number of tanks, a whole number

    Returns
    -------
    Growing area [m^2].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(raft_area(raft_length=6.0, raft_width=1.2, raft_tanks=2), 6)
    14.4
    """
    return raft_length * raft_width * raft_tanks


@relation(cite("arithmetic", "area of the bore in proportion to the flow", "definition"))
def bore_at_same_velocity(*, reference_bore: ReferenceBore, flow_scale: FlowScale) -> Bore:
    """Bore that carries a scaled flow at the velocity it had before.

    Parameters
    ----------
    reference_bore : bore in the known system [mm]
    flow_scale : factor of the flow

    Returns
    -------
    Inside diameter; take the next larger pipe [mm].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Friction breaks: at one velocity a metre of narrow pipe loses more head than a metre of wide pipe.

    Examples
    --------
    >>> round(bore_at_same_velocity(reference_bore=100.0, flow_scale=0.25), 6)
    50.0
    """
    return reference_bore * math.sqrt(flow_scale)


@dataclass(frozen=True, slots=True)
class ScaledRow:
    """One component at its published size and scaled; the scaled size keeps the number of pieces."""

    component: str
    measure: str
    unit: str
    count: int
    reference_each: float
    reference_total: float
    scaled_each: float
    scaled_total: float
    source: Citation


ScaledTable = Annotated[tuple[ScaledRow, ...], Quantity("", "", "components at scale")]


@relation(_PAGE, _BULLETIN, _SLIDES, _BULLETIN_TABLE, procedure=True)
def scaled_components(*, scale: ScaleFactor) -> ScaledTable:
    """The published raft system scaled by duty: one factor on areas, volumes, flows, feed, power and air stones.

    Parameters
    ----------
    scale : scale factor

    Returns
    -------
    A row for each component: reference and scaled value, each and in total, with its source.

    Raises
    ------
    OutOfRange : a scale factor outside its valid range.

    Notes
    -----
    Power follows the flow only while the head and the efficiencies stay; small pumps and blowers are less efficient.

    Examples
    --------
    >>> [round(row.scaled_total, 1) for row in scaled_components(scale=0.1) if row.component == "growing area"]
    [21.4]
    """
    return tuple(
        ScaledRow(
            part.name, part.measure, part.unit, part.count, part.value, part.total, part.value * scale,
            part.total * scale, part.source,
        )
        for part in RAFT_SYSTEM
        if part.measure in DUTY_MEASURES
    )


@dataclass(frozen=True, slots=True)
class RatioRow:
    """One ratio at full size, by duty and in like shape; `status` is that of its weakest input."""

    ratio: str
    unit: str
    reference: float
    by_duty: float
    holds_by_duty: bool
    by_shape: float
    holds_by_shape: bool
    status: str


RatioTable = Annotated[tuple[RatioRow, ...], Quantity("", "", "ratios that hold or break")]


@dataclass(frozen=True, slots=True)
class _State:
    """The figures from which the ratios are made, at some scale of volumes and areas."""

    volume: float
    area: float

    def volume_of(self, name: str) -> float:
        """Total volume of the tanks of that name [L]."""
        return component(name, "volume").total * self.volume

    @property
    def flow(self) -> float:
        """Flow of the pump [L/min]; it follows the volumes."""
        return component("flow through a rearing tank", "flow").total * self.volume

    @property
    def feed(self) -> float:
        """Daily feed at the low end [g/day]; it follows the volumes, and so the fish."""
        return component("daily feed, low end", "feed").total * self.volume

    @property
    def bed(self) -> float:
        """Growing area [m^2]."""
        return component("growing area", "area").total * self.area

    def plan_of(self, name: str) -> float:
        """Plan area of the round tanks of that name [m^2]."""
        part = component(name, "diameter")
        return part.count * math.pi / 4 * part.value**2 * self.area

    @property
    def rearing_wall(self) -> float:
        """Wall of the rearing tanks [m^2]."""
        across, height = component("rearing tank", "diameter"), component("rearing tank", "wall height")
        return across.count * math.pi * across.value * height.value * self.area


_RATIOS: Final[tuple[tuple[str, str, str, Callable[[_State], float]], ...]] = (
    ("feed for each square metre of bed", "g/m^2/day", "read", lambda at: at.feed / at.bed),
    ("flow for each square metre of bed", "L/min/m^2", "read", lambda at: at.flow / at.bed),
    ("rearing volume for each square metre of bed", "L/m^2", "read", lambda at: at.volume_of("rearing tank") / at.bed),
    ("raft water for each square metre of bed", "L/m^2", "read", lambda at: at.volume_of("raft tank") / at.bed),
    ("retention in the rearing tanks", "min", "read", lambda at: at.volume_of("rearing tank") / at.flow),
    ("retention in the clarifiers", "min", "read", lambda at: at.volume_of("clarifier") / at.flow),
    ("retention in the raft tanks", "min", "read", lambda at: at.volume_of("raft tank") / at.flow),
    ("feed for each litre of rearing volume", "g/L/day", "read", lambda at: at.feed / at.volume_of("rearing tank")),
    ("overflow rate of the clarifiers", "m/day", "memory", lambda at: at.flow * 1.44 / at.plan_of("clarifier")),
    ("rearing wall for each litre", "m^2/L", "read", lambda at: at.rearing_wall / at.volume_of("rearing tank")),
)


@relation(_PAGE, _SHEET, _BULLETIN_TABLE, procedure=True)
def scaled_ratios(*, scale: ScaleFactor) -> RatioTable:
    """Ratios of the published raft system that hold or break when it is scaled.

    Parameters
    ----------
    scale : factor of volumes, flow and feed

    Returns
    -------
    A row for each ratio: at full size, scaled by duty (areas take the same factor), shrunk in like shape (areas take
    the factor to the power of two thirds), and whether each still equals the ratio at full size.

    Raises
    ------
    OutOfRange : a scale factor outside its valid range.

    Notes
    -----
    Scaling by duty keeps every ratio because it takes fewer or shorter vessels of the old depth. One vessel shrunk in
    like shape is another exercise: its retention holds and its overflow rate, bed ratio and cooling break.

    Examples
    --------
    >>> [row.ratio for row in scaled_ratios(scale=0.1) if row.holds_by_shape][:2]
    ['retention in the rearing tanks', 'retention in the clarifiers']
    """
    full, duty, shape = _State(1.0, 1.0), _State(scale, scale), _State(scale, scale ** (2 / 3))
    rows = []
    for name, unit, status, ratio in _RATIOS:
        reference, by_duty, by_shape = ratio(full), ratio(duty), ratio(shape)
        rows.append(RatioRow(
            name, unit, reference, by_duty, math.isclose(by_duty, reference, rel_tol=1e-9),
            by_shape, math.isclose(by_shape, reference, rel_tol=1e-9), status,
        ))
    return tuple(rows)
