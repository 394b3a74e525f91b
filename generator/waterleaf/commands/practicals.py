"""`waterleaf practicals`: pages for practical tasks and reports, and tables for the marks that are given on them."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from waterleaf.bank.builder import load_bank
from waterleaf.bank.family import Family
from waterleaf.classwork.packets import Progress, printable_names
from waterleaf.classwork.practicals import Laid, lay_down_tables, lay_out, print_task, refuse_other_table
from waterleaf.classwork.taskissue import BLANK, Task, give_out, refuse_changed
from waterleaf.commands import options
from waterleaf.draw import NoDraw
from waterleaf.faults import refuse
from waterleaf.growing.system import read_growing
from waterleaf.home import Settings, find_home, load_settings, output_folder, swapped_in
from waterleaf.marking.classfile import read_class
from waterleaf.marking.issuebook import NAME as BOOK
from waterleaf.marking.issuebook import (
    TASK_NAME,
    IssueBook,
    IssuedTask,
    class_secret,
    class_to_itself,
    lost_secret,
    read_book,
    write_book,
)
from waterleaf.marking.practical import read_practical
from waterleaf.marking.taskmarks import FOLDER, TASK_FILE
from waterleaf.sheets.paper import Style, counted
from waterleaf.sheets.press import PressFault

TASKS = "course/practicals"


@dataclass(frozen=True, slots=True)
class Wish:
    """What was asked for on the command line; `again` prints what stands in the issue book, and gives out nothing."""

    tasks: str
    beside: str | None
    blank: int
    units: str | None
    paper: str | None
    out: Path | None
    growing: Path | None
    again: bool = False


@dataclass(frozen=True, slots=True)
class _Room:
    """A class folder, what stands beside its practical tasks, and what pages are printed with."""

    folder: Path
    beside: str
    style: Style
    bank: Mapping[str, Family]

    @property
    def place(self) -> Path:
        """The folder that holds a folder for each task."""
        return self.folder / self.beside / FOLDER


def list_tasks() -> str:
    """The tasks of the course, with their marks."""
    home = find_home()
    lines = []
    for path in sorted((home / TASKS).glob("*.yaml")):
        task = read_practical(path)
        lines.append(f"{path.stem:<18} {task.full:>3} marks  {task.title}")
    return "\n".join(lines)


def make_practicals(folder: Path | None, wish: Wish, progress: Progress) -> str:
    """Print the pages of some tasks for a class, or blank ones, and say what was made."""
    home = find_home()
    settings = load_settings(home)
    bank = load_bank(home / "question_bank")
    style = Style(
        settings.school, "Practical", options.paper(wish.paper, settings.paper),
        options.units(wish.units, settings.units),
    )
    try:
        if folder is None:
            if wish.again:
                raise refuse("--again", "name the folder of the class, whose issue book holds what was given out.")
            return _blank(_tasks(wish.tasks, _files(home), bank), wish, home, style, bank, settings, progress)
        with class_to_itself(folder):
            book = read_book(folder)
            room = _Room(folder, _beside(folder, book, wish.beside), style, bank)
            files = _files(home) | _files(folder, "practicals")
            if wish.again:
                return _again(room, files, book, wish, progress)
            return _for_class(room, _tasks(wish.tasks, files, bank), book, wish, progress)
    except (NoDraw, PressFault) as error:
        raise refuse("practicals", str(error)) from None


def _files(folder: Path, inside: str = TASKS) -> dict[str, Path]:
    """The files of tasks in a folder, by name."""
    return {path.stem: path for path in sorted((folder / inside).glob("*.yaml"))}


def _tasks(words: str, known: Mapping[str, Path], bank: Mapping[str, Family]) -> list[Task]:
    """The named tasks, or all."""
    names = [name.strip() for name in words.split(",") if name.strip()] or list(known)
    for name in names:
        if name not in known:
            raise refuse("--tasks", f"{name!r} is not a task. Tasks are {', '.join(known)}.")
        if not re.match(TASK_NAME, name):
            raise refuse(
                f"practicals/{name}.yaml", "give the file a name of up to 60 letters, digits, spaces, dots and hyphens."
            )
    return [
        Task(name, known[name].read_bytes(), read_practical(known[name], bank)) for name in dict.fromkeys(names)
    ]


def _blank(
    tasks: Sequence[Task], wish: Wish, home: Path, style: Style, bank: Mapping[str, Family], settings: Settings,
    progress: Progress,
) -> str:
    place = wish.out or output_folder(home) / "practicals"
    system = None if wish.growing is None else read_growing(wish.growing)
    nobody = {str(number): "" for number in range(wish.blank)}
    with swapped_in(place) as fresh:
        for task in tasks:
            (fresh / task.name).mkdir()
            secret = f"blank {settings.seed}"
            given = give_out(task, BLANK, list(nobody), None, bank, secret, style.system, system)
            print_task(lay_out(task, given, nobody, bank), style, fresh / task.name)
            progress(100 / len(tasks))
    return "\n".join((
        f"{counted(wish.blank, 'blank page')} each: {', '.join(task.name for task in tasks)}",
        f"  pages            {place} (pages.pdf for students, instructor.pdf for you)",
    ))


def _for_class(room: _Room, tasks: Sequence[Task], book: IssueBook, wish: Wish, progress: Progress) -> str:
    """A page of every task for every student of the class list, who keeps the one that stands in the book."""
    system = None if wish.growing is None else read_growing(wish.growing)
    roll = read_class(room.folder)
    shown, unprintable = printable_names({student.id: student.name for student in roll.students})
    lines = [f"pages for {len(shown)} students, their marks beside {room.beside}"]
    lines += [f"  {lost}" for lost in filter(None, [lost_secret(room.folder, book)])]
    for task in tasks:
        own = room.place / task.name
        refuse_other_table(task, own)
        old = book.tasks.get((room.beside, task.name))
        _refuse_other_units(old, wish.units)
        secret = class_secret(room.folder)
        given = give_out(task, room.beside, list(shown), old, room.bank, secret, room.style.system, system)
        laid = lay_out(task, given, shown, room.bank)
        own.mkdir(parents=True, exist_ok=True)
        with swapped_in(own / "print") as fresh:
            # What cannot be printed is not given out; what is given out stands in the book before it is in place.
            print_task(laid, replace(room.style, system=given.system), fresh)
            book = book.with_task(given)
            write_book(room.folder, book)
            made = lay_down_tables(laid, roll.students, own, task.text)
        lines += _told(room, laid, made)
        if old and old.question and system:
            lines.append("    the numbers of the growing file are left aside: pages given out stay as they are")
        progress(100 / len(tasks))
    lines += [f"  the name of {i} has a letter that no font here holds; the id is printed instead" for i in unprintable]
    return "\n".join(lines)


def _told(room: _Room, laid: Laid, made: Sequence[str]) -> list[str]:
    printed = room.place / laid.name / "print"
    return [
        f"  {laid.name:<16} {printed} ({laid.task.full} marks{f'; {laid.origin}' if laid.origin else ''})",
        f"    for the marks  {' or '.join(made) if made else 'the tables are there already'}",
    ]


def _refuse_other_units(old: IssuedTask | None, units: str | None) -> None:
    if old and units and units != old.system:
        raise refuse(
            "--units", f"pages of {old.name!r} were given out in {old.system} units. They stay as they are: leave the "
            "option out."
        )


def _again(
    room: _Room, files: Mapping[str, Path], book: IssueBook, wish: Wish, progress: Progress
) -> str:
    """Every page of the book once more, with ids in place of names: those of students who have left, too."""
    held = {name: given for (beside, name), given in book.tasks.items() if beside == room.beside}
    if not held:
        raise refuse("--again", f"no pages of practical tasks beside {room.beside!r} stand in {BOOK}.")
    # The file that lies beside the marks is the one that was printed; the course may have another by now.
    laid_down = {name: room.place / name / TASK_FILE for name in held}
    known = {name: path if path.exists() else files.get(name, path) for name, path in laid_down.items()}
    lines = [f"printed again from {BOOK}, with ids in place of names; marks beside {room.beside}"]
    tasks = _tasks(wish.tasks, known, room.bank)
    for task in tasks:
        given = held[task.name]
        refuse_changed(task, given)
        laid = lay_out(task, given, {page.student: page.student for page in given.pages}, room.bank)
        (room.place / task.name).mkdir(parents=True, exist_ok=True)
        with swapped_in(room.place / task.name / "print") as fresh:
            print_task(laid, replace(room.style, system=given.system), fresh)
        lines.append(f"  {task.name:<16} {room.place / task.name / 'print'} ({len(laid.pages)} pages)")
        progress(100 / len(tasks))
    return "\n".join(lines)


def _beside(folder: Path, book: IssueBook, name: str | None) -> str:
    """The assignment or the papers in whose marks table these marks will stand."""
    known = list(book.assignments)
    if not known:
        raise refuse(
            folder.as_posix(), "nothing was given out to this class, so there is no marks table for these marks to "
            "stand in. Run `waterleaf assign` or `waterleaf papers` first, or leave the folder out for blank pages."
        )
    if name is None and len(known) == 1:
        return known[0]
    if name is None or name not in known:
        raise refuse("--beside", f"name one that was given out: {', '.join(known)}.")
    return name
