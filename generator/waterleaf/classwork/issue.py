"""Gives every student of a class a sheet of their own."""

import hashlib
import itertools
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from waterleaf.bank.family import Family, System
from waterleaf.draw import Draw, distinct_draws
from waterleaf.exercise import pose
from waterleaf.faults import refuse
from waterleaf.marking.assignment import Assignment, Question
from waterleaf.marking.classfile import Student
from waterleaf.marking.issuebook import NAME, IssueBook, Issued, IssuedQuestion, IssuedSheet, exercises_of
from waterleaf.sheets.paper import Paper, Sheet

# Sheets kept posed between the packet, the separate files and the key book; a larger class is posed again each time,
# so that memory stays flat.
_KEPT = 200


@dataclass(frozen=True, slots=True)
class Defaults:
    """What an assignment file may leave to the school's settings."""

    system: System
    paper: Paper


def issue(
    students: Sequence[Student], assignment: Assignment, questions: Sequence[Question], book: IssueBook, secret: str,
    defaults: Defaults,
) -> Issued:
    """The assignment with a sheet for every student; students who have one keep it, new ones are added at the end.

    Raises NoDraw where a family has too few different values, Faults where the issued questions have changed.
    """
    old = book.assignments.get(assignment.id)
    issued = Issued(
        id=assignment.id, title=assignment.title, system=assignment.units or defaults.system,
        paper=assignment.paper or defaults.paper, decimal=assignment.decimal, ask_unit=assignment.ask_unit,
        questions=tuple(_recorded(question) for question in questions), sheets=old.sheets if old else (),
    )
    book.with_issued(issued)  # refuses changed questions before anything is drawn
    known = {sheet.student for sheet in issued.sheets}
    new = [student for student in students if student.id not in known]
    rows = _rows([question.family for question in questions], _seed(secret, assignment), len(issued.sheets), len(new))
    added = [_sheet(student, row, issued.system) for student, row in zip(new, rows, strict=True)]
    return _without_twins(issued, added, book)


def _recorded(question: Question) -> IssuedQuestion:
    marks = {name: (marks.method, marks.result, marks.unit) for name, marks in question.marks.items()}
    return IssuedQuestion(question.family.key, question.family.file.version, marks)


def _seed(secret: str, assignment: Assignment) -> str:
    """A seed that nobody can guess who has not the secret of the class."""
    text = f"{secret} {assignment.id} {assignment.seed}"
    return hashlib.blake2b(text.encode(), digest_size=10).hexdigest()


def _rows(families: Sequence[Family], seed: str, skipped: int, count: int) -> Iterable[tuple[Draw, ...]]:
    """For each new student one draw of every question; a family asked for twice gives two different draws."""
    asked = Counter(family.key for family in families)
    columns: list[Iterator[Draw]] = []
    by_family: dict[str, list[Iterator[Draw]]] = {}
    for family in families:
        if family.key not in by_family:
            each = asked[family.key]
            draws = distinct_draws(family, seed, each * (skipped + count))
            copies = itertools.tee(draws, each)
            by_family[family.key] = [
                itertools.islice(copy, skipped * each + place, None, each) for place, copy in enumerate(copies)
            ]
        columns.append(by_family[family.key].pop(0))
    return zip(*columns, strict=True)


def _sheet(student: Student, row: Sequence[Draw], system: System) -> IssuedSheet:
    code = Sheet(tuple(pose(drawn, system) for drawn in row)).code
    return IssuedSheet(code, student.id, tuple(drawn.number for drawn in row), student.accommodations)


def _without_twins(issued: Issued, added: Sequence[IssuedSheet], book: IssueBook) -> Issued:
    """The issued sheets together; two sheets with one code could not be told apart."""
    taken = {sheet.code for entry in book.assignments.values() for sheet in entry.sheets}
    for sheet in added:
        if sheet.code in taken:
            raise refuse(NAME, f"two sheets would have the code {sheet.code}. Give the assignment another seed.")
        taken.add(sheet.code)
    return replace(issued, sheets=(*issued.sheets, *added))


class Posed:
    """Sheets of an issued assignment, posed when they are needed."""

    def __init__(self, issued: Issued, bank: Mapping[str, Family], names: Mapping[str, str]) -> None:
        """`names` holds what is printed for each student id."""
        self._issued, self._bank, self._names = issued, bank, names
        self._held: dict[str, Sheet] = {}

    def __call__(self, entry: IssuedSheet) -> Sheet:
        """The sheet of an entry of the issue book."""
        if entry.code not in self._held:
            sheet = Sheet(exercises_of(self._issued, entry, self._bank), self._names.get(entry.student, entry.student))
            if len(self._held) >= _KEPT:
                return sheet
            self._held[entry.code] = sheet
        return self._held[entry.code]
