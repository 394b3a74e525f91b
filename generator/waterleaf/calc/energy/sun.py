"""Sun: its height through the year and the day, the length of the day, and the shadow of a row of vines."""

import math
from dataclasses import dataclass
from typing import Annotated, Final

from waterleaf.calc.loop.turnover import PI
from waterleaf.calc.quantity import Citation, Constant, Quantity, cite, lookup, relation

_DEGREES: Final = "angles in degrees enter sines and cosines"
_EXAMPLE: Final[Citation] = cite("solar_example", "altitude, azimuth and day length at 40 degrees north")

DEGREES_PER_HOUR: Final = Constant(
    15, symbol="15", unit="degree/hour", name="turn of the earth in an hour",
    source=cite("arithmetic", "360 degrees in 24 hours", "definition"),
)
NOON: Final = Constant(
    12, symbol="12", unit="hour", name="solar noon",
    source=cite("arithmetic", "definition of solar time", "definition"),
)
RIGHT_ANGLE: Final = Constant(
    90, symbol="90", unit="degree", name="right angle", source=cite("arithmetic", "definition", "definition"),
)

DayOfYear = Annotated[float, Quantity("n", "", "day of the year, 1 for 1 January", 1, 366, whole=True)]
Declination = Annotated[float, Quantity("δ", "degree", "declination of the sun", -23.5, 23.5)]
DayAngle = Annotated[float, Quantity("B", "degree", "day of the year as an angle", -180, 720)]
Latitude = Annotated[float, Quantity("φ", "degree", "latitude, north positive", -89, 89)]
SunsetAngle = Annotated[float, Quantity("ω_s", "degree", "angle of the earth's turn from noon to sunset", 0, 180)]
SunsetCosine = Annotated[float, Quantity("c", "", "cosine of the sunset angle")]
DayLength = Annotated[float, Quantity("N", "hour", "length of the day", 0, 24)]
SolarTime = Annotated[float, Quantity("t", "hour", "solar time, 12 when the sun is highest", 0, 24)]
HourAngle = Annotated[float, Quantity("ω", "degree", "hour angle, negative in the morning", -180, 180)]
NoonAltitude = Annotated[float, Quantity("α_noon", "degree", "height of the sun at noon", -90, 90)]
SunSine = Annotated[float, Quantity("S", "", "sine of the sun's height", -1, 1)]
SunAltitude = Annotated[float, Quantity("α", "degree", "height of the sun above the horizon", -90, 90)]
HighSun = Annotated[float, Quantity("α", "degree", "height of the sun above the horizon", 0.5, 89.5)]
SunAzimuth = Annotated[float, Quantity("z", "degree", "bearing of the sun from due south, either way", 0, 180)]
AzimuthCosine = Annotated[float, Quantity("c", "", "cosine of the bearing")]
RowHeight = Annotated[float, Quantity("H", "m", "height of the row", 0.05, 20)]
RowAngle = Annotated[float, Quantity("θ", "degree", "angle between the sun's bearing and the line of the row", 0, 180)]
ShadowLength = Annotated[float, Quantity("L", "m", "length of the shadow", 0)]


@lookup("arccos", "the angle in degrees whose cosine is", cite("arithmetic", "inverse cosine", "definition"))
def arccos_degrees(cosine: float) -> float:
    """Angle in degrees whose cosine is given; a cosine beyond one (sun never sets or never rises) counts as one."""
    return math.degrees(math.acos(min(1.0, max(-1.0, cosine))))


@lookup("arcsin", "the angle in degrees whose sine is", cite("arithmetic", "inverse sine", "definition"))
def arcsin_degrees(sine: float) -> float:
    """Angle in degrees, from -90 to 90, whose sine is given."""
    return math.degrees(math.asin(min(1.0, max(-1.0, sine))))


@relation(cite("cooper1969", "declination as a sine of the day"), empirical=_DEGREES)
def solar_declination(*, day: DayOfYear) -> Declination:
    """Declination of the sun on a day of the year by Cooper's equation.

    Parameters
    ----------
    day : day of the year, 1 for 1 January

    Returns
    -------
    Declination [degree].

    Raises
    ------
    OutOfRange : a day outside 1 to 366, or not whole.

    Notes
    -----
    The default of this module, because it fits on one line. It is up to 1.1 degrees off, in October; the equation of
    the FAO is off by as much there, and Spencer's series by a third of a degree at most.

    Examples
    --------
    >>> round(solar_declination(day=167.0), 2)  # printed 23.35
    23.35
    """
    return 23.45 * math.sin(math.radians(360 * (284 + day) / 365))


