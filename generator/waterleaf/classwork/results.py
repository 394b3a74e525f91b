"""Prints what comes of marking: feedback for students, the report on the class, and a sheet to teach again."""

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from waterleaf.bank.family import Family
from waterleaf.classwork.packets import Progress, batches, printable_names
from waterleaf.classwork.report_page import report_page
from waterleaf.draw import draw
from waterleaf.exercise import Exercise, pose
from waterleaf.marking.classmarks import ClassMarks, StudentMarks
from waterleaf.marking.feedback import commonest_slips, families_again
from waterleaf.marking.issuebook import Issued, exercises_of
from waterleaf.marking.portion import families_asked, without_sheets
from waterleaf.marking.sheetmarks import Outcome
from waterleaf.sharing import HERE, Hands
from waterleaf.sheets import paper, press
from waterleaf.sheets.feedback import Feedback, feedback, task_tables
from waterleaf.sheets.paper import Sheet, Style
from waterleaf.sheets.press import Press, PressFault
from waterleaf.sheets.report import class_report


@dataclass(frozen=True, slots=True)
class _Run:
    """Marked sheets whose feedback is printed here or by another process."""

    issued: Issued  # without its sheets
    bank: Mapping[str, Family]
    style: Style
    entries: tuple[StudentMarks, ...]
    names: tuple[str, ...]
    tasks: tuple[list[dict[str, Any]], ...]


def print_feedback(
    marked: ClassMarks, bank: Mapping[str, Family], style: Style, place: Path, progress: Progress, hands: Hands = HERE
) -> None:
    """A feedback sheet for every student who handed in, in a file named by the sheet's code, and all in one packet."""
    place.mkdir()
    handed = [
        entry for entry in marked.students
        if entry.handed_in or any(entry.student.id in task.results for task in marked.tasks)
    ]
    names, _ = printable_names({entry.student.id: entry.student.name for entry in handed})
    parts = batches(handed, press.SHEETS_AT_ONCE)
    bare, asked = without_sheets(marked.issued), families_asked(marked.issued, bank)
    runs = (
        _Run(
            bare, asked, style, tuple(part), tuple(names[entry.student.id] for entry in part),
            tuple(task_tables(marked.tasks, entry.student.id) for entry in part),
        )
        for part in parts
    )
    for number, (packet, singles) in enumerate(hands.in_order(_feedback_printed, runs), start=1):
        (place / f"packet{f'-{number:03d}' if len(parts) > 1 else ''}.pdf").write_bytes(packet)
        for entry, pdf in zip(parts[number - 1], singles, strict=True):
            (place / f"{entry.sheet.code}.pdf").write_bytes(pdf)
        progress(len(singles))


def _feedback_printed(run: _Run) -> tuple[bytes, list[bytes]]:
    """The packet, and the feedback of each student alone."""
    data: dict[str, Any] = {}
    sheets: list[Any] = []
    singles: list[bytes] = []
    for entry, name, tasks in zip(run.entries, run.names, run.tasks, strict=True):
        # Who has not handed in a paper gets no working of it: it would be the key.
        exercises = exercises_of(run.issued, entry.sheet, run.bank) if entry.handed_in else ()
        found = Feedback(entry.sheet.code, name, exercises, entry.outcomes if entry.handed_in else (), tasks)
        data = feedback([found], run.style)
        try:
            singles.append(press.print_here("feedback", data))
        except PressFault:
            # A letter that no font has, typed by the student: it is shown as a question mark, on this sheet alone.
            data = feedback([_safely(found)], run.style)
            singles.append(press.print_here("feedback", data))
        sheets += data["sheets"]
    return press.print_here("feedback", {**data, "sheets": sheets}), singles


def _safely(found: Feedback) -> Feedback:
    """The feedback with every text that a person may have typed in plain letters."""
    return replace(
        found, outcomes=[_plainly(outcome) for outcome in found.outcomes],
        tasks=[{**task, "remark": _plain(task["remark"])} for task in found.tasks],
    )


def _plainly(outcome: Outcome) -> Outcome:
    """The outcome with every text that a person may have typed, or that repeats it, in plain letters."""
    return replace(
        outcome, answer=_plain(outcome.answer), echo=_plain(outcome.echo), message=_plain(outcome.message),
        note=_plain(outcome.note),
    )


def _plain(text: str) -> str:
    """The text with a question mark for every letter outside the Western alphabets."""
    return "".join(letter if " " <= letter < "\x7f" or "\xa0" < letter <= "\u017f" else "?" for letter in text)


def write_report(marked: ClassMarks, bank: Mapping[str, Family], style: Style, place: Path) -> None:
    """The class report for the browser and for paper."""
    report = class_report(marked, bank, style)
    (place / "report.html").write_text(report_page(report), encoding="utf-8")
    (place / "report.pdf").write_bytes(Press("report").pdf(report))


def print_again(marked: ClassMarks, bank: Mapping[str, Family], style: Style, secret: str, place: Path) -> list[str]:
    """A sheet with fresh numbers for the questions of the commonest slips, and its key; the families on it."""
    keys = families_again(commonest_slips(marked))
    if not keys:
        return []
    sheet = Sheet(tuple(_fresh(bank[key], marked, secret, style) for key in keys))
    titled = replace(style, title=f"{style.title}, once more")
    place.mkdir()
    (place / "worksheet.pdf").write_bytes(Press("worksheet").pdf(paper.worksheets([sheet], titled)))
    (place / "key.pdf").write_bytes(Press("key").pdf(paper.keys([sheet], titled)))
    return keys


def _fresh(family: Family, marked: ClassMarks, secret: str, style: Style) -> Exercise:
    """A draw of the family that nobody in the class has had."""
    seed = hashlib.blake2b(f"{secret} {marked.issued.id} again".encode(), digest_size=10).hexdigest()
    had = set(_had(family, marked.students))
    found = draw(family, seed)
    for again in range(1, 20):
        if tuple(value for value in found.values.values() if isinstance(value, float)) not in had:
            break
        found = draw(family, f"{seed}+{again}")
    return pose(found, style.system)


def _had(family: Family, students: Sequence[StudentMarks]) -> Iterable[tuple[float, ...]]:
    for entry in students:
        for givens in entry.givens:
            if set(givens) <= set(family.file.given):
                yield tuple(givens.values())
