"""Practical tasks on paper: numbers of the day, pages for students and instructor, and the tables for the marks."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from waterleaf.bank.family import Family
from waterleaf.bank.story import fill
from waterleaf.classwork.taskissue import BLANK, Task
from waterleaf.exercise import Exercise, pose
from waterleaf.faults import refuse
from waterleaf.marking.classfile import Student
from waterleaf.marking.issuebook import IssuedTask, drawn
from waterleaf.marking.practical import DayNumbers, Practical
from waterleaf.marking.tableout import unguarded, write_csv, write_xlsx
from waterleaf.marking.tabular import read_table
from waterleaf.marking.taskmarks import TASK_FILE
from waterleaf.sheets.paper import Style
from waterleaf.sheets.practical import DayLine, Page, instructor_pages, task_pages
from waterleaf.sheets.press import Press, PressFault
from waterleaf.writing import written_whole


@dataclass(frozen=True, slots=True)
class Laid:
    """A task for a class: its name, its data, the pages, and where the numbers come from."""

    name: str
    task: Practical
    pages: tuple[Page, ...]
    origin: str


def lay_out(task: Task, given: IssuedTask, names: Mapping[str, str], bank: Mapping[str, Family]) -> Laid:
    """The pages of some students by their ids, each with the name that is printed on it, as they were given out.

    Raises Faults where the family of the numbers is gone or has another version.
    """
    day, question, held = task.practical.day, given.question, {page.student: page for page in given.pages}
    pages = tuple(
        Page(
            held[student].code, "" if given.beside == BLANK else student, name,
            day_line(day, pose(drawn(question, held[student].draw, bank), given.system)) if day and question else None,
        )
        for student, name in names.items()
    )
    return Laid(task.name, task.practical, pages, given.origin)


def day_line(day: DayNumbers, exercise: Exercise) -> DayLine:
    """The sentence with its numbers, what is asked, and the answers for the instructor."""
    parts = {part.name: part for part in exercise.parts}
    return DayLine(
        fill(day.say, dict(exercise.shown)), tuple((ask, parts[name].unit) for name, ask in day.asks.items()),
        tuple(parts[name].answer for name in day.asks), day.mind,
    )


def refuse_other_table(task: Task, place: Path) -> None:
    """Stop where a table was laid down for another text of the task."""
    kept = place / TASK_FILE
    if kept.exists() and kept.read_bytes() != task.text:
        raise refuse(
            f"{task.name}.yaml", f"has changed since {kept} was laid down, and marks may have been given by it. Put it "
            "back as it was, or give the new one another file name."
        )


def print_task(laid: Laid, style: Style, place: Path) -> None:
    """The pages of a task and the instructor's copy.

    Raises Faults where the task is too long for one page.
    """
    try:
        (place / "pages.pdf").write_bytes(Press("practical").pdf(task_pages(laid.task, laid.pages, style)))
        (place / "instructor.pdf").write_bytes(
            Press("instructor").pdf(instructor_pages(laid.task, laid.pages, laid.origin, style))
        )
    except PressFault as error:
        if "too long for one page" in str(error):
            raise refuse(f"{laid.name}.yaml", "the task is too long for one page. Take out a step, or shorten texts.") \
                from None
        raise


def lay_down_tables(laid: Laid, students: Sequence[Student], place: Path, text: bytes) -> list[str]:
    """The task as it was printed, and a blank table for its marks; a table that is there is never touched."""
    written_whole(place / TASK_FILE, text)
    listed = {student.id for student in _listed(place, laid)}
    new = [student for student in students if student.id not in listed]
    if not new:
        return []
    number = 1
    while any((place / f"results{'' if number == 1 else f'-{number}'}{end}").exists() for end in (".csv", ".xlsx")):
        number += 1
    stem = "results" if number == 1 else f"results-{number}"
    criteria = [criterion.name for criterion in laid.task.criteria]
    headings = ["id", "name", *criteria, "date", "assessor", "stopped", "remark"]
    rows = [[student.id, student.name, *[""] * (len(headings) - 2)] for student in new]
    write_csv(place / f"{stem}.csv", headings, rows)
    write_xlsx(place / f"{stem}.xlsx", "Results", headings, rows)
    return [f"{stem}.csv", f"{stem}.xlsx"]


def _listed(place: Path, laid: Laid) -> list[Student]:
    """The students who stand in a table already, filled in or not."""
    return [
        Student(unguarded(row.cells.get("id", "")), "")
        for path in sorted(place.glob("results*.*")) if path.suffix.lower() in (".csv", ".xlsx")
        for row in read_table(path, ["id", laid.task.criteria[0].name]).rows
    ]
