"""Checks the fields of a file that an instructor wrote, and says in one line each what is wrong."""

import datetime
from typing import TypeVar

from pydantic import BaseModel, ValidationError

from waterleaf.bank.marked_yaml import Marked
from waterleaf.faults import Fault, Faults

Model = TypeVar("Model", bound=BaseModel)


def validated(marked: Marked, model: type[Model]) -> Model:
    """The data of a file as a model.

    Raises Faults with the line of every field that is wrong.
    """
    try:
        return model.model_validate(marked.data)
    except ValidationError as error:
        raise Faults(
            Fault(
                marked.where(item["loc"]),
                ".".join(str(step) for step in item["loc"]),
                item["msg"].removeprefix("Value error, ") + _accepted(item["type"], item["loc"], model),
            )
            for item in error.errors()
        ) from None


def checked_date(text: str | None, example: str) -> str | None:
    """A date as 2026-03-09, or none. Raises ValueError with an example for anything else."""
    if text is not None:
        try:
            datetime.date.fromisoformat(text)
        except ValueError:
            raise ValueError(f"{text!r} is not a date. Write it as {example}.") from None
    return text


def _accepted(kind: str, path: tuple[int | str, ...], model: type[BaseModel]) -> str:
    if kind != "extra_forbidden":
        return ""
    if len(path) > 1:  # a field within a field, which has fields of its own
        return f". Take out {path[-1]!r}, or mend its name."
    return f". Fields are {', '.join(model.model_fields)}."
