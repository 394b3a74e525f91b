"""From a plan to papers, keys, marks and report, in a class folder."""

import csv
import io
import json
import shutil
from pathlib import Path

import pytest

from classroom import quiet, small_bank
from on_paper import plain, text_of
from papers_room import BANK, ODD_SECTION, PLAN, fish_class
from waterleaf.commands.assign import assign_sheets
from waterleaf.commands.mark import mark_class
from waterleaf.commands.papers import make_papers
from waterleaf.faults import Faults
from waterleaf.marking.issuebook import exercises_of, read_book
from waterleaf.marking.labels import labelled


@pytest.fixture(autouse=True)
def _small_bank(monkeypatch: pytest.MonkeyPatch) -> None:
    small_bank(monkeypatch, BANK, "papers", "mark", "assign")


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class folder after `papers`; tests copy it before they change it."""
    folder = fish_class(tmp_path_factory.mktemp("room") / "class")
    (folder / "test-plan.yaml").write_text(f"{PLAN}formula_sheet: true\ndate: 2026-03-20\n", encoding="utf-8")
    with pytest.MonkeyPatch.context() as patch:
        small_bank(patch, BANK, "papers")
        make_papers(folder, "test-plan.yaml", quiet)
    return folder


@pytest.fixture
def folder(made: Path, tmp_path: Path) -> Path:
    """A copy of the class folder, to be changed at will."""
    return Path(shutil.copytree(made, tmp_path / "class"))


def rows_of(path: Path) -> list[dict[str, str]]:
    """A table as it was written."""
    return list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8-sig"))))


def fill_in(folder: Path) -> None:
    """Everyone hands in the printed keys of their own paper."""
    issued = read_book(folder).assignments["mid-term"]
    path = folder / "mid-term" / "responses.csv"
    rows = list(csv.reader(io.StringIO(path.read_text(encoding="utf-8-sig"))))
    for row in rows[1:]:
        row[2:] = [item.part.key_text for item in labelled(exercises_of(issued, issued.by_code[row[0]], BANK))]
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows(rows)


def test_each_copy_has_a_code_and_a_file_of_its_own(made: Path) -> None:
    """Students who share a paper do not share a code, and no name stands in a file name."""
    issued = read_book(made).assignments["mid-term"]
    separate = {path.stem for path in (made / "mid-term" / "papers" / "separate").iterdir()}
    assert separate == set(issued.by_code)
    assert len(separate) == 6
    assert [paper.name for paper in issued.papers] == ["A", "B"]


def test_the_cover_says_what_a_student_must_know(made: Path) -> None:
    """Name, date, minutes, marks, code, seat, and page x of y."""
    issued = read_book(made).assignments["mid-term"]
    sheet = next(sheet for sheet in issued.sheets if sheet.student == "A1")
    text = text_of(made / "mid-term" / "papers" / "separate" / f"{sheet.code}.pdf")
    for words in ("Ines Okafor", "2026-03-20", "45 minutes", f"paper {sheet.paper}", f"Code {sheet.code}", "Seat A1",
                  "/ 20", "page 1 of "):
        assert words in text


def test_hostile_names_are_printed_as_letters_or_give_way(made: Path) -> None:
    """A formula and a path are texts; what no font has is replaced by the id, alone."""
    text = text_of(made / "mid-term" / "papers" / "packet.pdf")
    assert "=cmd|' /C calc'!A0" in text
    assert "../../Søren" in text
    assert "Name A5" in text
    dealt = rows_of(made / "mid-term" / "keys" / "dealt.csv")
    assert "'=cmd|' /C calc'!A0" in {row["name"] for row in dealt}


def test_neighbours_have_different_papers(made: Path) -> None:
    """Two columns of three rows, two papers, a chessboard."""
    papers = {sheet.student: sheet.paper for sheet in read_book(made).assignments["mid-term"].sheets}
    assert papers["A1"] != papers["A2"]
    assert papers["A1"] != papers["A3"]
    assert papers["A1"] == papers["A4"]


def test_the_instructor_has_a_key_a_paper_and_the_matching_table(made: Path) -> None:
    """Answers of each paper stand on its key and on the page that compares them."""
    keys = made / "mid-term" / "keys"
    assert {path.name for path in keys.iterdir()} == {
        "key-A.pdf", "key-B.pdf", "matching.csv", "matching.pdf", "dealt.csv"
    }
    issued = read_book(made).assignments["mid-term"]
    page = text_of(keys / "matching.pdf")
    for sheet in issued.sheets[:2]:
        first = exercises_of(issued, sheet, BANK)[0].parts[0]
        assert plain(first.answer) in text_of(keys / f"key-{sheet.paper}.pdf")
        assert plain(first.answer) in page
    rows = rows_of(keys / "matching.csv")
    assert [row["topic"] for row in rows] == ["feed", "solids", "money"]
    assert rows[0]["differences"] == "none"


def test_nothing_of_a_key_lies_with_the_papers(made: Path) -> None:
    """The formula sheet has relations and no number of the paper."""
    text = text_of(made / "mid-term" / "papers" / "formula-sheet.pdf")
    assert "Daily feed" in text
    assert "growing area of the beds" in text
    issued = read_book(made).assignments["mid-term"]
    for sheet in issued.sheets:
        assert exercises_of(issued, sheet, BANK)[0].parts[0].key_text not in text


def test_papers_are_marked_like_sheets(folder: Path) -> None:
    """Each copy by the key of its own paper, with the marks of the plan."""
    fill_in(folder)
    report, undecided = mark_class(folder, None, False, quiet)
    assert undecided == 0
    assert "6 of 6 sheets handed in" in report
    rows = rows_of(folder / "mid-term" / "marked" / "marks.csv")
    assert {(row["total"], row["out of"]) for row in rows} == {("20", "20")}
    assert {row["1b"] for row in rows} == {"2"}
    assert {row["paper"] for row in rows} == {"A", "B"}


def test_an_answer_copied_from_the_neighbour_is_wrong(folder: Path) -> None:
    """A student who writes the other paper's answers earns nothing for the first question."""
    fill_in(folder)
    path = folder / "mid-term" / "responses.csv"
    rows = list(csv.reader(io.StringIO(path.read_text(encoding="utf-8"))))
    rows[1][2] = rows[2][2]
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows(rows)
    mark_class(folder, None, False, quiet)
    assert rows_of(folder / "mid-term" / "marked" / "marks.csv")[0]["1a"] == "0"


