"""The issue book: which sheet or page went to whom, and all that is needed to make its key again in another year.

It only grows. What was given out is never changed or forgotten.
"""

import json
import secrets
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path
from typing import Annotated, Final, Literal

from pydantic import ConfigDict, TypeAdapter, ValidationError
from pydantic.dataclasses import dataclass as checked
from pydantic.fields import Field

from waterleaf.bank.family import Family, System
from waterleaf.bank.models import Marks
from waterleaf.bank.validation import Id
from waterleaf.draw import Draw, NoDraw, draw
from waterleaf.exercise import Exercise, pose
from waterleaf.faults import refuse
from waterleaf.growing.posing import standing_still
from waterleaf.writing import clear_scraps, one_at_a_time, written_whole

NAME: Final = "issue-book.json"
SECRET: Final = "class-secret.txt"
FORMAT: Final = "waterleaf-issue-book"
# Version 1 knew neither papers nor own numbers nor the address of a site, version 2 no practical tasks; what they hold
# is read as it stands.
VERSION: Final = 3
LOCK: Final = ".class-lock"
_SHORTEST_SECRET: Final = 32

# Codes, ids and names of papers name files and folders, so a book from elsewhere may not lead out of its own.
Code = Annotated[str, Field(pattern=r"^[A-Z2-9]{4}-[A-Z2-9]{4}$")]
PaperName = Annotated[str, Field(pattern=r"^[A-Za-z0-9]{0,8}$")]
TASK_NAME: Final = r"^\w[\w .-]{0,59}$"
Mark = Annotated[int, Field(ge=0, le=20)]
_EXACT: Final = ConfigDict(extra="forbid", allow_inf_nan=False)


@checked(frozen=True, config=_EXACT)
class IssuedQuestion:
    """The family of a question, its version, and what replaces its own: marks (method, result, unit), own numbers.

    Own numbers stand still instead of being drawn; they are in the metric units of the family.
    """

    family: str
    version: int
    marks: dict[str, tuple[Mark, Mark, Mark]]
    own: dict[str, float] = Field(default_factory=dict)


@checked(frozen=True, config=_EXACT)
class IssuedSheet:
    """One sheet: its code, whose it is, the number of each draw, and how it was printed."""

    code: Code
    student: str
    draws: tuple[str, ...]
    accommodations: tuple[str, ...] = ()
    paper: PaperName = ""


@checked(frozen=True, config=_EXACT)
class IssuedPaper:
    """One of several parallel papers: its name, its questions, and the number of each draw."""

    name: PaperName
    questions: tuple[IssuedQuestion, ...]
    draws: tuple[str, ...]


@checked(frozen=True, config=_EXACT)
class Issued:
    """All sheets of one assignment; `site` is the address of the self-check that is printed on them, if any is.

    Where several students share one of a few parallel papers, `papers` holds these, and each sheet names its own.
    """

    id: Id
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


@checked(frozen=True, config=_EXACT)
class IssuedPage:
    """One page of a practical task: its code, whose it is, and the number of its draw if it has numbers of the day."""

    code: Code
    student: str
    draw: str = ""


@checked(frozen=True, config=_EXACT)
class IssuedTask:
    """All pages of a practical task that is marked beside an assignment or papers.

    `digest` is that of the task's file, `question` the family of its numbers of the day, if it has any, and `origin`
    what the instructor's copy says of them.
    """

    beside: Id
    name: Annotated[str, Field(pattern=TASK_NAME)]
    digest: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
    system: Literal["metric", "us"]
    pages: tuple[IssuedPage, ...]
    question: IssuedQuestion | None = None
    origin: Annotated[str, Field(max_length=1000)] = ""


@dataclass(frozen=True, slots=True)
class IssueBook:
    """Everything that was ever issued to a class: by assignment, and by what a task is beside and its name."""

    assignments: Mapping[str, Issued]
    tasks: Mapping[tuple[str, str], IssuedTask] = field(default_factory=dict)

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
        return replace(self, assignments={**self.assignments, issued.id: issued})

    def with_task(self, task: IssuedTask) -> "IssueBook":
        """The book with a practical task added or grown.

        Raises Faults where a page that was given out would change.
        """
        place = task.beside, task.name
        old = self.tasks.get(place)
        if old is not None and (
            replace(old, pages=()) != replace(task, pages=()) or task.pages[: len(old.pages)] != old.pages
        ):
            raise refuse(NAME, f"pages of {task.name!r} that were given out would change. Nothing was written.")
        return replace(self, tasks={**self.tasks, place: task})


_BOOK: Final = TypeAdapter(list[Issued])
_TASKS: Final = TypeAdapter(list[IssuedTask])


@contextmanager
def class_to_itself(folder: Path) -> Iterator[None]:
    """Keep other runs from the class folder while the block runs: two that read and write one book would lose sheets.

    Raises Faults where another run is at work on the class.
    """
    if not folder.is_dir():
        yield  # said by whoever looks for the class
        return
    busy = "another run is at work on this class just now. Wait until it has ended, then run the command again."
    with one_at_a_time(folder / LOCK, folder, busy):
        for name in (NAME, SECRET):
            clear_scraps(folder / name)
        yield


