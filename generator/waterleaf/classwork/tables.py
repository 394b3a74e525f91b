"""The blank tables into which answers are typed."""

from collections.abc import Sequence
from pathlib import Path
from typing import Final

from waterleaf.faults import Faults
from waterleaf.marking.issuebook import IssuedSheet
from waterleaf.marking.responses import plain_code
from waterleaf.marking.tableout import write_csv, write_xlsx
from waterleaf.marking.tabular import read_table

# A spreadsheet with more cells may be larger, once it is filled in, than `read_table` takes.
MOST_CELLS: Final = 250_000


def write_response_tables(place: Path, labels: Sequence[str], entries: Sequence[IssuedSheet]) -> list[str]:
    """A blank table as CSV and as a spreadsheet, which a very large class goes without; returns the names of the files.

    A table that is there is never touched, because someone may have typed into it: sheets that were issued later come
    in tables of their own, and marking reads them all.
    """
    number = 1
    while any((place / f"{_stem(number)}{suffix}").exists() for suffix in (".csv", ".xlsx")):
        number += 1
    headings = ["sheet", "id", *labels]
    rows = [[entry.code, entry.student, *[""] * len(labels)] for entry in entries]
    names = [f"{_stem(number)}.csv"]
    write_csv(place / names[0], headings, rows)
    if (1 + len(rows)) * len(headings) <= MOST_CELLS:
        names.append(f"{_stem(number)}.xlsx")
        write_xlsx(place / names[1], "Answers", headings, rows)
    return names


def without_a_row(
    place: Path, issued: Sequence[IssuedSheet], new: Sequence[IssuedSheet]
) -> Sequence[IssuedSheet]:
    """The sheets that stand in no table of answers yet: the new ones, and those of a run that died before its tables.

    Where a table cannot be read, only the new ones; marking will say what is wrong with it.
    """
    try:
        rows = [
            row for path in sorted(place.glob("responses*")) if path.suffix.lower() in (".csv", ".xlsx")
            for row in read_table(path, ("sheet",)).rows
        ]
    except Faults:
        return new
    listed = {plain_code(row.cells.get("sheet", "")) for row in rows}
    return [entry for entry in issued if entry.code not in listed]


def _stem(number: int) -> str:
    return "responses" if number == 1 else f"responses-{number}"
