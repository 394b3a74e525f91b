"""A date is read where only one day can be meant, and asked about where two can."""

import datetime
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from trial_plans import null_truth, plan

from waterleaf.trial.datatable import headings, write_tables
from waterleaf.trial.dates import Unclear, read_date
from waterleaf.trial.intake import take_in
from waterleaf.trial.layout import lay_out
from waterleaf.trial.rehearse import invent_readings

DAY = datetime.date(2026, 3, 9)


@pytest.mark.parametrize(
    "text",
    ["2026-03-09", "2026-3-9", "date 2026-03-09", "2026-03-09 14:05", "9.3.2026", "09.03.26", "9. 3. 2026"],
)
def test_one_day_written_in_many_ways(text: str) -> None:
    """Year first, a spreadsheet's own date, day first with dots."""
    assert read_date(text) == DAY


@pytest.mark.parametrize(
    ("text", "day"), [("23/11/2026", 23), ("11/23/2026", 23), ("23-11-26", 23), ("11/11/2026", 11)]
)
def test_slashes_are_read_where_one_number_cannot_be_a_month(text: str, day: int) -> None:
    """The 23rd of November either way round, and the 11th."""
    assert read_date(text) == datetime.date(2026, 11, day)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("09/03/2026", "can be 2026-03-09 or 2026-09-03"), ("3-9-26", "can be 2026-03-09 or 2026-09-03"),
        ("31.2.2026", "no day of the calendar"), ("2026-13-01", "no day of the calendar"),
        ("23/23/2026", "no day of the calendar"), ("Tuesday", "is not a date"), ("2026", "is not a date"),
        ("46090", "is not a date"),
    ],
)  # fmt: skip
def test_what_cannot_be_one_day_is_asked_about(text: str, message: str) -> None:
    """Both meanings are named; nothing is guessed."""
    with pytest.raises(Unclear, match=message):
        read_date(text)


def test_date_cells_and_typed_dates_are_taken_alike(tmp_path: Path) -> None:
    """In a spreadsheet: a date cell, a text with dots, a text year first; the first and last day are known."""
    made = plan()
    units = lay_out(made)
    path = write_tables(made, units, tmp_path, "d", invent_readings(made, units, null_truth(made, 5.0), 1))[1]
    book = openpyxl.load_workbook(path)
    sheet: Any = book.active
    column = headings(made).index("date") + 1
    for row, value in ((2, datetime.datetime(2026, 3, 11)), (3, "9.3.2026"), (4, "2026-03-10"), (5, "03/04/2026")):
        sheet.cell(row, column).value = value
    book.save(path)
    before = path.read_bytes()
    found = take_in(made, units, path)
    assert path.read_bytes() == before
    assert found.days == (DAY, datetime.date(2026, 3, 11))
    assert [finding.where for finding in found.findings] == ["d.xlsx:5"]
    assert len(found.readings) == 60


def test_a_value_that_became_a_date_is_held_back(tmp_path: Path) -> None:
    """A spreadsheet took 5.3 for the third of May: the row waits for a person."""
    made = plan()
    units = lay_out(made)
    path = write_tables(made, units, tmp_path, "d", invent_readings(made, units, null_truth(made, 5.0), 1))[1]
    book = openpyxl.load_workbook(path)
    sheet: Any = book.active
    sheet.cell(2, headings(made).index("value") + 1).value = datetime.datetime(2026, 5, 3)
    book.save(path)
    found = take_in(made, units, path)
    assert found.count("held") == 1 and len(found.readings) == 59
    assert "value became the date 2026-05-03 in the spreadsheet. Type it again" in found.findings[0].message
