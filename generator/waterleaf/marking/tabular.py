"""Reads tables that people made: CSV in any usual encoding, or a spreadsheet, with a heading somewhere near the top.

Everything becomes text. A formula is read as the text that it is and never worked out.
"""

import csv
import datetime
import io
import warnings
import zipfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final, Literal
from xml.etree import ElementTree

from waterleaf.faults import Faults, refuse

Decimal = Literal["point", "comma"]

LARGEST_FILE: Final = 15_000_000
# A spreadsheet is a compressed archive, and each of its cells takes ten times its room in memory: a small file may
# hold more than a machine has.
LARGEST_UNPACKED: Final = 30_000_000
MOST_MERGED: Final = 100_000
MOST_ROWS, MOST_COLUMNS = 200_000, 1000
# A title, a date and a remark may stand above the heading.
_HEADING_WITHIN: Final = 20
_DELIMITERS: Final = ",;\t"


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a table: where it stands, its cells by heading, and the headings of merged cells."""

    file: str
    line: int
    cells: dict[str, str]
    merged: frozenset[str] = frozenset()

    @property
    def where(self) -> str:
        """File and line."""
        return f"{self.file}:{self.line}"


@dataclass(frozen=True, slots=True)
class Table:
    """The headings as written, and the rows under them; empty rows are left out."""

    file: str
    headings: tuple[str, ...]
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class _Line:
    number: int
    cells: Sequence[str]
    merged: frozenset[int] = frozenset()


def read_table(path: Path, needed: Sequence[str], decimal: Decimal = "point") -> Table:
    """The table in a CSV file or spreadsheet; headings are compared without case and outer spaces.

    Raises Faults where the file cannot be read, has no heading with the needed columns, or has a heading twice.
    """
    if path.suffix.lower() == ".xlsx":
        return _headed(path.name, list(_sheet_lines(path, decimal)), needed)
    text = _decoded(_bytes(path), path.name)
    for delimiter in _DELIMITERS:
        lines = list(_csv_lines(text, delimiter, path.name))
        if _heading_place(lines, needed) is not None:
            return _headed(path.name, lines, needed)
    return _headed(path.name, [], needed)


def _bytes(path: Path) -> bytes:
    try:
        if path.stat().st_size > LARGEST_FILE:
            raise refuse(path.name, f"larger than {LARGEST_FILE // 10**6} MB. Split the table.")
        return path.read_bytes()
    except OSError as error:
        raise refuse(path.name, f"cannot be read ({error.strerror}). Check the name and the permissions.") from None


def _decoded(raw: bytes, name: str) -> str:
    """The text: by its byte-order mark, else as UTF-8, else as the Western code page of older spreadsheets."""
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        codings = ["utf-16"]
    elif raw[1:2] == b"\0":
        codings = ["utf-16-le"]
    else:
        codings = ["utf-8-sig", "cp1252", "latin-1"]
    for coding in codings:
        try:
            return raw.decode(coding)
        except UnicodeDecodeError:
            continue
    raise refuse(name, "the letters cannot be read. Save the table as CSV in UTF-8.")


def _csv_lines(text: str, delimiter: str, name: str) -> Iterator[_Line]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    start = 1
    while True:
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            raise refuse(f"{name}:{start}", f"a quotation mark has no partner or stands amid text ({error}).") from None
        if start > MOST_ROWS or len(cells) > MOST_COLUMNS:
            raise refuse(f"{name}:{start}", f"more than {MOST_ROWS} lines or {MOST_COLUMNS} cells in a line are too "
                         "many. Copy the table alone into a new file.")
        yield _Line(start, cells)
        start = reader.line_num + 1


def _sheet_lines(path: Path, decimal: Decimal) -> Iterator[_Line]:
    import openpyxl  # type: ignore[import-untyped]

    raw = _bytes(path)
    try:
        _refuse_monsters(raw, path.name)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # remarks on styles and extensions that we do not read
            book = openpyxl.load_workbook(io.BytesIO(raw))
        sheet = book.worksheets[0]
    except Faults:
        raise
    except Exception:  # a damaged archive makes the libraries below raise errors of a dozen kinds
        raise refuse(path.name, "this is not a spreadsheet that can be read. Save it as .xlsx or CSV.") from None
    if sheet.max_row > MOST_ROWS or sheet.max_column > MOST_COLUMNS:
        raise refuse(
            path.name, f"{sheet.max_row} rows and {sheet.max_column} columns are too many. Copy the table alone into "
            "a new spreadsheet; far-off cells that only have a colour count too."
        )
    merged: dict[int, set[int]] = {}
    for span in sheet.merged_cells.ranges:
        for row in range(span.min_row, span.max_row + 1):
            merged.setdefault(row, set()).update(range(span.min_col - 1, span.max_col))
    for number, cells in enumerate(sheet.iter_rows(), start=1):
        yield _Line(number, [_cell_text(cell, decimal) for cell in cells], frozenset(merged.get(number, ())))


def _refuse_monsters(raw: bytes, name: str) -> None:
    """Refuse a spreadsheet that would fill the memory or hold the machine up before it is unpacked as a whole."""
    from openpyxl.utils.cell import range_boundaries  # type: ignore[import-untyped]

    with zipfile.ZipFile(io.BytesIO(raw)) as archive:
        if sum(member.file_size for member in archive.infolist()) > LARGEST_UNPACKED:
            raise refuse(name, "holds more than a class's table can. Save the table alone, as CSV.")
        merged = 0
        for member in archive.namelist():
            data = archive.read(member)
            if b"<!DOCTYPE" in data or b"<!ENTITY" in data:
                raise refuse(name, "this is not a spreadsheet as programs save it. Save it afresh as .xlsx or CSV.")
            if not member.startswith("xl/worksheets/") or not member.endswith(".xml"):
                continue
            for _, element in ElementTree.iterparse(io.BytesIO(data)):
                if element.tag.endswith("mergeCell"):
                    left, top, right, bottom = range_boundaries(element.get("ref"))
                    merged += (right - left + 1) * (bottom - top + 1)
                element.clear()
        if merged > MOST_MERGED:
            raise refuse(name, f"{merged} cells are merged into others. Unmerge them, or save the table alone.")


def _cell_text(cell: Any, decimal: Decimal) -> str:
    value = cell.value
    if value is None:
        return ""
    if isinstance(value, bool) or not isinstance(value, int | float | datetime.date | datetime.time):
        return str(value)
    if isinstance(value, datetime.time):
        return f"{value:%H:%M}"
    if isinstance(value, datetime.date):
        # The spreadsheet took an answer such as 1/2 or 3-4 for a date; only a person can say what was written.
        return f"date {value:%Y-%m-%d}"
    mark = ""
    if "%" in str(cell.number_format):
        value, mark = float(f"{value * 100:.12g}"), " %"
    text = str(int(value)) if float(value).is_integer() and abs(value) < 1e15 else repr(float(value))
    return (text.replace(".", ",") if decimal == "comma" else text) + mark


def _plain(heading: str) -> str:
    return " ".join(heading.split()).casefold()


def _heading_place(lines: Sequence[_Line], needed: Sequence[str]) -> int | None:
    for place, line in enumerate(lines[:_HEADING_WITHIN]):
        if {_plain(name) for name in needed} <= {_plain(cell) for cell in line.cells}:
            return place
    return None


def _headed(name: str, lines: Sequence[_Line], needed: Sequence[str]) -> Table:
    place = _heading_place(lines, needed)
    if place is None:
        raise refuse(name, f"no heading with the columns {', '.join(needed)} within the first {_HEADING_WITHIN} lines.")
    headings = [_plain(cell) for cell in lines[place].cells]
    twice = {heading for heading in headings if heading and headings.count(heading) > 1}
    if twice:
        raise refuse(f"{name}:{lines[place].number}", f"heading {sorted(twice)[0]!r} stands twice. Keep one.")
    rows = []
    for line in lines[place + 1 :]:
        if not any(cell.strip() for cell in line.cells):
            continue
        cells = {heading: cell.strip() for heading, cell in zip(headings, line.cells, strict=False) if heading}
        beyond = [cell for cell in line.cells[len(headings) :] if cell.strip()]
        if beyond:  # an unquoted comma has pushed the cells along: whose answer stands where is anyone's guess
            cells[OVERFULL] = beyond[0]
        rows.append(Row(name, line.number, cells, frozenset(headings[i] for i in line.merged if i < len(headings))))
    return Table(name, tuple(heading for heading in headings if heading), tuple(rows))


# Stands for cells to the right of the last heading.
OVERFULL: Final = "\0beyond the last heading"
