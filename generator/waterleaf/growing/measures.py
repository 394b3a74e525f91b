"""Amounts as people write them in a growing file: a number and a unit, metric or US, on any line."""

import re
from dataclasses import dataclass
from typing import Any, Final

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from waterleaf.working import figures
from waterleaf.working.units import convert, registry, written

_AMOUNT: Final = re.compile(r"\s*(\$?)\s*([-+−]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d+)?)\s*(.*?)\s*")
# Units as growers write them; pint reads the rest.
_WHOLE: Final = {"C": "degC", "°C": "degC", "F": "degF", "°F": "degF", "gpm": "gallon/min", "$": "dollar"}
_ATOMS: Final = {
    "%": "percent", "gal": "gallon", "in": "inch", "litre": "L", "litres": "L", "liters": "L", "days": "day",
    "weeks": "week", "plants": "plant", "heads": "head", "sqft": "ft^2", "$": "dollar",
}
_DEGREE: Final = {"C": "delta_degC", "F": "delta_degF", "°C": "delta_degC", "°F": "delta_degF"}


@dataclass(frozen=True, slots=True)
class Measure:
    """What a field measures: its metric unit, the values that can be meant, and whether it is a count."""

    unit: str
    low: float
    high: float
    whole: bool = False

    def read(self, value: Any) -> float:
        """The amount in the metric unit.

        Raises ValueError saying what was found and what is accepted.
        """
        number, unit = self._parted(value)
        found = convert(number, self._known(unit), self.unit) if unit else number
        low, high = (figures.grouped(figures.plain(bound, 6)) for bound in (self.low, self.high))
        if not self.low <= found <= self.high:
            mark = written(self.unit)
            raise ValueError(f"{value} is out of range. Give {low} to {high} {mark}".rstrip() + ".")
        if self.whole and found % 1:
            raise ValueError(f"{value} is not a whole number. Give one from {low} to {high}.")
        return found

    def _parted(self, value: Any) -> tuple[float, str]:
        example = f"{figures.plain(max(self.low, min(self.high, 20)))} {written(self.unit)}".strip()
        if isinstance(value, bool) or value is None:
            raise ValueError(f"{value!r} is no amount. Write for example {example}.")
        if isinstance(value, int | float):
            if self.unit:
                raise ValueError(f"{value} has no unit. Write for example {example}, or the same in another unit.")
            return float(value), ""
        parts = _AMOUNT.fullmatch(str(value))
        if not parts:
            raise ValueError(f"{str(value)!r} does not start with a number. Write for example {example}.")
        money, digits, unit = parts.groups()
        if money:
            unit = f"dollar{unit if unit.startswith('/') else ' ' + unit}".strip().replace(" per ", "/")
        if self.unit and not unit:
            raise ValueError(f"{value} has no unit. Write for example {example}, or the same in another unit.")
        return float(digits.replace("−", "-")), unit

    def _known(self, typed: str) -> str:
        unit = as_pint(typed)
        try:
            measured = registry().Unit(unit)
        except Exception:  # pint raises several kinds for a unit that it cannot read
            raise ValueError(f"{typed!r} is not a unit. Write it in {self._wanted}.") from None
        if measured.dimensionality != registry().Unit(self.unit).dimensionality:
            raise ValueError(f"{typed} does not measure the same as {self._wanted}. Give it in {self._wanted}.")
        return unit

    @property
    def _wanted(self) -> str:
        return written(self.unit) or "a plain number"

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Pydantic asks how to read a value."""
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        """Editors see a text such as "24 m^2"."""
        return {"anyOf": [{"type": "string"}, {"type": "number"}], "description": f"in {self._wanted} or the like"}


def as_pint(typed: str) -> str:
    """A typed unit as pint reads it."""
    text = typed.strip().replace("²", "^2").replace("³", "^3")
    if text in _WHOLE:
        return _WHOLE[text]
    parts = re.split(r"([*/^ ])", text)
    known = [_ATOMS.get(part, part) for part in parts]
    if len(known) > 1:
        known = [_DEGREE.get(part, part) if place else part for place, part in enumerate(known)]
    return "".join(known)
