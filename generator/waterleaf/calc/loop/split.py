"""Division of the flow: standpipes, openings, and the time a tank takes to drain."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from waterleaf.calc.common import LITRES_PER_CUBIC_METRE
from waterleaf.calc.loop.turnover import GRAVITY, MILLIMETRES_PER_METRE, PI, SECONDS_PER_MINUTE, Flow
from waterleaf.calc.quantity import OutOfRange, Quantity, cite, relation

BedCount = Annotated[float, Quantity("n", "", "number of beds", 1, 1000, whole=True)]
BedFlow = Annotated[float, Quantity("Q_bed", "L/min", "flow into one bed", 0.0001, 1_000_000)]
Opening = Annotated[float, Quantity("b", "mm", "diameter of this bed's opening", 1, 1000)]
Openings = Annotated[Sequence[float], Quantity("b", "mm", "diameters of all openings", 1, 1000, many=1)]
SquareSum = Annotated[float, Quantity("S", "mm^2", "sum of the squared diameters", 1)]
OpeningArea = Annotated[float, Quantity("a", "m^2", "area of the opening", 1e-9, 10)]
Head = Annotated[float, Quantity("h", "m", "height of water above the opening", 0.0001, 50)]
RimHead = Annotated[float, Quantity("d", "mm", "height of water above the rim", 0.1, 500)]
RimHeadMetres = Annotated[float, Quantity("h", "m", "height of water above the rim in metres", 0.0001, 0.5)]
RimLength = Annotated[float, Quantity("L_rim", "m", "length of the rim", 0.001, 10)]
Discharge = Annotated[
    float,
    Quantity(
        "C", "", "discharge coefficient", 0.3, 1,
        basis="a sharp edge gives about 0.6, a short tube 0.8, no loss at all 1",
    ),
]
StartHead = Annotated[float, Quantity("h_1", "m", "height of water above the opening at the start", 0.001, 50)]
EndHead = Annotated[float, Quantity("h_2", "m", "height of water above the opening at the end", 0, 50)]
DrainTime = Annotated[float, Quantity("t", "min", "time to drain", 0)]
TankSurface = Annotated[float, Quantity("A", "m^2", "water surface of the tank", 0.01, 100_000)]


@relation(cite("arithmetic", "even split", "definition"))
def equal_standpipe_flow(*, flow: Flow, beds: BedCount) -> BedFlow:
    """Flow over each of several like standpipes whose rims stand at one height.

    Parameters
    ----------
    flow : flow to be divided [L/min]
    beds : number of beds, a whole number

    Returns
    -------
    Flow of one bed [L/min].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Holds for pipes of one bore in water of one level. A rim a few millimetres low takes much more than its share.

    Examples
    --------
    >>> equal_standpipe_flow(flow=60.0, beds=4.0)
    15.0
    """
    return flow / beds


@relation(cite("arithmetic", "flow in proportion to area at one head", "definition"))
def orifice_bed_flow(*, flow: Flow, opening: Opening, openings: Openings) -> BedFlow:
    """Flow of one bed when like openings under one level divide the flow by area.

    Parameters
    ----------
    flow : flow to be divided [L/min]
    opening : diameter of this bed's opening [mm]
    openings : diameters of all openings, this one among them, shape (n,) [mm]

    Returns
    -------
    Flow of this bed [L/min].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> orifice_bed_flow(flow=50.0, opening=20.0, openings=[20.0, 10.0])
    40.0
    """
    squares: SquareSum = math.fsum(each**2 for each in openings)
    return flow * opening**2 / squares


@relation(cite("orifice_formula", "flow from area, head and coefficient"))
def orifice_flow(*, opening: Opening, head: Head, discharge: Discharge) -> Flow:
    """Flow through a hole under a height of water.

    Parameters
    ----------
    opening : diameter of the hole [mm]
    head : height of water above the middle of the hole [m]
    discharge : discharge coefficient, about 0.62 for a sharp edge

    Returns
    -------
    Flow [L/min].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Sources give 0.60 to 0.62 for a sharp edge and 0.80 for a short tube.

    Examples
    --------
    >>> round(orifice_flow(opening=25.0, head=0.5, discharge=0.62), 1)
    57.2
    """
    area: OpeningArea = PI / 4 * (opening / MILLIMETRES_PER_METRE) ** 2
    return discharge * area * math.sqrt(2 * GRAVITY * head) * LITRES_PER_CUBIC_METRE * SECONDS_PER_MINUTE


@relation(cite("everett2014", "figure 3.2.13: sharp crest along the rim of a riser"))
def standpipe_flow(*, opening: Opening, rim_head: RimHead, discharge: Discharge = 0.61) -> Flow:
    """Flow over the rim of a standpipe, as over a sharp weir as long as the rim.

    Parameters
    ----------
    opening : diameter of the standpipe [mm]
    rim_head : height of water above the rim [mm]
    discharge : discharge coefficient; 3.27 in feet and seconds is 0.61 here

    Returns
    -------
    Flow [L/min].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Holds while the pipe takes the water freely. At three eighths of its diameter the mouth, as an orifice of the same
    coefficient, would take no more than the rim: from there on it drowns.

    Examples
    --------
    >>> round(standpipe_flow(opening=100.0, rim_head=20.0), 1)
    96.0
    """
    rim: RimLength = PI * opening / MILLIMETRES_PER_METRE
    height: RimHeadMetres = rim_head / MILLIMETRES_PER_METRE
    return (
        2 / 3 * discharge * rim * height * math.sqrt(2 * GRAVITY * height)
        * LITRES_PER_CUBIC_METRE * SECONDS_PER_MINUTE
    )


@relation(
    cite("orifice_formula", "flow from area, head and coefficient"),
    cite("arithmetic", "integral over a falling level", "computed"),
)
def drain_time(
    *, tank_surface: TankSurface, opening: Opening, start_head: StartHead, end_head: EndHead, discharge: Discharge
) -> DrainTime:
    """Time in which a tank with upright walls drains through a hole.

    Parameters
    ----------
    tank_surface : water surface of the tank [m^2]
    opening : diameter of the hole [mm]
    start_head : height of water above the hole at the start [m]
    end_head : height of water above the hole at the end, below the start [m]
    discharge : discharge coefficient, about 0.62 for a sharp edge

    Returns
    -------
    Time [min].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The flow dwindles as the level falls, so volume over starting flow is too short.

    Examples
    --------
    >>> round(drain_time(tank_surface=2.0, opening=25.0, start_head=0.5, end_head=0.1, discharge=0.62), 1)
    19.3
    """
    area: OpeningArea = PI / 4 * (opening / MILLIMETRES_PER_METRE) ** 2
    return (
        2 * tank_surface * (math.sqrt(start_head) - math.sqrt(end_head))
        / (discharge * area * math.sqrt(2 * GRAVITY) * SECONDS_PER_MINUTE)
    )


RimHeights = Annotated[Sequence[float], Quantity("z", "mm", "heights of the rims above one mark", 0, 1000, many=1)]
Bores = Annotated[Sequence[float], Quantity("b", "mm", "diameters of the standpipes", 10, 1000, many=1)]


@dataclass(frozen=True, slots=True)
class StandpipeRow:
    """One standpipe: how high the water stands over its rim, what it takes, and its share of the whole."""

    bed: int
    rim_height: float
    water_over_rim: float
    flow: float
    share: float


StandpipeTable = Annotated[tuple[StandpipeRow, ...], Quantity("", "", "flow of each standpipe")]


@relation(cite("everett2014", "figure 3.2.13: sharp crest along the rim of a riser"), procedure=True)
def standpipe_split(
    *, flow: Flow, rim_heights: RimHeights, bores: Bores, discharge: Discharge = 0.61
) -> StandpipeTable:
    """How standpipes in water of one level divide a flow when their rims do not stand at one height.

    Parameters
    ----------
    flow : flow to be divided [L/min]
    rim_heights : height of each rim above a common mark, shape (n,) [mm]
    bores : diameter of each standpipe, shape (n,) [mm]
    discharge : discharge coefficient of a rim

    Returns
    -------
    A row for each bed: rim height, water over the rim [mm], flow [L/min], share of the flow [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range, or lists of unlike length.

    Examples
    --------
    >>> [round(row.share) for row in standpipe_split(flow=60.0, rim_heights=[0.0, 0.0, 5.0], bores=[50.0, 50.0, 50.0])]
    [40, 40, 19]
    """
    if len(rim_heights) != len(bores):
        raise OutOfRange(f"bores: {len(bores)} given for {len(rim_heights)} rim heights. Give one for each bed.")
    strength = 2 / 3 * discharge * math.pi * math.sqrt(2 * GRAVITY) * LITRES_PER_CUBIC_METRE * SECONDS_PER_MINUTE

    def taken(level: float) -> list[float]:
        return [
            strength * bore / MILLIMETRES_PER_METRE * (max(0.0, level - rim) / MILLIMETRES_PER_METRE) ** 1.5
            for rim, bore in zip(rim_heights, bores, strict=True)
        ]

    low = high = min(rim_heights)
    while math.fsum(taken(high)) < flow:
        high += 100.0
    while high - low > 1e-12 * max(1.0, high):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        low, high = (middle, high) if math.fsum(taken(middle)) < flow else (low, middle)
    flows = taken(high)
    whole = math.fsum(flows)
    return tuple(
        StandpipeRow(bed, rim, max(0.0, high - rim), taking, 100 * taking / whole)
        for bed, (rim, taking) in enumerate(zip(rim_heights, flows, strict=True), start=1)
    )