def read_book(folder: Path) -> IssueBook:
    """The issue book of a class, of this or an earlier version; an empty one where nothing was issued yet.

    Raises Faults where the file is damaged or was written by a newer kit.
    """
    path = folder / NAME
    if not path.exists():
        return IssueBook({})
    try:
        data = json.loads(path.read_bytes())
        if not isinstance(data, dict) or data.get("format") != FORMAT:
            raise ValueError("it does not say that it is one")
        _check_version(data.get("version"))
        issued = _BOOK.validate_python(data.get("assignments"))
        tasks = _TASKS.validate_python(data.get("tasks", []))
        _check_counts(issued)
        _check_tasks(tasks, issued)
    except (json.JSONDecodeError, UnicodeDecodeError, ValidationError, RecursionError) as error:
        raise refuse(NAME, f"this is not a sound issue book ({str(error).splitlines()[0]}). Restore a copy.") from None
    except OSError as error:
        raise refuse(NAME, f"cannot be read ({error.strerror}). Check the permissions.") from None
    except ValueError as error:
        if hasattr(error, "faults"):
            raise
        raise refuse(NAME, f"this is not an issue book: {error}. Restore a copy.") from None
    return IssueBook({entry.id: entry for entry in issued}, {(task.beside, task.name): task for task in tasks})


def _check_version(version: object) -> None:
    """Refuse a book that this kit might misread."""
    if isinstance(version, bool) or not isinstance(version, int) or version < 1:
        raise ValueError(f"{str(version)[:20]!r} is no version")
    if version > VERSION:
        raise refuse(
            NAME, f"was written by a newer kit (version {str(version)[:20]} of the form; this kit knows up to "
            f"{VERSION}). Use the newer kit. Nothing was changed."
        )


def _check_counts(issued: list[Issued]) -> None:
    """Every sheet has a draw for each question, and no code or id stands twice."""
    ids, codes = [entry.id for entry in issued], [sheet.code for entry in issued for sheet in entry.sheets]
    if len(set(ids)) < len(ids) or len(set(codes)) < len(codes):
        raise ValueError("an id or a code stands twice")
    if any(len(sheet.draws) != len(entry.questions_of(sheet)) for entry in issued for sheet in entry.sheets):
        raise ValueError("a sheet has not one draw for each question")


def _check_tasks(tasks: list[IssuedTask], issued: list[Issued]) -> None:
    """Every task stands once, beside something that was given out, with one page a student."""
    places = [(task.beside, task.name) for task in tasks]
    if len(set(places)) < len(places) or not {beside for beside, _ in places} <= {entry.id for entry in issued}:
        raise ValueError("a task stands twice, or beside nothing")
    for task in tasks:
        students = [page.student for page in task.pages]
        if len(set(students)) < len(students) or any(bool(page.draw) != bool(task.question) for page in task.pages):
            raise ValueError("a page of a task stands twice, or lacks its draw")


def write_book(folder: Path, book: IssueBook) -> None:
    """Put the book in place of the old one in a single step, on the disk before the name changes.

    Raises Faults where what stands on the disk would be lost by it.
    """
    held = read_book(folder)
    for entry in held.assignments.values():
        if entry.id not in book.assignments or book.assignments[entry.id].sheets[: len(entry.sheets)] != entry.sheets:
            raise refuse(NAME, f"{entry.id!r} has changed on the disk meanwhile. Run the command again.")
    for place, task in held.tasks.items():
        if place not in book.tasks or book.tasks[place].pages[: len(task.pages)] != task.pages:
            raise refuse(NAME, f"the task {task.name!r} has changed on the disk meanwhile. Run the command again.")
    data = {
        "format": FORMAT, "version": VERSION, "assignments": [asdict(entry) for entry in book.assignments.values()],
        "tasks": [asdict(task) for task in book.tasks.values()],
    }
    # Draws stand in it, and with them and the kit every key: it is for its owner's eyes only.
    written_whole(folder / NAME, json.dumps(data, ensure_ascii=False, indent=1), private=True)


def class_secret(folder: Path) -> str:
    """The secret of a class, made once; it keeps the draws of the class from being guessed.

    Raises Faults where the file is not one that was made here.
    """
    path = folder / SECRET
    if not path.exists():
        written_whole(path, f"{secrets.token_hex(32)}\n", private=True)
    try:
        text = path.read_text(encoding="utf-8").strip()
    except (OSError, UnicodeDecodeError) as error:
        raise refuse(SECRET, f"cannot be read ({error}).") from None
    with suppress(OSError):
        path.chmod(0o600)  # a copy from a stick may have come with wider permissions
    if len(text) < _SHORTEST_SECRET:
        raise refuse(SECRET, "is too short to be a secret. Delete it, and a new one is made; issued sheets stay valid.")
    return text


def lost_secret(folder: Path, book: IssueBook) -> str:
    """What to say where sheets were given out and the secret that they came from is gone; nothing where it is there."""
    if not book.assignments or (folder / SECRET).exists():
        return ""
    return (
        f"{SECRET} was gone, so a new one was made. Sheets given out stay as they are: their draws stand in {NAME}. "
        "Sheets given out from now on come from the new secret."
    )


def exercises_of(issued: Issued, sheet: IssuedSheet, bank: Mapping[str, Family]) -> tuple[Exercise, ...]:
    """The exercises of a sheet, drawn again from the book.

    Raises Faults where a family is gone or has another version than the one that the sheet was drawn from.
    """
    system: System = issued.system
    return tuple(
        with_marks(pose(drawn(question, number, bank), system), question)
        for question, number in zip(issued.questions_of(sheet), sheet.draws, strict=True)
    )


def drawn(question: IssuedQuestion, number: str, bank: Mapping[str, Family]) -> Draw:
    """The draw of a question with this number.

    Raises Faults where the family is gone or changed, or the book holds numbers with which it makes no draw.
    """
    try:
        return draw(family_of(question, bank), number)
    except NoDraw as error:
        raise refuse(NAME, f"{error} The numbers in the book are not those that were given out. Restore a copy.") \
            from None


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
