"""A class marked from tables of answers: rows, doubts, decisions, and the tables that come out."""

import csv
from pathlib import Path

import openpyxl  # type: ignore[import-untyped]
import pytest

from classroom import issued_to, key_answers, marked_from
from waterleaf.faults import Faults
from waterleaf.marking.classmarks import ClassMarks, marks_table, short_list, verdicts_table
from waterleaf.marking.decisions import filled_in
from waterleaf.marking.tableout import guarded, unguarded, write_csv, write_xlsx

ISSUED = issued_to(4)
LABELS = list(key_answers(ISSUED))


def row(place: int, **own: str) -> list[str]:
    """A row of right answers, but for these; labels are written p1a."""
    sheet = ISSUED.sheets[place]
    answers = key_answers(ISSUED, place) | {label.removeprefix("p"): text for label, text in own.items()}
    return [answers.pop("sheet", sheet.code), answers.pop("id", sheet.student), *answers.values()]


def table(folder: Path, *rows: list[str], name: str = "responses.csv") -> ClassMarks:
    """The class marked from these rows."""
    with (folder / name).open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([["sheet", "id", *LABELS], *rows])
    return marked_from(folder, ISSUED)


def states(marked: ClassMarks) -> list[str]:
    """The state of each student, in order."""
    return [entry.state for entry in marked.students]


def test_full_marks_for_the_keys_and_nothing_for_no_sheet(tmp_path: Path) -> None:
    """A sheet that did not come back, or came back as an empty row, has no total; that is not nought."""
    marked = table(tmp_path, row(0), [ISSUED.sheets[1].code, "S001", *[""] * len(LABELS)])
    assert states(marked) == ["complete", "not handed in", "not handed in", "not handed in"]
    rows = list(marks_table(marked)[1])
    assert rows[0][-4:-1] == [24, 24, 0]
    assert rows[1][4:-3] == [None] * (len(LABELS) + 1)
    assert not marked.doubts


def test_a_code_may_be_typed_carelessly(tmp_path: Path) -> None:
    """Small letters, spaces and other dashes make the same code."""
    code = ISSUED.sheets[0].code
    assert states(table(tmp_path, row(0, psheet=f" {code.lower().replace('-', ' – ')} ")))[0] == "complete"


def test_an_unknown_code_puts_the_students_own_sheet_in_doubt(tmp_path: Path) -> None:
    """The row is listed with file and line, and nobody gets nought for it."""
    marked = table(tmp_path, row(0, psheet="ZZZZ-2222"), row(1, psheet="YYYY-2222", pid="nobody"))
    assert states(marked)[:2] == ["to be decided", "not handed in"]
    assert [(d.sheet, d.file, d.line) for d in marked.doubts] == [
        ("YYYY-2222", "responses.csv", 3), (ISSUED.sheets[0].code, "responses.csv", 2)
    ]


def test_answers_on_another_students_sheet_wait_for_a_person(tmp_path: Path) -> None:
    """Both students are in doubt until the row is accepted as it stands."""
    marked = table(tmp_path, row(1, pid="S000"))
    assert states(marked) == ["to be decided", "to be decided", "not handed in", "not handed in"]
    assert "was given to 'S001'" in marked.doubts[1].reason
    decisions = f"sheet,part,marks,note\n{ISSUED.sheets[1].code},all,accept,swapped\n"
    (tmp_path / "decisions.csv").write_text(decisions, encoding="utf-8")
    assert states(marked_from(tmp_path, ISSUED))[1] == "complete"


def test_the_same_sheet_twice_is_put_together(tmp_path: Path) -> None:
    """Equal answers count once, and the instructor is told."""
    marked = table(tmp_path, row(0), row(0))
    assert states(marked)[0] == "complete"
    assert marked.remarks == (
        f"responses.csv:3: sheet {ISSUED.sheets[0].code} stands at responses.csv:2 too; the two were put together",
    )


def test_the_same_sheet_twice_with_other_answers_waits_for_a_person(tmp_path: Path) -> None:
    """Only the part that differs is in doubt, and what rests on it if that is wrong."""
    marked = table(tmp_path, row(0), row(0, p1a="77 g/day"))
    assert [(d.part, "77 g/day" in d.reason) for d in marked.doubts] == [("1a", True)]
    assert marked.students[0].undecided == 1


