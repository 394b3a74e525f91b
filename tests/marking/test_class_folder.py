"""What a class folder keeps: the secret, the book and the decisions, through other versions, losses and two runs."""

import json
import shutil
import subprocess
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from classroom import BANK, KEYS, assigned_class, exercises, issued_to, quiet, small_bank
from papers_room import BANK as PAPERS_BANK
from waterleaf.commands.assign import assign_sheets
from waterleaf.commands.mark import mark_class
from waterleaf.faults import Faults
from waterleaf.marking import issuebook
from waterleaf.marking.classmarks import full_marks
from waterleaf.marking.decisions import read_decisions
from waterleaf.marking.issuebook import (
    NAME,
    SECRET,
    IssueBook,
    class_secret,
    class_to_itself,
    exercises_of,
    read_book,
    write_book,
)
from waterleaf.marking.labels import labelled

FORMATS = Path(__file__).parent / "formats"
ASSIGNMENT = f"id: week-3\ntitle: Feed and solids\nquestions:\n  - family: {KEYS[0]}\n  - family: {KEYS[2]}\n"
PEOPLE = ["A1,Ines Okafor", "A2,Tomas Brandvold", "A3,Wren Adeyemi"]


@pytest.fixture(autouse=True)
def _small_bank(monkeypatch: pytest.MonkeyPatch) -> None:
    small_bank(monkeypatch, BANK, "assign", "mark")


def enrolled(people: list[str]) -> str:
    """A class list."""
    return "\n".join(["id,name", *people, ""])


