"""Levels: what runs back into the sump when the pump stops."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from waterleaf.calc.common import HUNDRED_PERCENT, LITRES_PER_CUBIC_METRE
from waterleaf.calc.loop.turnover import MILLIMETRES_PER_METRE, PI
from waterleaf.calc.quantity import OutOfRange, Quantity, cite, relation

BedPlan = Annotated[float, Quantity("A", "m^2", "water surface of the beds", 0.01, 100_000)]
LevelFall = Annotated[float, Quantity("d", "mm", "fall of the level down to the standpipe", 0.1, 2000)]
WetDepth = Annotated[float, Quantity("d", "mm", "wet depth of the medium that drains", 1, 2000)]
VoidShare = Annotated[
    float,
    Quantity(
        "p", "percent", "share of the bed that is not stone", 5, 100,
        basis="gravel holds 35 to 45 %, open water 100 %",
    ),
]
PipeBore = Annotated[float, Quantity("b", "mm", "inside diameter of the pipe", 1, 2000)]
PipeLength = Annotated[float, Quantity("L", "m", "length of pipe", 0.01, 10_000)]
RaftDrain = Annotated[float, Quantity("V_raft", "L", "water that drains from the raft beds", 0, 10_000_000)]
MediaDrain = Annotated[float, Quantity("V_media", "L", "water that drains from the media beds", 0, 10_000_000)]
PipeDrain = Annotated[float, Quantity("V_pipe", "L", "water that drains from the pipes", 0, 10_000_000)]
DrainDown = Annotated[float, Quantity("V_down", "L", "water that runs down when the pump stops", 0, 10_000_000)]
SumpArea = Annotated[float, Quantity("A", "m^2", "water surface of the sump", 0.01, 10_000)]
Freeboard = Annotated[float, Quantity("d", "mm", "height from the running level to the lowest way out", 1, 5000)]
FreeVolume = Annotated[float, Quantity("V_free", "L", "free volume of the sump while the pump runs", 0, 10_000_000)]
SpareVolume = Annotated[float, Quantity("V_spare", "L", "free volume left after the drain-down")]


@relation(cite("arithmetic", "area times fall", "definition"))
def raft_drain_down(*, bed_plan: BedPlan, level_fall: LevelFall) -> RaftDrain:
    """Water that leaves raft beds or tanks when their level falls to the standpipe.

    Parameters
    ----------
    bed_plan : water surface of the beds, rafts included [m^2]
    level_fall : running level minus rim of the standpipe [mm]

    Returns
    -------
    Water that drains [L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Floating rafts push no water out beyond their weight, so the whole surface counts. Below the rim nothing drains.

    Examples
    --------
    >>> raft_drain_down(bed_plan=14.4, level_fall=25.0)
    360.0
    """
    return bed_plan * level_fall / MILLIMETRES_PER_METRE * LITRES_PER_CUBIC_METRE


@relation(cite("arithmetic", "area times depth times void share", "definition"))
def media_drain_down(*, bed_plan: BedPlan, wet_depth: WetDepth, void_share: VoidShare) -> MediaDrain:
    """Water that leaves media beds when they drain.

    Parameters
    ----------
    bed_plan : area of the beds [m^2]
    wet_depth : depth of medium that drains [mm]
    void_share : share of the bed that is not stone; fill a bucket of medium with water to find it [percent]

    Returns
    -------
    Water that drains [L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(media_drain_down(bed_plan=3.24, wet_depth=250.0, void_share=40.0), 6)
    324.0
    """
    return bed_plan * wet_depth / MILLIMETRES_PER_METRE * void_share / HUNDRED_PERCENT * LITRES_PER_CUBIC_METRE


@relation(cite("arithmetic", "volume of a cylinder", "definition"))
def pipe_volume(*, bore: PipeBore, pipe_length: PipeLength) -> PipeDrain:
    """Water in a full pipe.

    Parameters
    ----------
    bore : inside diameter of the pipe [mm]
    pipe_length : length of pipe that empties [m]

    Returns
    -------
    Water in the pipe [L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(pipe_volume(bore=75.0, pipe_length=20.0), 1)
    88.4
    """
    return PI / 4 * (bore / MILLIMETRES_PER_METRE) ** 2 * pipe_length * LITRES_PER_CUBIC_METRE


@relation(cite("arithmetic", "a sum", "definition"))
def drain_down_volume(*, raft_drain: RaftDrain, media_drain: MediaDrain, pipe_drain: PipeDrain) -> DrainDown:
    """Water that runs into the sump when the pump stops.

    Parameters
    ----------
    raft_drain : water from raft beds and tanks [L]
    media_drain : water from media beds [L]
    pipe_drain : water from pipes above the sump [L]

    Returns
    -------
    Drain-down volume [L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> drain_down_volume(raft_drain=360.0, media_drain=0.0, pipe_drain=88.0)
    448.0
    """
    return raft_drain + media_drain + pipe_drain


@relation(cite("arithmetic", "area times height", "definition"))
def free_sump_volume(*, sump_area: SumpArea, freeboard: Freeboard) -> FreeVolume:
    """Room that the sump has for water coming down, while the pump runs.

    Parameters
    ----------
    sump_area : water surface of the sump [m^2]
    freeboard : running level to the lowest way out, be it rim or overflow [mm]

    Returns
    -------
    Free volume [L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> free_sump_volume(sump_area=1.0, freeboard=450.0)
    450.0
    """
    return sump_area * freeboard / MILLIMETRES_PER_METRE * LITRES_PER_CUBIC_METRE


@relation(cite("arithmetic", "a difference", "definition"))
def spare_sump_volume(*, free_volume: FreeVolume, drain_down: DrainDown) -> SpareVolume:
    """Room left in the sump after the pump stops; below zero the sump runs over.

    Parameters
    ----------
    free_volume : free volume of the sump while the pump runs [L]
    drain_down : water that runs down when the pump stops [L]

    Returns
    -------
    Spare volume, negative by as much as is lost on the floor [L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Water on the floor meets sockets and cables: keep plugs above the highest level and every pump on a ground-fault
    device, as the local electrical code asks.

    Examples
    --------
    >>> spare_sump_volume(free_volume=400.0, drain_down=448.0)
    -48.0
    """
    return free_volume - drain_down


DrainAreas = Annotated[Sequence[float], Quantity("A", "m^2", "areas of the beds", 0.01, 100_000, many=1)]
DrainFalls = Annotated[Sequence[float], Quantity("d", "mm", "depths that drain", 0.1, 2000, many=1)]
DrainVoids = Annotated[Sequence[float], Quantity("p", "percent", "void shares, 100 for open water", 5, 100, many=1)]


@dataclass(frozen=True, slots=True)
class DrainRow:
    """One bed, or the pipes: what drains from it, and what has come down so far."""

    source: str
    volume: float
    running_total: float
    room_left: float


DrainTable = Annotated[tuple[DrainRow, ...], Quantity("", "", "drain-down bed by bed")]


@relation(cite("arithmetic", "sums of area, depth and void share", "definition"), procedure=True)
def drain_down_table(
    *, bed_areas: DrainAreas, depths: DrainFalls, void_shares: DrainVoids, pipe_drain: PipeDrain,
    free_volume: FreeVolume,
) -> DrainTable:
    """Drain-down bed by bed against the free volume of the sump.

    Parameters
    ----------
    bed_areas : area of each bed, shape (n,) [m^2]
    depths : depth that drains from each bed, shape (n,) [mm]
    void_shares : 100 for raft beds and tanks, the void share for media beds, shape (n,) [percent]
    pipe_drain : water from the pipes [L]
    free_volume : free volume of the sump while the pump runs [L]

    Returns
    -------
    A row for each bed and one for the pipes: volume, running total, room left in the sump [L].

    Raises
    ------
    OutOfRange : an argument outside its valid range, or lists of unlike length.

    Notes
    -----
    A negative last figure is water on the floor, where it meets cables and sockets.

    Examples
    --------
    >>> table = drain_down_table(bed_areas=[7.2, 7.2], depths=[25.0, 25.0], void_shares=[100.0, 100.0],
    ...                          pipe_drain=88.0, free_volume=500.0)
    >>> table[-1].room_left
    52.0
    """
    for name, values in (("depths", depths), ("void_shares", void_shares)):
        if len(values) != len(bed_areas):
            raise OutOfRange(f"{name}: {len(values)} given for {len(bed_areas)} beds. Give one for each bed.")
    # Millimetres on a square metre are litres; the void share is a percentage.
    volumes = [a * d * p / 100 for a, d, p in zip(bed_areas, depths, void_shares, strict=True)]
    names = [f"bed {number}" for number in range(1, len(volumes) + 1)] + ["pipes"]
    rows: list[DrainRow] = []
    total = 0.0
    for name, volume in zip(names, [*volumes, pipe_drain], strict=True):
        total += volume
        rows.append(DrainRow(name, volume, total, free_volume - total))
    return tuple(rows)