@relation(cite("spencer1971", "declination as a Fourier series"), empirical=_DEGREES)
def solar_declination_spencer(*, day: DayOfYear) -> Declination:
    """Declination of the sun on a day of the year by Spencer's series.

    Parameters
    ----------
    day : day of the year, 1 for 1 January

    Returns
    -------
    Declination [degree].

    Raises
    ------
    OutOfRange : a day outside 1 to 366, or not whole.

    Examples
    --------
    >>> round(solar_declination_spencer(day=172.0), 2)
    23.45
    """
    turn: DayAngle = 360 * (day - 1) / 365
    return 180 / PI * (
        0.006918
        - 0.399912 * math.cos(math.radians(turn))
        + 0.070257 * math.sin(math.radians(turn))
        - 0.006758 * math.cos(math.radians(2 * turn))
        + 0.000907 * math.sin(math.radians(2 * turn))
        - 0.002697 * math.cos(math.radians(3 * turn))
        + 0.00148 * math.sin(math.radians(3 * turn))
    )


@relation(cite("allen1998", "equation 24"), empirical=_DEGREES)
def solar_declination_fao(*, day: DayOfYear) -> Declination:
    """Declination of the sun on a day of the year by the equation of the FAO's paper 56.

    Parameters
    ----------
    day : day of the year, 1 for 1 January

    Returns
    -------
    Declination [degree].

    Raises
    ------
    OutOfRange : a day outside 1 to 366, or not whole.

    Examples
    --------
    >>> round(solar_declination_fao(day=246.0) * 3.14159265 / 180, 3)  # FAO paper 56: 0.120 rad
    0.12
    """
    return 180 / PI * 0.409 * math.sin(2 * PI * day / 365 - 1.39)


@relation(cite("allen1998", "equation 25"), _EXAMPLE, empirical=_DEGREES)
def sunset_hour_angle(*, latitude: Latitude, declination: Declination) -> SunsetAngle:
    """Angle through which the earth turns from noon to sunset.

    Parameters
    ----------
    latitude : latitude, north positive [degree]
    declination : declination of the sun [degree]

    Returns
    -------
    Sunset hour angle; 180 where the sun does not set, 0 where it does not rise [degree].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(sunset_hour_angle(latitude=0.0, declination=23.35), 6)
    90.0
    """
    cosine: SunsetCosine = -(math.tan(math.radians(latitude)) * math.tan(math.radians(declination)))
    return arccos_degrees(cosine)


@relation(cite("allen1998", "equation 34"), _EXAMPLE, empirical=_DEGREES)
def day_length(*, latitude: Latitude, declination: Declination) -> DayLength:
    """Hours from sunrise to sunset.

    Parameters
    ----------
    latitude : latitude, north positive [degree]
    declination : declination of the sun [degree]

    Returns
    -------
    Length of the day [hour].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    By the centre of the sun and without the bending of light in the air, which add some minutes.

    Examples
    --------
    >>> round(day_length(latitude=40.0, declination=23.35), 2)  # printed 14.83 h
    14.83
    """
    sunset: SunsetAngle = sunset_hour_angle(latitude=latitude, declination=declination)
    return 2 * sunset / DEGREES_PER_HOUR


@relation(cite("arithmetic", "right angle minus the distance of sun and zenith", "definition"))
def noon_altitude(*, latitude: Latitude, declination: Declination) -> NoonAltitude:
    """Height of the sun above the horizon at solar noon.

    Parameters
    ----------
    latitude : latitude, north positive [degree]
    declination : declination of the sun [degree]

    Returns
    -------
    Height of the sun at noon; below zero in polar night [degree].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> noon_altitude(latitude=40.0, declination=-23.0)
    27.0
    """
    return RIGHT_ANGLE - math.fabs(latitude - declination)


@relation(cite("arithmetic", "15 degrees an hour from noon", "definition"))
def hour_angle(*, solar_time: SolarTime) -> HourAngle:
    """Angle through which the earth has turned since solar noon.

    Parameters
    ----------
    solar_time : solar time, 12 when the sun is highest; not the time of the clock [hour]

    Returns
    -------
    Hour angle, negative in the morning [degree].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> hour_angle(solar_time=14.0)
    30.0
    """
    return DEGREES_PER_HOUR * (solar_time - NOON)


@relation(_EXAMPLE, empirical=_DEGREES)
def solar_altitude(*, latitude: Latitude, declination: Declination, hour_angle: HourAngle) -> SunAltitude:
    """Height of the sun above the horizon at an hour of the day.

    Parameters
    ----------
    latitude : latitude, north positive [degree]
    declination : declination of the sun [degree]
    hour_angle : angle since noon, negative in the morning [degree]

    Returns
    -------
    Height of the sun; below zero at night [degree].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(solar_altitude(latitude=40.0, declination=23.35, hour_angle=30.0), 2)  # printed 59.75
    59.75
    """
    sine: SunSine = (
        math.sin(math.radians(latitude)) * math.sin(math.radians(declination))
        + math.cos(math.radians(latitude)) * math.cos(math.radians(declination)) * math.cos(math.radians(hour_angle))
    )
    return arcsin_degrees(sine)


