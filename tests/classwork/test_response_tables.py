"""The blank tables for the answers: marking must be able to read what people fill in."""

import zipfile
from pathlib import Path

import pytest

from waterleaf.classwork import tables
from waterleaf.classwork.tables import MOST_CELLS, write_response_tables
from waterleaf.marking.issuebook import IssuedSheet
from waterleaf.marking.tableout import write_xlsx
from waterleaf.marking.tabular import LARGEST_UNPACKED, read_table

LABELS = [f"{number}{letter}" for number in range(1, 6) for letter in "abcd"]


def entries(count: int) -> list[IssuedSheet]:
    """Sheets of so many students."""
    return [
        IssuedSheet("AAAA-" + f"{2222 + place}".translate({48: "A", 49: "B"}), f"S{place:05d}", ())
        for place in range(count)
    ]


def test_a_full_spreadsheet_of_the_largest_size_is_one_that_marking_reads(tmp_path: Path) -> None:
    """By the room of a thousand rows of long answers, each unlike the others."""
    rows = [
        [entry.code, entry.student, *(f"{line * 20 + place}.12345 g/(m^2 day)" for place in range(len(LABELS)))]
        for line, entry in enumerate(entries(1_000))
    ]
    write_xlsx(tmp_path / "full.xlsx", "Answers", ["sheet", "id", *LABELS], rows)
    with zipfile.ZipFile(tmp_path / "full.xlsx") as archive:
        unpacked = sum(member.file_size for member in archive.infolist())
    assert unpacked / (len(rows) * len(rows[0])) * MOST_CELLS < LARGEST_UNPACKED


def test_a_class_too_large_for_a_spreadsheet_has_its_csv_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The limit counts the heading."""
    monkeypatch.setattr(tables, "MOST_CELLS", 4 * 22)
    assert write_response_tables(tmp_path, LABELS, entries(3)) == ["responses.csv", "responses.xlsx"]
    assert write_response_tables(tmp_path, LABELS, entries(4)) == ["responses-2.csv"]
    assert len(read_table(tmp_path / "responses-2.csv", ("sheet",)).rows) == 4
