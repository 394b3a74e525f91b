"""The class: who is in it, and what each student needs on paper."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Final

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from waterleaf.bank.marked_yaml import read
from waterleaf.bank.validation import validated
from waterleaf.faults import Fault, Faults, refuse
from waterleaf.marking.seats import place_of
from waterleaf.marking.tableout import unguarded
from waterleaf.marking.tabular import read_table

NAMES: Final = ("class.yaml", "class.csv", "class.xlsx")
ACCOMMODATIONS: Final = ("large print", "extra space", "a3")
_LONGEST: Final = 120
# Characters that cannot be seen and would break a line of a table or of a message.
_CONTROL: Final = re.compile("[\x00-\x1f\x7f\u2028\u2029]")


@dataclass(frozen=True, slots=True)
class Student:
    """One student. The name is shown to people and never used to name a file."""

    id: str
    name: str
    section: str = ""
    accommodations: tuple[str, ...] = ()
    seat: str = ""


@dataclass(frozen=True, slots=True)
class ClassList:
    """A class, in the order of its file."""

    file: str
    students: tuple[Student, ...]


def read_class(folder: Path) -> ClassList:
    """The class in a folder, from class.yaml, class.csv or class.xlsx.

    Raises Faults where there is no such file or more than one, or with everything wrong in it.
    """
    found = [name for name in NAMES if (folder / name).exists()]
    if len(found) != 1:
        what = "none of these was found" if not found else f"{' and '.join(found)} both stand here"
        raise refuse(folder.as_posix(), f"{what}; a class folder holds one of {', '.join(NAMES)}.")
    path = folder / found[0]
    entries = _from_yaml(path) if path.suffix == ".yaml" else _from_table(path)
    faults: list[Fault] = []
    students = [_student(where, fields, faults) for where, fields in entries]
    first: dict[str, str] = {}
    for (where, _), student in zip(entries, students, strict=True):
        if student.id and student.id in first:
            faults.append(Fault(where, "id", f"{student.id!r} stands at {first[student.id]} too. Give each its own."))
        first.setdefault(student.id, where)
    if not entries:
        faults.append(Fault(found[0], "", "the class has no students. Write one a line."))
    if faults:
        raise Faults(faults)
    return ClassList(found[0], tuple(students))


def _text_only(value: Any) -> Any:
    if isinstance(value, int | float) and not isinstance(value, bool):
        raise ValueError('put it in quotation marks, as in "0417", so that no zero in front is lost')
    return value


class _Entry(BaseModel):
    model_config = ConfigDict(extra="forbid")

    id: Annotated[str, BeforeValidator(_text_only)]
    name: str
    section: Annotated[str, BeforeValidator(_text_only)] = ""
    accommodations: list[str] | str = Field(default_factory=list)
    seat: Annotated[str, BeforeValidator(_text_only)] = ""


class ClassFile(BaseModel):
    """The fields of a class file."""

    model_config = ConfigDict(extra="forbid")

    students: list[_Entry]


def _from_yaml(path: Path) -> list[tuple[str, _Entry]]:
    marked = read(path, path.name)
    file = validated(marked, ClassFile)
    return [(marked.where(("students", place)), entry) for place, entry in enumerate(file.students)]


def _from_table(path: Path) -> list[tuple[str, _Entry]]:
    table = read_table(path, ("id", "name"))
    return [
        (
            row.where,
            _Entry(
                id=unguarded(row.cells.get("id", "")), name=unguarded(row.cells.get("name", "")),
                section=unguarded(row.cells.get("section", "")), accommodations=row.cells.get("accommodations", ""),
                seat=unguarded(row.cells.get("seat", "")),
            ),
        )
        for row in table.rows
    ]


def _student(where: str, entry: _Entry, faults: list[Fault]) -> Student:
    """The student, with whatever is wrong added to the faults."""
    fields = {"id": entry.id.strip(), "name": entry.name.strip(), "section": entry.section.strip()}
    for field, text in fields.items():
        if _CONTROL.search(text) or len(text) > _LONGEST:
            faults.append(Fault(where, field, f"has a control character or over {_LONGEST} letters. Type it afresh."))
        elif not text and field == "id":
            faults.append(Fault(where, field, "is missing. Each student needs an id of their own."))
    seat = entry.seat.strip()
    if seat and place_of(seat) is None:
        faults.append(Fault(where, "seat", f"{seat!r} is no seat. Write row and place, as in B3 or 2-3."))
    return Student(
        fields["id"], fields["name"] or fields["id"], fields["section"],
        _accommodations(where, entry.accommodations, faults), seat,
    )


def _accommodations(where: str, written: Sequence[str] | str, faults: list[Fault]) -> tuple[str, ...]:
    words = re.split(r"[;,/+]", written) if isinstance(written, str) else written
    plain = [" ".join(word.split()).casefold() for word in words if word.strip()]
    faults.extend(
        Fault(where, "accommodations", f"{word!r} is not known. Write {', '.join(ACCOMMODATIONS)}.")
        for word in plain if word not in ACCOMMODATIONS
    )
    return tuple(word for word in ACCOMMODATIONS if word in plain)