def test_a_typed_table_and_a_blank_spreadsheet_go_together(tmp_path: Path) -> None:
    """The instructor fills in one of the two tables; the other one is read past."""
    blank = [[sheet.code, sheet.student, *[""] * len(LABELS)] for sheet in ISSUED.sheets]
    write_xlsx(tmp_path / "responses.xlsx", "Answers", ["sheet", "id", *LABELS], blank)
    assert states(table(tmp_path, row(0), row(1)))[:3] == ["complete", "complete", "not handed in"]


def test_merged_cells_wait_for_a_person(tmp_path: Path) -> None:
    """Whose answer a cell over two rows holds, only a person can say."""
    book = openpyxl.Workbook()
    for line in (["sheet", "id", *LABELS], row(0), row(1)):
        book.active.append(line)
    book.active.merge_cells("C2:C3")
    book.save(tmp_path / "responses.xlsx")
    marked = marked_from(tmp_path, ISSUED)
    assert [(d.part, d.reason.split(":")[0]) for d in marked.doubts] == [("1a", "merged cells")] * 2


def test_numbers_times_and_dates_of_a_spreadsheet_are_read(tmp_path: Path) -> None:
    """A number cell is the number that it shows; a cell that became a date waits for a person."""
    import datetime

    book = openpyxl.Workbook()
    own = row(0)
    cells: list[object] = [*own[:2], float(own[2]), datetime.datetime(2026, 3, 4), *own[4:]]
    book.active.append(["sheet", "id", *LABELS])
    book.active.append(cells)
    book.save(tmp_path / "responses.xlsx")
    marked = marked_from(tmp_path, ISSUED)
    assert marked.students[0].outcomes[0].kind == "right"
    assert [(d.part, d.answer) for d in marked.doubts] == [("1b", "date 2026-03-04")]


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "cp1252"])
def test_answers_are_read_in_any_usual_encoding(tmp_path: Path, encoding: str) -> None:
    """Semicolons, a byte-order mark and a hard space before the heading are read past."""
    own = row(0, p1a=key_answers(ISSUED)["1a"] + " g")
    text = "\r\n".join(";".join(line) for line in (["\u00a0Sheet ", "ID", *LABELS], own))
    (tmp_path / "responses.csv").write_bytes(text.replace("\u202f", "").encode(encoding))
    assert marked_from(tmp_path, ISSUED).students[0].outcomes[0].answer.endswith(" g")


def test_number_cells_are_read_whatever_the_decimal_mark(tmp_path: Path) -> None:
    """A class that writes a comma still has numbers in its spreadsheet."""
    issued = issued_to(1, decimal="comma")
    answers = key_answers(issued)
    book = openpyxl.Workbook()
    book.active.append(["sheet", "id", *answers])
    numbers = {label: float(text) for label, text in answers.items() if text.replace(".", "").isdigit()}
    book.active.append([issued.sheets[0].code, "", *(numbers.get(label, text) for label, text in answers.items())])
    book.save(tmp_path / "responses.xlsx")
    kinds = [outcome.kind for outcome in marked_from(tmp_path, issued).students[0].outcomes]
    assert kinds == ["right"] * len(answers)


def test_thousands_of_rows_are_read(tmp_path: Path) -> None:
    """Five thousand rows of strangers are five thousand lines of the short list, and nobody loses a mark."""
    strangers = [[f"Q{place:03d}-ZZZZ", "", *["1"] * len(LABELS)] for place in range(1000)] * 5
    marked = table(tmp_path, row(0), *strangers)
    assert len(marked.doubts) == 5000
    assert states(marked)[0] == "complete"


def test_cells_beyond_the_heading_put_the_row_in_doubt(tmp_path: Path) -> None:
    """A comma without quotation marks moves answers along, so none of them is trusted."""
    marked = table(tmp_path, [*row(0), "stray"])
    assert states(marked)[0] == "to be decided"
    assert marked.students[0].undecided == len(LABELS)


def test_a_table_without_a_part_is_refused(tmp_path: Path) -> None:
    """A missing column must not become a column of noughts."""
    (tmp_path / "responses.csv").write_text("sheet,id,1a\nX,Y,3\n", encoding="utf-8")
    with pytest.raises(Faults, match="no heading with the columns sheet, 1a, 1b"):
        marked_from(tmp_path, ISSUED)


