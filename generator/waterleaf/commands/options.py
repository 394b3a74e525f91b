"""Reads what people type after a command: seeds, units, papers, lists of families, values with units."""

import re
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any, Final, TypeVar, get_args

from waterleaf.bank.builder import family_files, load_bank
from waterleaf.bank.family import Family, System
from waterleaf.calc import TOPICS
from waterleaf.calc.quantity import Quantity
from waterleaf.faults import Fault, Faults, nearest, refuse
from waterleaf.sheets.paper import PaperSize
from waterleaf.working.units import convert, dimensions

T = TypeVar("T")

_AMOUNT: Final = re.compile(r"\s*(?P<number>[-+−]?(\d+(\.\d*)?|\.\d+)([eE][-+]?\d+)?)\s*(?P<unit>.*?)\s*")
# Units as people type them; pint reads the rest.
_TYPED: Final = {
    "°C": "degC",
    "°F": "degF",
    "C": "degC",
    "F": "degF",
    "%": "percent",
    "gal": "gallon",
    "Brix": "degBx",
    "°Brix": "degBx",
    "$": "dollar",
}


def seed(text: str | None, otherwise: int) -> int:
    """A seed, or the school's own where none was typed."""
    if text is None:
        return otherwise
    if not re.fullmatch(r"\d{1,9}", text):
        raise refuse("--seed", f"{text!r} is not a whole number from 0 to 999999999. Give one, as in --seed 7.")
    return int(text)


def units(text: str | None, otherwise: System) -> System:
    """A system of units, or the school's own."""
    return _choice("--units", text, get_args(System), otherwise)


def paper(text: str | None, otherwise: PaperSize) -> PaperSize:
    """A paper size, or the school's own."""
    return _choice("--paper", text, get_args(PaperSize), otherwise)


def _choice(option: str, text: str | None, choices: tuple[Any, ...], otherwise: T) -> T:
    if text is None:
        return otherwise
    if text.lower() not in choices:
        raise refuse(option, f"{text!r} is not known. Give {' or '.join(choices)}.")
    chosen: T = choices[choices.index(text.lower())]
    return chosen


def families(text: str, root: Path) -> list[Family]:
    """Families of a bank named one by one or by topic, in the order typed; all where nothing was typed.

    Only the files that are named are read, so a fault in another one does not stand in the way.
    """
    if not text.strip():
        return list(load_bank(root).values())
    known = family_files(root)
    wanted: dict[str, None] = {}
    faults = []
    for word in filter(None, (part.strip() for part in text.split(","))):
        matching = [key for key in known if word in (key, key.split("/")[0])]
        if not matching:
            hint = nearest(word, (*known, *TOPICS))
            faults.append(Fault("families", word, f"no family or topic has this name.{hint}"))
        wanted |= dict.fromkeys(matching)
    if faults:
        raise Faults(faults)
    bank = load_bank(root, wanted)
    return [bank[key] for key in wanted]


def family(word: str, root: Path) -> Family:
    """One family of a bank by its name."""
    known = family_files(root)
    if word not in known:
        raise refuse("family", f"no family has this name.{nearest(word, known)} `waterleaf bank map` lists all.", word)
    return load_bank(root, [word])[word]


def values(words: Iterable[str], known: Mapping[str, Quantity]) -> dict[str, Any]:
    """Arguments typed as name=number unit, each brought to the unit of its quantity.

    Raises Faults with every word that cannot be used.
    """
    found: dict[str, Any] = {}
    faults: list[Fault] = []
    for word in words:
        name, equals, text = word.partition("=")
        name = name.strip()
        if not equals:
            faults.append(Fault("value", word, "write it as name=number unit, for example bed_area=64ft^2."))
        elif name not in known:
            faults.append(
                Fault(
                    "value", name, f"there is no such value here.{nearest(name, known)} Values are {', '.join(known)}."
                )
            )
        else:
            try:
                found[name] = amount(text, known[name])
            except ValueError as error:
                faults.append(Fault("value", name, str(error)))
    if faults:
        raise Faults(faults)
    return found


def amount(text: str, quantity: Quantity) -> Any:
    """A typed number, or a list in commas, with an optional unit, in the unit of a quantity.

    Raises ValueError saying what is wrong.
    """
    if quantity.many == 2:
        return [amount(part, _one_less(quantity)) for part in text.split("/")]
    if quantity.many == 1:
        body, unit = _list_and_unit(text)
        return [_single(f"{item} {unit}", quantity) for item in body]
    return _single(text, quantity)


def _one_less(quantity: Quantity) -> Quantity:
    return Quantity(quantity.symbol, quantity.unit, quantity.name, quantity.low, quantity.high, many=1)


def _list_and_unit(text: str) -> tuple[list[str], str]:
    parts = [part.strip() for part in text.strip().strip("[]").split(",") if part.strip()]
    if not parts:
        raise ValueError("an empty list. Write the readings with commas, as in readings=4.8,5.1,5.0.")
    last = _AMOUNT.fullmatch(parts[-1])
    unit = last["unit"] if last else ""
    return [*parts[:-1], last["number"] if last else parts[-1]], unit


def _single(text: str, quantity: Quantity) -> float:
    found = _AMOUNT.fullmatch(text)
    if not found:
        raise ValueError(f"{text!r} does not start with a number. Write for example 24 {quantity.unit}.".rstrip(" ."))
    number, unit = float(found["number"].replace("−", "-")), found["unit"]
    if not unit:
        return number
    return convert(number, unit_typed(unit, quantity.unit), quantity.unit)


def unit_typed(typed: str, like: str) -> str:
    """The typed unit as pint reads it; it must measure the same thing.

    Raises ValueError naming the unit that is wanted.
    """
    unit = _TYPED.get(typed, typed.replace("²", "^2").replace("³", "^3"))
    try:
        measured = dimensions(unit)
    except ValueError:
        raise ValueError(f"{typed!r} is not a unit. Write for example {like or 'a plain number'}.") from None
    if measured != dimensions(like):
        raise ValueError(
            f"{typed} does not measure the same as {like or 'a pure number'}. Give it in {like or 'no unit'}."
        )
    return unit
