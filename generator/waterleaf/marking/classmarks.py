"""Marks a whole class: every sheet, what waits for a decision, and the tables that come of it."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain
from typing import Final

from waterleaf.bank.family import Family
from waterleaf.exercise import Exercise
from waterleaf.marking.classfile import Student
from waterleaf.marking.decisions import FORM as DECISIONS_FORM
from waterleaf.marking.decisions import Decision, Decisions
from waterleaf.marking.issuebook import Issued, IssuedSheet, exercises_of, family_of
from waterleaf.marking.labels import label
from waterleaf.marking.partmarks import Reader
from waterleaf.marking.portion import families_asked, without_sheets
from waterleaf.marking.responses import ALL, Collected, Doubt, HandedIn
from waterleaf.marking.sheetmarks import Outcome, mark_sheet
from waterleaf.marking.tableout import Cell
from waterleaf.marking.taskmarks import TaskMarks, task_cells, task_headings
from waterleaf.sharing import HERE, Hands

Progress = Callable[[float], None]
# Sheets that are marked in one go, here or by another process.
_SHEETS_AT_ONCE: Final = 25


@dataclass(frozen=True, slots=True)
class StudentMarks:
    """One student's sheet with all outcomes; `handed_in` is false where nothing came back."""

    student: Student
    sheet: IssuedSheet
    outcomes: tuple[Outcome, ...]
    handed_in: bool
    givens: tuple[Mapping[str, float], ...] = ()  # for each question, the numbers that were drawn

    @property
    def undecided(self) -> int:
        """How many parts wait for a decision."""
        return sum(outcome.marks is None for outcome in self.outcomes) if self.handed_in else 0

    @property
    def total(self) -> float:
        """Marks so far, without what is not decided."""
        return sum(outcome.marks or 0 for outcome in self.outcomes)

    @property
    def state(self) -> str:
        """What the total stands for."""
        return "not handed in" if not self.handed_in else "to be decided" if self.undecided else "complete"


@dataclass(frozen=True, slots=True)
class ClassMarks:
    """All students of an assignment, marked, and the short list."""

    issued: Issued
    labels: Mapping[str, int]
    students: tuple[StudentMarks, ...]
    doubts: tuple[Doubt, ...]
    remarks: tuple[str, ...]
    tasks: tuple[TaskMarks, ...] = ()

    def with_tasks(self, tasks: Sequence[TaskMarks]) -> "ClassMarks":
        """The class with marks for practical tasks beside the paper, and what is to be mended in them."""
        return replace(
            self, tasks=tuple(tasks), doubts=(*self.doubts, *(doubt for task in tasks for doubt in task.doubts)),
            remarks=(*self.remarks, *(remark for task in tasks for remark in task.remarks)),
        )


def full_marks(issued: Issued, bank: Mapping[str, Family]) -> dict[str, int]:
    """The labels of an assignment with the marks of each part."""
    found: dict[str, int] = {}
    for place, question in enumerate(issued.questions):
        family = family_of(question, bank)
        for index, (name, part) in enumerate(family.parts.items()):
            own = question.marks.get(name)
            found[label(place, index, len(family.parts))] = sum(own) if own else part.file.marks.total
    return found


@dataclass(frozen=True, slots=True)
class _Piece:
    """Some sheets and all that marking them takes."""

    issued: Issued  # without its sheets
    sheets: tuple[IssuedSheet, ...]
    people: Mapping[str, Student]
    held: Mapping[str, HandedIn]
    decisions: Decisions
    bank: Mapping[str, Family]
    labels: Mapping[str, int]


def mark_all(
    issued: Issued, roll: Sequence[Student], collected: Collected, decisions: Decisions, bank: Mapping[str, Family],
    progress: Progress = lambda _n: None, hands: Hands = HERE,
) -> ClassMarks:
    """Every issued sheet marked, in the order of the issue book."""
    marked: list[StudentMarks] = []
    doubts: list[Doubt] = list(collected.strays)
    labels = full_marks(issued, bank)
    for run in hands.in_order(_marked, _pieces(issued, roll, collected, decisions, bank, labels)):
        for entry, own in run:
            marked.append(entry)
            doubts += own
        progress(len(run))
    return ClassMarks(issued, labels, tuple(marked), tuple(doubts), tuple(collected.remarks))


def _pieces(
    issued: Issued, roll: Sequence[Student], collected: Collected, decisions: Decisions, bank: Mapping[str, Family],
    labels: Mapping[str, int],
) -> Iterator[_Piece]:
    people = {student.id: student for student in roll}
    decided: dict[str, dict[tuple[str, str], Decision]] = {}
    for (code, part), decision in decisions.items():
        decided.setdefault(code, {})[code, part] = decision
    bare, families = without_sheets(issued), families_asked(issued, bank)
    for start in range(0, len(issued.sheets), _SHEETS_AT_ONCE):
        sheets = issued.sheets[start : start + _SHEETS_AT_ONCE]
        yield _Piece(
            bare, sheets,
            {sheet.student: people.get(sheet.student, Student(sheet.student, sheet.student)) for sheet in sheets},
            {sheet.code: collected.sheets[sheet.code] for sheet in sheets if sheet.code in collected.sheets},
            {place: found for sheet in sheets for place, found in decided.get(sheet.code, {}).items()},
            families, labels,
        )


