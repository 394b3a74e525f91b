"""The self-check of issued sheets: QR codes, links, own numbers, and what is given out when the work is closed."""

import csv
import io
import json
import subprocess
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest
import segno

from classroom import BANK, quiet, small_bank
from waterleaf.commands.assign import assign_sheets, open_answers
from waterleaf.commands.mark import mark_class
from waterleaf.faults import Faults
from waterleaf.marking.assignment import read_assignment
from waterleaf.marking.issuebook import exercises_of, read_book
from waterleaf.marking.labels import labelled
from waterleaf.sheets import paper
from waterleaf.sheets.paper import Sheet, Style
from waterleaf.sheets.press import Press
from waterleaf.sheets.qr import MODULE, QUIET, qr_code

SITE = "https://growing.ostrel-quay.example/course"
ASSIGNMENT = """id: week-3
title: Feed and solids
questions:
  - family: feed/daily_feed
  - family: solids/which_settler
"""
GROWING = Path(__file__).parents[2] / "course" / "demo" / "growing.yaml"


@pytest.fixture(autouse=True)
def _small_bank(monkeypatch: pytest.MonkeyPatch) -> None:
    small_bank(monkeypatch, BANK, "assign")


@pytest.fixture
def assign(tmp_path: Path) -> Callable[..., str]:
    """Gives out the assignment with further lines to a class of two; returns what the command says."""
    (tmp_path / "class.csv").write_text("id,name\nA1,Ines Okafor\nA2,Wren Halloran\n", encoding="utf-8")

    def run(lines: str = "", again: str | None = None, growing: Path | None = None) -> str:
        (tmp_path / "assignment.yaml").write_text(ASSIGNMENT + lines, encoding="utf-8")
        return assign_sheets(tmp_path, "assignment.yaml", again, quiet, growing)

    return run


@pytest.fixture
def unprinted(monkeypatch: pytest.MonkeyPatch) -> None:
    """Leaves the printing out, where only the book, the links and the report are looked at."""
    monkeypatch.setattr("waterleaf.commands.assign.print_keys", lambda *_: [])
    monkeypatch.setattr("waterleaf.commands.assign.print_packets", lambda *_: [])


def links(folder: Path) -> list[str]:
    """The links in the table."""
    text = (folder / "week-3" / "self-check.csv").read_text(encoding="utf-8-sig")
    return [row["link"] for row in csv.DictReader(io.StringIO(text))]


def text_of(pdf: Path) -> str:
    """Text of a PDF as pdftotext reads it."""
    ran = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, text=True, check=True)
    return ran.stdout


def test_every_sheet_has_a_code_that_opens_its_own_link(tmp_path: Path, assign: Callable[..., str]) -> None:
    """The table has a link for each student, and the packet says where the codes lead."""
    said = assign(f"site: {SITE}/\n")
    assert f"a QR code on every sheet opens {SITE}/self-check.html; all links are in self-check.csv" in said
    found = links(tmp_path)
    assert len(set(found)) == 2
    assert all(link.startswith(f"{SITE}/self-check.html#") for link in found)
    text = text_of(tmp_path / "week-3" / "sheets" / "packet.pdf")
    assert text.count(f"The code opens {SITE}/self-check.html") == 2
    assert "Nothing that you type leaves the phone" in " ".join(text.split())


@pytest.mark.usefixtures("unprinted")
def test_no_address_means_no_code_and_a_word_on_it(tmp_path: Path, assign: Callable[..., str]) -> None:
    """There is no table of links; the report says what to write where."""
    said = assign()
    assert "self-check       none: write the address of your site into course/settings.yaml" in said
    assert not (tmp_path / "week-3" / "self-check.csv").exists()


@pytest.mark.usefixtures("unprinted")
def test_an_instructor_can_turn_it_off(tmp_path: Path, assign: Callable[..., str]) -> None:
    """Turned off later, the links go with the codes; turned on again, they are the same as before."""
    assign(f"site: {SITE}\n")
    before = links(tmp_path)
    said = assign(f"site: {SITE}\nself_check: no\n")
    assert "self-check       none, as the assignment says" in said
    assert not (tmp_path / "week-3" / "self-check.csv").exists()
    assert read_book(tmp_path).assignments["week-3"].site == ""
    assign(f"site: {SITE}\n")
    assert links(tmp_path) == before