@pytest.fixture(scope="module")
def given_out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class folder after `assign`; tests copy it before they change it."""
    return assigned_class(tmp_path_factory.mktemp("class"), enrolled(PEOPLE), ASSIGNMENT)


@pytest.fixture
def folder(given_out: Path, tmp_path: Path) -> Path:
    """A copy of the class folder, to be changed at will."""
    return Path(shutil.copytree(given_out, tmp_path / "class"))


def test_a_book_of_the_first_version_still_makes_its_keys(tmp_path: Path) -> None:
    """The file and the keys beside it were written by the first kit that issued sheets."""
    shutil.copy(FORMATS / "issue-book-1.json", tmp_path / NAME)
    issued = read_book(tmp_path).assignments["week-3"]
    keys = {
        sheet.code: {item.label: item.part.key_text for item in labelled(exercises(issued, place))}
        for place, sheet in enumerate(issued.sheets)
    }
    assert keys == json.loads((FORMATS / "issue-book-1-keys.json").read_text(encoding="utf-8"))


def test_a_book_of_the_second_version_still_makes_its_keys(tmp_path: Path) -> None:
    """Sheets with own numbers and parallel papers; written again, all of it stands in the form of today."""
    shutil.copy(FORMATS / "issue-book-2.json", tmp_path / NAME)
    book = read_book(tmp_path)
    keys = {
        sheet.code: {item.label: item.part.key_text for item in labelled(exercises_of(entry, sheet, PAPERS_BANK))}
        for entry in book.assignments.values() for sheet in entry.sheets
    }
    assert keys == json.loads((FORMATS / "issue-book-2-keys.json").read_text(encoding="utf-8"))
    assert book.assignments["week-4"].site == "https://school.example/growing"
    assert book.tasks == {}
    write_book(tmp_path, book)
    assert json.loads((tmp_path / NAME).read_bytes())["version"] == 3
    assert read_book(tmp_path) == book


def test_a_book_of_the_first_version_is_printed_and_carried_on(tmp_path: Path) -> None:
    """Without a secret beside it: printed again, given to a late student, and written in the form of today."""
    shutil.copy(FORMATS / "issue-book-1.json", tmp_path / NAME)
    (tmp_path / "class.csv").write_text(enrolled([*PEOPLE, "A4,Late Comer"]), encoding="utf-8")
    questions = "".join(f"  - family: {key}\n" for key in KEYS)
    (tmp_path / "assignment.yaml").write_text(
        f"id: week-3\ntitle: Feed and solids\nself_check: false\nquestions:\n{questions}", encoding="utf-8"
    )
    before = read_book(tmp_path).assignments["week-3"].sheets
    assign_sheets(tmp_path, "assignment.yaml", "week-3", quiet)
    assert not (tmp_path / SECRET).exists()
    assert f"{SECRET} was gone" in assign_sheets(tmp_path, "assignment.yaml", None, quiet)
    data = json.loads((tmp_path / NAME).read_bytes())
    assert data["version"] == issuebook.VERSION == 3
    assert read_book(tmp_path).assignments["week-3"].sheets[:3] == before


def changed(change: Callable[[dict[str, Any]], object]) -> bytes:
    """The old book with one thing changed."""
    data = json.loads((FORMATS / "issue-book-1.json").read_bytes())
    change(data)
    return json.dumps(data).encode()


QUESTION = {"family": KEYS[0], "version": 1, "marks": {}}
TASK: dict[str, Any] = {
    "beside": "week-3", "name": "weigh_feed", "digest": "0" * 64, "system": "metric",
    "pages": [{"code": "ABCD-EFGH", "student": "A1"}],
}
UNSOUND: dict[str, tuple[Callable[[dict[str, Any]], object], str]] = {
    "newer": (lambda d: d.update(version=4), "was written by a newer kit .version 4"),
    "no version": (lambda d: d.pop("version"), "is no version"),
    "true": (lambda d: d.update(version=True), "is no version"),
    "path for an id": (lambda d: d["assignments"][0].update(id="../../etc"), "not a sound issue book"),
    "path for a code": (lambda d: d["assignments"][0]["sheets"][0].update(code="../x"), "not a sound issue book"),
    "a field unknown": (lambda d: d["assignments"][0].update(more=1), "not a sound issue book"),
    "marks out of reach": (lambda d: d["assignments"][0]["questions"][0].update(marks={"feed": [99, 0, 0]}), "sound"),
    "a draw too few": (lambda d: d["assignments"][0]["sheets"][0]["draws"].pop(), "one draw for each question"),
    "a task beside nothing": (lambda d: d.update(tasks=[TASK | {"beside": "week-9"}]), "beside nothing"),
    "a task twice": (lambda d: d.update(tasks=[TASK, TASK]), "stands twice"),
    "a page twice": (lambda d: d.update(tasks=[TASK | {"pages": TASK["pages"] * 2}]), "stands twice"),
    "a page without its draw": (lambda d: d.update(tasks=[TASK | {"question": QUESTION}]), "lacks its draw"),
    "path for a task": (lambda d: d.update(tasks=[TASK | {"name": "../x"}]), "not a sound issue book"),
    "a code twice": (lambda d: d["assignments"][0]["sheets"][1].update(code="CBMC-JUGG"), "stands twice"),
}


@pytest.mark.parametrize("name", UNSOUND)
def test_a_book_that_could_be_misread_is_refused_and_kept(tmp_path: Path, name: str) -> None:
    """A newer form, or names that lead out of the folder: one line, and the file stays as it is."""
    change, said = UNSOUND[name]
    raw = changed(change)
    (tmp_path / NAME).write_bytes(raw)
    with pytest.raises(Faults, match=said):
        read_book(tmp_path)
    with pytest.raises(Faults, match=said):
        write_book(tmp_path, IssueBook({}))
    assert (tmp_path / NAME).read_bytes() == raw


def test_a_lost_secret_costs_no_sheet(folder: Path) -> None:
    """The old keys come out byte for byte, and the loss is told once."""
    key = (folder / "week-3" / "keys" / "key-book.pdf").read_bytes()
    (folder / SECRET).unlink()
    assign_sheets(folder, "assignment.yaml", "week-3", quiet)
    assert (folder / "week-3" / "keys" / "key-book.pdf").read_bytes() == key
    assert f"{SECRET} was gone, so a new one was made" in assign_sheets(folder, "assignment.yaml", None, quiet)
    assert "was gone" not in assign_sheets(folder, "assignment.yaml", None, quiet)
    assert (folder / "week-3" / "keys" / "key-book.pdf").read_bytes() == key


def test_numbers_that_were_given_out_are_passed_over() -> None:
    """A new secret leads to another row of draws; here, with the worst luck, to the very ones that are taken."""
    whole = issued_to(8)
    first = replace(whole, sheets=whole.sheets[3:])
    later = issued_to(8, IssueBook({first.id: first}))
    assert later.sheets[:5] == first.sheets
    for place in range(len(KEYS)):
        prints = [exercises(later, student)[place].draw.fingerprint for student in range(8)]
        assert len(set(prints)) == 8


def test_the_secret_is_for_its_owner_alone(folder: Path) -> None:
    """So is the book, which holds the draws; a secret that was copied with wider permissions is closed again."""
    (folder / SECRET).chmod(0o644)
    class_secret(folder)
    assert [(folder / name).stat().st_mode & 0o077 for name in (SECRET, NAME)] == [0, 0]


def test_neither_secret_nor_draws_leave_the_folder(folder: Path) -> None:
    """No report, sheet, table or page tells them; only the key book of the instructor names its draws."""
    (folder / "class.csv").write_text(enrolled([*PEOPLE, "A4,Late Comer"]), encoding="utf-8")
    (folder / "assignment.yaml").write_text(f"{ASSIGNMENT}site: https://school.example/growing\n", encoding="utf-8")
    shutil.rmtree(folder / "week-3")
    (folder / NAME).unlink()
    report = assign_sheets(folder, "assignment.yaml", None, quiet)
    report += mark_class(folder, None, True, quiet)[0]
    secret = (folder / SECRET).read_text(encoding="utf-8").strip()
    seed = read_book(folder).assignments["week-3"].sheets[0].draws[0].split(".")[0]
    assert len(seed) == 20
    assert secret not in report and seed not in report
    kept = {folder / SECRET, folder / NAME}
    told = [path for path in folder.rglob("*") if path.is_file() and path not in kept and seed in text_of(path)]
    assert told == [folder / "week-3" / "keys" / "key-book.pdf"]
    assert not [path for path in folder.rglob("*") if path.is_file() and path not in kept and secret in text_of(path)]


def text_of(path: Path) -> str:
    """All text of a file, of a PDF as it is read."""
    if path.suffix == ".pdf":
        ran = subprocess.run(["pdftotext", str(path), "-"], capture_output=True, text=True, check=True)
        return ran.stdout.replace("\n", "")
    return path.read_bytes().decode("latin-1")


def test_two_runs_on_one_class_are_one_too_many(folder: Path) -> None:
    """The second is told so at once, and nothing of the first is touched."""
    before = (folder / NAME).read_bytes()
    with class_to_itself(folder):
        for run in (
            lambda: assign_sheets(folder, "assignment.yaml", None, quiet),
            lambda: assign_sheets(folder, "assignment.yaml", "week-3", quiet),
            lambda: mark_class(folder, None, False, quiet),
        ):
            with pytest.raises(Faults, match="another run is at work on this class just now"):
                run()
    assert (folder / NAME).read_bytes() == before
    mark_class(folder, None, False, quiet)


def test_tables_that_a_killed_run_never_made_are_made_by_the_next(folder: Path) -> None:
    """The book knew the sheets already, so nothing was new; still everybody gets a row, and only once."""
    for name in ("responses.csv", "responses.xlsx"):
        (folder / "week-3" / name).unlink()
    assert "responses.csv" in assign_sheets(folder, "assignment.yaml", None, quiet)
    rows = (folder / "week-3" / "responses.csv").read_text(encoding="utf-8-sig").splitlines()
    assert len(rows) == 1 + len(PEOPLE)
    assert "for the answers" not in assign_sheets(folder, "assignment.yaml", None, quiet)


def test_decisions_of_a_newer_kit_are_refused(folder: Path) -> None:
    """A list that the kit made says its form in a column; typed by hand, the column may be missing."""
    issued = read_book(folder).assignments["week-3"]
    labels, code = full_marks(issued, BANK), issued.sheets[0].code
    path = folder / "week-3" / "decisions.csv"
    for head, cell in (("sheet,part,marks", ""), ("sheet,part,marks,form", ",decisions-1")):
        path.write_text(f"{head}\n{code},1a,1{cell}\n", encoding="utf-8")
        assert read_decisions(path.parent, issued, labels)[code, "1a"].marks == 1
    path.write_text(f"sheet,part,marks,form\n{code},1a,1,decisions-2\n", encoding="utf-8")
    with pytest.raises(Faults, match=r"decisions.csv:2: form: 'decisions-2' is not known here"):
        read_decisions(path.parent, issued, labels)


def test_the_short_list_says_its_form(folder: Path) -> None:
    """Saved as decisions, it can be told from the list of a later kit."""
    path = folder / "week-3" / "responses.csv"
    text = path.read_text(encoding="utf-8-sig").splitlines()
    text[1] = ",".join([*text[1].split(",")[:2], "?", *text[1].split(",")[3:]])
    path.write_text("\n".join(text), encoding="utf-8")
    assert mark_class(folder, None, False, quiet)[1] == 1
    head, row = (folder / "week-3" / "marked" / "to-decide.csv").read_text(encoding="utf-8-sig").splitlines()[:2]
    assert head.endswith(",form")
    assert row.endswith(",decisions-1")
