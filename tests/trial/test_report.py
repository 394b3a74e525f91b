"""The report shows every deviation on its first page, and its PDF and web page say the same."""

import csv
import re
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from trial_plans import write_plan

from waterleaf.commands.trial import plan_trial, rehearse_trial, report_trial

ROOT = Path(__file__).parents[2]


@pytest.fixture
def trial(tmp_path: Path) -> Path:
    """A frozen plan with rehearsal data beside it."""
    path = write_plan(tmp_path / "p.yaml")
    plan_trial(path, freeze_it=True, show_layout=False)
    rehearse_trial(path, 3, None)
    return path


def reported(path: Path, data: str = "p-rehearsal.csv") -> tuple[str, str, bool]:
    """The printed statement, the web page, and whether plan and data agree."""
    page = path.with_name("r.html")
    said, clean = report_trial(path, path.with_name(data), page, path.with_name("r.pdf"))
    return said, page.read_text(encoding="utf-8"), clean


def test_a_clean_trial_has_no_box(trial: Path) -> None:
    """Web page and PDF are made; nothing differs from the plan."""
    said, page, clean = reported(trial)
    assert clean
    assert "What differs from the frozen plan" not in page
    assert said.startswith("May be said:")
    assert "A rehearsal: every reading below is invented." in page
    with pikepdf.open(trial.with_name("r.pdf")) as pdf:
        assert len(pdf.pages) <= 3
        assert "/MarkInfo" in pdf.Root


def test_invented_readings_are_known_under_any_name(trial: Path) -> None:
    """A rehearsal that was renamed still says that it is one."""
    trial.with_name("p-rehearsal.csv").rename(trial.with_name("field.csv"))
    assert "every reading below is invented" in reported(trial, "field.csv")[1]


def test_no_name_stands_twice_on_the_page(trial: Path) -> None:
    """Both figures are drawn into one page; their parts are told apart."""
    names = re.findall(r'\bid="([^"]+)"', reported(trial)[1])
    assert names and len(names) == len(set(names))


def test_the_report_is_the_same_bytes_every_time(trial: Path) -> None:
    """Same plan, same data, same report."""
    reported(trial)
    first = [trial.with_name(name).read_bytes() for name in ("r.html", "r.pdf")]
    reported(trial)
    assert first == [trial.with_name(name).read_bytes() for name in ("r.html", "r.pdf")]


def test_a_plan_edited_after_freezing_stands_in_the_box(trial: Path) -> None:
    """The analysis follows the frozen plan, and the box before anything else says what was changed."""
    _, before, _ = reported(trial)
    write_plan(trial, significance=20)
    _, page, clean = reported(trial)
    assert not clean
    box = page.index("significance was 5.0 when frozen and is 20.0 now.")
    assert page.index("What differs from the frozen plan") < box < page.index("<figure>")
    p = re.search(r"p = [0-9.]+", before)
    assert p is not None and p[0] in page


def test_a_plan_that_was_never_frozen_says_so_and_claims_no_margin(tmp_path: Path) -> None:
    """Without a frozen plan nothing was fixed beforehand."""
    path = write_plan(tmp_path / "p.yaml")
    rehearse_trial(path, 3, None)
    _, page, clean = reported(path)
    assert not clean
    assert "The plan was never frozen" in page
    assert "none was fixed beforehand" in page


def test_lost_and_held_rows_stand_in_the_box(trial: Path) -> None:
    """Whatever the table lacks is told on the first page, and listed at the end."""
    data = trial.with_name("p-rehearsal.csv")
    with data.open(encoding="utf-8-sig", newline="") as handle:
        rows = list(csv.reader(handle))
    rows[1][4] = "<b>lots</b>"
    rows[2][4] = ""
    with data.open("w", encoding="utf-8", newline="") as handle:
        csv.writer(handle).writerows(rows)
    before = data.read_bytes()
    _, page, clean = reported(trial)
    assert not clean
    assert data.read_bytes() == before
    assert "58 of 60 planned readings could be used." in page
    assert "listed at the end: 1 of the rows" in page
    assert "&lt;b&gt;lots" in page and "<b>lots" not in page


@pytest.mark.parametrize(
    "changes", [{"units_each": 1}, {"design": "latin", "units_each": 3}, {"design": "paired", "methods": ["a", "b"]}]
)
def test_every_design_makes_a_report(changes: dict[str, Any], tmp_path: Path) -> None:
    """From start to report, replicated or not."""
    path = write_plan(tmp_path / "p.yaml", **changes)
    plan_trial(path, freeze_it=True, show_layout=False)
    rehearse_trial(path, 3, None)
    said, page, clean = reported(path, "p-rehearsal.xlsx")
    assert clean
    may = said.partition("May not be said:")[0]
    assert ("Observed here, not tested" in may) == (changes.get("units_each") == 1)
    assert "sweeter" not in may
    assert page.count("<figure>") == (1 if changes.get("units_each") == 1 else 2)
