"""Scale: a smaller or larger system by the numbers of a known one, and what keeps and what breaks on the way."""

from typing import Annotated, Final

from waterleaf.calc.loop.turnover import TankLength
from waterleaf.calc.quantity import Citation, Quantity, cite, relation

_DUTY: Final[Citation] = cite("arithmetic", "like parts in like proportion", "definition")
_GEOMETRY: Final[Citation] = cite("arithmetic", "lengths, areas and volumes of like shapes", "definition")

WishedArea = Annotated[float, Quantity("A", "m^2", "wished bed area", 0.05, 100_000)]
ReferenceArea = Annotated[float, Quantity("A_ref", "m^2", "bed area of the known system", 0.05, 100_000)]
WishedVolume = Annotated[float, Quantity("V", "L", "wished tank volume", 1, 100_000_000)]
ReferenceVolume = Annotated[float, Quantity("V_ref", "L", "tank volume of the known system", 1, 100_000_000)]
WishedFeed = Annotated[float, Quantity("F", "g/day", "wished daily feed", 0.1, 10_000_000)]
ReferenceFeed = Annotated[float, Quantity("F_ref", "g/day", "daily feed of the known system", 0.1, 10_000_000)]
WishedFlow = Annotated[float, Quantity("Q", "L/min", "wished flow", 0.01, 1_000_000)]
ReferenceFlow = Annotated[float, Quantity("Q_ref", "L/min", "flow of the known system", 0.01, 1_000_000)]
ReferenceLength = Annotated[float, Quantity("L_ref", "m", "length in the known vessel", 0.001, 1000)]
ReferenceBore = Annotated[float, Quantity("b_ref", "mm", "bore in the known system", 3, 2000)]
ScaleFactor = Annotated[float, Quantity("s", "", "scale factor", 0.0001, 10_000)]
LengthScale = Annotated[float, Quantity("k", "", "factor of every length", 0.01, 100)]
AreaScale = Annotated[float, Quantity("s_A", "", "factor of every area", 0.0001, 10_000)]
VolumeScale = Annotated[float, Quantity("s_V", "", "factor of the volume", 0.0001, 10_000)]
FlowScale = Annotated[float, Quantity("s_Q", "", "factor of the flow", 0.0001, 10_000)]
SurfaceScale = Annotated[float, Quantity("s_o", "", "factor of outer surface for each litre", 0.01, 100)]
ReferenceOverflow = Annotated[float, Quantity("v_ref", "m/day", "overflow rate of the known clarifier", 0.1, 10_000)]
OverflowRate = Annotated[float, Quantity("v", "m/day", "overflow rate of the new clarifier", 0.001, 1_000_000)]
RaftTanks = Annotated[float, Quantity("n", "", "number of raft tanks", 1, 1000, whole=True)]
RaftArea = Annotated[float, Quantity("A", "m^2", "growing area of the rafts", 0.01, 1_000_000)]


@relation(_DUTY)
def scale_by_area(*, wished_area: WishedArea, reference_area: ReferenceArea) -> ScaleFactor:
    """Scale factor from the bed area that is wished.

    Parameters
    ----------
    wished_area : bed area of the new system [m^2]
    reference_area : bed area of the known system [m^2]

    Returns
    -------
    Scale factor, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    With one factor on areas, volumes, flows and feed, the feed ratio and all retention times stay as they were.

    Examples
    --------
    >>> round(scale_by_area(wished_area=21.4, reference_area=214.0), 6)
    0.1
    """
    return wished_area / reference_area


@relation(_DUTY)
def scale_by_volume(*, wished_volume: WishedVolume, reference_volume: ReferenceVolume) -> ScaleFactor:
    """Scale factor from the tank volume that is wished or at hand.

    Parameters
    ----------
    wished_volume : tank volume of the new system [L]
    reference_volume : the same tanks' volume in the known system [L]

    Returns
    -------
    Scale factor, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(scale_by_volume(wished_volume=780.0, reference_volume=7800.0), 6)
    0.1
    """
    return wished_volume / reference_volume


@relation(_DUTY)
def scale_by_feed(*, wished_feed: WishedFeed, reference_feed: ReferenceFeed) -> ScaleFactor:
    """Scale factor from the daily feed that is wished.

    Parameters
    ----------
    wished_feed : daily feed of the new system [g/day]
    reference_feed : daily feed of the known system [g/day]

    Returns
    -------
    Scale factor, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> scale_by_feed(wished_feed=2000.0, reference_feed=16000.0)
    0.125
    """
    return wished_feed / reference_feed


@relation(_DUTY)
def scale_by_flow(*, wished_flow: WishedFlow, reference_flow: ReferenceFlow) -> ScaleFactor:
    """Scale factor from the flow that a pump at hand gives.

    Parameters
    ----------
    wished_flow : flow of the new system at its working head [L/min]
    reference_flow : flow of the known system [L/min]

    Returns
    -------
    Scale factor, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> scale_by_flow(wished_flow=50.0, reference_flow=400.0)
    0.125
    """
    return wished_flow / reference_flow


@relation(_DUTY)
def scaled_area(*, reference_area: ReferenceArea, scale: ScaleFactor) -> WishedArea:
    """Bed area of a system scaled by duty.

    Parameters
    ----------
    reference_area : bed area of the known system [m^2]
    scale : scale factor

    Returns
    -------
    Bed area [m^2].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> scaled_area(reference_area=214.0, scale=0.5)
    107.0
    """
    return reference_area * scale


