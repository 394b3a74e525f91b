"""A filled log says what was done against the plan, and what drifted."""

import csv
from collections.abc import Callable
from pathlib import Path

import pytest

from waterleaf.commands.growing import read_back
from waterleaf.faults import Faults
from waterleaf.growing.crew import read_crew
from waterleaf.growing.duties import plan
from waterleaf.growing.dutyfiles import LOG_COLUMNS, log_sheet
from waterleaf.growing.log import drifts, read_log, summary
from waterleaf.growing.system import read_growing

DEMO = Path(__file__).parents[2] / "course" / "demo"


def filled(tmp_path: Path, fill: Callable[[int, dict[str, str]], str]) -> Path:
    """The log of two weeks, each row filled in by a rule over the day's number."""
    made = plan(read_growing(DEMO / "growing.yaml"), read_crew(DEMO / "crew.yaml"), 2)
    rows = list(csv.DictReader(log_sheet(made).splitlines()))
    path = tmp_path / "log.csv"
    with path.open("w", encoding="utf-8", newline="") as out:
        table = csv.DictWriter(out, LOG_COLUMNS)
        table.writeheader()
        for row in rows:
            table.writerow({**row, "done": fill(int(row["date"][-2:]) - 2, row)})
    return path


READ = {"temperature": "24", "pH": "7.0", "oxygen": "6.2", "ammonia": "0.5"}


def test_a_log_that_keeps_to_the_plan_has_no_drift(tmp_path: Path) -> None:
    """Meals of a day are added up."""
    log = read_log(filled(tmp_path, lambda _day, row: row["planned"] or READ.get(row["duty"], "")))
    assert drifts(log) == []
    assert list(log["feed"].done.values()) == pytest.approx([800] * 14, abs=0.5)
    assert len(log["oxygen"].done) == 14


def test_short_flushes_and_a_falling_ph_are_told(tmp_path: Path) -> None:
    """Two weeks in which the flush fell behind and the pH slid."""

    def fill(day: int, row: dict[str, str]) -> str:
        if row["duty"] == "flush":
            return "16" if day < 7 else "12"
        return f"{7.2 - 0.06 * day:.2f}" if row["duty"] == "pH" else row["planned"] or READ.get(row["duty"], "")

    told = drifts(read_log(filled(tmp_path, fill)))
    assert [line.split(":")[0] for line in told] == ["flush", "pH"]
    assert "25 % below the plan" in told[0]
    assert "fallen" in told[1]


def test_an_empty_log_says_so(tmp_path: Path) -> None:
    """Nothing filled in is no drift."""
    assert summary(read_log(filled(tmp_path, lambda _day, _row: ""))) == "Nothing is filled in yet."


def test_every_row_that_cannot_be_read_is_told_at_once(tmp_path: Path) -> None:
    """Words, negative amounts and infinite ones."""
    wrong = {"feed meal 1": "lots", "oxygen": "-3", "pH": "inf"}
    path = filled(tmp_path, lambda day, row: wrong.get(row["duty"], "") if day == 0 else "")
    with pytest.raises(Faults) as caught:
        read_log(path)
    assert len(caught.value.faults) == 3
    told = str(caught.value)
    assert "feed: 'lots' is not a number. Give one such as 6.2." in told
    assert "oxygen: -3 is out of range. Give a number of at least 0." in told


def test_another_table_is_refused(tmp_path: Path) -> None:
    """Columns must be those of the printed log."""
    path = tmp_path / "x.csv"
    path.write_text("a,b\n1,2\n", encoding="utf-8")
    with pytest.raises(Faults, match="columns must be"):
        read_log(path)


def test_the_command_draws_the_same_picture_twice(tmp_path: Path) -> None:
    """No clock in the file."""
    path = filled(tmp_path, lambda _day, row: row["planned"] or READ.get(row["duty"], ""))
    pictures = []
    for name in ("a.svg", "b.svg"):
        text, steady = read_back(path, tmp_path / name)
        pictures.append((tmp_path / name).read_bytes())
        assert steady
        assert "feed: 14 days" in text
    assert pictures[0] == pictures[1]
    assert b"planned" in pictures[0]


def test_the_picture_says_in_its_title_what_drifted(tmp_path: Path) -> None:
    """A reader who cannot see it is told the finding."""

    def fill(_day: int, row: dict[str, str]) -> str:
        return "12" if row["duty"] == "flush" else row["planned"] or READ.get(row["duty"], "")

    read_back(filled(tmp_path, fill), tmp_path / "a.svg")
    (drift,) = drifts(read_log(tmp_path / "log.csv"))
    assert f"<title>{drift}</title>" in (tmp_path / "a.svg").read_text(encoding="utf-8")
