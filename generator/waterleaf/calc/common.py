"""Numbers that every topic may need: exact by definition, printed as the plain number they are."""

from typing import Final

from waterleaf.calc.quantity import Citation, Constant, cite

_EXACT: Final[Citation] = cite("arithmetic", "definition of the unit", "definition")


def _exact(value: float, unit: str, name: str) -> Constant:
    return Constant(value, symbol=f"{value:g}", unit=unit, name=name, source=_EXACT)


GRAMS_PER_KILOGRAM: Final = _exact(1000, "g/kg", "grams in a kilogram")
HUNDRED_PERCENT: Final = _exact(100, "percent", "one hundred per cent")
LITRES_PER_CUBIC_METRE: Final = _exact(1000, "L/m^3", "litres in a cubic metre")
MINUTES_PER_HOUR: Final = _exact(60, "min/hour", "minutes in an hour")
HOURS_PER_DAY: Final = _exact(24, "hour/day", "hours in a day")
