"""Class files and assignment files: what is accepted, and what is said about the rest."""

import tempfile
from pathlib import Path

import openpyxl  # type: ignore[import-untyped]
import pytest
from hypothesis import given
from hypothesis import strategies as st

from classroom import BANK
from waterleaf.faults import Faults
from waterleaf.marking.assignment import read_assignment
from waterleaf.marking.classfile import read_class
from waterleaf.marking.tabular import read_table

HOSTILE = ["=cmd|' /C calc'!A0", "<script>alert(1)</script>", "O\"Neil", "../../etc/passwd", "مريم", "🐟", "#panic()"]


def class_csv(folder: Path, text: str, encoding: str = "utf-8") -> Path:
    """A folder with this class.csv."""
    (folder / "class.csv").write_bytes(text.encode(encoding))
    return folder


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_a_class_is_read_in_any_usual_encoding(tmp_path: Path, encoding: str, delimiter: str) -> None:
    """Encodings and separators of common spreadsheets give the same class."""
    rows = [["id", "name", "section", "accommodations"], ["01", "Søren Übel", "b", "A3 / large print"]]
    text = "\r\n".join(delimiter.join(row) for row in rows)
    found = read_class(class_csv(tmp_path, text, encoding)).students[0]
    assert (found.id, found.name, found.section) == ("01", "Søren Übel", "b")
    assert found.accommodations == ("large print", "a3")


def test_a_class_may_be_a_spreadsheet_with_a_title_above(tmp_path: Path) -> None:
    """Lines above the heading are read past, numbers become texts, and a formula stays the text that it is."""
    book = openpyxl.Workbook()
    for row in (["Spring class"], [], ["ID", "Name"], [417, "Ines"], ["x", "=1+1"]):
        book.active.append(row)
    book.active.merge_cells("A1:B1")
    book.save(tmp_path / "class.xlsx")
    assert [(s.id, s.name) for s in read_class(tmp_path).students] == [("417", "Ines"), ("x", "=1+1")]


def test_a_yaml_class_keeps_zeros_in_front(tmp_path: Path) -> None:
    """An id without quotation marks would lose them, so it is refused with its line."""
    path = tmp_path / "class.yaml"
    path.write_text('students:\n  - {id: "007", name: Wren}\n', encoding="utf-8")
    assert read_class(tmp_path).students[0].id == "007"
    path.write_text("students:\n  - {id: 007, name: Wren}\n", encoding="utf-8")
    with pytest.raises(Faults, match=r"class.yaml:2: students.0.id: put it in quotation marks"):
        read_class(tmp_path)


def test_every_fault_of_a_class_is_told_at_once(tmp_path: Path) -> None:
    """Duplicate ids, missing ids and unknown accommodations each get their line."""
    with pytest.raises(Faults) as caught:
        read_class(class_csv(tmp_path, "id,name,accommodations\n1,A,\n1,B,\n,C,\n2,D,braille\n"))
    text = str(caught.value)
    assert "class.csv:3: id: '1' stands at class.csv:2 too" in text
    assert "class.csv:4: id: is missing" in text
    assert "class.csv:5: accommodations: 'braille' is not known" in text


def test_names_are_kept_letter_for_letter(tmp_path: Path) -> None:
    """Whatever looks like a formula, markup or a path is only a name."""
    lines = "".join(f'{place},"{name.replace(chr(34), chr(34) * 2)}"\n' for place, name in enumerate(HOSTILE))
    assert [student.name for student in read_class(class_csv(tmp_path, "id,name\n" + lines)).students] == HOSTILE


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("name\nx\n", "no heading with the columns id, name"),
        ('id,name\n1,"A\n', "a quotation mark has no partner"),
        ("id,name,id\n1,A,2\n", "heading 'id' stands twice"),
        ("id,name\n", "the class has no students"),
    ],
)
def test_a_table_that_cannot_be_trusted_is_refused(tmp_path: Path, text: str, message: str) -> None:
    """Nothing is guessed where the heading or the quotation marks are broken."""
    with pytest.raises(Faults, match=message):
        read_class(class_csv(tmp_path, text))


def test_two_class_files_are_one_too_many(tmp_path: Path) -> None:
    """Which of them holds is not for the kit to choose."""
    (tmp_path / "class.yaml").touch()
    with pytest.raises(Faults, match=r"class.yaml and class.csv both stand here"):
        read_class(class_csv(tmp_path, "id,name\n1,A\n"))


def test_a_broken_spreadsheet_is_refused(tmp_path: Path) -> None:
    """A file that only has the name of a spreadsheet ends in one line, not in a traceback."""
    (tmp_path / "class.xlsx").write_bytes(b"PK\x03\x04 nothing")
    with pytest.raises(Faults, match=r"class.xlsx: this is not a spreadsheet"):
        read_class(tmp_path)


@given(st.binary(max_size=300))
def test_any_bytes_end_in_a_table_or_in_a_fault(raw: bytes) -> None:
    """Whatever lies in the file, the reader neither crashes nor hangs."""
    with tempfile.TemporaryDirectory() as folder:
        for name in ("x.csv", "x.xlsx"):
            path = Path(folder) / name
            path.write_bytes(raw if name == "x.xlsx" else b"id,name\n" + raw)
            try:
                assert read_table(path, ("id", "name")).headings == ("id", "name")
            except Faults as faults:
                assert name in str(faults)


def test_a_spreadsheet_that_reaches_too_far_is_refused(tmp_path: Path) -> None:
    """A single stray cell in the last column would make a million of them."""
    book = openpyxl.Workbook()
    book.active.append(["id", "name"])
    book.active.cell(1, 2000, "stray")
    book.save(tmp_path / "class.xlsx")
    with pytest.raises(Faults, match="1 rows and 2000 columns are too many"):
        read_class(tmp_path)


def write_assignment(folder: Path, questions: str) -> Path:
    """An assignment file with these questions."""
    path = folder / "assignment.yaml"
    path.write_text(f"id: week-3\ntitle: Feed\nquestions:\n{questions}", encoding="utf-8")
    return path


def test_families_of_a_topic_are_chosen_by_the_seed(tmp_path: Path) -> None:
    """The same file gives the same families, none of them twice."""
    path = write_assignment(tmp_path, "  - family: feed/daily_feed\n  - {topic: solids, count: 2}\n")
    _, first = read_assignment(path, BANK)
    _, second = read_assignment(path, BANK)
    keys = [question.family.key for question in first]
    assert keys == [question.family.key for question in second]
    assert keys == ["feed/daily_feed", "solids/flush_times", "solids/which_settler"]


@pytest.mark.parametrize(
    ("questions", "message"),
    [
        ("  - family: feed/nothing\n", "assignment.yaml:4: family: 'feed/nothing' is not in the bank"),
        ("  - {topic: solids, count: 3}\n", "'solids' has 2 families left, not 3"),
        ("  - {family: feed/daily_feed, topic: feed}\n", "give either family or topic"),
        ("  - {family: feed/daily_feed, marks: {nope: {method: 1}}}\n", "has no part 'nope'"),
        ("  - {family: feed/daily_feed}\ndue: 9 March\n", "'9 March' is not a date"),
        ("  - {family: feed/daily_feed}\nteacher: x\n", "Fields here are id, title, questions"),
    ],
)
def test_an_assignment_says_what_is_wrong(tmp_path: Path, questions: str, message: str) -> None:
    """Each fault names its field and what would be accepted."""
    with pytest.raises(Faults) as caught:
        read_assignment(write_assignment(tmp_path, questions), BANK)
    assert message in str(caught.value)
