"""How much water a tank holds by its measures."""

from typing import Any

from waterleaf.calc.loop.turnover import cone_bottom_tank_volume, rectangular_tank_volume, round_tank_volume


def shape_volume(vessel: Any) -> float | None:
    """Water in a tank [L] by its measures, or nothing where a measure is missing.

    Raises OutOfRange where a measure cannot be.
    """
    if vessel.depth is None:
        return None
    if vessel.diameter is not None:
        cone = getattr(vessel, "cone_depth", None)
        if cone is not None:
            return float(
                cone_bottom_tank_volume(diameter=vessel.diameter, water_depth=vessel.depth, cone_depth=cone)
            )
        return float(round_tank_volume(diameter=vessel.diameter, water_depth=vessel.depth))
    if vessel.length is not None and vessel.width is not None:
        return float(rectangular_tank_volume(length=vessel.length, width=vessel.width, water_depth=vessel.depth))
    return None
