"""Writes tables as CSV (RFC 4180) and as spreadsheets in which no cell can run as a formula."""

import csv
import datetime
import io
import re
import zipfile
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any, Final

from waterleaf.writing import written_whole

Cell = str | int | float | None

# First characters that make a spreadsheet take a text for a formula, full-width twins included (OWASP, CSV injection).
_RISKY: Final = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
# Characters that XML cannot hold.
_UNWRITABLE: Final = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
# Widths of columns, in characters of the usual type: nothing is cut off, and a remark does not fill the screen.
_NARROWEST, _WIDEST = 7, 40
_EPOCH: Final = datetime.datetime(2000, 1, 1)


def guarded(text: str) -> str:
    """A text that no spreadsheet takes for a formula: it gets an apostrophe in front where it looks like one."""
    return f"'{text}" if text.startswith(_RISKY) else text


def unguarded(text: str) -> str:
    """A text without the apostrophe that `guarded` put in front."""
    return text[1:] if text.startswith("'") and text[1:].startswith(_RISKY) else text


def write_csv(path: Path, headings: Sequence[str], rows: Iterable[Sequence[Cell]]) -> None:
    """A table as CSV in UTF-8 with a byte-order mark, which spreadsheets need to see that it is UTF-8.

    Texts are guarded; numbers stay as they are, minus sign included.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([guarded(heading) for heading in headings])
    for row in rows:
        writer.writerow([guarded(cell) if isinstance(cell, str) else "" if cell is None else cell for cell in row])
    written_whole(path, out.getvalue().encode("utf-8-sig", errors="replace"))


def write_xlsx(path: Path, title: str, headings: Sequence[str], rows: Iterable[Sequence[Cell]]) -> None:
    """A table as a spreadsheet: texts as texts, numbers as numbers, the heading kept in sight."""
    from openpyxl import Workbook  # type: ignore[import-untyped]
    from openpyxl.cell import WriteOnlyCell  # type: ignore[import-untyped]
    from openpyxl.styles import Font  # type: ignore[import-untyped]
    from openpyxl.utils import get_column_letter  # type: ignore[import-untyped]

    book = Workbook(write_only=True)
    sheet = book.create_sheet(re.sub(r"[\[\]:*?/\\]", " ", title)[:31] or "Table")
    sheet.freeze_panes = "A2"
    rows = list(rows)
    for place, heading in enumerate(headings):
        longest = max(len(str(text)) for text in (heading, *(row[place] for row in rows if place < len(row))))
        sheet.column_dimensions[get_column_letter(place + 1)].width = min(max(longest + 2, _NARROWEST), _WIDEST)

    def cell(value: Cell) -> Any:
        made = WriteOnlyCell(sheet)
        if isinstance(value, str):
            made.value = _UNWRITABLE.sub("\ufffd", value)
            made.data_type = "s"  # whatever it starts with
        elif value is not None:
            made.value = value
            return made
        made.number_format = "@"
        return made

    head = [cell(heading) for heading in headings]
    for made in head:
        made.font = Font(bold=True)
    sheet.append(head)
    for row in rows:
        sheet.append([cell(value) for value in row])
    held = io.BytesIO()
    book.save(held)
    written_whole(path, _timeless(held.getvalue()))


def _timeless(raw: bytes) -> bytes:
    """The same spreadsheet without the time at which it was made, so that equal tables are equal files."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(raw)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            data = old.read(name)
            if name == "docProps/core.xml":
                data = re.sub(rb"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", f"{_EPOCH:%Y-%m-%dT%H:%M:%SZ}".encode(), data)
            new.writestr(zipfile.ZipInfo(name, (2000, 1, 1, 0, 0, 0)), data, zipfile.ZIP_DEFLATED)
    return out.getvalue()
