"""Air: how much oxygen water can hold; who uses it and how it is put back are parts of this topic."""

import math
from typing import Annotated, Final

from waterleaf.calc.chemistry.ammonia import KELVIN_OFFSET, AbsoluteTemperature
from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.quantity import Constant, Quantity, cite, relation

_APHA: Final = cite("apha1985", "equation for oxygen at saturation, fresh water, one atmosphere")
_SALT: Final = cite("benson1984", "equation 32, salinity term")
_VIRIAL: Final = cite("benson1984", "equations 13, 23 and 28, pressure other than one atmosphere")
_LAYER: Final = cite("us_standard_atmosphere", "lowest layer, up to 11 km")
_SOLUBILITY: Final = "a fit to measured solubilities, whose result is in milligrams a litre"


def _coefficient(value: float, symbol: str, unit: str, name: str) -> Constant:
    return Constant(value, symbol=symbol, unit=unit, name=name, source=_APHA)


A0: Final = _coefficient(139.34411, "a_0", "", "constant term of the saturation equation")
A1: Final = _coefficient(1.575701e5, "a_1", "K", "first term of the saturation equation")
A2: Final = _coefficient(6.642308e7, "a_2", "K^2", "second term of the saturation equation")
A3: Final = _coefficient(1.243800e10, "a_3", "K^3", "third term of the saturation equation")
A4: Final = _coefficient(8.621949e11, "a_4", "K^4", "fourth term of the saturation equation")
S0: Final = Constant(0.017674, symbol="b_0", unit="kg/g", name="constant term of the salinity equation", source=_SALT)
S1: Final = Constant(10.754, symbol="b_1", unit="K*kg/g", name="first term of the salinity equation", source=_SALT)
S2: Final = Constant(2140.7, symbol="b_2", unit="K^2*kg/g", name="second term of the salinity equation", source=_SALT)
V0: Final = Constant(11.8571, symbol="v_0", unit="", name="constant term of the vapour pressure", source=_VIRIAL)
V1: Final = Constant(3840.70, symbol="v_1", unit="K", name="first term of the vapour pressure", source=_VIRIAL)
V2: Final = Constant(216961, symbol="v_2", unit="K^2", name="second term of the vapour pressure", source=_VIRIAL)
G0: Final = Constant(0.000975, symbol="g_0", unit="", name="constant term of the gas correction", source=_VIRIAL)
G1: Final = Constant(1.426e-5, symbol="g_1", unit="1/K", name="first term of the gas correction", source=_VIRIAL)
G2: Final = Constant(6.436e-8, symbol="g_2", unit="1/K^2", name="second term of the gas correction", source=_VIRIAL)
STANDARD_ATMOSPHERE: Final = Constant(
    101.325, symbol="p_0", unit="kPa", name="standard atmosphere",
    source=cite("si2019", "definition of the standard atmosphere", "definition"),
)
SEA_LEVEL_TEMPERATURE: Final = Constant(
    288.15, symbol="T_0", unit="K", name="air temperature at sea level", source=_LAYER
)
LAPSE_RATE: Final = Constant(0.0065, symbol="L", unit="K/m", name="fall of the air temperature a metre", source=_LAYER)
LAYER_EXPONENT: Final = Constant(
    5.25588, symbol="5.25588", unit="", name="exponent of the lowest layer",
    source=cite("us_standard_atmosphere", "gravity times molar mass over gas constant times lapse rate", "computed"),
)

WaterTemperature = Annotated[
    float, Quantity("T", "degC", "water temperature", 0, 40, basis="the saturation equation holds from 0 to 40")
]
SaturationExponent = Annotated[float, Quantity("x", "", "natural logarithm of the saturation")]
Saturation = Annotated[float, Quantity("C_s", "mg/L", "oxygen at saturation", 0.5, 60)]
FreshSaturation = Annotated[float, Quantity("C_fresh", "mg/L", "oxygen at saturation in fresh water", 0.5, 60)]
SeaLevelSaturation = Annotated[float, Quantity("C_0", "mg/L", "oxygen at saturation at one atmosphere", 0.5, 60)]
Salinity = Annotated[
    float, Quantity("S", "g/kg", "salinity", 0, 40, basis="the salinity equation holds from 0 to 40")
]
SalinityExponent = Annotated[float, Quantity("x_S", "", "exponent of the loss by salt", 0)]
Altitude = Annotated[float, Quantity("h", "m", "altitude", 0, 5000)]
AirPressure = Annotated[
    float,
    Quantity("p", "kPa", "air pressure", 51, 111, basis="the pressure equation holds from half an atmosphere to 1.1"),
]
PressureRatio = Annotated[float, Quantity("P_atm", "", "air pressure in atmospheres", 0.5, 1.1)]
VapourPressure = Annotated[float, Quantity("P_vap", "", "pressure of water vapour in atmospheres", 0, 1)]
GasCorrection = Annotated[float, Quantity("ϑ", "", "correction for oxygen as a real gas")]
VapourPart = Annotated[float, Quantity("k_v", "", "share that the water vapour leaves")]
GasPart = Annotated[float, Quantity("k_g", "", "share for oxygen as a real gas")]
PressureFactor = Annotated[float, Quantity("F_p", "", "pressure factor", 0.4, 1.2)]
Oxygen = Annotated[float, Quantity("C", "mg/L", "oxygen in the water", 0, 60)]
PercentSaturation = Annotated[float, Quantity("s", "percent", "oxygen as a share of saturation", 0, 500)]


