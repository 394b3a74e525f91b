"""Water vapour: how much more the air takes up when it is warmer."""

import math
from typing import Annotated

from waterleaf.calc.quantity import Quantity, cite, relation

AirTemperature = Annotated[float, Quantity("T", "degC", "temperature", -20, 60)]
VapourPressure = Annotated[float, Quantity("e", "kPa", "vapour pressure at saturation", 0)]


@relation(
    cite("fao56_vapour", "equation 11"),
    empirical="an exponential fitted to measured vapour pressures, in degrees Celsius and kilopascals",
)
def vapour_pressure_at_saturation(*, temperature: AirTemperature) -> VapourPressure:
    """Vapour pressure of air that can take up no more water.

    Parameters
    ----------
    temperature : temperature [degC]

    Returns
    -------
    Vapour pressure [kPa].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Each degree near 25 adds about 6 %. Evaporation and transpiration grow about as fast where the moisture of the air
    keeps its share.

    Examples
    --------
    >>> round(vapour_pressure_at_saturation(temperature=15.0), 3), round(
    ...     vapour_pressure_at_saturation(temperature=24.5), 3)
    (1.705, 3.075)
    """
    return 0.6108 * math.exp(17.27 * temperature / (temperature + 237.3))
