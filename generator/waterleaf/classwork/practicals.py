"""Practical tasks for a class: numbers of the day, pages for students and instructor, and the tables for the marks."""

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from waterleaf.bank.family import Family, System
from waterleaf.bank.story import fill
from waterleaf.draw import distinct_draws, draw
from waterleaf.exercise import Exercise, pose
from waterleaf.faults import refuse
from waterleaf.growing.posing import with_own_numbers
from waterleaf.growing.system import System as GrowingSystem
from waterleaf.marking.classfile import Student
from waterleaf.marking.practical import DayNumbers, Practical
from waterleaf.marking.tableout import unguarded, write_csv, write_xlsx
from waterleaf.marking.tabular import read_table
from waterleaf.marking.taskmarks import TASK_FILE
from waterleaf.sheets.paper import Style, short_code
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


def lay_out(
    name: str, task: Practical, students: Sequence[Student], blanks: int, bank: Mapping[str, Family], secret: str,
    units: System, growing: GrowingSystem | None,
) -> Laid:
    """A page for every student, or blank ones, with the numbers of the day.

    Numbers of a growing file are the same for all, since they work at one system. Drawn ones differ.

    Raises NoDraw where the family of the numbers has too few draws.
    """
    people = students or [Student("", "") for _ in range(blanks)]
    seed = hashlib.blake2b(f"{secret} task {name}".encode(), digest_size=10).hexdigest()
    exercises, origin = _numbers(task.day, bank, seed, len(people), units, growing)
    pages = tuple(
        Page(
            short_code(f"{seed} {person.id or place}"), person.id, person.name,
            day_line(task.day, exercise) if task.day and exercise else None,
        )
        for place, (person, exercise) in enumerate(zip(people, exercises, strict=True))
    )
    return Laid(name, task, pages, origin)


def _numbers(
    day: DayNumbers | None, bank: Mapping[str, Family], seed: str, count: int, units: System,
    growing: GrowingSystem | None,
) -> tuple[list[Exercise | None], str]:
    if day is None:
        return [None] * count, ""
    family = bank[day.family]
    if growing is not None:
        posed = with_own_numbers(family, growing, [(seed, 1)])
        if posed.used:
            exercise = pose(draw(posed.family, seed), units)
            return [exercise] * count, posed.line
    draws = distinct_draws(family, seed, count)
    return [pose(found, units) for found in draws], "Drawn numbers, for practice"


def day_line(day: DayNumbers, exercise: Exercise) -> DayLine:
    """The sentence with its numbers, what is asked, and the answers for the instructor."""
    parts = {part.name: part for part in exercise.parts}
    return DayLine(
        fill(day.say, dict(exercise.shown)), tuple((ask, parts[name].unit) for name, ask in day.asks.items()),
        tuple(parts[name].answer for name in day.asks), day.mind,
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
    """The task as it was printed, and a blank table for its marks; a table that is there is never touched.

    Raises Faults where the task has changed since its table was laid down.
    """
    kept = place / TASK_FILE
    if kept.exists() and kept.read_bytes() != text:
        raise refuse(
            f"{laid.name}.yaml", f"has changed since {kept} was laid down, and marks may have been given by it. Put it "
            "back as it was, or give the new one another file name."
        )
    written_whole(kept, text)
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
