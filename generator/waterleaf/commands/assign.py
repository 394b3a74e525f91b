"""`waterleaf assign`: a sheet of their own for every student of a class, and all that marking them will need."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from waterleaf.bank.builder import load_bank
from waterleaf.bank.family import Family
from waterleaf.classwork.issue import Defaults, Posed, issue, with_own_numbers
from waterleaf.classwork.packets import Progress, print_keys, print_packets, printable_names
from waterleaf.classwork.selfcheck import printable, report_line, sheet_links, write_links
from waterleaf.classwork.tables import without_a_row, write_response_tables
from waterleaf.classwork.worked import write_worked_pages
from waterleaf.draw import NoDraw
from waterleaf.faults import refuse
from waterleaf.growing.system import read_growing
from waterleaf.home import Settings, find_home, load_settings, swapped_in
from waterleaf.marking.assignment import read_assignment
from waterleaf.marking.classfile import read_class
from waterleaf.marking.issuebook import (
    Issued,
    IssuedSheet,
    class_secret,
    class_to_itself,
    family_of,
    lost_secret,
    read_book,
    write_book,
)
from waterleaf.marking.labels import labels_of
from waterleaf.sharing import Hands, shared
from waterleaf.sheets.paper import Style, counted, system_in_words
from waterleaf.sheets.press import PressFault


@dataclass(frozen=True, slots=True)
class _GivenOut:
    """An assignment to be printed: what is new in it, whose names are printed, and what to say of it."""

    issued: Issued
    new: tuple[IssuedSheet, ...]
    title: str
    names: Mapping[str, str]
    notes: Sequence[str] = ()
    self_check: bool = False


def assign_sheets(
    folder: Path, name: str, again: str | None, progress: Progress, growing: Path | None = None,
    workers: str | None = None,
) -> str:
    """Issue and print an assignment, or print one again from the issue book, and say what was made."""
    home = find_home()
    settings = load_settings(home)
    bank = load_bank(home / "question_bank")
    if not folder.is_dir():
        raise refuse(folder.as_posix(), "there is no such folder. Give the folder that holds the class file.")
    with class_to_itself(folder), shared(workers, "threads") as hands:  # refused, if at all, before a sheet is issued
        if again is None:
            given = _issue(folder, name, settings, bank, growing)
        else:
            issued = _recorded(folder, again, "--again")
            given = _GivenOut(issued, (), issued.title, {})
        report = _print(folder / given.issued.id, given, settings, bank, progress, hands, workers is not None)
        report += [f"  {note}" for note in given.notes]
        blank = without_a_row(folder / given.issued.id, given.issued.sheets, given.new) if again is None else ()
        if blank:
            labels = labels_of([family_of(question, bank) for question in given.issued.questions])
            made = write_response_tables(folder / given.issued.id, labels, blank)
            report.append(f"  for the answers  {' or '.join(made)}")
    return "\n".join(report)


def open_answers(folder: Path, name: str) -> str:
    """Make a page of worked answers for every sheet of an assignment, and say where they are."""
    home = find_home()
    bank = load_bank(home / "question_bank")
    issued = _recorded(folder, name, "--worked")
    with class_to_itself(folder), swapped_in(folder / issued.id / "worked") as fresh:
        write_worked_pages(issued, bank, load_settings(home).school, fresh)
    return "\n".join((
        f"{issued.title}: worked answers of {len(issued.sheets)} sheets",
        f"  for students     {folder / issued.id / 'worked'} (index.html finds a sheet by its code)",
        "  Give these out when the work is closed. They hold the keys.",
    ))


def _issue(
    folder: Path, name: str, settings: Settings, bank: Mapping[str, Family], growing: Path | None
) -> _GivenOut:
    """Give every student of the class a sheet, and put that into the issue book."""
    roll = read_class(folder)
    assignment, questions = read_assignment(folder / name, bank)
    book = read_book(folder)
    lost, secret = lost_secret(folder, book), class_secret(folder)
    old = book.assignments.get(assignment.id)
    system = None if growing is None else read_growing(growing)
    questions, notes = with_own_numbers(questions, assignment, old, len(roll.students), secret, system)
    if system and old:
        notes = ["the numbers of the growing file are left aside: sheets given out stay as they are"]
    try:
        defaults = Defaults(settings.units, settings.paper, settings.site)
        issued = issue(roll.students, assignment, questions, book, secret, defaults)
    except NoDraw as error:
        raise refuse(name, str(error)) from None
    write_book(folder, book.with_issued(issued))
    return _GivenOut(
        issued, issued.sheets[len(old.sheets) if old else 0 :],
        f"{issued.title}, due {assignment.due}" if assignment.due else issued.title,
        {student.id: student.name for student in roll.students}, [*filter(None, [lost]), *notes],
        assignment.self_check,
    )


def _recorded(folder: Path, name: str, option: str) -> Issued:
    assignments = read_book(folder).assignments
    if name not in assignments:
        raise refuse(option, f"{name!r} was not given out to this class. Known are: {', '.join(assignments)}.")
    if assignments[name].papers and option == "--again":
        raise refuse(option, f"{name!r} was given out as papers. Run `waterleaf papers` with its plan again.")
    return assignments[name]


def _print(
    place: Path, given: _GivenOut, settings: Settings, bank: Mapping[str, Family], progress: Progress,
    hands: Hands, told: bool,
) -> list[str]:
    issued, names = given.issued, given.names
    entries = [sheet for sheet in issued.sheets if not names or sheet.student in names]
    style = Style(settings.school, issued.title, issued.paper, issued.system)
    # Each sheet is printed in the key book, in a packet and alone, and has a link made.
    share = 100 / ((4 if issued.site else 3) * max(1, len(entries)))

    def advance(sheets: float) -> None:
        progress(sheets * share)

    try:
        asked = {entry.student: names.get(entry.student, entry.student) for entry in entries}
        shown, unprintable = printable_names(asked)
        # Two threads are enough for the press, but not for the slow hashes of the links; a number that was told holds.
        links = sheet_links(issued, entries, bank, advance, hands if told else None)
        posed = Posed(issued, bank, shown, printable(links))
        with swapped_in(place / "keys") as fresh:
            print_keys(entries, posed, style, fresh, advance, hands)
        with swapped_in(place / "sheets") as fresh:
            titled = replace(style, title=given.title)
            packets = print_packets(issued, entries, posed, titled, fresh, advance, hands)
    except PressFault as error:
        raise refuse(issued.id, str(error)) from None
    write_links(place, entries, links)
    return [
        f"{issued.title}: {counted(len(entries), 'sheet')} of {counted(len(issued.questions), 'question')}, "
        f"{system_in_words(issued.system)} units",
        *(f"  the name of {i} has a letter that no font here holds; the id is printed instead" for i in unprintable),
        f"  for students     {place / 'sheets'} ({', '.join(path.name for path in packets)})",
        f"  for instructors  {place / 'keys'} (key book, answer grid)",
        report_line(issued, links, given.self_check),
    ]