def test_the_report_compares_the_papers(folder: Path) -> None:
    """A class this small is told that nothing is tested."""
    fill_in(folder)
    mark_class(folder, None, False, quiet)
    page = (folder / "mid-term" / "marked" / "report.html").read_text(encoding="utf-8")
    assert "How the parallel papers compared" in page
    assert "100 %, 3 copies" in page
    assert "no difference is tested" in page


def test_running_again_changes_nothing(folder: Path) -> None:
    """Papers, keys and book byte for byte."""
    names = ["papers/packet.pdf", "keys/key-A.pdf", "keys/matching.pdf", "keys/dealt.csv", "responses.csv"]
    paths = [folder / "issue-book.json", *(folder / "mid-term" / name for name in names)]
    before = [path.read_bytes() for path in paths]
    make_papers(folder, "test-plan.yaml", quiet)
    assert [path.read_bytes() for path in paths] == before


def test_a_late_student_gets_a_copy_of_one_of_the_papers(folder: Path) -> None:
    """The others keep theirs, and the new one comes in a table of their own."""
    before = read_book(folder).assignments["mid-term"].sheets
    with (folder / "class.csv").open("a", encoding="utf-8") as file:
        file.write("A7,Late Comer,,D1,\n")
    make_papers(folder, "test-plan.yaml", quiet)
    after = read_book(folder).assignments["mid-term"].sheets
    assert after[:6] == before
    assert after[6].paper in "AB"
    assert (folder / "mid-term" / "responses-2.csv").exists()


def test_a_changed_plan_is_refused_once_papers_are_out(folder: Path) -> None:
    """Papers in students' hands stay as they are."""
    path = folder / "test-plan.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("result: 1", "result: 3"), encoding="utf-8")
    with pytest.raises(Faults, match="was issued before with other questions, units, paper or marks"):
        make_papers(folder, "test-plan.yaml", quiet)


def test_papers_are_not_printed_again_as_sheets(folder: Path) -> None:
    """The other command says which one to use."""
    with pytest.raises(Faults, match=r"was given out as papers\. Run `waterleaf papers`"):
        assign_sheets(folder, "assignment.yaml", "mid-term", quiet)


def test_the_book_keeps_ids_and_papers_but_no_names(made: Path) -> None:
    """Who sits where and is called what stays in the class file."""
    text = (made / "issue-book.json").read_text(encoding="utf-8")
    assert "Okafor" not in text
    assert [paper["name"] for paper in json.loads(text)["assignments"][0]["papers"]] == ["A", "B"]


def test_a_cover_that_cannot_be_printed_is_refused_before_anything_is_recorded(tmp_path: Path) -> None:
    """Else the book would hold papers that nobody has."""
    folder = fish_class(tmp_path / "class")
    (folder / "test-plan.yaml").write_text(f"{PLAN}instructions: [Be calm, 'No 🐟']\n", encoding="utf-8")
    with pytest.raises(Faults, match=r"test-plan.yaml: instructions.1: 'No .' has a letter that no font here holds"):
        make_papers(folder, "test-plan.yaml", quiet)
    assert not read_book(folder).assignments


def test_a_section_that_no_font_holds_does_not_spoil_the_packet(folder: Path) -> None:
    """It is left off the cover of its students alone."""
    with (folder / "class.csv").open("a", encoding="utf-8") as file:
        file.write(ODD_SECTION)
    assert "7 copies" in make_papers(folder, "test-plan.yaml", quiet)
    assert "Kofi" in text_of(folder / "mid-term" / "papers" / "packet.pdf")
