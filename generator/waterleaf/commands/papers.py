"""`waterleaf papers`: parallel test papers for a class, which `waterleaf mark` marks like sheets."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from waterleaf.bank.builder import load_bank
from waterleaf.bank.family import Family
from waterleaf.classwork.dealing import Dealt, deal
from waterleaf.classwork.matching import as_text, matches
from waterleaf.classwork.packets import Progress, printable_names
from waterleaf.classwork.paperplan import PaperPlan, read_paper_plan
from waterleaf.classwork.paperprint import Bundle, entry_for, how_dealt, print_copies, print_paper_keys
from waterleaf.classwork.parallel import Paper, by_name, papers_again, parallel_papers
from waterleaf.classwork.tables import without_a_row, write_response_tables
from waterleaf.draw import NoDraw
from waterleaf.faults import Fault, Faults, refuse
from waterleaf.home import Settings, find_home, load_settings, swapped_in
from waterleaf.marking.classfile import ClassList, read_class
from waterleaf.marking.issuebook import (
    NAME,
    IssueBook,
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
from waterleaf.sheets.testpaper import Cover


def make_papers(folder: Path, name: str, progress: Progress, workers: str | None = None) -> str:
    """Make the papers of a plan, deal them to the class, record that in the issue book, and print everything."""
    if not folder.is_dir():
        raise refuse(folder.as_posix(), "there is no such folder. Give the folder that holds the class file.")
    with class_to_itself(folder), shared(workers, "threads") as hands:  # refused, if at all, before a copy is issued
        return _made(folder, name, progress, hands)


@dataclass(frozen=True, slots=True)
class _GivenOut:
    """A plan whose papers were dealt to a class: copies as they stand in the issue book, and those that are new."""

    plan: PaperPlan
    papers: list[Paper]
    issued: Issued
    dealt: Dealt
    roll: ClassList
    new: tuple[IssuedSheet, ...]


def _made(folder: Path, name: str, progress: Progress, hands: Hands) -> str:
    home = find_home()
    settings = load_settings(home)
    bank = load_bank(home / "question_bank")
    roll = read_class(folder)
    plan, slots = read_paper_plan(folder / name, bank)
    _refuse_unprintable(plan, name)
    book = read_book(folder)
    lost, old = lost_secret(folder, book), book.assignments.get(plan.id)
    try:
        secret = class_secret(folder)
        # Without the secret that they came from, papers that were given out come from the book.
        papers = papers_again(old, bank) if lost and old else parallel_papers(
            plan, slots, secret, plan.units or settings.units
        )
    except NoDraw as error:
        raise refuse(name, str(error)) from None
    issued, dealt = _issue(plan, papers, roll, book, settings)
    write_book(folder, book.with_issued(issued))
    given = _GivenOut(plan, papers, issued, dealt, roll, issued.sheets[len(old.sheets) if old else 0 :])
    lines = _print(folder / plan.id, given, settings, bank, progress, hands)
    return "\n".join([*lines, *([f"  {lost}"] if lost else [])])


def _refuse_unprintable(plan: PaperPlan, file: str) -> None:
    """Stop before anything is recorded where a text of the cover has a letter that no font holds."""
    texts = {"title": plan.title} | {f"instructions.{n}": line for n, line in enumerate(plan.instructions)}
    _, unprintable = printable_names(texts)
    if unprintable:
        raise Faults(
            Fault(file, field, f"{texts[field]!r} has a letter that no font here holds. Write it without.")
            for field in unprintable
        )


def _issue(
    plan: PaperPlan, papers: list[Paper], roll: ClassList, book: IssueBook, settings: Settings
) -> tuple[Issued, Dealt]:
    """A copy for every student; who has one keeps it."""
    old = book.assignments.get(plan.id)
    issued = Issued(
        id=plan.id, title=plan.title, system=plan.units or settings.units, paper=plan.paper or settings.paper,
        decimal=plan.decimal, ask_unit=plan.ask_unit, questions=papers[0].questions,
        sheets=old.sheets if old else (), papers=tuple(paper.recorded for paper in papers),
    )
    book.with_issued(issued)  # refuses a changed plan before anything is dealt
    given = {sheet.student: sheet.paper for sheet in issued.sheets}
    dealt = deal(roll.students, [paper.name for paper in papers], given, roll.file)
    named = by_name(papers)
    added = [
        entry_for(named[dealt.papers[student.id]], student, issued.system)
        for student in roll.students if student.id not in given
    ]
    codes = [sheet.code for entry in book.assignments.values() for sheet in entry.sheets]
    codes += [sheet.code for sheet in added]
    if len(set(codes)) < len(codes):
        raise refuse(NAME, "two copies would have the same code. Give the plan another seed.")
    return replace(issued, sheets=(*issued.sheets, *added)), dealt


def _print(
    place: Path, given: _GivenOut, settings: Settings, bank: Mapping[str, Family], progress: Progress, hands: Hands
) -> list[str]:
    plan, papers, issued, students = given.plan, given.papers, given.issued, given.roll.students
    share = 100 / (2 * len(students) + len(papers))
    style = Style(settings.school, issued.title, issued.paper, issued.system)
    found = matches(papers)
    try:
        shown, unprintable = printable_names({student.id: student.name for student in students})
        cover = Cover(plan.minutes, plan.date or "", tuple(plan.instructions))
        sections, _ = printable_names({student.section: student.section for student in students})
        bundle = Bundle(issued, papers, students, shown, sections, cover, style, plan.formula_sheet)
        with swapped_in(place / "keys") as fresh:
            print_paper_keys(bundle, found, given.dealt, fresh, lambda n: progress(n * share))
        with swapped_in(place / "papers") as fresh:
            made = print_copies(bundle, fresh, lambda n: progress(n * share), hands)
    except PressFault as error:
        raise refuse(issued.id, str(error)) from None
    lines = [
        f"{issued.title}: {len(papers)} papers of {counted(len(issued.questions), 'question')}, "
        f"{len(students)} copies, {system_in_words(issued.system)} units",
        *as_text(found, papers),
        *(f"  the name of {i} has a letter that no font here holds; the id is printed instead" for i in unprintable),
        f"  {how_dealt(bundle, given.dealt)}",
        f"  for students     {place / 'papers'} ({', '.join(made)})",
        f"  for instructors  {place / 'keys'} (a key for each paper, matching.pdf and .csv, dealt.csv)",
    ]
    blank = without_a_row(place, issued.sheets, given.new)
    if blank:
        labels = labels_of([family_of(question, bank) for question in issued.questions])
        lines.append(f"  for the answers  {' or '.join(write_response_tables(place, labels, blank))}")
    return lines
