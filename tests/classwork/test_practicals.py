"""Practical tasks on paper, and the tables laid down for their marks."""

import csv
import io
import re
import shutil
from pathlib import Path

import pikepdf
import pytest

from classroom import quiet, small_bank
from on_paper import lines_of, plain, text_of
from papers_room import BANK, HOME, SECRET, fish_class
from waterleaf import home
from waterleaf.classwork.practicals import Laid, lay_out, print_task
from waterleaf.classwork.taskissue import Task, give_out
from waterleaf.commands.mark import mark_class
from waterleaf.commands.papers import make_papers
from waterleaf.commands.practicals import Wish, list_tasks, make_practicals
from waterleaf.faults import Faults
from waterleaf.growing.system import System as GrowingSystem
from waterleaf.growing.system import read_growing
from waterleaf.marking.practical import Practical, read_practical
from waterleaf.marking.tableout import write_csv
from waterleaf.sheets.paper import Style
from waterleaf.sheets.practical import DayLine, Page, task_pages
from waterleaf.sheets.press import Press

TASKS = HOME / "course" / "practicals"
WISH = Wish("weigh_feed", None, 1, None, None, None, None)
BOTH = {"A1": "Ines Okafor", "A2": "Tomas"}


def laid_for(
    both: dict[str, str], task: Practical, name: str = "weigh_feed", growing: GrowingSystem | None = None
) -> Laid:
    """A task given out to some students for the first time."""
    asked = Task(name, b"", task)
    return lay_out(asked, give_out(asked, "mid-term", list(both), None, BANK, SECRET, "metric", growing), both, BANK)


@pytest.fixture(autouse=True)
def _small_bank(monkeypatch: pytest.MonkeyPatch) -> None:
    small_bank(monkeypatch, BANK, "papers", "practicals", "mark")


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class folder with papers and one task beside them."""
    folder = fish_class(tmp_path_factory.mktemp("room") / "class")
    with pytest.MonkeyPatch.context() as patch:
        small_bank(patch, BANK, "papers", "practicals")
        make_papers(folder, "test-plan.yaml", quiet)
        make_practicals(folder, WISH, quiet)
    return folder


@pytest.fixture
def folder(made: Path, tmp_path: Path) -> Path:
    """A copy of the class folder, to be changed at will."""
    return Path(shutil.copytree(made, tmp_path / "class"))


@pytest.fixture(scope="module")
def press() -> Press:
    """One press for all tasks: it is slow to start."""
    return Press("practical")


def results(folder: Path) -> list[list[str]]:
    """The results table, heading first."""
    path = folder / "mid-term" / "tasks" / "weigh_feed" / "results.csv"
    return list(csv.reader(io.StringIO(path.read_text(encoding="utf-8-sig"))))


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", [path.stem for path in sorted(TASKS.glob("*.yaml"))])
def test_every_task_has_one_page_on_either_paper(name: str, paper: str, press: Press, tmp_path: Path) -> None:
    """Tagged, with its stop, its cautions before their steps, and its sign-off."""
    task = read_practical(TASKS / f"{name}.yaml")
    day = DayLine("Word " * 30, (("To weigh in a day", "g"), ("One meal", "g")), ("1", "2"), "Mind. " * 10)
    pages = [Page("ABCD-EFGH", "A1", "Ines Okafor", day if task.day else None)]
    path = tmp_path / "pages.pdf"
    path.write_bytes(press.pdf(task_pages(task, pages, Style(paper=paper))))  # type: ignore[arg-type]
    with pikepdf.open(path) as pdf, pdf.open_metadata() as metadata:
        assert len(pdf.pages) == 1
        assert metadata["pdfuaid:part"] == "1"
    text = " ".join(text_of(path).split())
    assert "Assessor, with initials" in text
    for step in task.steps:
        if step.care:
            assert text.index(" ".join(step.care.split())[:30]) < text.index(step.do[:30])


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_no_line_ends_between_a_number_and_its_unit(paper: str, press: Press, tmp_path: Path) -> None:
    """Nor inside a unit with a stroke: tasks are written with plain spaces, and cells are narrow."""
    for file in sorted(TASKS.glob("*.yaml")):
        pages = [Page("ABCD-EFGH", "A1", "Ines Okafor", None)]
        (tmp_path / "pages.pdf").write_bytes(press.pdf(task_pages(read_practical(file), pages, Style(paper=paper))))  # type: ignore[arg-type]
        read = lines_of(tmp_path / "pages.pdf")
        assert not re.search(r"\d\n(mL|mg|°|g |m |%)|\d mol/\n|[\d.,]\n\d+ (mL|mg|mol|°)", read), file.name


def test_drawn_numbers_differ_and_stand_with_their_key_on_the_instructors_copy(tmp_path: Path) -> None:
    """The student's page has the givens and a line; the answer is on the other paper alone."""
    task = read_practical(TASKS / "weigh_feed.yaml", BANK)
    laid = laid_for(BOTH, task)
    days = [page.day for page in laid.pages]
    assert days[0] is not None and days[1] is not None
    assert days[0].text != days[1].text
    print_task(laid, Style(), tmp_path)
    student, instructor = text_of(tmp_path / "pages.pdf"), text_of(tmp_path / "instructor.pdf")
    for answer in days[0].answers:
        assert plain(answer) not in student
        assert plain(answer) in instructor
    assert "Ines Okafor" in student
    assert laid.pages[0].code in instructor


def test_numbers_of_the_growing_file_are_the_same_for_all() -> None:
    """They work at one system, so they weigh one ration."""
    task = read_practical(TASKS / "weigh_feed.yaml", BANK)
    system = read_growing(HOME / "course" / "demo" / "growing.yaml")
    laid = laid_for(BOTH, task, growing=system)
    assert laid.pages[0].day == laid.pages[1].day
    assert "own bed_area" in laid.origin