def test_decisions_overrule_and_stay(tmp_path: Path) -> None:
    """A decision replaces the marks each time, whatever the verdict, and the file is not touched."""
    table(tmp_path, row(0, p1a="12 or 13", p1b="5"))
    path = tmp_path / "decisions.csv"
    code = ISSUED.sheets[0].code
    path.write_text(f"sheet;part;marks;note\n{code};1a;1,5;crossed out\n{code};1b;2;\n", encoding="utf-8")
    before = path.read_bytes()
    for _ in range(2):
        marked = marked_from(tmp_path, ISSUED)
        first, second = marked.students[0].outcomes[:2]
        assert (first.marks, first.words) == (1.5, "decided: crossed out")
        assert (second.marks, second.words) == (2, "decided")
        assert not marked.doubts
    assert path.read_bytes() == before


@pytest.mark.parametrize(
    ("line", "message"),
    [("ZZZZ-2222,1a,1,", "no sheet of this assignment"), ("{code},9z,1,", "'9z' is not a part"),
     ("{code},1a,99,", "is not a number from 0 to 3"), ("{code},1a,nan,", "is not a number from 0 to 3"),
     ("{code},all,3,", "write 'accept'"), ("{code},1a,1,\n{code},1a,2,", "is decided twice")],
)
def test_a_decision_that_cannot_be_meant_is_refused(tmp_path: Path, line: str, message: str) -> None:
    """File and line are named; nothing is marked with half of the decisions."""
    table(tmp_path, row(0))
    text = "sheet,part,marks,note\n" + line.replace("{code}", ISSUED.sheets[0].code) + "\n"
    (tmp_path / "decisions.csv").write_text(text, encoding="utf-8")
    with pytest.raises(Faults, match=message):
        marked_from(tmp_path, ISSUED)


def test_marks_typed_into_the_short_list_are_noticed(tmp_path: Path) -> None:
    """The list is made afresh at each run, so typed marks must be saved elsewhere first."""
    marked = table(tmp_path, row(0, p1a="?"))
    path = tmp_path / "to-decide.csv"
    write_csv(path, *short_list(marked))
    assert filled_in(path) == []
    path.write_text(path.read_text(encoding="utf-8").replace(",1a,,", ",1a,2,"), encoding="utf-8")
    assert filled_in(path) == ["to-decide.csv:2"]


def test_marking_again_gives_the_same_bytes_and_leaves_its_inputs(tmp_path: Path) -> None:
    """Tables, the spreadsheet included, do not depend on when or how often they are made."""
    marked = table(tmp_path, row(0), row(1, p1a="?"))
    source = (tmp_path / "responses.csv").read_bytes()
    made = []
    for name in ("one", "two"):
        headings, rows = marks_table(marked_from(tmp_path, ISSUED))
        write_xlsx(tmp_path / f"{name}.xls", "Marks", headings, rows)
        write_csv(tmp_path / f"{name}.csv", *verdicts_table(marked))
        made.append(((tmp_path / f"{name}.xls").read_bytes(), (tmp_path / f"{name}.csv").read_bytes()))
    assert made[0] == made[1]
    assert (tmp_path / "responses.csv").read_bytes() == source


@pytest.mark.parametrize("text", ["=1+1", "+SUM(A1)", "@cmd", "-2*3", "\t=1", "＝1"])
def test_no_cell_can_run_as_a_formula(tmp_path: Path, text: str) -> None:
    """Texts get an apostrophe in CSV and the type of a text in a spreadsheet; numbers keep their minus sign."""
    assert unguarded(guarded(text)) == text
    write_csv(tmp_path / "t.csv", ["x"], [[text, -0.32]])
    line = (tmp_path / "t.csv").read_text(encoding="utf-8-sig").splitlines()[1]
    assert line.strip('"').startswith("'")
    assert line.endswith("-0.32")
    write_xlsx(tmp_path / "t.xlsx", "T", ["x"], [[text, -0.32]])
    cells = next(openpyxl.load_workbook(tmp_path / "t.xlsx").active.iter_rows(min_row=2))
    assert [(cell.data_type, cell.value) for cell in cells] == [("s", text), ("n", -0.32)]


def test_ordinary_texts_are_not_changed() -> None:
    """Names with apostrophes and plain words stay as they are."""
    assert [guarded(text) for text in ("Tomato", "O'Neil", "'quoted'")] == ["Tomato", "O'Neil", "'quoted'"]
    assert unguarded("'quoted'") == "'quoted'"
