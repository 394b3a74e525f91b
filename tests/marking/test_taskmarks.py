"""Marks of practical tasks: read, checked, and put beside the paper's."""

import shutil
from collections.abc import Sequence
from pathlib import Path

import pytest

from papers_room import HOME
from waterleaf.faults import Faults
from waterleaf.marking.tableout import write_csv, write_xlsx
from waterleaf.marking.taskmarks import TaskMarks, read_tasks, task_cells, task_headings

STUDENTS = ["A1", "A2", "=A3"]
HEADINGS = ["id", "name", "Sum", "Weighing", "Fish and feed", "Labels and log", "Safety", "date", "assessor", "stopped",
            "remark"]  # fmt: skip
GOOD = ["A1", "Ines", 3, 4, 2, 2, 1.5, "2026-03-18", "MW", "no", ""]


def row(**changes: object) -> list[object]:
    """A sound row with some cells changed."""
    named = dict(zip(HEADINGS, GOOD, strict=True)) | {key.replace("_", " "): value for key, value in changes.items()}
    return list(named.values())


def read(place: Path, *rows: Sequence[object], suffix: str = ".csv") -> TaskMarks:
    """The task after these rows were typed into its table."""
    folder = place / "tasks" / "weigh_feed"
    folder.mkdir(parents=True, exist_ok=True)
    shutil.copy(HOME / "course" / "practicals" / "weigh_feed.yaml", folder / "task.yaml")
    if suffix == ".csv":
        write_csv(folder / "results.csv", HEADINGS, rows)  # type: ignore[arg-type]
    else:
        write_xlsx(folder / "results.xlsx", "R", HEADINGS, rows)  # type: ignore[arg-type]
    (task,) = read_tasks(place, STUDENTS)
    return task


@pytest.mark.parametrize("suffix", [".csv", ".xlsx"])
def test_marks_come_back_from_either_kind_of_table(suffix: str, tmp_path: Path) -> None:
    """Half marks too, and an id that looks like a formula."""
    task = read(tmp_path, row(), row(id="=A3", Safety=2), suffix=suffix)
    assert task.doubts == ()
    assert task.total("A1") == 12.5
    assert task.total("=A3") == 13
    assert task.total("A2") is None


@pytest.mark.parametrize(("changes", "reason"), [
    ({"id": "X9"}, "no student of this assignment has the id 'X9'"),
    ({"id": ""}, "the id is missing"),
    ({"Sum": 9}, "'9' is not a mark from 0 to 3 for 'Sum'"),
    ({"Sum": -1}, "is not a mark from 0 to 3"),
    ({"Sum": "three"}, "'three' is not a mark"),
    ({"Sum": "nan"}, "'nan' is not a mark"),
    ({"Sum": "🐟"}, "is not a mark"),
    ({"Weighing": ""}, "the mark for 'Weighing' is missing"),
    ({"stopped": "maybe"}, "'maybe' under stopped is neither yes nor no"),
    ({"date": "tomorrow"}, "'tomorrow' is not a date"),
    ({"date": ""}, "the date is missing"),
    ({"assessor": ""}, "the initials of the assessor are missing"),
])
def test_what_only_a_person_can_mend_goes_to_the_short_list(
    changes: dict[str, object], reason: str, tmp_path: Path
) -> None:
    """With the task, the file and the line where it stands."""
    (doubt,) = read(tmp_path, row(**changes)).doubts
    assert reason in doubt.reason
    assert (doubt.part, doubt.file, doubt.line) == ("weigh_feed", "tasks/weigh_feed/results.csv", 2)


def test_a_mark_in_doubt_leaves_the_total_open(tmp_path: Path) -> None:
    """Open is not nought."""
    task = read(tmp_path, row(Sum=9))
    assert task.total("A1") is None
    assert task.results["A1"].marks == (None, 4, 2, 2, 1.5)


def test_a_decimal_comma_is_a_decimal_comma(tmp_path: Path) -> None:
    """1,5 is one and a half."""
    assert read(tmp_path, row(Safety="1,5")).total("A1") == 12.5


def test_a_student_who_stands_twice_has_no_marks_until_one_row_is_left(tmp_path: Path) -> None:
    """Neither row is taken where they differ; the very same row twice is one."""
    task = read(tmp_path, row(), row(Sum=1))
    assert "stands at tasks/weigh_feed/results.csv:2 too, with other marks" in task.doubts[0].reason
    assert "A1" not in task.results
    assert read(tmp_path, row(), row()).total("A1") == 12.5


def test_a_task_stopped_for_safety_is_open_until_it_is_repeated(tmp_path: Path) -> None:
    """Missing marks are no fault then; the later row counts, and the report says so."""
    stopped = row(Sum="", Weighing="", stopped="yes")
    task = read(tmp_path, stopped)
    assert task.doubts == ()
    assert task.results["A1"].stopped
    assert task.total("A1") is None
    again = read(tmp_path, row(date="2026-03-25"), stopped)
    assert again.total("A1") == 12.5
    assert "was stopped for safety on 2026-03-18; the task of 2026-03-25 counts" in again.remarks[0]


def test_blank_rows_of_the_table_are_no_results(tmp_path: Path) -> None:
    """A name alone is a line that waits to be filled in."""
    blank = ["A2", "Tomas", *[""] * 9]
    task = read(tmp_path, blank)
    assert (task.results, task.doubts) == ({}, ())


def test_a_table_without_its_columns_is_refused(tmp_path: Path) -> None:
    """A criterion that was renamed in the spreadsheet is missed."""
    read(tmp_path, row())
    path = tmp_path / "tasks" / "weigh_feed" / "results.csv"
    path.write_text(path.read_text(encoding="utf-8").replace("Weighing", "Scales"), encoding="utf-8")
    with pytest.raises(Faults, match=r"results.csv: no heading with the columns id, Sum, Weighing"):
        read_tasks(tmp_path, STUDENTS)


def test_columns_of_the_marks_table_end_with_everything_together(tmp_path: Path) -> None:
    """As many cells as headings, for who has marks and for who has none."""
    tasks = (read(tmp_path, row()),)
    headings = task_headings(tasks)
    cells = list(task_cells(tasks, "A1", 15.0, 17, True))
    assert len(headings) == len(cells)
    named = dict(zip(headings, cells, strict=True))
    assert named["weigh_feed: Fish and feed"] == 2
    assert [named[key] for key in ("weigh_feed", "weigh_feed out of", "weigh_feed stopped")] == [12.5, 14, "no"]
    assert [named[key] for key in ("all marks", "all out of", "still open")] == [27.5, 31, ""]
    nothing = dict(zip(headings, task_cells(tasks, "A2", None, 17, False), strict=True))
    assert nothing["all marks"] is None
    assert nothing["still open"] == "paper, weigh_feed"


def test_without_tasks_the_marks_table_is_as_it_was(tmp_path: Path) -> None:
    """No folder, no columns."""
    assert read_tasks(tmp_path, STUDENTS) == ()
    assert task_headings(()) == []
    assert list(task_cells((), "A1", 3, 4, True)) == []