def _marked(piece: _Piece) -> list[tuple[StudentMarks, list[Doubt]]]:
    """The sheets of a piece, each with its lines of the short list."""
    issued, reader = piece.issued, Reader(piece.issued.decimal, piece.issued.ask_unit)
    found = []
    for sheet in piece.sheets:
        held = piece.held.get(sheet.code)
        exercises = exercises_of(issued, sheet, piece.bank) if held else ()
        outcomes = _outcomes(issued, sheet, exercises, held, reader, piece.decisions, piece.bank, piece.labels)
        handed_in = held is not None or any(outcome.note for outcome in outcomes)
        student, givens = piece.people[sheet.student], tuple(map(_givens, exercises))
        entry = StudentMarks(student, sheet, outcomes, handed_in, givens)
        found.append((entry, _doubts(sheet.code, held, outcomes, piece.decisions)))
    return found


def _outcomes(
    issued: Issued, sheet: IssuedSheet, exercises: Sequence[Exercise], held: HandedIn | None, reader: Reader,
    decisions: Decisions, bank: Mapping[str, Family], labels: Mapping[str, int],
) -> tuple[Outcome, ...]:
    if held is None:
        absent = tuple(
            Outcome(label(place, index, len(bank[question.family].parts)), question.family, name, "", "absent", "", "",
                    None, labels[label(place, index, len(bank[question.family].parts))])
            for place, question in enumerate(issued.questions_of(sheet))
            for index, name in enumerate(bank[question.family].parts)
        )
        return tuple(_decided(outcome, decisions.get((sheet.code, outcome.label))) for outcome in absent)
    unsettled = held.whole and (sheet.code, ALL) not in decisions
    doubts = dict.fromkeys(labels, held.whole[0].reason) if unsettled else held.doubts
    outcomes = mark_sheet(exercises, held.answers, reader, doubts)
    return tuple(_decided(outcome, decisions.get((sheet.code, outcome.label))) for outcome in outcomes)


def _givens(exercise: Exercise) -> dict[str, float]:
    return {name: value for name, value in exercise.draw.values.items() if isinstance(value, float)}


def _decided(outcome: Outcome, decision: Decision | None) -> Outcome:
    if decision is None or isinstance(decision.marks, str):
        return outcome
    return replace(outcome, marks=decision.marks, note=decision.note or "-", doubt="")


def _doubts(code: str, held: HandedIn | None, outcomes: Sequence[Outcome], decisions: Decisions) -> list[Doubt]:
    """The lines of the short list for one sheet: whole rows first, then single answers."""
    if held is None:
        return []
    if held.whole and (code, ALL) not in decisions:
        return list(held.whole) if any(outcome.marks is None for outcome in outcomes) else []
    nowhere = (held.rows[0].file, held.rows[0].line) if held.rows else ("", 0)
    return [
        Doubt(code, outcome.label, outcome.answer, outcome.doubt, *held.places.get(outcome.label, nowhere))
        for outcome in outcomes if outcome.marks is None
    ]


def marks_table(marked: ClassMarks) -> tuple[list[str], Iterable[list[Cell]]]:
    """Headings and rows of the marks table. What is not decided or not handed in stays empty, and is not nought."""
    paper = ["paper"] if marked.issued.papers else []
    headings = [
        "id", "name", "section", "sheet", *paper, *marked.labels, "total", "out of", "undecided", "state",
        *task_headings(marked.tasks),
    ]
    full = sum(marked.labels.values())

    def rows() -> Iterable[list[Cell]]:
        for entry in marked.students:
            marks: list[Cell] = [_plain(outcome.marks) for outcome in entry.outcomes]
            total = _plain(entry.total) if entry.handed_in else None
            student = entry.student
            yield [
                student.id, student.name, student.section, entry.sheet.code, *([entry.sheet.paper] if paper else []),
                *marks, total, full, entry.undecided, entry.state,
                *task_cells(
                    marked.tasks, student.id, entry.total if entry.handed_in else None, full, entry.state == "complete"
                ),
            ]

    return headings, rows()


def verdicts_table(marked: ClassMarks) -> tuple[list[str], Iterable[list[Cell]]]:
    """Headings and rows of the table that says why each part got its marks."""
    headings = ["sheet", "id", "part", "answer", "read as", "verdict", "slip", "marks", "out of"]
    rows = chain.from_iterable(
        (
            [entry.sheet.code, entry.student.id, o.label, o.answer, o.echo.removeprefix("read as "), o.words, o.turn,
             _plain(o.marks), o.of]
            for o in entry.outcomes
        )
        for entry in marked.students if entry.handed_in
    )
    return headings, rows


def short_list(marked: ClassMarks) -> tuple[list[str], Iterable[list[Cell]]]:
    """Headings and rows of what waits for a decision, with room for the marks."""
    headings = ["sheet", "part", "marks", "note", "answer", "reason", "file", "line", "form"]
    return headings, (
        [d.sheet, d.part, None, None, d.answer, d.reason, d.file, d.line, DECISIONS_FORM] for d in marked.doubts
    )


def _plain(marks: float | None) -> Cell:
    return None if marks is None else int(marks) if float(marks).is_integer() else marks
