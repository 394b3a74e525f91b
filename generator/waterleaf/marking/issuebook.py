"""The issue book: which sheet went to whom, and all that is needed to make its key again in another year.

It only grows. A sheet that was given out is never changed or forgotten.
"""

import json
import os
import secrets
import tempfile
from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Annotated, Final, Literal

from pydantic import TypeAdapter, ValidationError
from pydantic.dataclasses import dataclass as checked
from pydantic.fields import Field

from waterleaf.bank.family import Family, System
from waterleaf.bank.models import Marks
from waterleaf.draw import draw
from waterleaf.exercise import Exercise, pose
from waterleaf.faults import refuse
from waterleaf.growing.posing import standing_still

NAME: Final = "issue-book.json"
SECRET: Final = "class-secret.txt"
FORMAT: Final = "waterleaf-issue-book"
VERSION: Final = 1

Code = Annotated[str, Field(pattern=r"^[A-Z2-9]{4}-[A-Z2-9]{4}$")]


@checked(frozen=True)
class IssuedQuestion:
    """The family of a question, its version, and what replaces its own: marks (method, result, unit), own numbers.

    Own numbers stand still instead of being drawn; they are in the metric units of the family.
    """

    family: str
    version: int
    marks: dict[str, tuple[int, int, int]]
    own: dict[str, float] = Field(default_factory=dict)


@checked(frozen=True)
class IssuedSheet:
    """One sheet: its code, whose it is, the number of each draw, and how it was printed."""

    code: Code
    student: str
    draws: tuple[str, ...]
    accommodations: tuple[str, ...] = ()
    paper: str = ""


@checked(frozen=True)
class IssuedPaper:
    """One of several parallel papers: its name, its questions, and the number of each draw."""

    name: str
    questions: tuple[IssuedQuestion, ...]
    draws: tuple[str, ...]


@checked(frozen=True)
class Issued:
    """All sheets of one assignment; `site` is the address of the self-check that is printed on them, if any is.

    Where several students share one of a few parallel papers, `papers` holds these, and each sheet names its own.
    """

    id: str
    title: str
    system: Literal["metric", "us"]
    paper: Literal["a4", "letter"]
    decimal: Literal["point", "comma"]
    ask_unit: bool
    questions: tuple[IssuedQuestion, ...]
    sheets: tuple[IssuedSheet, ...]
    site: str = ""
    papers: tuple[IssuedPaper, ...] = ()

    def questions_of(self, sheet: IssuedSheet) -> tuple[IssuedQuestion, ...]:
        """The questions of a sheet: those of its paper, else those of the assignment."""
        return next((paper.questions for paper in self.papers if paper.name == sheet.paper), self.questions)

    @property
    def by_code(self) -> dict[str, IssuedSheet]:
        """The sheets by their codes."""
        return {sheet.code: sheet for sheet in self.sheets}


@dataclass(frozen=True, slots=True)
class IssueBook:
    """Everything that was ever issued to a class, by assignment."""

    assignments: Mapping[str, Issued]

    def with_issued(self, issued: Issued) -> "IssueBook":
        """The book with an assignment added or grown.

        Raises Faults where a sheet that was given out would change.
        """
        old = self.assignments.get(issued.id)
        if old is not None:
            # The site may move: its address changes neither questions nor keys.
            if replace(old, sheets=(), site="") != replace(issued, sheets=(), site=""):
                raise refuse(
                    NAME, f"{issued.id!r} was issued before with other questions, units, paper or marks. Sheets given "
                    "out stay as they are: put the assignment file back as it was, or give it a new id."
                )
            if issued.sheets[: len(old.sheets)] != old.sheets:
                raise refuse(NAME, f"sheets of {issued.id!r} that were given out would change. Nothing was written.")
        return IssueBook({**self.assignments, issued.id: issued})


_BOOK: Final = TypeAdapter(list[Issued])