def test_a_task_that_is_too_long_for_a_page_is_refused(tmp_path: Path) -> None:
    """An instructor's own words may grow; the page may not."""
    task = read_practical(TASKS / "trial_report.yaml")
    long = task.model_copy(update={"steps": [step.model_copy(update={"do": "word " * 59}) for step in task.steps] * 3})
    with pytest.raises(Faults, match=r"own\.yaml: the task is too long for one page"):
        print_task(laid_for(BOTH, long, "own"), Style(paper="letter"), tmp_path)


def test_a_table_is_laid_down_for_the_class(made: Path) -> None:
    """A row a student, a column a criterion; names that look like formulas are guarded."""
    rows = results(made)
    assert rows[0][2:7] == ["Sum", "Weighing", "Fish and feed", "Labels and log", "Safety"]
    assert [row[0] for row in rows[1:]] == [f"A{n}" for n in range(1, 7)]
    assert rows[3][1] == "'=cmd|' /C calc'!A0"


def test_laying_down_again_touches_no_table_and_adds_late_students(folder: Path) -> None:
    """Marks that were typed stay."""
    path = folder / "mid-term" / "tasks" / "weigh_feed" / "results.csv"
    before = path.read_bytes()
    make_practicals(folder, WISH, quiet)
    assert path.read_bytes() == before
    assert not (path.parent / "results-2.csv").exists()
    with (folder / "class.csv").open("a", encoding="utf-8") as file:
        file.write("A7,Late Comer,,D1,\n")
    make_practicals(folder, WISH, quiet)
    assert "A7" in (path.parent / "results-2.csv").read_text(encoding="utf-8")
    assert path.read_bytes() == before


def test_a_task_that_changed_under_its_table_is_refused(folder: Path) -> None:
    """Marks are held to the criteria by which they were given."""
    own = folder / "practicals"
    own.mkdir()
    text = (TASKS / "weigh_feed.yaml").read_text(encoding="utf-8")
    (own / "weigh_feed.yaml").write_text(text.replace("name: Sum", "name: Total"), encoding="utf-8")
    with pytest.raises(Faults, match=r"weigh_feed\.yaml: has changed since"):
        make_practicals(folder, WISH, quiet)


def test_marks_of_a_task_come_into_marks_feedback_and_report(folder: Path) -> None:
    """And marking again gives the same, with every input untouched."""
    rows = results(folder)
    rows[1][2:] = ["3", "4", "2", "2", "1.5", "2026-03-18", "MW", "no", "Calm hands 🐟 مرحبا"]
    path = folder / "mid-term" / "tasks" / "weigh_feed" / "results.csv"
    write_csv(path, rows[0], rows[1:])
    inputs = {p: p.read_bytes() for p in folder.rglob("*") if p.is_file()}
    runs = []
    for _ in range(2):
        mark_class(folder, None, True, quiet)
        place = folder / "mid-term" / "marked"
        runs.append({p.relative_to(place): p.read_bytes() for p in place.rglob("*") if p.is_file()})
    assert runs[0] == runs[1]
    assert all(p.read_bytes() == before for p, before in inputs.items())
    first = next(csv.DictReader(io.StringIO((place / "marks.csv").read_text(encoding="utf-8-sig"))))
    assert (first["weigh_feed"], first["weigh_feed: Sum"], first["still open"]) == ("12.5", "3", "paper")
    (single,) = [p for p in (place / "feedback").iterdir() if p.name != "packet.pdf"]
    text = text_of(single)
    assert "Weigh a feed ration" in text
    assert "12.5 / 14" in text
    assert "Answer:" not in text
    assert "Weigh a feed ration" in (place / "report.html").read_text(encoding="utf-8")


@pytest.mark.parametrize(("wish", "message"), [
    (Wish("boats", None, 1, None, None, None, None), "--tasks: 'boats' is not a task. Tasks are alkalinity, "),
    (Wish("weigh_feed", "week-9", 1, None, None, None, None), "--beside: name one that was given out: mid-term."),
])
def test_a_wish_that_cannot_be_met_is_told(wish: Wish, message: str, made: Path) -> None:
    """What is there is named."""
    with pytest.raises(Faults) as caught:
        make_practicals(made, wish, quiet)
    assert message in str(caught.value)


def test_without_anything_given_out_there_is_no_marks_table(tmp_path: Path) -> None:
    """The fault says what to do first, or how to have blank pages."""
    with pytest.raises(Faults, match="leave the folder out for blank pages"):
        make_practicals(fish_class(tmp_path / "new"), WISH, quiet)


def test_blank_pages_need_no_class(tmp_path: Path) -> None:
    """As many as asked for, each with a code of its own."""
    report = make_practicals(None, Wish("weigh_feed", None, 3, "us", "letter", tmp_path / "out", None), quiet)
    assert "3 blank pages each: weigh_feed" in report
    with pikepdf.open(tmp_path / "out" / "weigh_feed" / "pages.pdf") as pdf:
        assert len(pdf.pages) == 3


def test_blank_pages_of_an_installed_kit_go_where_one_works(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is written beside the packed course, where an upgrade would take it away."""
    monkeypatch.setattr(home, "PACKED", HOME)
    monkeypatch.chdir(tmp_path)
    make_practicals(None, Wish("weigh_feed", None, 1, None, None, None, None), quiet)
    assert (tmp_path / "build" / "practicals" / "weigh_feed" / "pages.pdf").exists()


def test_the_list_names_every_task_with_its_marks() -> None:
    """A line a task."""
    assert len(list_tasks().splitlines()) == len(list(TASKS.glob("*.yaml")))
    assert "weigh_feed" in list_tasks()
