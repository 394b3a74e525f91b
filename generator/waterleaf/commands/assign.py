"""`waterleaf assign`: a sheet of their own for every student of a class, and all that marking them will need."""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from waterleaf.bank.builder import load_bank
from waterleaf.bank.family import Family
from waterleaf.classwork.issue import Defaults, Posed, issue
from waterleaf.classwork.packets import Progress, print_keys, print_packets, printable_names
from waterleaf.classwork.tables import write_response_tables
from waterleaf.draw import NoDraw
from waterleaf.faults import refuse
from waterleaf.home import Settings, find_home, load_settings, swapped_in
from waterleaf.marking.assignment import read_assignment
from waterleaf.marking.classfile import read_class
from waterleaf.marking.issuebook import Issued, IssuedSheet, class_secret, family_of, read_book, write_book
from waterleaf.marking.labels import labels_of
from waterleaf.sheets.paper import Style
from waterleaf.sheets.press import PressFault


def assign_sheets(folder: Path, name: str, again: str | None, progress: Progress) -> str:
    """Issue and print an assignment, or print one again from the issue book, and say what was made."""
    home = find_home()
    settings = load_settings(home)
    bank = load_bank(home / "question_bank")
    if not folder.is_dir():
        raise refuse(folder.as_posix(), "there is no such folder. Give the folder that holds the class file.")
    names: dict[str, str] = {}
    if again is None:
        roll = read_class(folder)
        assignment, questions = read_assignment(folder / name, bank)
        book = read_book(folder)
        defaults = Defaults(settings.units, settings.paper)
        names = {student.id: student.name for student in roll.students}
        try:
            issued = issue(roll.students, assignment, questions, book, class_secret(folder), defaults)
        except NoDraw as error:
            raise refuse(name, str(error)) from None
        write_book(folder, book.with_issued(issued))
        old = book.assignments.get(issued.id)
        new = issued.sheets[len(old.sheets) if old else 0 :]
        title = f"{issued.title}, due {assignment.due}" if assignment.due else issued.title
    else:
        issued, new = _recorded(folder, again), ()
        title = issued.title
    present = [sheet for sheet in issued.sheets if not names or sheet.student in names]
    report = _print(folder / issued.id, issued, present, names, title, settings, bank, progress)
    if new:
        labels = labels_of([family_of(question, bank) for question in issued.questions])
        made = write_response_tables(folder / issued.id, labels, new)
        report.append(f"  for the answers  {' or '.join(made)}")
    return "\n".join(report)


def _recorded(folder: Path, again: str) -> Issued:
    assignments = read_book(folder).assignments
    if again not in assignments:
        raise refuse("--again", f"{again!r} was not given out to this class. Known are: {', '.join(assignments)}.")
    return assignments[again]


def _print(
    place: Path, issued: Issued, entries: list[IssuedSheet], names: Mapping[str, str], title: str, settings: Settings,
    bank: Mapping[str, Family], progress: Progress,
) -> list[str]:
    style = Style(settings.school, issued.title, issued.paper, issued.system)
    share = 100 / (3 * max(1, len(entries)))  # keys, packets and separate files

    def advance(sheets: float) -> None:
        progress(sheets * share)

    try:
        wanted = {entry.student: names.get(entry.student, entry.student) for entry in entries}
        shown, unprintable = printable_names(wanted)
        posed = Posed(issued, bank, shown)
        with swapped_in(place / "keys") as fresh:
            print_keys(entries, posed, style, fresh, advance)
        with swapped_in(place / "sheets") as fresh:
            packets = print_packets(issued, entries, posed, replace(style, title=title), fresh, advance)
    except PressFault as error:
        raise refuse(issued.id, str(error)) from None
    return [
        f"{issued.title}: {len(entries)} sheets of {len(issued.questions)} questions, {issued.system} units",
        *(f"  the name of {i} has a letter that no font here holds; the id is printed instead" for i in unprintable),
        f"  for students     {place / 'sheets'} ({', '.join(path.name for path in packets)})",
        f"  for instructors  {place / 'keys'} (key book, answer grid)",
    ]