def read_book(folder: Path) -> IssueBook:
    """The issue book of a class; an empty one where nothing was issued yet.

    Raises Faults where the file is damaged or of another version.
    """
    path = folder / NAME
    if not path.exists():
        return IssueBook({})
    try:
        data = json.loads(path.read_bytes())
        if not isinstance(data, dict) or data.get("format") != FORMAT:
            raise ValueError("it does not say that it is one")
        if data.get("version") != VERSION:
            raise refuse(NAME, f"format version {data.get('version')!r} is not known here, only {VERSION}. "
                         "Use the version of the kit that wrote it.")
        issued = _BOOK.validate_python(data.get("assignments"))
    except (json.JSONDecodeError, UnicodeDecodeError, ValidationError, RecursionError) as error:
        raise refuse(NAME, f"this is not a sound issue book ({str(error).splitlines()[0]}). Restore a copy.") from None
    except OSError as error:
        raise refuse(NAME, f"cannot be read ({error.strerror}). Check the permissions.") from None
    except ValueError as error:
        if hasattr(error, "faults"):
            raise
        raise refuse(NAME, f"this is not an issue book: {error}. Restore a copy.") from None
    return IssueBook({entry.id: entry for entry in issued})


def write_book(folder: Path, book: IssueBook) -> None:
    """Put the book in place of the old one in a single step, on the disk before the name changes.

    Raises Faults where what stands on the disk would be lost by it.
    """
    for entry in read_book(folder).assignments.values():
        if entry.id not in book.assignments or book.assignments[entry.id].sheets[: len(entry.sheets)] != entry.sheets:
            raise refuse(NAME, f"{entry.id!r} has changed on the disk meanwhile. Run the command again.")
    data = {
        "format": FORMAT, "version": VERSION, "assignments": [asdict(entry) for entry in book.assignments.values()],
    }
    try:
        number, name = tempfile.mkstemp(prefix=f".{NAME}-", dir=folder)
        fresh = Path(name)
        try:
            with os.fdopen(number, "w", encoding="utf-8") as file:
                json.dump(data, file, ensure_ascii=False, indent=1)
                file.flush()
                os.fsync(file.fileno())
            fresh.replace(folder / NAME)
        finally:
            fresh.unlink(missing_ok=True)
    except OSError as error:
        raise refuse(NAME, f"cannot be written ({error.strerror}). The old one is untouched.") from None


def class_secret(folder: Path) -> str:
    """The secret of a class, made once; it keeps the draws of the class from being guessed.

    Raises Faults where the file is not one that was made here.
    """
    path = folder / SECRET
    try:
        if not path.exists():
            number = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
            with os.fdopen(number, "w", encoding="ascii") as file:
                file.write(secrets.token_hex(32) + "\n")
        text = path.read_text(encoding="utf-8").strip()
    except (OSError, UnicodeDecodeError) as error:
        raise refuse(SECRET, f"cannot be read or made ({error}).") from None
    if len(text) < 32:
        raise refuse(SECRET, "is too short to be a secret. Delete it, and a new one is made; issued sheets stay valid.")
    return text


def exercises_of(issued: Issued, sheet: IssuedSheet, bank: Mapping[str, Family]) -> tuple[Exercise, ...]:
    """The exercises of a sheet, drawn again from the book.

    Raises Faults where a family is gone or has another version than the one that the sheet was drawn from.
    """
    system: System = issued.system
    return tuple(
        with_marks(pose(draw(family_of(question, bank), number), system), question)
        for question, number in zip(issued.questions_of(sheet), sheet.draws, strict=True)
    )


def family_of(question: IssuedQuestion, bank: Mapping[str, Family]) -> Family:
    """The family of an issued question, if it is still the one that the sheets were drawn from."""
    family = bank.get(question.family)
    if family is None:
        raise refuse(NAME, f"{question.family} is no longer in the bank. Put its file back to make these sheets again.")
    if family.file.version != question.version:
        raise refuse(
            NAME, f"{question.family} is at version {family.file.version}, but these sheets were drawn from version "
            f"{question.version}. Their values and keys would differ; put the file of version {question.version} back."
        )
    return standing_still(family, question.own) if question.own else family


def with_marks(exercise: Exercise, question: IssuedQuestion) -> Exercise:
    """The exercise with the marks of the assignment in place of the family's own."""
    if not question.marks:
        return exercise
    parts = tuple(
        replace(part, marks=Marks(**dict(zip(("method", "result", "unit"), question.marks[part.name], strict=True))))
        if part.name in question.marks
        else part
        for part in exercise.parts
    )
    return replace(exercise, parts=parts)
