"""What is wrong in a field of a plan, in the words of a person: what was found, and what is accepted."""

import re
from collections.abc import Sequence
from typing import Any, Final

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from waterleaf.bank.marked_yaml import Marked
from waterleaf.faults import Fault
from waterleaf.growing.measures import nearest

_LONGEST_SHOWN: Final = 40
_UNDER: Final = "its own fields belong under it, each on a line of its own, indented by two spaces."
_RANGE_KINDS: Final = ("greater_than", "greater_than_equal", "less_than", "less_than_equal")
_WHOLE_KINDS: Final = ("int_parsing", "int_type", "int_from_float")
_NUMBER_KINDS: Final = ("float_parsing", "float_type", "int_parsing_size")


def faults_of(found: Sequence[Any], marked: Marked, model: type[BaseModel]) -> list[Fault]:
    """The faults that a model found in the data of a file, each with its line."""
    spoilt = {tuple(item["loc"]) for item in found}
    return [
        _fault(item, marked, model)
        for item in found
        # A list of which an entry is faulty counts as too short as well; one line is enough.
        if not (item["type"] == "too_short" and any(path[:-1] == tuple(item["loc"]) for path in spoilt if path))
    ]


def _fault(item: Any, marked: Marked, model: type[BaseModel]) -> Fault:
    path, kind = tuple(item["loc"]), item["type"]
    if kind == "missing" and path and isinstance(path[-1], int):  # one of two numbers
        path = path[:-1]
        return Fault(marked.where(path), _named(path), "this takes two numbers. Write them as [1, 12].")
    owner, info = _field(path, model)
    message = _said(item, owner, info)
    return Fault(marked.where(path), _named(path), message)


def _named(path: tuple[str | int, ...]) -> str:
    return ".".join(str(step) for step in path)


def _field(path: tuple[str | int, ...], model: type[BaseModel]) -> tuple[type[BaseModel], FieldInfo | None]:
    """The model that a path ends in, and the field it names there."""
    info = None
    for step in path:
        if isinstance(step, int):
            continue
        inner = _models(info)
        model = inner[-1] if inner else model
        info = model.model_fields.get(step)
    return model, info


def _models(info: FieldInfo | None) -> list[type[BaseModel]]:
    if info is None:
        return []
    kinds = [info.annotation, *getattr(info.annotation, "__args__", ())]
    return [kind for kind in kinds if isinstance(kind, type) and issubclass(kind, BaseModel)]


def _said(item: Any, owner: type[BaseModel], info: FieldInfo | None) -> str:
    """The message of one fault."""
    kind, value, limits = item["type"], item.get("input"), item.get("ctx", {})
    if kind == "value_error":
        return str(limits["error"])
    if kind == "missing":
        return "this field is missing. `waterleaf trial start` lays down a plan with every field."
    if kind == "extra_forbidden":
        hint = nearest(str(item["loc"][-1]), owner.model_fields)
        return f"this field is not known here{hint}. Fields here are {', '.join(owner.model_fields)}."
    if kind == "literal_error":
        choices = limits["expected"].replace("'", "")
        hint = nearest(str(value), re.split(r", | or ", choices))
        return f"{_shown(value)} is not known here{hint}. Give {choices}."
    if kind in ("too_short", "too_long"):
        return _length(limits)
    if kind == "tuple_type":
        return f"{_shown(value)} is no list. Write it in square brackets: [{_bare(value)}]."
    if kind in ("model_type", "dict_type", "model_attributes_type"):
        return f"{_shown(value)} stands alone; {_UNDER}" if info else (
            "this is not a plan: a plan is fields such as name: my-trial, a line each. `waterleaf trial start` lays one"
            " down."
        )  # fmt: skip
    return _said_of_value(kind, value, limits, info)


def _said_of_value(kind: str, value: Any, limits: dict[str, Any], info: FieldInfo | None) -> str:
    """The message where a text, a number or a yes or no was wanted."""
    if kind == "string_too_short" or (value == "" and info is not None):
        return "this is empty. Write it in."
    if kind == "string_pattern_mismatch":
        slug = re.sub(r"[^a-z0-9]+", "-", str(value).lower()).strip("-")[:49].strip("-")
        return (
            f"{_shown(value)} cannot name a trial. Use small letters, digits and hyphens, a letter or digit first, at "
            f"most 49 in all, such as {slug or 'my-trial'}."
        )
    if kind == "string_type":
        return f"{_shown(value)} is not a text. Put quotation marks round it: \"{_bare(value)}\"."
    if kind == "string_too_long":
        return f"{_shown(value)}: {len(str(value))} letters are too many. Give at most {limits['max_length']}."
    if kind in ("bool_parsing", "bool_type"):
        return f"{_shown(value)} is neither yes nor no. Write true or false."
    if kind in _WHOLE_KINDS:
        return f"{_shown(value)} is not a whole number. Give one{_bounds(info)}."
    if kind == "finite_number":
        return f"{_shown(value)} has no end. Give a plain number such as 32."
    if kind in _NUMBER_KINDS:
        comma = isinstance(value, str) and re.fullmatch(r"[-+]?\d+,\d+", value)
        point = f" Write it with a point: {value.replace(',', '.')}." if comma else ""
        return f"{_shown(value)} is not a number.{point or f' Give one{_bounds(info)}.'}"
    if kind in _RANGE_KINDS:
        return f"{_shown(value)} is out of range. Give a number{_bounds(info)}."
    return f"{_shown(value)} cannot be used here. `waterleaf trial start` lays down a plan with a note at every field."


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


def _bounds(info: FieldInfo | None) -> str:
    """The numbers that a field takes, in words; nothing where they are not limited."""
    found: dict[str, float] = {}
    for rule in getattr(info, "metadata", ()):
        for name in ("ge", "gt", "le", "lt"):
            limit = getattr(rule, name, None)
            if limit is not None:
                found[name] = limit
    if "ge" in found and "le" in found:
        return f" from {found['ge']} to {found['le']}"
    above = f" above {found['gt']:g}" if "gt" in found else f" of at least {found['ge']:g}" if "ge" in found else ""
    return above + (f", at most {found['le']:g}" if "le" in found else "")
