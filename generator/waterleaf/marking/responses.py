"""Collects what students handed in: reads every table of answers, and sorts rows to the sheets that were issued."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from waterleaf.faults import refuse
from waterleaf.marking.issuebook import Issued
from waterleaf.marking.tableout import unguarded
from waterleaf.marking.tabular import OVERFULL, Decimal, read_table

ALL: Final = "all"
LONGEST_ANSWER: Final = 2000


@dataclass(frozen=True, slots=True)
class Response:
    """One row of answers as it was typed, or one answer file; `fault` says why a whole file cannot be taken."""

    file: str
    line: int
    code: str
    student: str
    answers: Mapping[str, str]
    doubts: Mapping[str, str]
    fault: str = ""

    @property
    def where(self) -> str:
        """File and line."""
        return f"{self.file}:{self.line}"


@dataclass(frozen=True, slots=True)
class Doubt:
    """Something that only a person can decide, and where it stands."""

    sheet: str
    part: str
    answer: str
    reason: str
    file: str
    line: int


@dataclass(slots=True)
class HandedIn:
    """All that was handed in for one sheet."""

    answers: dict[str, str] = field(default_factory=dict)
    places: dict[str, tuple[str, int]] = field(default_factory=dict)
    doubts: dict[str, str] = field(default_factory=dict)
    whole: list[Doubt] = field(default_factory=list)  # doubts about whose answers these are
    rows: list[Response] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Collected:
    """Answers by sheet code, doubts that belong to no issued sheet, and remarks for the instructor."""

    sheets: Mapping[str, HandedIn]
    strays: Sequence[Doubt]
    remarks: Sequence[str]


def read_responses(folder: Path, labels: Sequence[str], decimal: Decimal, *, needed: bool = True) -> list[Response]:
    """Every row of every table of answers in the folder.

    Raises Faults where a table is needed and there is none, or one has not the columns of the assignment.
    """
    paths = sorted(
        path for path in folder.iterdir()
        if path.name.startswith("responses") and path.suffix.lower() in (".csv", ".xlsx")
    )
    if not paths and needed:
        raise refuse(folder.as_posix(), "no table of answers. Fill in responses.csv or responses.xlsx.")
    return [response for path in paths for response in _table(path, labels, decimal)]


def _table(path: Path, labels: Sequence[str], decimal: Decimal) -> list[Response]:
    table = read_table(path, ("sheet", *labels), decimal)
    found = []
    for row in table.rows:
        answers = {label: unguarded(row.cells.get(label, "")) for label in labels}
        doubts = {label: "merged cells: it is unclear whose answer this is" for label in labels if label in row.merged}
        if OVERFULL in row.cells:
            doubts |= dict.fromkeys(labels, "more cells than headings: the answers may have moved along")
        for label, text in answers.items():
            if len(text) > LONGEST_ANSWER:
                answers[label] = text[:LONGEST_ANSWER]
                doubts[label] = f"longer than {LONGEST_ANSWER} letters"
        code, student = row.cells.get("sheet", ""), unguarded(row.cells.get("id", ""))
        found.append(Response(row.file, row.line, code, student, answers, doubts))
    return found


def plain_code(text: str) -> str:
    """A sheet code as it is printed, however it was typed: "ab3d efgh" is "AB3D-EFGH"."""
    letters = re.sub(r"[\s‐‑‒–—−_-]", "", text).upper()
    return f"{letters[:4]}-{letters[4:]}" if len(letters) == 8 else text.strip()


def collect(issued: Issued, responses: Sequence[Response]) -> Collected:
    """The answers of each sheet, however many rows they came in."""
    by_code, own = issued.by_code, {sheet.student: sheet.code for sheet in issued.sheets}
    sheets: dict[str, HandedIn] = {}
    strays: list[Doubt] = []
    remarks: list[str] = []
    for row in responses:
        if not any(row.answers.values()) and not row.doubts and not row.fault:
            continue  # a line of the blank table
        code = plain_code(row.code)
        entry = by_code.get(code)
        if entry is None:
            reason = f"no sheet of this assignment has the code {row.code[:40]!r}"
            if not row.code:
                reason = "the sheet code is missing"
            reason = row.fault or reason
            doubt = Doubt(own.get(row.student, row.code), ALL, "", reason, row.file, row.line)
            if row.student in own:
                sheets.setdefault(own[row.student], HandedIn()).whole.append(doubt)
            else:
                strays.append(doubt)
            continue
        held = sheets.setdefault(code, HandedIn())
        if row.fault:
            held.whole.append(Doubt(code, ALL, "", row.fault, row.file, row.line))
            continue
        if row.student and row.student != entry.student:
            reason = f"the row says {row.student!r}, but this sheet was given to {entry.student!r}"
            held.whole.append(Doubt(code, ALL, "", reason, row.file, row.line))
            if row.student in own:
                other = Doubt(own[row.student], ALL, "", f"{row.student!r} answered sheet {code}", row.file, row.line)
                sheets.setdefault(own[row.student], HandedIn()).whole.append(other)
        if held.rows:
            remarks.append(f"{row.where}: sheet {code} stands at {held.rows[0].where} too; the two were put together")
        held.rows.append(row)
        _merge(held, row)
    return Collected(sheets, strays, remarks)


def _merge(held: HandedIn, row: Response) -> None:
    """Add a row to what a sheet has; where two rows answer a part differently, neither is taken."""
    for label, text in row.answers.items():
        before = held.answers.get(label, "")
        if text and before and " ".join(text.split()) != " ".join(before.split()):
            file, line = held.places[label]
            held.doubts[label] = f"{before!r} at {file}:{line}, but {text!r} at {row.where}"
        if text and not before:
            held.answers[label] = text
            held.places[label] = (row.file, row.line)
    for label, reason in row.doubts.items():
        held.doubts.setdefault(label, reason)
        held.places.setdefault(label, (row.file, row.line))