def test_an_address_on_this_computer_is_not_printed(tmp_path: Path, assign: Callable[..., str]) -> None:
    """A phone cannot open a folder of the school's computer, but its own browser can."""
    said = assign("site: file:///S:/course\n")
    assert "no QR code, but a link that opens file:///S:/course/self-check.html" in said
    assert "Check your own answers" not in text_of(tmp_path / "week-3" / "sheets" / "packet.pdf")
    assert links(tmp_path)[0].startswith("file:///S:/course/self-check.html#")


def test_an_address_that_is_none_is_refused(tmp_path: Path) -> None:
    """With the line of the file and what is accepted."""
    path = tmp_path / "assignment.yaml"
    path.write_text(f"{ASSIGNMENT}site: my homepage\n", encoding="utf-8")
    with pytest.raises(Faults, match=r"assignment.yaml:6: site: 'my homepage' is not the address of a site"):
        read_assignment(path, BANK)


@pytest.mark.usefixtures("unprinted")
def test_printing_again_gives_the_same_links(tmp_path: Path, assign: Callable[..., str]) -> None:
    """From the issue book alone, also after the address in the assignment has changed."""
    assign(f"site: {SITE}\n")
    table = tmp_path / "week-3" / "self-check.csv"
    before = table.read_bytes()
    table.unlink()
    assign("site: https://elsewhere.example\n", again="week-3")
    assert table.read_bytes() == before


@pytest.mark.usefixtures("unprinted")
def test_a_moved_site_needs_no_new_assignment(tmp_path: Path, assign: Callable[..., str]) -> None:
    """The address may change for sheets that were given out; their questions do not."""
    assign(f"site: {SITE}\n")
    before = read_book(tmp_path).assignments["week-3"].sheets
    assign("site: https://elsewhere.example\n")
    book = read_book(tmp_path).assignments["week-3"]
    assert (book.sheets, book.site) == (before, "https://elsewhere.example")


def test_the_drawn_code_is_the_link() -> None:
    """Module by module the drawing is the QR code of the link, with its quiet border, half a millimetre a module."""
    link = f"{SITE}/self-check.html#{'4711' * 220}"
    drawn = qr_code(link)
    code = segno.make([link.partition("#")[0] + "#", link.partition("#")[2]], error="m", micro=False)
    again = io.BytesIO()
    code.save(again, kind="svg", border=QUIET, xmldecl=False, nl=False, dark="#000", light="#fff")
    assert drawn["svg"].encode() == again.getvalue()
    assert drawn["width"] == f"{code.symbol_size(border=QUIET)[0] * MODULE:.1f}mm"
    assert drawn["version"] == code.designator


@pytest.mark.usefixtures("unprinted")
def test_a_sheet_of_ordinary_length_needs_a_code_that_phones_read(tmp_path: Path, assign: Callable[..., str]) -> None:
    """Two questions with seven parts stay within version 15, a square of about 43 mm."""
    assign(f"site: {SITE}\n")
    for link in links(tmp_path):
        assert int(str(qr_code(link)["version"]).split("-")[0]) <= 15


def test_the_code_has_alternative_text_and_the_sheet_stays_tagged() -> None:
    """The image carries words for those who cannot see it, and the same data gives the same bytes."""
    data = paper.worksheets([Sheet((), "", (f"{SITE}/self-check.html#123", f"{SITE}/self-check.html#456"))], Style())
    pdf = Press("worksheet").pdf(data)
    assert Press("worksheet").pdf(data) == pdf
    with pikepdf.open(io.BytesIO(pdf)) as document:
        assert bool(document.Root.MarkInfo.Marked)
        things = [thing for thing in document.objects if isinstance(thing, pikepdf.Dictionary)]
        alts = [str(thing["/Alt"]) for thing in things if "/Alt" in thing]
    assert sorted(alt[-11:] for alt in alts) == ["part 1 of 2", "part 2 of 2"]


def test_own_numbers_stand_in_the_book_and_make_the_key_again(tmp_path: Path, assign: Callable[..., str]) -> None:
    """Sheets with the numbers of the class's own system are printed again without the growing file."""
    said = assign(growing=GROWING)
    assert "feed/daily_feed: own " in said
    issued = read_book(tmp_path).assignments["week-3"]
    own = issued.questions[0].own
    assert own
    for sheet in issued.sheets:
        exercise = exercises_of(issued, sheet, BANK)[0]
        assert {name: exercise.draw.values[name] for name in own} == own
        assert "+own" in exercise.draw.seed
        assert Sheet(exercises_of(issued, sheet, BANK)).code == sheet.code
    key = tmp_path / "week-3" / "keys" / "key-book.pdf"
    before = key.read_bytes()
    assign(again="week-3")
    assert key.read_bytes() == before


