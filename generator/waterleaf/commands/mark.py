"""`waterleaf mark`: from typed answers to marks, feedback and a report on the class."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Final

from waterleaf.bank.builder import load_bank
from waterleaf.bank.family import Family
from waterleaf.classwork.rehearsal import invented_answers
from waterleaf.classwork.results import print_again, print_feedback, write_report
from waterleaf.draw import NoDraw
from waterleaf.faults import refuse
from waterleaf.home import find_home, load_settings, swapped_in
from waterleaf.marking.answerfiles import FOLDER, read_answer_files
from waterleaf.marking.classfile import NAMES, Student, read_class
from waterleaf.marking.classmarks import (
    ClassMarks,
    Progress,
    full_marks,
    mark_all,
    marks_table,
    short_list,
    verdicts_table,
)
from waterleaf.marking.decisions import NAME, filled_in, read_decisions
from waterleaf.marking.issuebook import Issued, class_secret, class_to_itself, lost_secret, read_book
from waterleaf.marking.responses import Collected, collect, read_responses
from waterleaf.marking.tableout import write_csv, write_xlsx
from waterleaf.marking.taskmarks import read_tasks
from waterleaf.sharing import Hands, Usual, shared
from waterleaf.sheets.paper import Style
from waterleaf.sheets.press import PressFault

MARKED = "marked"
SHORT_LIST = "to-decide.csv"
REHEARSAL = "rehearsal"
# With fewer answers than this the start of other processes costs more than they save. Feedback, which has the working
# in it, takes some twenty times as long as the marks alone.
_WORTH_SHARING: Final = {False: 40_000, True: 1_000}


def mark_class(
    folder: Path, name: str | None, feedback: bool, progress: Progress, workers: str | None = None,
    rehearse: bool = False,
) -> tuple[str, int]:
    """Mark an assignment and write all that comes of it; the report, and how many answers wait for a decision.

    With `rehearse`, answers are invented and marked in a folder of their own, and no real answer is looked at.
    """
    if not folder.is_dir():
        raise refuse(folder.as_posix(), "there is no such folder. Give the folder of the class.")
    with class_to_itself(folder):
        return _marked(folder, name, feedback, progress, workers, rehearse)


def _marked(
    folder: Path, name: str | None, feedback: bool, progress: Progress, workers: str | None, rehearse: bool
) -> tuple[str, int]:
    home = find_home()
    bank = load_bank(home / "question_bank")
    issued = _issued(folder, name)
    place = folder / issued.id
    if not place.is_dir():
        raise refuse(place.as_posix(), "there is no such folder. `waterleaf assign` makes it.")
    labels = full_marks(issued, bank)
    roll = _roll(folder)
    remarks: Sequence[str] = []
    if rehearse:
        issued, place = replace(issued, title=f"{issued.title} (rehearsal, invented answers)"), place / REHEARSAL
        _invent(place, issued, bank, list(labels))
        collected = collect(issued, read_responses(place, list(labels), issued.decimal))
    else:
        collected, remarks = _handed_in(folder, issued, list(labels), roll)
    decisions = read_decisions(place, issued, labels)
    typed = filled_in(place / MARKED / SHORT_LIST)
    if typed:
        raise refuse(typed[0], f"marks were typed here. Save this list as {NAME} in {place} first; it is made afresh.")
    share = 100 / (max(1, len(issued.sheets)) * (2 if feedback else 1))
    usual: Usual = "processes" if len(issued.sheets) * len(labels) >= _WORTH_SHARING[feedback] else "here"

    def advance(sheets: float) -> None:
        progress(sheets * share)

    with shared(workers, usual) as hands:
        marked = mark_all(issued, roll, collected, decisions, bank, advance, hands)
        marked = marked.with_tasks(read_tasks(place, [sheet.student for sheet in issued.sheets]))
        return _written(folder, place, marked, bank, remarks, feedback, advance, hands)


def _written(
    folder: Path, place: Path, marked: ClassMarks, bank: Mapping[str, Family], remarks: Sequence[str], feedback: bool,
    progress: Progress, hands: Hands,
) -> tuple[str, int]:
    """Everything that comes of the marks in its place, and the report."""
    issued = marked.issued
    style = Style(load_settings(find_home()).school, issued.title, issued.paper, issued.system)
    lost = lost_secret(folder, read_book(folder))
    try:
        with swapped_in(place / MARKED) as fresh:
            _write_tables(fresh, marked)
            if feedback:
                print_feedback(marked, bank, style, fresh / "feedback", progress, hands)
            write_report(marked, bank, style, fresh)
            again = print_again(marked, bank, style, class_secret(folder), fresh / "teach-again")
    except (NoDraw, PressFault) as error:
        raise refuse(issued.id, str(error)) from None
    none = (
        "" if any(entry.handed_in for entry in marked.students)
        else f"no answer was found: fill in {place / 'responses.csv'}, or put answer files into {folder / FOLDER}"
    )
    told = [*filter(None, [lost, none]), *remarks, *marked.remarks]
    return _report(marked, told, place, feedback, again), len(marked.doubts)


def _issued(folder: Path, name: str | None) -> Issued:
    assignments = read_book(folder).assignments
    if not assignments:
        raise refuse(folder.as_posix(), "nothing was given out to this class. Run `waterleaf assign` first.")
    if name is None and len(assignments) == 1:
        return next(iter(assignments.values()))
    if name is None or name not in assignments:
        raise refuse("--assignment", f"name one that was given out: {', '.join(assignments)}.")
    return assignments[name]


def _invent(place: Path, issued: Issued, bank: Mapping[str, Family], labels: Sequence[str]) -> None:
    """A table of answers that nobody gave, filled in."""
    place.mkdir(exist_ok=True)
    rows = (
        [code, student, *(answers.get(label, "") for label in labels)]
        for code, student, answers in invented_answers(issued, bank, seed=1)
    )
    write_csv(place / "responses.csv", ["sheet", "id", *labels], list(rows))


def _handed_in(
    folder: Path, issued: Issued, labels: Sequence[str], roll: Sequence[Student]
) -> tuple[Collected, Sequence[str]]:
    """What came in as tables and as answer files, and remarks on the files."""
    files = read_answer_files(folder, issued, read_book(folder), labels, roll)
    rows = read_responses(folder / issued.id, labels, issued.decimal, needed=not files.responses)
    return collect(issued, [*rows, *files.responses]), files.remarks


def _roll(folder: Path) -> tuple[Student, ...]:
    """The class, for its names; marking works without them."""
    return read_class(folder).students if any((folder / name).exists() for name in NAMES) else ()


def _write_tables(place: Path, marked: ClassMarks) -> None:
    headings, rows = marks_table(marked)
    table = list(rows)
    write_csv(place / "marks.csv", headings, table)
    write_xlsx(place / "marks.xlsx", "Marks", headings, table)
    write_csv(place / "verdicts.csv", *verdicts_table(marked))
    write_csv(place / SHORT_LIST, *short_list(marked))


def _report(marked: ClassMarks, remarks: list[str], place: Path, feedback: bool, again: list[str]) -> str:
    handed = [entry for entry in marked.students if entry.handed_in]
    lines = [f"{marked.issued.title}: {len(handed)} of {len(marked.students)} sheets handed in and marked"]
    lines += [f"  {remark}" for remark in remarks]
    if marked.doubts:
        lines.append(f"  {len(marked.doubts)} to be decided by you: {place / MARKED / SHORT_LIST}")
    lines.append(f"  marks            {place / MARKED / 'marks.csv'} and marks.xlsx")
    if feedback:
        lines.append(f"  feedback         {place / MARKED / 'feedback'}")
    lines.append(f"  class report     {place / MARKED / 'report.html'} and report.pdf")
    if again:
        lines.append(f"  to teach again   {place / MARKED / 'teach-again'} ({', '.join(again)})")
    return "\n".join(lines)
