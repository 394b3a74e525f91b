"""Pages of practical tasks that were given out stay as they are, and outlive the secret that they came from."""

from pathlib import Path

import pytest

from classroom import quiet, small_bank
from papers_room import BANK, CLASS, HOME, fish_class
from waterleaf.classwork import practicals
from waterleaf.commands.papers import make_papers
from waterleaf.commands.practicals import Wish, make_practicals
from waterleaf.faults import Faults
from waterleaf.marking.issuebook import NAME, SECRET, IssuedTask, read_book, write_book
from waterleaf.sheets.press import PressFault

TASKS = HOME / "course" / "practicals"
WISH = Wish("weigh_feed", None, 1, None, None, None, None)
AGAIN = Wish("", None, 1, None, None, None, None, again=True)
GROWING = HOME / "course" / "demo" / "growing.yaml"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A class folder with papers, before any practical task."""
    small_bank(monkeypatch, BANK, "papers", "practicals")
    folder = fish_class(tmp_path / "class")
    make_papers(folder, "test-plan.yaml", quiet)
    return folder


def printed(folder: Path, name: str = "weigh_feed") -> dict[str, bytes]:
    """The pages of a task and the instructor's copy."""
    return {path.name: path.read_bytes() for path in (folder / "mid-term" / "tasks" / name / "print").iterdir()}


def recorded(folder: Path, name: str = "weigh_feed") -> IssuedTask:
    """The task as the book holds it."""
    return read_book(folder).tasks["mid-term", name]


def test_pages_come_from_the_book_when_the_secret_is_lost(folder: Path) -> None:
    """With and without numbers of the day, byte for byte; the loss is told."""
    wish = Wish("weigh_feed,trial_report", None, 1, None, None, None, None)
    make_practicals(folder, wish, quiet)
    before = printed(folder), printed(folder, "trial_report")
    assert set(before[0]) == {"pages.pdf", "instructor.pdf"}
    (folder / SECRET).unlink()
    assert f"{SECRET} was gone, so a new one was made" in make_practicals(folder, wish, quiet)
    assert (printed(folder), printed(folder, "trial_report")) == before


@pytest.mark.parametrize("lost", [False, True])
def test_a_late_student_in_the_middle_of_the_list_changes_nobodys_page(folder: Path, lost: bool) -> None:
    """The list may be sorted anew; the secret may be gone; nobody gets numbers that another has."""
    make_practicals(folder, WISH, quiet)
    first = recorded(folder)
    head, *people = CLASS.splitlines()
    (folder / "class.csv").write_text("\n".join([head, "A0,Late Comer,,D1,", *people[::-1], ""]), encoding="utf-8")
    if lost:
        (folder / SECRET).unlink()
    make_practicals(folder, WISH, quiet)
    later = recorded(folder)
    assert later.pages[:-1] == first.pages
    assert later.pages[-1].student == "A0"
    assert len({page.draw for page in later.pages}) == len({page.code for page in later.pages}) == 7


def test_again_prints_every_page_of_the_book_with_ids(folder: Path) -> None:
    """Without secret and class list, in another year, in the units of then; the class that has left is printed too."""
    make_practicals(folder, Wish("weigh_feed", None, 1, "us", None, None, None), quiet)
    key = printed(folder)["instructor.pdf"]
    (folder / SECRET).unlink()
    (folder / "class.csv").write_text("id,name\nB1,New\n", encoding="utf-8")
    report = make_practicals(folder, AGAIN, quiet)
    assert "weigh_feed" in report and "(6 pages)" in report
    assert not (folder / SECRET).exists()
    first = printed(folder)
    assert first["instructor.pdf"] != key  # ids stand in place of names
    make_practicals(folder, AGAIN, quiet)
    assert printed(folder) == first


def test_again_prints_by_the_file_that_was_given_out(folder: Path) -> None:
    """The task beside the marks counts; where that was changed too, nothing is printed."""
    make_practicals(folder, WISH, quiet)
    own = folder / "practicals"
    own.mkdir()
    text = (TASKS / "weigh_feed.yaml").read_text(encoding="utf-8").replace("minutes: 15", "minutes: 16")
    (own / "weigh_feed.yaml").write_text(text, encoding="utf-8")
    make_practicals(folder, AGAIN, quiet)
    (folder / "mid-term" / "tasks" / "weigh_feed" / "task.yaml").unlink()
    for wish in (AGAIN, WISH):
        with pytest.raises(Faults, match=r"weigh_feed\.yaml: has changed since its pages were given out beside mid-te"):
            make_practicals(folder, wish, quiet)


