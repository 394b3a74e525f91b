"""Units: pint does the arithmetic; this module says how a unit is written and spoken.

pint takes longer to load than most commands take for their work. So what it says of the units of the bank and of the
judge stands in `units.json`, written by `python -m waterleaf.known_units`; it is loaded for any other unit.
"""

import functools
import json
import re
from pathlib import Path
from typing import Any, Final, NamedTuple

KNOWN: Final = Path(__file__).with_name("units.json")

# Written forms of the unit atoms of `calc`, where the pint name is not already what a grower writes.
_WRITTEN: Final = {
    "degC": "°C", "degF": "°F", "degBx": "°Brix", "percent": "%", "delta_degC": "°C", "delta_degF": "°F",
    "umol": "µmol", "dollar": "$", "gallon": "gal", "inch": "in", "pound": "lb", "ounce": "oz", "hour": "h",
    "feet": "ft", "degdH": "°dH",
    "degree": "°", "fuel_unit": "unit", "um": "µm",
}
_SPOKEN: Final = {
    "g": "grams", "kg": "kilograms", "mg": "milligrams", "L": "litres", "mL": "millilitres", "m": "metres",
    "cm": "centimetres", "mm": "millimetres", "min": "minutes", "s": "seconds", "hour": "hours", "day": "days",
    "week": "weeks", "year": "years", "month": "months", "degC": "degrees Celsius", "degF": "degrees Fahrenheit",
    "degBx": "degrees Brix", "percent": "percent", "lb": "pounds", "oz": "ounces", "gallon": "gallons",
    "ft": "feet", "inch": "inches", "dollar": "dollars", "meal": "meals", "W": "watts", "kW": "kilowatts",
    "kWh": "kilowatt hours", "mol": "moles", "umol": "micromoles", "kPa": "kilopascals", "Pa": "pascals",
    "plant": "plants", "head": "heads", "seed": "seeds", "crop": "crops", "fruit": "fruits",
    "meq": "milliequivalents", "degdH": "German degrees", "mS": "millisiemens", "uS": "microsiemens",
    "J": "joules", "K": "kelvins",
    "tree": "trees", "um": "micrometres",
    "mPa": "millipascals", "degree": "degrees", "Btu": "British thermal units", "delta_degC": "degrees Celsius",
    "delta_degF": "degrees Fahrenheit", "fuel_unit": "units of fuel", "lux": "lux",
}
# Things that are counted or dated, written in words: one week, two weeks.
_COUNTED: Final = {
    "week": "weeks", "day": "days", "month": "months", "year": "years", "head": "heads", "plant": "plants",
    "seed": "seeds", "meal": "meals", "fish": "fish", "tree": "trees", "crop": "crops", "fruit": "fruits",
    "bag": "bags",
}
_SINGULAR: Final = {"feet": "foot", "inches": "inch"}
_HOURLY: Final = {"h": "hour"}
_POWERS: Final = {2: "square", 3: "cubic"}
_SUPERSCRIPT: Final = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")

_LONGEST: Final = 100
_POWER: Final = re.compile(r"\^|\*\*")
_SMALL_POWER: Final = re.compile(r"(?<=[^\W\d])\s*(?:\^|\*\*)\s*[-+]?\d{1,2}(?![\w.])(?!\s*(?:\^|\*\*))")

EXTRA_DEFINITIONS: Final = (
    "degBx = [soluble_solids] = °Bx = Brix",
    "dollar = [money] = USD",
    "meal = count",
    "fish = count",
    "plant = count",
    "head = count",
    "seed = count",
    "crop = count",
    "fruit = count",
    "lux_hour = lux * hour",
    "eq = mol",
    "degdH = [german_hardness]",
    "fuel_unit = count",
    "tree = count",
)


def _small(text: str) -> str:
    """The text of a unit, if it can be worked out at once: pint would go on for ever with 10**10**10.

    Raises ValueError where a power stands behind anything but a name, or has more than two digits.
    """
    if len(text) > _LONGEST or _POWER.search(_SMALL_POWER.sub("", text)):
        raise ValueError(f"{text[:_LONGEST]!r} is not a unit")
    return text


@functools.cache
def registry() -> Any:
    """The pint registry of the kit, with the trade's own units added; loaded when first needed."""
    from pint import UnitRegistry

    units: Any = UnitRegistry(cache_folder=None, autoconvert_offset_to_baseunit=True, preprocessors=[_small])
    for line in EXTRA_DEFINITIONS:
        units.define(line)
    return units


Powers = tuple[tuple[str, float], ...]


class Size(NamedTuple):
    """How big a unit is in base units, where its scale has its zero if it is a temperature, and what it measures."""

    factor: float
    zero: float | None
    powers: Powers


@functools.cache
def _known() -> Any:
    return json.loads(KNOWN.read_text(encoding="utf-8"))


def dimensions(unit: str) -> Powers:
    """What a unit measures, comparable with that of another. Raises ValueError for a text that is no unit."""
    known = _known()["measures"].get(unit)
    return measured(unit) if known is None else _powers(known)


