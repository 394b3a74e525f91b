"""Light: photons of a day, photons of a second, and how much of them cover and shade let through."""

from typing import Annotated, Final

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.energy.air import SECONDS_PER_HOUR
from waterleaf.calc.quantity import Constant, Quantity, cite, relation

MICROMOLES_PER_MOLE: Final = Constant(
    1_000_000, symbol="1000000", unit="umol/mol", name="micromoles in a mole",
    source=cite("arithmetic", "definition of the unit", "definition"),
)
MEGAJOULES_PER_KILOWATT_HOUR: Final = Constant(
    3.6, symbol="3.6", unit="MJ/kWh", name="megajoules in a kilowatt hour",
    source=cite("arithmetic", "definition of the unit", "definition"),
)

PhotonFlux = Annotated[float, Quantity("P", "umol/m^2/s", "photon flux on the crop", 0.1, 3000)]
LightHours = Annotated[float, Quantity("t", "hour/day", "hours of light a day", 0.1, 24)]
LightIntegral = Annotated[
    float,
    Quantity("D", "mol/m^2/day", "daily light integral", 0.01, 80, basis="outdoors 5 to 60, under cover 1 to 30"),
]
WishedIntegral = Annotated[float, Quantity("D_wish", "mol/m^2/day", "wished daily light integral", 0.5, 80)]
NaturalIntegral = Annotated[float, Quantity("D_sun", "mol/m^2/day", "daily light integral from the sun", 0, 80)]
OutdoorIntegral = Annotated[float, Quantity("D_out", "mol/m^2/day", "daily light integral outdoors", 0.5, 80)]
MissingIntegral = Annotated[float, Quantity("D_lamp", "mol/m^2/day", "daily light integral that lamps must add")]
LampFlux = Annotated[float, Quantity("P_lamp", "umol/m^2/s", "photon flux that lamps must add")]
Transmission = Annotated[float, Quantity("p", "percent", "light that the house lets through", 1, 100)]
Shade = Annotated[float, Quantity("s", "percent", "light that the shade cloth takes away", 0, 99)]
ShadeNeeded = Annotated[float, Quantity("s", "percent", "shade that brings the light down to the wish")]
Illuminance = Annotated[float, Quantity("E", "lux", "illuminance read on a meter", 1, 200_000)]
LuxPerFlux = Annotated[
    float,
    Quantity(
        "k", "lux*m^2*s/umol", "lux for each unit of photon flux", 10, 200,
        basis="54 for the sun, 74 for cool white tubes, 82 for high-pressure sodium lamps",
    ),
]
LampArea = Annotated[float, Quantity("A", "m^2", "area that is lit", 0.01, 100_000)]
Efficacy = Annotated[float, Quantity("η", "umol/J", "photons of the lamp for each joule", 0.3, 4.5)]
LampEnergy = Annotated[float, Quantity("E", "kWh/day", "electricity of the lamps a day", 0)]


@relation(cite("probsee_light", "photon flux times 3,600 times hours over 1,000,000"))
def daily_light_integral(*, photon_flux: PhotonFlux, light_hours: LightHours) -> LightIntegral:
    """Photons that a square metre of crop receives in a day, from a steady flux.

    Parameters
    ----------
    photon_flux : photon flux on the crop, its mean over the lit hours [umol/m^2/s]
    light_hours : hours of light a day [hour/day]

    Returns
    -------
    Daily light integral [mol/m^2/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(daily_light_integral(photon_flux=400.0, light_hours=16.0), 2)
    23.04
    """
    return photon_flux * light_hours * SECONDS_PER_HOUR / MICROMOLES_PER_MOLE


@relation(cite("probsee_light", "the same relation, turned round"))
def photon_flux_for_integral(*, wished_integral: WishedIntegral, light_hours: LightHours) -> PhotonFlux:
    """Steady photon flux that gives a wished daily light integral.

    Parameters
    ----------
    wished_integral : wished daily light integral [mol/m^2/day]
    light_hours : hours of light a day [hour/day]

    Returns
    -------
    Photon flux [umol/m^2/s].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Sources differ on lettuce: 17 mol a square metre a day is best in one trial, 12 or more is asked for leafy greens
    in another.

    Examples
    --------
    >>> round(photon_flux_for_integral(wished_integral=17.0, light_hours=16.0), 1)
    295.1
    """
    return wished_integral * MICROMOLES_PER_MOLE / (light_hours * SECONDS_PER_HOUR)


