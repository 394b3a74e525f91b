"""Where in a file a fault lies: the path as its writer sees it, and the model and field that stand there."""

from dataclasses import dataclass
from types import NoneType, UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel, Tag
from pydantic.fields import FieldInfo


@dataclass(frozen=True, slots=True)
class Place:
    """A path without the steps that the checking library adds; the fields that belong there; limits and description."""

    path: tuple[str | int, ...]
    fields: tuple[str, ...]
    rules: tuple[Any, ...]
    description: str


def place_of(steps: tuple[str | int, ...], model: type[BaseModel]) -> Place:
    """The place to which the steps of a fault lead through a model."""
    owner, info, path = model, None, list[str | int]()
    kind: Any = model
    names: Any = None  # what a name in a group of the writer's own names must be like
    for step in steps:
        if step == "[key]":  # the name itself is meant, and not what stands under it
            continue
        tagged = [choice for choice in _choices(kind) if _tag(choice) == step]
        kind = _plain((tagged or _choices(kind))[0])
        if tagged:
            continue
        if isinstance(kind, type) and issubclass(kind, BaseModel):
            owner, info = kind, _field(kind, step)
            kind = info.annotation if info else None
        elif get_origin(kind) is dict:
            info, (names, kind) = None, get_args(kind)
        elif isinstance(step, int):
            kind = next(iter(get_args(kind)), None)
        else:  # the sort of value that was tried
            continue
        path.append(step)
    inner = _notes(names) if names and info is None else [note for choice in _choices(kind) for note in _notes(choice)]
    notes = [*([info] if info else []), *inner]
    fields = tuple(field.alias or name for name, field in owner.model_fields.items())
    rules = tuple(rule for note in notes for rule in note.metadata)
    return Place(tuple(path), fields, rules, next((note.description for note in notes if note.description), ""))


def _field(model: type[BaseModel], step: str | int) -> FieldInfo | None:
    return next((field for name, field in model.model_fields.items() if step in (field.alias or name, name)), None)


def _notes(kind: Any) -> list[FieldInfo]:
    return [mark for mark in getattr(kind, "__metadata__", ()) if isinstance(mark, FieldInfo)]


def _plain(kind: Any) -> Any:
    return get_args(kind)[0] if get_origin(kind) is Annotated else kind


def _tag(kind: Any) -> str | None:
    return next((mark.tag for mark in getattr(kind, "__metadata__", ()) if isinstance(mark, Tag)), None)


def _choices(kind: Any) -> list[Any]:
    """The kinds that a value may have; one, unless the model leaves a choice. Nothing at all is no kind."""
    inner = _plain(kind)
    if get_origin(inner) in (Union, UnionType):
        return [choice for choice in get_args(inner) if choice is not NoneType]
    return [kind]