@functools.cache
def measured(unit: str) -> Powers:
    """`dimensions`, as pint says it."""
    try:
        return _powers(registry().Unit(unit).dimensionality)
    except Exception:  # pint raises several kinds for a unit it cannot read
        raise ValueError(f"{unit!r} is not a unit") from None


def _powers(of: Any) -> Powers:
    return tuple(sorted((name, power) for name, power in of.items() if power))


def factor(unit: str, into: str) -> float:
    """Number by which a value in `unit` is multiplied to be in `into`.

    Raises ValueError where the two measure different things, or where a scale is shifted (degrees Celsius).
    """
    known: float | None = _known()["factors"].get(unit, {}).get(into)
    return turned(unit, into) if known is None else known


@functools.cache
def turned(unit: str, into: str) -> float:
    """`factor`, as pint works it out."""
    from pint import errors

    units = registry()
    try:
        return float(units.Quantity(1.0, unit or "").to(into or "").magnitude)
    except errors.DimensionalityError:
        raise ValueError(f"{unit or 'a pure number'} cannot be turned into {into or 'a pure number'}") from None


def size(unit: str) -> Size:
    """How big a unit is, and what it measures."""
    known = _known()["sizes"].get(unit)
    return weighed(unit) if known is None else Size(known[0], known[1], _powers(known[2]))


def weighed(unit: str) -> Size:
    """`size`, as pint works it out. A degree is as big as its step."""
    units = registry()
    zero = float(units.Quantity(0.0, unit).to_base_units().magnitude) if unit in ("degC", "degF", "K") else None
    step = f"delta_{unit}" if unit in ("degC", "degF") else unit
    base = (units.Quantity(1.0) * units.parse_expression(step)).to_base_units()
    return Size(float(base.magnitude), zero, _powers(base.dimensionality))


def convert(value: float, unit: str, into: str) -> float:
    """A value brought from one unit to another, temperatures included."""
    if unit == into:
        return value
    if {"degC", "degF", "K", "kelvin"} & {unit, into}:
        return float(registry().Quantity(value, unit).to(into).magnitude)
    return value * factor(unit, into)


def atoms(unit: str) -> list[tuple[str, int]]:
    """The parts of a unit text such as "g/m^2/day" with their powers: [("g", 1), ("m", -2), ("day", -1)]."""
    parts: list[tuple[str, int]] = []
    sign = 1
    for token in re.split(r"([*/])", unit):
        if token == "/":
            sign = -1
        elif token == "*":
            sign = 1
        elif token.strip() and token.strip() != "1":
            name, _, power = token.strip().partition("^")
            parts.append((name, sign * int(power or 1)))
    return parts


@functools.cache
def written(unit: str) -> str:
    """The unit as it stands on a sheet: "g/m^2/day" is "g/m²/day"."""
    text = ""
    for name, power in atoms(unit):
        mark = "/" if power < 0 else ("·" if text else "")
        if power < 0 and not text:
            text = "1"
        exponent = str(abs(power)).translate(_SUPERSCRIPT) if abs(power) > 1 else ""
        text += f"{mark}{_WRITTEN.get(name, name)}{exponent}"
    return text


def behind(unit: str) -> str:
    """The unit behind the result of a line of working: money in words, since its sign would have to stand in front."""
    mark = written(unit)
    return f"dollars{mark[1:]}" if mark.startswith("$") else mark


def label(unit: str) -> str:
    """The unit beside an answer box or after a number other than one: things that are counted stand in the plural."""
    return _COUNTED.get(unit, written(unit))


def money(number: str) -> str:
    """An amount behind its sign. Tenths of a dollar are written in cents, as on every price tag."""
    return f"${number}0" if re.fullmatch(r".*\.\d", number) else f"${number}"


def with_unit(number: str, unit: str) -> str:
    """A number and its unit on one line, joined by a space that does not break; money leads with its sign."""
    if unit == "dollar":
        return money(number)
    mark = written(unit) if number == "1" else label(unit)
    if not mark:
        return number
    if mark == "°":
        return f"{number}°"
    if mark.startswith("1/"):  # so many times in each
        return f"{number}\u00a0per\u00a0{_HOURLY.get(mark[2:], mark[2:])}"
    if mark.startswith("$"):
        words = [_HOURLY.get(part, part) for part in mark[1:].strip("/").split("/")]
        return f"{money(number)} per {' per '.join(words)}" if words != [""] else money(number)
    return f"{number}\u00a0{mark}"


@functools.cache
def spoken(unit: str) -> str:
    """The unit as a screen reader should say it: "g/m^2/day" is "grams per square metre per day"."""
    words: list[str] = []
    for name, power in atoms(unit):
        word = _SPOKEN.get(name, name)
        if power < 0:
            word = _SINGULAR.get(word, word.removesuffix("s") if word.endswith("s") and word != "Celsius" else word)
        size = _POWERS.get(abs(power), "")
        words.append(f"{'per ' if power < 0 else ''}{size + ' ' if size else ''}{word}")
    return " ".join(words)
