"""Checks the data of a file that a person wrote against a model. What is wrong is said in that person's words: what
was found and what is accepted, with the line, and nothing of the library behind it."""

import datetime
import re
from collections.abc import Sequence
from typing import Annotated, Any, Final, TypeVar

from pydantic import BaseModel, Field, ValidationError

from waterleaf.bank.marked_yaml import Marked
from waterleaf.bank.places import Place, place_of
from waterleaf.faults import Fault, Faults, nearest

Model = TypeVar("Model", bound=BaseModel)

# What names a piece of work; it becomes part of names of files.
Id = Annotated[
    str,
    Field(
        pattern=r"^[a-z0-9][a-z0-9-]{0,39}$",
        description="Use small letters, digits and hyphens, a letter or digit first, at most 40 in all.",
    ),
]

_LONGEST_SHOWN: Final = 40
_GROUP_KINDS: Final = ("model_type", "dict_type", "model_attributes_type")
_LIST_KINDS: Final = ("list_type", "tuple_type")
_RANGE_KINDS: Final = ("greater_than", "greater_than_equal", "less_than", "less_than_equal")
_WHOLE_KINDS: Final = ("int_parsing", "int_type", "int_from_float", "int_parsing_size")
_NUMBER_KINDS: Final = ("float_parsing", "float_type")


def validated(marked: Marked, model: type[Model], start: str = "") -> Model:
    """The data of a file as a model; `start` is a sentence that says where a sound file is to be had.

    Raises Faults with the line of every field that is wrong.
    """
    try:
        return model.model_validate(marked.data)
    except ValidationError as error:
        raise Faults(_faults(error.errors(), marked, model, start)) from None


def checked_date(text: str | None, example: str) -> str | None:
    """A date as 2026-03-09, or none. Raises ValueError with an example for anything else."""
    if text is not None:
        try:
            datetime.date.fromisoformat(text)
        except ValueError:
            raise ValueError(f"{text!r} is not a date. Write it as {example}.") from None
    return text


def _faults(found: Sequence[Any], marked: Marked, model: type[BaseModel], start: str) -> list[Fault]:
    placed = [(item, place_of(tuple(item["loc"]), model)) for item in found]
    around = {place.path[:-1] for _, place in placed if place.path}
    faults = [
        _fault(item, place, marked, start)
        for item, place in placed
        # A list of which an entry is faulty counts as too short as well; one line is enough.
        if not (item["type"] == "too_short" and place.path in around)
    ]
    # A field that may be one of two kinds fails for each of them; the reader hears of it once.
    return list({(fault.where, fault.field): fault for fault in reversed(faults)}.values())[::-1]


def _fault(item: Any, place: Place, marked: Marked, start: str) -> Fault:
    path = place.path
    if item["type"] == "missing" and path and isinstance(path[-1], int):  # one of two numbers
        path, message = path[:-1], "this takes two numbers. Write them as [1, 12]."
    else:
        message = _said(item, place, start)
    return Fault(marked.where(path), ".".join(str(step) for step in path), message)


def _said(item: Any, place: Place, start: str) -> str:
    """The message of one fault in the shape of the file."""
    kind, value, limits = item["type"], item.get("input"), item.get("ctx", {})
    if kind == "value_error":
        return str(limits["error"])
    if kind == "missing":
        return _then("this field is missing.", start)
    if value is None and kind != "extra_forbidden":
        return "this is empty. Write it in."
    if kind == "extra_forbidden":
        return _then(
            f"this field is not known here.{nearest(str(place.path[-1]), place.fields)}",
            f"Fields here are {', '.join(place.fields)}.",
        )
    if kind == "literal_error":
        choices = limits["expected"].replace("'", "")
        # All choices follow; a hint is of use for a slip of the fingers alone.
        hint = nearest(value, re.split(r", | or ", choices), 0.7) if isinstance(value, str) else ""
        return f"{_shown(value)} is not known here.{hint} Give {choices}."
    if kind in ("too_short", "too_long"):
        return _length(limits)
    if kind in _LIST_KINDS and isinstance(value, dict):
        return "this is a list. Begin each entry with a dash and a space, its other fields as far in as the first."
    if kind in _LIST_KINDS:
        return f"{_shown(value)} is no list. Write it in square brackets: [{_bare(value)}]."
    if kind in _GROUP_KINDS and not place.path:
        return _then("a file of this kind is fields such as name: value, a line each.", start)
    if kind in _GROUP_KINDS:
        return (
            f"{_shown(value)} stands alone; its own fields belong under it, each on a line of its own, indented by two "
            "spaces."
        )
    return _said_of_value(kind, value, limits, place) or _then(f"{_shown(value)} cannot be used here.", start)