@relation(_APHA, cite("benson1984", "equation 32"), empirical=_SOLUBILITY)
def oxygen_saturation(*, temperature: WaterTemperature) -> Saturation:
    """Oxygen that fresh water holds in balance with moist air at one atmosphere.

    Parameters
    ----------
    temperature : water temperature [degC]

    Returns
    -------
    Oxygen [mg/L].

    Raises
    ------
    OutOfRange : a temperature outside 0 to 40 degrees.

    Notes
    -----
    Old tables still in print give 9.2 at 20 degrees.

    Examples
    --------
    >>> round(oxygen_saturation(temperature=20.0), 2)  # EN 25814: 9.09
    9.09
    """
    absolute: AbsoluteTemperature = temperature + KELVIN_OFFSET
    exponent: SaturationExponent = -A0 + A1 / absolute - A2 / absolute**2 + A3 / absolute**3 - A4 / absolute**4
    return math.exp(exponent)


@relation(_SALT, _APHA, empirical=_SOLUBILITY)
def oxygen_saturation_in_salt_water(*, temperature: WaterTemperature, salinity: Salinity) -> Saturation:
    """Oxygen that salty water holds in balance with moist air at one atmosphere.

    Parameters
    ----------
    temperature : water temperature [degC]
    salinity : salt in the water [g/kg]

    Returns
    -------
    Oxygen [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    EN 25814 takes off the same amount for every gram of salt, which at 20 degrees and 5 g/kg gives 8.85 for 8.83.

    Examples
    --------
    >>> round(oxygen_saturation_in_salt_water(temperature=25.0, salinity=35.0), 2)
    6.77
    """
    fresh: FreshSaturation = oxygen_saturation(temperature=temperature)
    absolute: AbsoluteTemperature = temperature + KELVIN_OFFSET
    exponent: SalinityExponent = salinity * (S0 - S1 / absolute + S2 / absolute**2)
    return fresh * math.exp(-exponent)


@relation(_LAYER)
def air_pressure_at_altitude(*, altitude: Altitude) -> AirPressure:
    """Air pressure of the standard atmosphere at an altitude.

    Parameters
    ----------
    altitude : height above sea level [m]

    Returns
    -------
    Air pressure [kPa].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Weather moves the pressure by 2 or 3 % to either side. A pressure from a weather report is usually brought to sea
    level and must not be used at altitude.

    Examples
    --------
    >>> round(air_pressure_at_altitude(altitude=1000.0), 2)
    89.87
    """
    ratio: PressureRatio = (1 - LAPSE_RATE * altitude / SEA_LEVEL_TEMPERATURE) ** LAYER_EXPONENT
    return STANDARD_ATMOSPHERE * ratio


@relation(_VIRIAL)
def oxygen_pressure_factor(*, temperature: WaterTemperature, air_pressure: AirPressure) -> PressureFactor:
    """Oxygen at saturation at a given air pressure over that at one atmosphere.

    Parameters
    ----------
    temperature : water temperature [degC]
    air_pressure : air pressure where the tank stands [kPa]

    Returns
    -------
    Factor, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    With the vapour pressure of fresh water, as Standard Methods have it; sea salt changes the factor by less than one
    in a thousand. The short way, `oxygen_saturation_by_proportion`, leaves the vapour out.

    Examples
    --------
    >>> round(oxygen_pressure_factor(temperature=20.0, air_pressure=93.3257), 4)  # 700 mm of mercury
    0.9192
    """
    absolute: AbsoluteTemperature = temperature + KELVIN_OFFSET
    ratio: PressureRatio = air_pressure / STANDARD_ATMOSPHERE
    vapour: VapourPressure = math.exp(V0 - V1 / absolute - V2 / absolute**2)
    correction: GasCorrection = G0 - G1 * temperature + G2 * temperature**2
    vapour_part: VapourPart = (1 - vapour / ratio) / (1 - vapour)
    gas_part: GasPart = (1 - correction * ratio) / (1 - correction)
    return ratio * vapour_part * gas_part


