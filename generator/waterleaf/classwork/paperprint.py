"""Prints parallel papers: packets in seating order, separate files, a key for each paper, and the instructor's page."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from waterleaf.classwork.dealing import Dealt, seating_order
from waterleaf.classwork.likeness import FIGURES_APART, LARGEST_RATIO
from waterleaf.classwork.matching import HEADINGS, Match
from waterleaf.classwork.packets import SEPARATE, Look, Progress, runs_of_files
from waterleaf.classwork.parallel import Paper
from waterleaf.marking.classfile import Student
from waterleaf.marking.issuebook import Issued, IssuedSheet
from waterleaf.marking.tableout import write_csv
from waterleaf.sharing import HERE, Hands
from waterleaf.sheets import paper as sheet_data
from waterleaf.sheets import press
from waterleaf.sheets.formulas import formula_sheet
from waterleaf.sheets.paper import Sheet, Style
from waterleaf.sheets.press import Press
from waterleaf.sheets.testpaper import Copy, Cover, matching_page, packet_of_papers

# Room to work under pressure of time: more than on a worksheet.
_ROOM: Final = "32mm"


@dataclass(frozen=True, slots=True)
class Bundle:
    """All that is printed of one plan."""

    issued: Issued
    papers: Sequence[Paper]
    students: Sequence[Student]
    names: Mapping[str, str]  # what is printed for each id
    sections: Mapping[str, str]  # and for each section
    cover: Cover
    style: Style
    formulas: bool

    @property
    def copies(self) -> list[Copy]:
        """The copies of those who are in the class, in seating order."""
        entries = {entry.student: entry for entry in self.issued.sheets}
        return [
            Copy(
                entries[student.id], self.names.get(student.id, student.id), self.sections[student.section],
                student.seat,
            )
            for student in seating_order(self.students) if student.id in entries
        ]


@dataclass(frozen=True, slots=True)
class _Run:
    """Copies that are printed in one go, here or by another process: into one file, or each into one of its own."""

    files: tuple[str, ...]
    copies: tuple[Copy, ...]
    printed: Mapping[str, dict[str, Any]]  # the questions of each paper
    head: Mapping[str, Any]
    cover: Cover


def print_copies(bundle: Bundle, place: Path, progress: Progress, hands: Hands = HERE) -> list[str]:
    """Packets for each look, every copy alone, and the formula sheet; the names of the packets."""
    (place / SEPARATE).mkdir()
    runs: list[_Run] = []
    looks: dict[Look, list[Copy]] = {}
    for copy in bundle.copies:
        looks.setdefault(Look(copy.entry.accommodations), []).append(copy)
    for look, own in looks.items():
        printed, head = _printed(bundle, look)
        for files, part in runs_of_files(own, f"packet{look.suffix}", [copy.entry.code for copy in own]):
            runs.append(_Run(files, tuple(part), printed, head, bundle.cover))
    for run, pdfs in zip(runs, hands.in_order(_copies_printed, runs), strict=True):
        for name, pdf in zip(run.files, pdfs, strict=True):
            (place / name).write_bytes(pdf)
        progress(len(run.copies))
    made = [name for run in runs for name in run.files if not name.startswith(SEPARATE)]
    if bundle.formulas:
        families = [exercise.family for paper in bundle.papers for exercise in paper.exercises]
        (place / "formula-sheet.pdf").write_bytes(Press("formulas").pdf(formula_sheet(families, bundle.style)))
        made.append("formula-sheet.pdf")
    return made


def _copies_printed(run: _Run) -> list[bytes]:
    """A PDF for each file of the run."""
    parts = [run.copies] if len(run.files) == 1 else [(copy,) for copy in run.copies]
    return [press.print_here("testpaper", packet_of_papers(part, run.printed, run.head, run.cover)) for part in parts]


def _printed(bundle: Bundle, look: Look) -> tuple[dict[str, dict[str, Any]], dict[str, Any]]:
    """The questions of each paper as data, and the head of the packet, for one look."""
    style = Style(
        bundle.style.school, bundle.style.title, bundle.style.paper, bundle.style.system, bundle.style.size, _ROOM
    )
    data = look.document([Sheet(paper.exercises) for paper in bundle.papers], style, bundle.issued.ask_unit)
    sheets = data.pop("sheets")
    return {paper.name: sheet for paper, sheet in zip(bundle.papers, sheets, strict=True)}, data


def print_paper_keys(
    bundle: Bundle, found: Sequence[Match], dealt: Dealt, place: Path, progress: Progress
) -> None:
    """A key for each paper, the matching table as CSV and as a page, and the list of who has which paper."""
    for paper in bundle.papers:
        data = sheet_data.keys([Sheet(paper.exercises)], bundle.style)
        data["sheets"][0]["code"] = f"paper {paper.name}"
        (place / f"key-{paper.name}.pdf").write_bytes(Press("key").pdf(data))
        progress(1)
    write_csv(place / "matching.csv", HEADINGS, [match.row for match in found])
    rows = [
        [copy.section, copy.seat, copy.name, copy.entry.student, copy.entry.paper, copy.entry.code]
        for copy in bundle.copies
    ]
    write_csv(place / "dealt.csv", ["section", "seat", "name", "id", "paper", "code"], rows)
    (place / "matching.pdf").write_bytes(Press("matching").pdf(matching_page(
        bundle.style, _lead(bundle), HEADINGS, [match.row for match in found],
        [paper.name for paper in bundle.papers], [answer for match in found for answer in match.answers], rows,
        how_dealt(bundle, dealt), (LARGEST_RATIO, FIGURES_APART),
    )))


def _lead(bundle: Bundle) -> str:
    names = ", ".join(paper.name for paper in bundle.papers)
    return (
        f"Papers {names}, {bundle.papers[0].marks} marks and {bundle.cover.minutes} minutes each, "
        f"{'metric' if bundle.issued.system == 'metric' else 'US customary'} units."
    )


def how_dealt(bundle: Bundle, dealt: Dealt) -> str:
    """By what rule papers were dealt, and which neighbours have the same one."""
    seated = any(student.seat for student in bundle.students)
    rule = (
        "Dealt by seat: people side by side, in front and behind have different papers."
        if seated else "Dealt round in the order of the class list, section by section. Seat the class in that order."
    )
    if not dealt.alike:
        return f"{rule} No two neighbours have the same paper."
    pairs = "; ".join(f"{one} and {other}" for one, other in dealt.alike)
    return f"{rule} Neighbours with the same paper, to be seated apart: {pairs}."


def copy_code(paper: Paper, student: str, system: str) -> str:
    """The code of one student's copy: it names paper and student to the issue book and to nobody else."""
    return sheet_data.short_code(f"{Sheet(paper.exercises).seeds} {system} paper {student}")


def entry_for(paper: Paper, student: Student, system: str) -> IssuedSheet:
    """What the issue book keeps of a student's copy."""
    return IssuedSheet(
        copy_code(paper, student.id, system), student.id, paper.recorded.draws, student.accommodations, paper.name
    )