def _said_of_value(kind: str, value: Any, limits: dict[str, Any], place: Place) -> str:
    """The message where a text, a number or a yes or no was wanted; nothing for a kind that is not known."""
    if kind == "string_too_short" or value == "":
        return "this is empty. Write it in."
    if kind == "string_pattern_mismatch":
        return _then(f"{_shown(value)} cannot stand here.", _pattern_hint(str(value), limits["pattern"], place))
    if kind == "string_type":
        mend = "Write one here" if isinstance(value, dict | list) else f'Put quotation marks round it: "{_bare(value)}"'
        return f"{_shown(value)} is not a text. {mend}."
    if kind == "string_too_long":
        return f"{_shown(value)}: {len(str(value))} letters are too many. Give at most {limits['max_length']}."
    if kind in ("bool_parsing", "bool_type"):
        return f"{_shown(value)} is neither yes nor no. Write true or false."
    if kind in _WHOLE_KINDS:
        return f"{_shown(value)} is not a whole number. Give one{_bounds(place.rules)}."
    if kind == "finite_number":
        return f"{_shown(value)} has no end. Give a plain number such as 32."
    if kind in _NUMBER_KINDS:
        comma = isinstance(value, str) and re.fullmatch(r"[-+]?\d+,\d+", value)
        point = f" Write it with a point: {value.replace(',', '.')}." if comma else ""
        return f"{_shown(value)} is not a number.{point or f' Give one{_bounds(place.rules)}.'}"
    if kind in _RANGE_KINDS:
        return f"{_shown(value)} is out of range. Give a number{_bounds(place.rules)}."
    return ""


def _then(said: str, more: str) -> str:
    return f"{said} {more}".rstrip()


def _pattern_hint(value: str, pattern: str, place: Place) -> str:
    """What the field's description asks for, and the nearest name that meets it."""
    for mark in "-_":
        close = re.sub(r"[^a-z0-9]+", mark, value.lower()).strip(mark)
        if re.fullmatch(pattern, close):
            return _then(place.description, f"Such as {close}.")
    return place.description


def _shown(value: Any) -> str:
    if isinstance(value, dict | list):
        return "a list" if isinstance(value, list) else "a group of fields"
    if isinstance(value, bool) or value is None:
        return "nothing" if value is None else str(value).lower()
    text = str(value)
    text = text if len(text) <= _LONGEST_SHOWN else f"{text[:_LONGEST_SHOWN]}..."
    return repr(text) if isinstance(value, str) else text


def _bare(value: Any) -> str:
    return "..." if isinstance(value, dict | list) else _shown(value).strip("'")


def _length(limits: dict[str, Any]) -> str:
    count = limits["actual_length"]
    entries = "1 entry is" if count == 1 else f"{count} entries are" if count else "no entry is"
    if "min_length" in limits:
        return f"{entries} too few. Give at least {limits['min_length']}."
    return f"{entries} too many. Give at most {limits['max_length']}."


def _bounds(rules: Sequence[Any]) -> str:
    """The numbers that a field takes, in words; nothing where they are not limited."""
    found: dict[str, float] = {}
    for rule in rules:
        for name in ("ge", "gt", "le", "lt"):
            limit = getattr(rule, name, None)
            if limit is not None:
                found[name] = limit
    if "ge" in found and "le" in found:
        return f" from {found['ge']:.15g} to {found['le']:.15g}"
    above = f" above {found['gt']:g}" if "gt" in found else f" of at least {found['ge']:g}" if "ge" in found else ""
    return above + (f", at most {found['le']:g}" if "le" in found else "")
