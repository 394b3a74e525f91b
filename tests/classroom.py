"""A small invented class with a few families, for the tests of issuing and marking."""

from collections.abc import Mapping
from pathlib import Path

import pytest

from waterleaf.bank.builder import load_family
from waterleaf.bank.family import Family
from waterleaf.classwork.issue import Defaults, issue
from waterleaf.commands.assign import assign_sheets
from waterleaf.exercise import Exercise
from waterleaf.marking.assignment import Assignment, Question
from waterleaf.marking.classfile import Student
from waterleaf.marking.classmarks import ClassMarks, full_marks, mark_all
from waterleaf.marking.decisions import read_decisions
from waterleaf.marking.issuebook import IssueBook, Issued, exercises_of
from waterleaf.marking.labels import labelled
from waterleaf.marking.responses import collect, read_responses

ROOT = Path(__file__).parents[1] / "question_bank"
KEYS = ("feed/daily_feed", "solids/flush_times", "solids/which_settler")
BANK: dict[str, Family] = {key: load_family(ROOT / f"{key}.yaml", ROOT) for key in KEYS}
SECRET = "0123456789abcdef" * 4


def quiet(_n: float) -> None:
    """No progress is shown."""


def small_bank(patch: pytest.MonkeyPatch, bank: Mapping[str, Family], *commands: str) -> None:
    """These commands know the families of the bank and no others."""
    for command in commands:
        patch.setattr(f"waterleaf.commands.{command}.load_bank", lambda _path: bank)


def assigned_class(folder: Path, people: str, asked: str) -> Path:
    """A class folder after `assign`, with this class list and this assignment."""
    (folder / "class.csv").write_text(people, encoding="utf-8")
    (folder / "assignment.yaml").write_text(asked, encoding="utf-8")
    with pytest.MonkeyPatch.context() as patch:
        small_bank(patch, BANK, "assign")
        assign_sheets(folder, "assignment.yaml", None, quiet)
    return folder


def students(count: int) -> tuple[Student, ...]:
    """Invented students with plain ids."""
    return tuple(Student(f"S{place:03d}", f"Student {place}") for place in range(count))


def assignment(**fields: object) -> Assignment:
    """An assignment of all families here."""
    plain: dict[str, object] = {"id": "week-3", "title": "Feed", "questions": [{"family": key} for key in KEYS]}
    return Assignment.model_validate(plain | fields)


def issued_to(count: int, book: IssueBook | None = None, secret: str = SECRET, **fields: object) -> Issued:
    """The assignment given out to a class of this size."""
    file = assignment(**fields)
    questions = [Question(BANK[line.family], line.marks) for line in file.questions if line.family]
    return issue(students(count), file, questions, book or IssueBook({}), secret, Defaults("metric", "a4"))


def exercises(issued: Issued, place: int = 0) -> tuple[Exercise, ...]:
    """The exercises of one of the sheets."""
    return exercises_of(issued, issued.sheets[place], BANK)


def key_answers(issued: Issued, place: int = 0) -> dict[str, str]:
    """The printed keys of a sheet, as a student who has everything right would write them."""
    return {item.label: item.part.key_text for item in labelled(exercises(issued, place))}


def marked_from(folder: Path, issued: Issued) -> ClassMarks:
    """The class marked from the files in a folder."""
    labels = full_marks(issued, BANK)
    collected = collect(issued, read_responses(folder, list(labels), issued.decimal))
    decisions = read_decisions(folder, issued, labels)
    return mark_all(issued, students(len(issued.sheets)), collected, decisions, BANK)