@relation(cite("arithmetic", "the difference, spread over the lit hours", "definition"))
def lamp_photon_flux(
    *, wished_integral: WishedIntegral, natural_integral: NaturalIntegral, light_hours: LightHours
) -> LampFlux:
    """Photon flux that lamps must add where the sun gives too little.

    Parameters
    ----------
    wished_integral : wished daily light integral [mol/m^2/day]
    natural_integral : daily light integral that the sun gives under the cover [mol/m^2/day]
    light_hours : hours that the lamps run a day [hour/day]

    Returns
    -------
    Photon flux of the lamps; negative where the sun is enough [umol/m^2/s].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(lamp_photon_flux(wished_integral=17.0, natural_integral=12.0, light_hours=16.0), 1)
    86.8
    """
    missing: MissingIntegral = wished_integral - natural_integral
    return missing * MICROMOLES_PER_MOLE / (light_hours * SECONDS_PER_HOUR)


@relation(cite("arithmetic", "shares that pass, multiplied", "definition"))
def light_under_cover(*, outdoor_integral: OutdoorIntegral, transmission: Transmission, shade: Shade) -> LightIntegral:
    """Daily light integral that reaches the crop through cover and shade cloth.

    Parameters
    ----------
    outdoor_integral : daily light integral outdoors [mol/m^2/day]
    transmission : light that the house lets through [percent]
    shade : light that the shade cloth takes away, 0 for none [percent]

    Returns
    -------
    Daily light integral on the crop [mol/m^2/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    A house is rated by what it lets through, a shade cloth by what it keeps out.

    Examples
    --------
    >>> light_under_cover(outdoor_integral=45.0, transmission=65.0, shade=50.0)
    14.625
    """
    return outdoor_integral * transmission / HUNDRED_PERCENT * (HUNDRED_PERCENT - shade) / HUNDRED_PERCENT


@relation(cite("arithmetic", "one minus wish over light under the cover", "definition"))
def shade_for_integral(
    *, wished_integral: WishedIntegral, outdoor_integral: OutdoorIntegral, transmission: Transmission
) -> ShadeNeeded:
    """Shade that brings the light under a cover down to a wished daily light integral.

    Parameters
    ----------
    wished_integral : wished daily light integral [mol/m^2/day]
    outdoor_integral : daily light integral outdoors [mol/m^2/day]
    transmission : light that the house lets through [percent]

    Returns
    -------
    Shade; negative where there is too little light without any [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(shade_for_integral(wished_integral=17.0, outdoor_integral=45.0, transmission=65.0), 1)
    41.9
    """
    unshaded: LightIntegral = outdoor_integral * transmission / HUNDRED_PERCENT
    return HUNDRED_PERCENT - HUNDRED_PERCENT * wished_integral / unshaded


@relation(cite("thimijan1983", "54 for the sun, 82 for high-pressure sodium, 74 for cool white fluorescent lamps"))
def photon_flux_from_lux(*, illuminance: Illuminance, lux_per_flux: LuxPerFlux) -> PhotonFlux:
    """Photon flux from the reading of a lux meter.

    Parameters
    ----------
    illuminance : illuminance read on the meter [lux]
    lux_per_flux : lux for each unit of photon flux, which depends on the kind of light [lux*m^2*s/umol]

    Returns
    -------
    Photon flux [umol/m^2/s].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> photon_flux_from_lux(illuminance=54000.0, lux_per_flux=54.0)
    1000.0
    """
    return illuminance / lux_per_flux


@relation(cite("arithmetic", "photons over photons a joule", "computed"))
def lamp_energy(*, lamp_integral: LightIntegral, lamp_area: LampArea, efficacy: Efficacy) -> LampEnergy:
    """Electricity that lamps use in a day to add a daily light integral.

    Parameters
    ----------
    lamp_integral : daily light integral that the lamps add [mol/m^2/day]
    lamp_area : area that is lit [m^2]
    efficacy : photons of the lamp for each joule, from its data sheet [umol/J]

    Returns
    -------
    Electricity [kWh/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Takes every photon to reach the crop. Lamps over water: ground-fault device and fixtures rated for wet places, as
    the local electrical code asks.

    Examples
    --------
    >>> lamp_energy(lamp_integral=7.2, lamp_area=10.0, efficacy=2.0)
    10.0
    """
    return lamp_integral * lamp_area / (efficacy * MEGAJOULES_PER_KILOWATT_HOUR)
