"""The two commands from end to end: a class folder in, packets and marks out."""

import csv
import io
import json
import re
import shutil
import subprocess
from pathlib import Path

import openpyxl  # type: ignore[import-untyped]
import pikepdf
import pytest

from classroom import BANK, KEYS, assigned_class, quiet, small_bank
from waterleaf.commands.assign import assign_sheets
from waterleaf.commands.mark import mark_class
from waterleaf.faults import Faults
from waterleaf.marking.issuebook import SECRET, exercises_of, read_book
from waterleaf.marking.labels import labelled

CLASS = """id,name,accommodations
A1,Ines Okafor,
A2,"Tomas ""T"" Brandvold",large print
A3,=cmd|' /C calc'!A0,extra space
A4,<script>alert(1)</script>,A3
A5,名前,
A6,../../Wren,
"""
ASSIGNMENT = f"""id: week-3
title: Feed and solids
questions:
  - family: {KEYS[0]}
  - family: {KEYS[1]}
due: 2026-03-09
"""


@pytest.fixture(autouse=True)
def _small_bank(monkeypatch: pytest.MonkeyPatch) -> None:
    small_bank(monkeypatch, BANK, "assign", "mark")


@pytest.fixture(scope="module")
def assigned(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class folder after `assign`; tests copy it before they change it."""
    return assigned_class(tmp_path_factory.mktemp("class with ü"), CLASS, ASSIGNMENT)


@pytest.fixture
def folder(assigned: Path, tmp_path: Path) -> Path:
    """A copy of the class folder, to be changed at will."""
    return Path(shutil.copytree(assigned, tmp_path / "class"))


def text_of(pdf: Path) -> str:
    """Text of a PDF as pdftotext reads it."""
    ran = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, text=True, check=True)
    return ran.stdout


def fill_in(folder: Path) -> None:
    """Everyone hands in the printed keys."""
    issued = read_book(folder).assignments["week-3"]
    path = folder / "week-3" / "responses.csv"
    rows = list(csv.reader(io.StringIO(path.read_text(encoding="utf-8-sig"))))
    for row, sheet in zip(rows[1:], issued.sheets, strict=True):
        row[2:] = [item.part.key_text for item in labelled(exercises_of(issued, sheet, BANK))]
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows(rows)


def marks(folder: Path) -> list[dict[str, str]]:
    """The marks table as it was written."""
    text = (folder / "week-3" / "marked" / "marks.csv").read_text(encoding="utf-8-sig")
    return list(csv.DictReader(io.StringIO(text)))


def test_every_student_has_a_file_named_by_code_alone(assigned: Path) -> None:
    """No name and no id of a student stands in the name of a file."""
    codes = {sheet.code for sheet in read_book(assigned).assignments["week-3"].sheets}
    separate = {path.stem for path in (assigned / "week-3" / "sheets" / "separate").iterdir()}
    assert separate == codes
    assert len(codes) == 6


def test_packets_are_sorted_by_what_students_need(assigned: Path) -> None:
    """Large print, room and A3 come in packets of their own, on their own paper."""
    sheets = assigned / "week-3" / "sheets"
    assert sorted(path.name for path in sheets.glob("*.pdf")) == [
        "packet-a3.pdf", "packet-extra-space.pdf", "packet-large-print.pdf", "packet.pdf"
    ]
    with pikepdf.open(sheets / "packet-a3.pdf") as pdf:
        assert [round(float(side)) for side in pdf.pages[0].mediabox[2:]] == [842, 1191]


def test_each_sheet_of_a_packet_starts_on_the_front_of_a_leaf(assigned: Path) -> None:
    """Printed on both sides, no sheet shares its paper with another student's."""
    pages = text_of(assigned / "week-3" / "sheets" / "packet.pdf").split("\f")
    starts = [place for place, page in enumerate(pages) if "page 1 of " in page]
    assert len(starts) == 3
    assert all(place % 2 == 0 for place in starts)


def test_names_are_printed_or_give_way_to_the_id(assigned: Path) -> None:
    """A formula and markup are letters like others; a name that no font has is replaced."""
    text = text_of(assigned / "week-3" / "sheets" / "packet.pdf")
    assert "Ines Okafor" in text
    assert "../../Wren" in text
    assert "A5" in text


def test_the_key_book_is_ordered_by_code(assigned: Path) -> None:
    """A key is looked up by the code on the sheet."""
    text = text_of(assigned / "week-3" / "keys" / "key-book.pdf")
    found = re.findall(r"^Key to .* – (\S+)$", text, re.MULTILINE)
    assert found == sorted(sheet.code for sheet in read_book(assigned).assignments["week-3"].sheets)


def test_the_answer_grid_is_one_page_with_every_key(assigned: Path) -> None:
    """Sheets down, parts across."""
    path = assigned / "week-3" / "keys" / "answer-grid.pdf"
    with pikepdf.open(path) as pdf:
        assert len(pdf.pages) == 1
    text = text_of(path)
    issued = read_book(assigned).assignments["week-3"]
    for sheet in issued.sheets:
        line = next(line for line in text.splitlines() if sheet.code in line)
        for item in labelled(exercises_of(issued, sheet, BANK)):
            assert item.part.key_text in line


def test_blank_tables_hold_codes_ids_and_parts(assigned: Path) -> None:
    """The spreadsheet keeps its heading in sight and is all text."""
    sheet = openpyxl.load_workbook(assigned / "week-3" / "responses.xlsx").active
    assert [cell.value for cell in sheet[1]] == ["sheet", "id", "1a", "1b", "2a", "2b"]
    assert sheet.freeze_panes == "A2"
    assert {cell.data_type for row in sheet.iter_rows() for cell in row if cell.value} == {"s"}


def test_names_and_secret_stay_out_of_keys_and_book(assigned: Path) -> None:
    """The issue book knows ids alone; the secret stands in its own file and nowhere else."""
    book = (assigned / "issue-book.json").read_text(encoding="utf-8")
    assert "Okafor" not in book
    secret = (assigned / SECRET).read_text(encoding="utf-8").strip()
    others = [path for path in assigned.rglob("*") if path.is_file() and path.name != SECRET]
    assert not [path for path in others if secret.encode() in path.read_bytes()]


def test_assigning_again_changes_nothing_that_was_given_out(folder: Path) -> None:
    """The same packet byte for byte, the same book, and no touch to a table that may be filled in."""
    fill_in(folder)
    kept = ["week-3/sheets/packet.pdf", "issue-book.json", "week-3/responses.csv"]
    before = [(folder / name).read_bytes() for name in kept]
    assign_sheets(folder, "assignment.yaml", None, quiet)
    assert [(folder / name).read_bytes() for name in kept] == before


def test_a_late_student_gets_a_table_of_their_own(folder: Path) -> None:
    """The filled-in table stays, and marking reads both."""
    fill_in(folder)
    with (folder / "class.csv").open("a", encoding="utf-8") as file:
        file.write("A7,Late Comer,\n")
    assign_sheets(folder, "assignment.yaml", None, quiet)
    assert (folder / "week-3" / "responses-2.csv").exists()
    mark_class(folder, None, False, quiet)
    assert [row["state"] for row in marks(folder)] == ["complete"] * 6 + ["not handed in"]


def test_an_earlier_assignment_is_printed_from_the_book_alone(folder: Path) -> None:
    """Without class and assignment file the key book comes out the same."""
    key = folder / "week-3" / "keys" / "key-book.pdf"
    before = key.read_bytes()
    for name in ("class.csv", "assignment.yaml"):
        (folder / name).unlink()
    assign_sheets(folder, "assignment.yaml", "week-3", quiet)
    assert key.read_bytes() == before
    with pytest.raises(Faults, match="'week-9' was not given out"):
        assign_sheets(folder, "assignment.yaml", "week-9", quiet)


def test_marking_writes_all_that_it_says(folder: Path) -> None:
    """Marks, verdicts, feedback and report; nothing waits where everything is right."""
    fill_in(folder)
    report, undecided = mark_class(folder, None, True, quiet)
    assert undecided == 0
    assert "6 of 6 sheets handed in" in report
    made = {path.name for path in (folder / "week-3" / "marked").iterdir()}
    assert made == {
        "marks.csv", "marks.xlsx", "verdicts.csv", "to-decide.csv", "feedback", "report.html", "report.pdf"
    }
    rows = marks(folder)
    assert {row["total"] for row in rows} == {rows[0]["out of"]}
    assert rows[2]["name"] == "'=cmd|' /C calc'!A0"
    book = openpyxl.load_workbook(folder / "week-3" / "marked" / "marks.xlsx").active
    assert (book["B4"].data_type, book["B4"].value) == ("s", "=cmd|' /C calc'!A0")
    assert book["E2"].data_type == "n"


def test_whoever_marks_before_there_are_answers_is_told_where_they_belong(folder: Path) -> None:
    """Answer files that lie elsewhere are not found, and no one would know."""
    report, _ = mark_class(folder, None, False, quiet)
    assert f"fill in {folder / 'week-3' / 'responses.csv'}, or put answer files into {folder / 'answers'}" in report
    fill_in(folder)
    assert "no answer was found" not in mark_class(folder, None, False, quiet)[0]


def test_marking_again_gives_the_same_files(folder: Path) -> None:
    """Every file byte for byte, and every input untouched."""
    fill_in(folder)
    inputs = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    runs = []
    for _ in range(2):
        mark_class(folder, None, True, quiet)
        place = folder / "week-3" / "marked"
        runs.append({path.relative_to(place): path.read_bytes() for path in place.rglob("*") if path.is_file()})
    assert runs[0] == runs[1]
    assert all(path.read_bytes() == before for path, before in inputs.items())


def test_marks_typed_into_the_short_list_are_not_lost(folder: Path) -> None:
    """They would go with the old list; the command stops and says where to put them."""
    fill_in(folder)
    path = folder / "week-3" / "responses.csv"
    text = path.read_text(encoding="utf-8").splitlines()
    cells = text[1].split(",")
    text[1] = ",".join([*cells[:2], "?", *cells[3:]])
    path.write_text("\n".join(text), encoding="utf-8")
    assert mark_class(folder, None, False, quiet)[1] == 1
    short = folder / "week-3" / "marked" / "to-decide.csv"
    short.write_text(short.read_text(encoding="utf-8").replace(",1a,,", ",1a,2,"), encoding="utf-8")
    with pytest.raises(Faults, match=r"to-decide.csv:2: marks were typed here"):
        mark_class(folder, None, False, quiet)
    short.rename(folder / "week-3" / "decisions.csv")
    assert mark_class(folder, None, False, quiet)[1] == 0
    assert marks(folder)[0]["1a"] == "2"


def test_marking_before_assigning_is_refused(tmp_path: Path) -> None:
    """One line says what to do first."""
    with pytest.raises(Faults, match="nothing was given out to this class"):
        mark_class(tmp_path, None, True, quiet)


def test_a_book_on_disk_is_plain_data(assigned: Path) -> None:
    """Format and version stand at its head, and students are known by id."""
    data = json.loads((assigned / "issue-book.json").read_text(encoding="utf-8"))
    assert (data["format"], data["version"]) == ("waterleaf-issue-book", 3)
    assert [sheet["student"] for sheet in data["assignments"][0]["sheets"]] == [f"A{n}" for n in range(1, 7)]