@pytest.mark.usefixtures("unprinted")
def test_sheets_with_own_numbers_stay_when_the_class_grows(tmp_path: Path, assign: Callable[..., str]) -> None:
    """A student who joins gets the same own numbers, with or without the growing file at hand."""
    assign(growing=GROWING)
    before = read_book(tmp_path).assignments["week-3"]
    for count, growing in ((3, None), (4, GROWING)):
        rows = "".join(f"A{place},Student {place}\n" for place in range(1, count + 1))
        (tmp_path / "class.csv").write_text(f"id,name\n{rows}", encoding="utf-8")
        said = assign(growing=growing)
        assert ("the numbers of the growing file are left aside" in said) == (growing is not None)
        after = read_book(tmp_path).assignments["week-3"]
        assert (after.questions, after.sheets[:2], len(after.sheets)) == (before.questions, before.sheets, count)


@pytest.mark.usefixtures("unprinted")
def test_a_book_without_these_fields_is_still_read(tmp_path: Path, assign: Callable[..., str]) -> None:
    """Books of earlier years know nothing of own numbers and addresses."""
    assign()
    path = tmp_path / "issue-book.json"
    data = json.loads(path.read_text(encoding="utf-8"))
    del data["assignments"][0]["site"]
    for question in data["assignments"][0]["questions"]:
        del question["own"]
    path.write_text(json.dumps(data), encoding="utf-8")
    assert read_book(tmp_path).assignments["week-3"].site == ""
    assign()


@pytest.mark.usefixtures("unprinted")
def test_answer_files_are_marked_again_alike(
    tmp_path: Path, assign: Callable[..., str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """From end to end without a table: the same marks at each run, a bad file on the short list, no input changed."""
    small_bank(monkeypatch, BANK, "mark")
    assign(f"site: {SITE}\n")
    issued = read_book(tmp_path).assignments["week-3"]
    for path in (tmp_path / "week-3").glob("responses*"):
        path.unlink()
    (tmp_path / "answers").mkdir()
    for sheet in issued.sheets:
        keys = {item.label: item.part.key_text for item in labelled(exercises_of(issued, sheet, BANK))}
        data = {
            "format": "waterleaf-answers", "version": 1, "sheet": sheet.code, "name": "",
            "saved": "2026-03-09T08:15:00Z", "answers": keys,
        }
        (tmp_path / "answers" / f"{sheet.code}.json").write_text(json.dumps(data), encoding="utf-8")
    (tmp_path / "answers" / "odd.json").write_bytes(b"{")
    inputs = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    runs = []
    for _ in range(2):
        report, undecided = mark_class(tmp_path, None, False, quiet)
        assert "2 of 2 sheets handed in and marked" in report
        assert undecided == 1
        place = tmp_path / "week-3" / "marked"
        runs.append({path.name: path.read_bytes() for path in place.glob("*.*")})
    assert runs[0] == runs[1]
    assert b"answers/odd.json" in runs[0]["to-decide.csv"]
    assert all(path.read_bytes() == before for path, before in inputs.items())


@pytest.mark.usefixtures("unprinted")
def test_worked_answers_come_out_when_the_instructor_says_so(tmp_path: Path, assign: Callable[..., str]) -> None:
    """A page for each sheet with every answer of that sheet and no name; none exists before."""
    assign(f"site: {SITE}\n")
    place = tmp_path / "week-3" / "worked"
    assert not place.exists()
    said = open_answers(tmp_path, "week-3")
    assert "They hold the keys." in said
    issued = read_book(tmp_path).assignments["week-3"]
    assert {path.stem for path in place.iterdir()} == {"index", *issued.by_code}
    for sheet in issued.sheets:
        page = (place / f"{sheet.code}.html").read_text(encoding="utf-8")
        assert "Okafor" not in page
        assert "<script" not in page
        for item in labelled(exercises_of(issued, sheet, BANK)):
            assert f"<strong>{item.part.answer}</strong>".replace("'", "&#x27;") in page
    with pytest.raises(Faults, match="--worked: 'week-9' was not given out"):
        open_answers(tmp_path, "week-9")
