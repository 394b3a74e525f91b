"""Marks that an assessor gave for practical tasks and reports: read from tables, checked, and added to the class's."""

import datetime
import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from waterleaf.marking.practical import Practical, read_practical
from waterleaf.marking.responses import Doubt
from waterleaf.marking.tableout import Cell, unguarded
from waterleaf.marking.tabular import OVERFULL, Row, read_table

FOLDER: Final = "tasks"
TASK_FILE: Final = "task.yaml"
_YES, _NO = ("yes", "y", "true", "1"), ("", "no", "n", "false", "0")


@dataclass(frozen=True, slots=True)
class TaskResult:
    """What one student got; a criterion is None while its mark is missing or in doubt."""

    student: str
    marks: tuple[float | None, ...]
    date: str
    assessor: str
    stopped: bool
    remark: str
    file: str
    line: int


@dataclass(frozen=True, slots=True)
class TaskMarks:
    """All results of a task, and what only a person can mend."""

    name: str
    task: Practical
    results: Mapping[str, TaskResult]
    doubts: tuple[Doubt, ...] = ()
    remarks: tuple[str, ...] = ()

    def total(self, student: str) -> float | None:
        """Marks of the task; None while any is missing, and where it was stopped for safety and is to be repeated."""
        result = self.results.get(student)
        if result is None or result.stopped or any(mark is None for mark in result.marks):
            return None
        return sum(mark for mark in result.marks if mark is not None)


def read_tasks(place: Path, students: Sequence[str]) -> tuple[TaskMarks, ...]:
    """The marks of every task that was laid down beside an assignment, by name.

    Raises Faults where a table has not the columns of its task.
    """
    folder = place / FOLDER
    if not folder.is_dir():
        return ()
    return tuple(
        _read_task(path, students) for path in sorted(folder.iterdir()) if (path / TASK_FILE).is_file()
    )


def _read_task(folder: Path, students: Sequence[str]) -> TaskMarks:
    task = read_practical(folder / TASK_FILE)
    columns = ["id", *(criterion.name for criterion in task.criteria), "date", "assessor", "stopped"]
    doubts: list[Doubt] = []
    remarks: list[str] = []
    results: dict[str, TaskResult] = {}
    spoilt: set[str] = set()
    paths = sorted(path for path in folder.glob("results*") if path.suffix.lower() in (".csv", ".xlsx"))
    for path in paths:
        for row in read_table(path, columns).rows:
            result = _result(row, task, folder.name, students, doubts)
            if result is None:
                continue
            _take(result, results, spoilt, folder.name, doubts, remarks)
    for student in spoilt:
        results.pop(student, None)
    return TaskMarks(folder.name, task, results, tuple(doubts), tuple(remarks))


def _take(
    result: TaskResult, results: dict[str, TaskResult], spoilt: set[str], name: str, doubts: list[Doubt],
    remarks: list[str],
) -> None:
    """Add a result. The same row twice counts once; a task repeated after a safety stop counts as repeated."""
    before = results.get(result.student)
    if before is None:
        results[result.student] = result
        return
    if before.marks == result.marks and (before.date, before.stopped) == (result.date, result.stopped):
        return
    first, later = sorted((before, result), key=lambda one: one.date)
    if first.stopped and first.date < later.date:
        results[result.student] = later
        remarks.append(
            f"{name}: {result.student} was stopped for safety on {first.date}; the task of {later.date} counts"
        )
        return
    spoilt.add(result.student)
    reason = f"{result.student!r} stands at {before.file}:{before.line} too, with other marks. Keep one row."
    doubts.append(Doubt(result.student, name, "", reason, result.file, result.line))


def _result(
    row: Row, task: Practical, name: str, students: Sequence[str], doubts: list[Doubt]
) -> TaskResult | None:
    """The result in a row; None for a blank row and for somebody who is not known."""
    cells = {key: unguarded(text) for key, text in row.cells.items()}
    texts = [cells.get(criterion.name.casefold(), "") for criterion in task.criteria]
    student = cells.get("id", "")
    stopped = cells.get("stopped", "").casefold()
    if not any(texts) and stopped in _NO:
        return None

    def doubt(answer: str, reason: str) -> None:
        doubts.append(Doubt(student, name, answer, f"{reason} Mend it in the table.", _file(name, row), row.line))

    if student not in students:
        doubt("", f"no student of this assignment has the id {student!r}." if student else "the id is missing.")
        return None
    if OVERFULL in row.cells or row.merged:
        doubt("", "merged cells, or more cells than headings: the marks may have moved along.")
        return None
    marks = []
    for criterion, text in zip(task.criteria, texts, strict=True):
        mark = _mark(text)
        if not text and stopped not in _YES:
            doubt("", f"the mark for {criterion.name!r} is missing.")
        elif text and not 0 <= mark <= criterion.most:
            doubt(text, f"{text!r} is not a mark from 0 to {criterion.most} for {criterion.name!r}.")
        marks.append(mark if 0 <= mark <= criterion.most else None)
    if stopped not in (*_YES, *_NO):
        doubt(stopped, f"{stopped!r} under stopped is neither yes nor no.")
        marks = [None] * len(marks)
    date, assessor = cells.get("date", "").removeprefix("date "), cells.get("assessor", "")
    if not _is_date(date):
        doubt(date, f"{date!r} is not a date such as 2026-03-20." if date else "the date is missing.")
    if not assessor:
        doubt("", "the initials of the assessor are missing.")
    return TaskResult(
        student, tuple(marks), date, assessor, stopped in _YES, cells.get("remark", ""), _file(name, row),
        row.line,
    )


def _file(name: str, row: Row) -> str:
    """Where a row stands: every task has a table of the same name."""
    return f"{FOLDER}/{name}/{row.file}"


def _mark(text: str) -> float:
    try:
        return float(text.replace(",", ".")) if text else math.nan
    except ValueError:
        return math.nan


def _is_date(text: str) -> bool:
    try:
        datetime.date.fromisoformat(text)
    except ValueError:
        return False
    return True


def task_headings(tasks: Sequence[TaskMarks]) -> list[str]:
    """Columns of the marks table: the criteria of each task, its total, and at the end everything together."""
    if not tasks:
        return []
    found = []
    for entry in tasks:
        found += [f"{entry.name}: {criterion.name}" for criterion in entry.task.criteria]
        found += [entry.name, f"{entry.name} out of", f"{entry.name} stopped"]
    return [*found, "all marks", "all out of", "still open"]


def task_cells(
    tasks: Sequence[TaskMarks], student: str, paper: float | None, full: int, settled: bool
) -> Iterable[Cell]:
    """The cells under `task_headings` for one student. What is open stays empty, and is not nought."""
    if not tasks:
        return
    totals: list[float | None] = [paper]
    still_open = [] if settled else ["paper"]
    for entry in tasks:
        result, total = entry.results.get(student), entry.total(student)
        yield from (map(plain_mark, result.marks) if result else [None] * len(entry.task.criteria))
        yield plain_mark(total)
        yield entry.task.full
        yield "yes" if result and result.stopped else "no" if result else None
        totals.append(total)
        if total is None:
            still_open.append(entry.name)
    known = [total for total in totals if total is not None]
    yield plain_mark(sum(known)) if known else None
    yield full + sum(entry.task.full for entry in tasks)
    yield ", ".join(still_open)


def plain_mark(marks: float | None) -> Cell:
    """Marks without a needless decimal."""
    return None if marks is None else int(marks) if float(marks).is_integer() else marks