@relation(_VIRIAL, _APHA, empirical=_SOLUBILITY)
def oxygen_saturation_at_pressure(*, temperature: WaterTemperature, air_pressure: AirPressure) -> Saturation:
    """Oxygen that fresh water holds in balance with moist air at a given air pressure.

    Parameters
    ----------
    temperature : water temperature [degC]
    air_pressure : air pressure where the tank stands [kPa]

    Returns
    -------
    Oxygen [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(oxygen_saturation_at_pressure(temperature=20.0, air_pressure=93.3257), 2)  # 700 mm of mercury
    8.36
    """
    sea_level: SeaLevelSaturation = oxygen_saturation(temperature=temperature)
    factor: PressureFactor = oxygen_pressure_factor(temperature=temperature, air_pressure=air_pressure)
    return sea_level * factor


@relation(_VIRIAL, _APHA, _LAYER, empirical=_SOLUBILITY)
def oxygen_saturation_at_altitude(*, temperature: WaterTemperature, altitude: Altitude) -> Saturation:
    """Oxygen that fresh water holds at an altitude, in the standard atmosphere.

    Parameters
    ----------
    temperature : water temperature [degC]
    altitude : height above sea level [m]

    Returns
    -------
    Oxygen [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(oxygen_saturation_at_altitude(temperature=25.0, altitude=1500.0), 2)
    6.85
    """
    pressure: AirPressure = air_pressure_at_altitude(altitude=altitude)
    return oxygen_saturation_at_pressure(temperature=temperature, air_pressure=pressure)


@relation(_VIRIAL, _SALT, _APHA, empirical=_SOLUBILITY)
def oxygen_saturation_in_salt_water_at_pressure(
    *, temperature: WaterTemperature, salinity: Salinity, air_pressure: AirPressure
) -> Saturation:
    """Oxygen that salty water holds in balance with moist air at a given air pressure.

    Parameters
    ----------
    temperature : water temperature [degC]
    salinity : salt in the water [g/kg]
    air_pressure : air pressure where the tank stands [kPa]

    Returns
    -------
    Oxygen [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(oxygen_saturation_in_salt_water_at_pressure(temperature=20.0, salinity=5.0, air_pressure=93.3257), 2)
    8.12
    """
    sea_level: SeaLevelSaturation = oxygen_saturation_in_salt_water(temperature=temperature, salinity=salinity)
    factor: PressureFactor = oxygen_pressure_factor(temperature=temperature, air_pressure=air_pressure)
    return sea_level * factor


@relation(cite("wisconsin_bod", "correction of a saturation by the pressure in millimetres over 760"))
def oxygen_saturation_by_proportion(
    *, sea_level_saturation: SeaLevelSaturation, air_pressure: AirPressure
) -> Saturation:
    """Oxygen at saturation by the short way: in proportion to the air pressure.

    Parameters
    ----------
    sea_level_saturation : oxygen at saturation at one atmosphere, from a table [mg/L]
    air_pressure : air pressure where the tank stands [kPa]

    Returns
    -------
    Oxygen [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Leaves out the water vapour, so it comes out a little high: 0.2 % at 20 degrees and 700 mm of mercury, more in
    warm water and high up.

    Examples
    --------
    >>> round(oxygen_saturation_by_proportion(sea_level_saturation=9.092, air_pressure=93.3257), 2)
    8.37
    """
    return sea_level_saturation * air_pressure / STANDARD_ATMOSPHERE


@relation(cite("arithmetic", "meaning of per cent saturation", "definition"))
def percent_saturation(*, oxygen: Oxygen, saturation: Saturation) -> PercentSaturation:
    """Oxygen in the water as a share of what it can hold.

    Parameters
    ----------
    oxygen : oxygen as measured [mg/L]
    saturation : oxygen at saturation, at the same temperature, salinity and pressure [mg/L]

    Returns
    -------
    Share of saturation [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(percent_saturation(oxygen=6.0, saturation=8.0))
    75
    """
    return oxygen / saturation * HUNDRED_PERCENT


@relation(cite("arithmetic", "meaning of per cent saturation", "definition"))
def oxygen_from_percent(*, share_of_saturation: PercentSaturation, saturation: Saturation) -> Oxygen:
    """Oxygen in water of a given per cent saturation.

    Parameters
    ----------
    share_of_saturation : oxygen as a share of saturation [percent]
    saturation : oxygen at saturation, at the same temperature, salinity and pressure [mg/L]

    Returns
    -------
    Oxygen [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> oxygen_from_percent(share_of_saturation=75.0, saturation=8.0)
    6.0
    """
    return share_of_saturation / HUNDRED_PERCENT * saturation


# The parts of the topic use the quantities above, so they can only be read now.
