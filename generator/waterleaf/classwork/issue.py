"""Gives every student of a class a sheet of their own."""

import hashlib
import itertools
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from waterleaf.bank.family import Family, System
from waterleaf.draw import Draw, distinct_draws, draw
from waterleaf.exercise import pose
from waterleaf.faults import refuse
from waterleaf.growing.posing import standing_still
from waterleaf.growing.posing import with_own_numbers as pose_own
from waterleaf.growing.system import System as GrowingSystem
from waterleaf.marking.assignment import Assignment, Question
from waterleaf.marking.classfile import Student
from waterleaf.marking.issuebook import NAME, IssueBook, Issued, IssuedQuestion, IssuedSheet, exercises_of
from waterleaf.marking.portion import families_asked, without_sheets
from waterleaf.sheets.paper import PaperSize, Sheet

# The links of each sheet's self-check, by its code.
Checks = Mapping[str, tuple[str, ...]]
# Sheets kept posed between the packet, the separate files and the key book; a larger class is posed again each time,
# so that memory stays flat.
_KEPT = 200


@dataclass(frozen=True, slots=True)
class Defaults:
    """What an assignment file may leave to the school's settings."""

    system: System
    paper: PaperSize
    site: str = ""


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
        site=(assignment.site or defaults.site) if assignment.self_check else "",
    )
    book.with_issued(issued)  # refuses changed questions before anything is drawn
    known = {sheet.student for sheet in issued.sheets}
    new = [student for student in students if student.id not in known]
    families, seed = [question.family for question in questions], class_seed(secret, assignment)
    rows = _rows(families, seed, len(issued.sheets), len(new), _had(questions, issued.sheets))
    added = [_sheet(student, row, issued.system) for student, row in zip(new, rows, strict=True)]
    return _without_twins(issued, added, book)


def _recorded(question: Question) -> IssuedQuestion:
    marks = {name: (marks.method, marks.result, marks.unit) for name, marks in question.marks.items()}
    return IssuedQuestion(question.family.key, question.family.file.version, marks, dict(question.own))


def with_own_numbers(
    questions: Sequence[Question], assignment: Assignment, old: Issued | None, sheets: int, secret: str,
    system: GrowingSystem | None,
) -> tuple[list[Question], list[str]]:
    """The questions with the numbers of the class's own growing system, and a line for each that could have some.

    What was given out stays: an assignment in the book keeps the numbers that it has there.
    """
    if old is not None:
        if [question.family.key for question in questions] != [question.family for question in old.questions]:
            return list(questions), []  # refused later, with the reason
        return [
            replace(question, family=standing_still(question.family, recorded.own), own=recorded.own)
            if recorded.own else question
            for question, recorded in zip(questions, old.questions, strict=True)
        ], []
    if system is None:
        return list(questions), []
    asked = Counter(question.family.key for question in questions)
    seed = class_seed(secret, assignment)
    posed = {
        question.family.key: pose_own(question.family, system, [(seed, asked[question.family.key] * sheets)])
        for question in questions
    }
    return [
        replace(question, family=posed[question.family.key].family, own=dict(posed[question.family.key].used))
        for question in questions
    ], [one.line for one in posed.values() if one.line]


def class_seed(secret: str, assignment: Assignment) -> str:
    """A seed that nobody can guess who has not the secret of the class."""
    text = f"{secret} {assignment.id} {assignment.seed}"
    return hashlib.blake2b(text.encode(), digest_size=10).hexdigest()


def _had(questions: Sequence[Question], sheets: Sequence[IssuedSheet]) -> dict[str, set[bytes]]:
    """The numbers that were given out, by family: after a lost secret the next ones come from another row of draws."""
    had: dict[str, set[bytes]] = {}
    for place, question in enumerate(questions):
        own = had.setdefault(question.family.key, set())
        own.update(draw(question.family, sheet.draws[place]).fingerprint for sheet in sheets)
    return had


def _rows(
    families: Sequence[Family], seed: str, skipped: int, count: int, had: Mapping[str, set[bytes]]
) -> Iterable[tuple[Draw, ...]]:
    """For each new student one draw of every question; a family asked for twice gives two different draws."""
    asked = Counter(family.key for family in families)
    columns: list[Iterator[Draw]] = []
    by_family: dict[str, list[Iterator[Draw]]] = {}
    for family in families:
        if family.key not in by_family:
            each = asked[family.key]
            draws = _free_draws(family, seed, skipped * each, count * each, had[family.key])
            copies = itertools.tee(draws, each)
            by_family[family.key] = [itertools.islice(copy, place, None, each) for place, copy in enumerate(copies)]
        columns.append(by_family[family.key].pop(0))
    return zip(*columns, strict=True)


def _free_draws(
    family: Family, seed: str, skipped: int, count: int, taken: set[bytes]
) -> Iterator[Draw]:
    """So many draws after those that were skipped, none with numbers that are taken."""
    draws = distinct_draws(family, seed, skipped + count + len(taken))
    free = (drawn for drawn in itertools.islice(draws, skipped, None) if drawn.fingerprint not in taken)
    return itertools.islice(free, count)


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

    def __init__(
        self, issued: Issued, bank: Mapping[str, Family], names: Mapping[str, str], checks: Checks | None = None
    ) -> None:
        """`names` holds what is printed for each student id, `checks` the links of each sheet's self-check."""
        self._issued, self._bank, self._names, self._checks = issued, bank, names, checks or {}
        self._held: dict[str, Sheet] = {}

    def only(self, entries: Sequence[IssuedSheet]) -> "Posed":
        """Enough to pose some of the sheets: what is posed in this process is kept together, elsewhere made anew."""
        less = Posed(
            without_sheets(self._issued), families_asked(self._issued, self._bank),
            {entry.student: self._names[entry.student] for entry in entries if entry.student in self._names},
            {entry.code: self._checks[entry.code] for entry in entries if entry.code in self._checks},
        )
        less._held = self._held
        return less

    def __reduce__(self) -> tuple[type["Posed"], tuple[Any, ...]]:
        """Posed sheets do not travel; what they are posed from does."""
        return type(self), (self._issued, self._bank, self._names, self._checks)

    def __call__(self, entry: IssuedSheet) -> Sheet:
        """The sheet of an entry of the issue book."""
        if entry.code not in self._held:
            sheet = Sheet(
                exercises_of(self._issued, entry, self._bank), self._names.get(entry.student, entry.student),
                self._checks.get(entry.code, ()),
            )
            if len(self._held) >= _KEPT:
                return sheet
            self._held[entry.code] = sheet
        return self._held[entry.code]
