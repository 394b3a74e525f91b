"""`waterleaf practicals`: pages for practical tasks and reports, and tables for the marks that are given on them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from waterleaf.bank.builder import load_bank
from waterleaf.bank.family import Family
from waterleaf.classwork.packets import Progress, printable_names
from waterleaf.classwork.practicals import lay_down_tables, lay_out, print_task
from waterleaf.commands import options
from waterleaf.draw import NoDraw
from waterleaf.faults import refuse
from waterleaf.growing.system import System, read_growing
from waterleaf.home import Settings, find_home, load_settings, swapped_in
from waterleaf.marking.classfile import Student, read_class
from waterleaf.marking.issuebook import class_secret, class_to_itself, lost_secret, read_book
from waterleaf.marking.practical import Practical, read_practical
from waterleaf.marking.taskmarks import FOLDER
from waterleaf.sheets.paper import Style
from waterleaf.sheets.press import PressFault

TASKS = "course/practicals"


@dataclass(frozen=True, slots=True)
class Wish:
    """What was asked for on the command line."""

    tasks: str
    beside: str | None
    blank: int
    units: str | None
    paper: str | None
    out: Path | None
    growing: Path | None


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
    found = _tasks(wish.tasks, home, folder, bank)
    system = None if wish.growing is None else read_growing(wish.growing)
    style = Style(
        settings.school, "Practical", options.paper(wish.paper, settings.paper),
        options.units(wish.units, settings.units),
    )
    try:
        if folder is None:
            place = wish.out or home / "build" / "practicals"
            return _blank(found, wish, place, style, bank, system, settings, progress)
        with class_to_itself(folder):
            return _for_class(folder, found, wish, style, bank, system, progress)
    except (NoDraw, PressFault) as error:
        raise refuse("practicals", str(error)) from None


def _tasks(
    words: str, home: Path, folder: Path | None, bank: Mapping[str, Family]
) -> list[tuple[str, Path, Practical]]:
    """The files of the named tasks: the class's own go before the course's."""
    known = {path.stem: path for path in sorted((home / TASKS).glob("*.yaml"))}
    if folder is not None:
        known |= {path.stem: path for path in sorted((folder / "practicals").glob("*.yaml"))}
    names = [name.strip() for name in words.split(",") if name.strip()] or list(known)
    for name in names:
        if name not in known:
            raise refuse("--tasks", f"{name!r} is not a task. Tasks are {', '.join(known)}.")
    return [(name, known[name], read_practical(known[name], bank)) for name in dict.fromkeys(names)]


def _blank(
    found: Sequence[tuple[str, Path, Practical]], wish: Wish, place: Path, style: Style, bank: Mapping[str, Family],
    system: System | None, settings: Settings, progress: Progress,
) -> str:
    with swapped_in(place) as fresh:
        for name, _, task in found:
            (fresh / name).mkdir()
            laid = lay_out(name, task, (), wish.blank, bank, f"blank {settings.seed}", style.system, system)
            print_task(laid, style, fresh / name)
            progress(100 / len(found))
    return "\n".join((
        f"{wish.blank} blank pages each: {', '.join(name for name, _, _ in found)}",
        f"  pages            {place} (pages.pdf for students, instructor.pdf for you)",
    ))


def _for_class(
    folder: Path, found: Sequence[tuple[str, Path, Practical]], wish: Wish, style: Style, bank: Mapping[str, Family],
    system: System | None, progress: Progress,
) -> str:
    roll = read_class(folder)
    place = folder / _beside(folder, wish.beside) / FOLDER
    shown, unprintable = printable_names({student.id: student.name for student in roll.students})
    people = [Student(student.id, shown[student.id]) for student in roll.students]
    lines = [f"pages for {len(people)} students, their marks beside {place.parent.name}"]
    lines += [f"  {lost}" for lost in filter(None, [lost_secret(folder, read_book(folder))])]
    for name, path, task in found:
        own = place / name
        own.mkdir(parents=True, exist_ok=True)
        laid = lay_out(name, task, people, 0, bank, class_secret(folder), style.system, system)
        made = lay_down_tables(laid, roll.students, own, path.read_bytes())
        with swapped_in(own / "print") as fresh:
            print_task(laid, style, fresh)
        lines.append(f"  {name:<16} {own / 'print'} ({task.full} marks{f'; {laid.origin}' if laid.origin else ''})")
        lines.append(f"    for the marks  {' or '.join(made) if made else 'the tables are there already'}")
        progress(100 / len(found))
    lines += [f"  the name of {i} has a letter that no font here holds; the id is printed instead" for i in unprintable]
    return "\n".join(lines)


def _beside(folder: Path, name: str | None) -> str:
    """The assignment or the papers in whose marks table these marks will stand."""
    known = list(read_book(folder).assignments)
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