def test_numbers_of_a_growing_file_stay_when_the_system_grows(folder: Path, tmp_path: Path) -> None:
    """What was weighed by is what the pages say; a late student gets the same."""
    system = tmp_path / "growing.yaml"
    system.write_bytes(GROWING.read_bytes())
    wish = Wish("weigh_feed", None, 1, None, None, None, system)
    make_practicals(folder, wish, quiet)
    before = printed(folder)
    assert dict(recorded(folder).question.own)  # type: ignore[union-attr]
    text = system.read_text(encoding="utf-8")
    assert text.count("meals: 3") == 1
    system.write_text(text.replace("meals: 3", "meals: 4"), encoding="utf-8")
    assert "left aside: pages given out stay as they are" in make_practicals(folder, wish, quiet)
    assert printed(folder) == before
    with (folder / "class.csv").open("a", encoding="utf-8") as file:
        file.write("A7,Late Comer,,D1,\n")
    make_practicals(folder, wish, quiet)
    assert len({page.draw for page in recorded(folder).pages}) == 1


def test_a_task_that_cannot_be_printed_is_not_given_out(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It can be mended and given out afterwards, since neither book nor table hold it."""
    def too_long(*_words: object) -> None:
        raise PressFault("the page is too long for one page")

    with monkeypatch.context() as patch, pytest.raises(Faults, match="the task is too long for one page"):
        patch.setattr(practicals, "task_pages", too_long)
        make_practicals(folder, WISH, quiet)
    assert read_book(folder).tasks == {}
    assert not (folder / "mid-term" / "tasks" / "weigh_feed" / "task.yaml").exists()


@pytest.mark.parametrize(("wish", "said"), [
    (Wish("weigh_feed", None, 1, "us", None, None, None), "--units: pages of 'weigh_feed' were given out in metric"),
    (Wish("alkalinity", None, 1, None, None, None, None, again=True), "'alkalinity' is not a task. Tasks are weigh_fe"),
])
def test_pages_that_would_be_others_are_refused(folder: Path, wish: Wish, said: str) -> None:
    """Other units, or a task that was never given out."""
    make_practicals(folder, WISH, quiet)
    with pytest.raises(Faults, match=said):
        make_practicals(folder, wish, quiet)


def test_again_without_anything_given_out_is_told(folder: Path) -> None:
    """With a class whose book holds no task, and without a class."""
    with pytest.raises(Faults, match="--again: no pages of practical tasks beside 'mid-term' stand in issue-book"):
        make_practicals(folder, AGAIN, quiet)
    with pytest.raises(Faults, match="--again: name the folder of the class"):
        make_practicals(None, AGAIN, quiet)


def test_a_file_name_that_no_book_can_hold_is_refused(folder: Path) -> None:
    """Before anything is given out."""
    (folder / "practicals").mkdir()
    (folder / "practicals" / "feed!.yaml").write_bytes((TASKS / "weigh_feed.yaml").read_bytes())
    with pytest.raises(Faults, match=r"practicals/feed!\.yaml: give the file a name of up to 60 letters"):
        make_practicals(folder, Wish("feed!", None, 1, None, None, None, None), quiet)


def test_pages_of_tasks_are_never_lost_from_the_book(folder: Path) -> None:
    """A book that does not know a page on the disk, or has another in its place, is not written."""
    make_practicals(folder, WISH, quiet)
    book, raw = read_book(folder), (folder / NAME).read_bytes()
    task = recorded(folder)
    other = IssuedTask(**{**vars(task), "pages": task.pages[1:]})
    with pytest.raises(Faults, match="pages of 'weigh_feed' that were given out would change"):
        book.with_task(other)
    for tasks in ({}, {("mid-term", "weigh_feed"): other}):
        with pytest.raises(Faults, match="the task 'weigh_feed' has changed on the disk meanwhile"):
            write_book(folder, type(book)(book.assignments, tasks))
    assert (folder / NAME).read_bytes() == raw