@relation(_DUTY)
def scaled_volume(*, reference_volume: ReferenceVolume, scale: ScaleFactor) -> WishedVolume:
    """Tank volume of a system scaled by duty.

    Parameters
    ----------
    reference_volume : volume of like tanks in the known system [L]
    scale : scale factor

    Returns
    -------
    Tank volume [L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> scaled_volume(reference_volume=7570.0, scale=0.5)
    3785.0
    """
    return reference_volume * scale


@relation(_DUTY)
def scaled_flow(*, reference_flow: ReferenceFlow, scale: ScaleFactor) -> WishedFlow:
    """Flow of a system scaled by duty.

    Parameters
    ----------
    reference_flow : flow of the known system [L/min]
    scale : scale factor

    Returns
    -------
    Flow [L/min].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Flow over the factor of the volume keeps retention; the head does not scale, so the pump has to be chosen afresh.

    Examples
    --------
    >>> scaled_flow(reference_flow=378.0, scale=0.5)
    189.0
    """
    return reference_flow * scale


@relation(_DUTY)
def scaled_feed(*, reference_feed: ReferenceFeed, scale: ScaleFactor) -> WishedFeed:
    """Daily feed of a system scaled by duty.

    Parameters
    ----------
    reference_feed : daily feed of the known system [g/day]
    scale : scale factor

    Returns
    -------
    Daily feed [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> scaled_feed(reference_feed=12840.0, scale=0.5)
    6420.0
    """
    return reference_feed * scale


@relation(_GEOMETRY)
def area_scale(*, length_scale: LengthScale) -> AreaScale:
    """Factor of every area when all lengths of a shape take one factor.

    Parameters
    ----------
    length_scale : factor of every length

    Returns
    -------
    Factor of every area, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> area_scale(length_scale=0.5)
    0.25
    """
    return length_scale**2


@relation(_GEOMETRY)
def volume_scale(*, length_scale: LengthScale) -> VolumeScale:
    """Factor of the volume when all lengths of a shape take one factor.

    Parameters
    ----------
    length_scale : factor of every length

    Returns
    -------
    Factor of the volume, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> volume_scale(length_scale=0.5)
    0.125
    """
    return length_scale**3


@relation(_GEOMETRY)
def length_scale_for_volume(*, volume_scale: VolumeScale) -> LengthScale:
    """Factor of every length when a shape is shrunk or grown to a share of its volume.

    Parameters
    ----------
    volume_scale : factor of the volume

    Returns
    -------
    Factor of every length, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(length_scale_for_volume(volume_scale=0.125), 9)
    0.5
    """
    return float(volume_scale ** (1 / 3))


@relation(_GEOMETRY)
def area_scale_for_volume(*, volume_scale: VolumeScale) -> AreaScale:
    """Factor of every area when a shape is shrunk or grown to a share of its volume.

    Parameters
    ----------
    volume_scale : factor of the volume

    Returns
    -------
    Factor of every area, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(area_scale_for_volume(volume_scale=0.125), 9)
    0.25
    """
    return float(volume_scale ** (2 / 3))


@relation(_GEOMETRY)
def shrunk_length(*, reference_length: ReferenceLength, volume_scale: VolumeScale) -> TankLength:
    """A length of a vessel that is shrunk or grown to a share of its volume in like shape.

    Parameters
    ----------
    reference_length : the length in the known vessel [m]
    volume_scale : factor of the volume

    Returns
    -------
    The length in the new vessel [m].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(shrunk_length(reference_length=2.0, volume_scale=0.125), 9)
    1.0
    """
    factor: LengthScale = length_scale_for_volume(volume_scale=volume_scale)
    return reference_length * factor


@relation(_GEOMETRY)
def surface_scale(*, volume_scale: VolumeScale) -> SurfaceScale:
    """Factor of the outer surface that a litre of water has, which governs how fast a vessel cools.

    Parameters
    ----------
    volume_scale : factor of the volume

    Returns
    -------
    Factor of surface for each litre, a pure number; above one for a smaller vessel.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(surface_scale(volume_scale=0.125), 9)
    2.0
    """
    area: AreaScale = area_scale_for_volume(volume_scale=volume_scale)
    return area / volume_scale


@relation(_GEOMETRY, cite("arithmetic", "flow over plan area", "definition"))
def shrunk_overflow_rate(
    *, reference_overflow: ReferenceOverflow, volume_scale: VolumeScale, flow_scale: FlowScale
) -> OverflowRate:
    """Overflow rate of a clarifier shrunk in like shape.

    Parameters
    ----------
    reference_overflow : overflow rate of the known clarifier, flow over plan area [m/day]
    volume_scale : factor of its volume
    flow_scale : factor of the flow through it

    Returns
    -------
    Overflow rate of the new clarifier [m/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    With one factor on flow and volume the retention time stays, but plan area shrinks less than volume, so the
    overflow rate falls: the small clarifier holds finer solids than its model, and cools faster.

    Examples
    --------
    >>> round(shrunk_overflow_rate(reference_overflow=100.0, volume_scale=0.125, flow_scale=0.125), 6)
    50.0
    """
    area: AreaScale = area_scale_for_volume(volume_scale=volume_scale)
    return reference_overflow * flow_scale / area