@relation(cite("arithmetic", "spherical triangle of pole, zenith and sun", "computed"), _EXAMPLE, empirical=_DEGREES)
def solar_azimuth(*, latitude: Latitude, declination: Declination, altitude: HighSun) -> SunAzimuth:
    """Bearing of the sun from due south, eastward in the morning and westward in the afternoon.

    Parameters
    ----------
    latitude : latitude, north positive [degree]
    declination : declination of the sun [degree]
    altitude : height of the sun, as `solar_altitude` gives it [degree]

    Returns
    -------
    Bearing from due south; above 90 the sun stands north of the east-west line [degree].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(solar_azimuth(latitude=40.0, declination=23.35, altitude=59.75), 1)
    65.7
    """
    cosine: AzimuthCosine = (
        math.sin(math.radians(altitude)) * math.sin(math.radians(latitude)) - math.sin(math.radians(declination))
    ) / (math.cos(math.radians(altitude)) * math.cos(math.radians(latitude)))
    return arccos_degrees(cosine)


@relation(cite("shadow_rule", "height times the cotangent of the sun's height"), empirical=_DEGREES)
def shadow_length(*, row_height: RowHeight, altitude: HighSun) -> ShadowLength:
    """Length of the shadow of an upright thing on level ground.

    Parameters
    ----------
    row_height : height of the row, post or wall [m]
    altitude : height of the sun above the horizon [degree]

    Returns
    -------
    Length of the shadow, along the sun's bearing [m].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(shadow_length(row_height=2.0, altitude=45.0), 6)
    2.0
    """
    return row_height / math.tan(math.radians(altitude))


@relation(cite("arithmetic", "part of the shadow at right angles to the row", "computed"), empirical=_DEGREES)
def shadow_across_row(*, row_height: RowHeight, altitude: HighSun, row_angle: RowAngle) -> ShadowLength:
    """How far the shadow of a long row of vines reaches on either side of it.

    Parameters
    ----------
    row_height : height of the row [m]
    altitude : height of the sun above the horizon [degree]
    row_angle : angle between the sun's bearing and the line of the row, 90 for sun square on [degree]

    Returns
    -------
    Reach of the shadow, measured square to the row [m].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    At noon a row that runs north and south shades only itself; one that runs east and west throws its longest shadow.

    Examples
    --------
    >>> round(shadow_across_row(row_height=2.0, altitude=45.0, row_angle=30.0), 6)
    1.0
    """
    length: ShadowLength = shadow_length(row_height=row_height, altitude=altitude)
    return length * math.fabs(math.sin(math.radians(row_angle)))


@dataclass(frozen=True, slots=True)
class ShadowRow:
    """One hour of a day: where the sun stands, and how far a row's shadow reaches."""

    solar_time: float
    altitude: float
    bearing: float
    length: float
    across: float


ShadowTable = Annotated[tuple[ShadowRow, ...], Quantity("", "", "shadows through a day")]
RowBearing = Annotated[float, Quantity("β", "degree", "bearing of the row from due south, west positive", -180, 180)]
_LOWEST_SUN: Final = 5.0


@relation(_EXAMPLE, cite("arithmetic", "hour by hour", "computed"), procedure=True)
def row_shadows(
    *, latitude: Latitude, declination: Declination, row_height: RowHeight, row_bearing: RowBearing
) -> ShadowTable:
    """Shadow of a row of vines at each whole hour of solar time, while the sun stands at least 5 degrees high.

    Parameters
    ----------
    latitude : latitude, north positive [degree]
    declination : declination of the sun [degree]
    row_height : height of the row [m]
    row_bearing : bearing of the row from due south, westward positive; 0 for north-south, 90 for east-west [degree]

    Returns
    -------
    A row for each hour: solar time, height and bearing of the sun (west positive), length of the shadow, and its reach
    square to the row.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> noon = [row for row in row_shadows(latitude=40.0, declination=0.0, row_height=2.0, row_bearing=90.0)
    ...         if row.solar_time == 12.0]
    >>> round(noon[0].across, 3)
    1.678
    """
    rows = []
    for hour in range(25):
        turn = math.radians(15.0 * (hour - 12))
        place, tilt = math.radians(latitude), math.radians(declination)
        sine = math.sin(place) * math.sin(tilt) + math.cos(place) * math.cos(tilt) * math.cos(turn)
        altitude = math.degrees(math.asin(min(1.0, max(-1.0, sine))))
        if altitude < _LOWEST_SUN or altitude > 89.999:
            continue
        west = math.cos(tilt) * math.sin(turn)
        south = math.sin(place) * math.cos(tilt) * math.cos(turn) - math.cos(place) * math.sin(tilt)
        bearing = math.degrees(math.atan2(west, south))
        length = row_height / math.tan(math.radians(altitude))
        across = length * abs(math.sin(math.radians(bearing - row_bearing)))
        rows.append(ShadowRow(float(hour), altitude, bearing, length, across))
    return tuple(rows)
