"""The report shows every deviation on its first page, and its PDF and web page say the same."""

import csv
import re
from pathlib import Path
from typing import Any

import numpy as np
import pikepdf
import pytest
from trial_plans import plan, write_plan

from waterleaf.commands.trial import plan_trial, rehearse_trial, report_trial
from waterleaf.trial.analysis import method_means
from waterleaf.trial.checks import look
from waterleaf.trial.drawn import draw_trials, real_trial, two_apart
from waterleaf.trial.planning import measured, span

ROOT = Path(__file__).parents[2]


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


def test_means_and_intervals_are_those_of_the_test_that_leads() -> None:
    """Under Welch a method stands by its own spread; under the mixed model the means are the model's."""
    welch = plan(test="welch", adjust="holm", units_each=6)
    found = real_trial(draw_trials(welch, two_apart(welch, 5.0, 1.0), 1, 3), 0)
    for method, mean, error, freedom in method_means(found):
        own = [one.value for one in found.unit_means if one.unit.method == method]
        assert (mean, error, freedom) == pytest.approx((np.mean(own), np.std(own, ddof=1) / 6**0.5, 5))
    mixed = plan(test="mixed")
    drawn = draw_trials(mixed, two_apart(mixed, 5.0, 1.0), 1, 3)
    led = real_trial(drawn, 0, [1 + place % 5 for place in range(len(drawn.units))])
    assert led.mixed_leads
    means = {name: mean for name, mean, _, _ in method_means(led)}
    for pair in led.pairs:
        assert means[pair.first] - means[pair.second] == pytest.approx(pair.difference)


def test_two_methods_side_by_side_have_no_spread_of_their_own_to_compare() -> None:
    """Residuals of a pair mirror each other: Levene is not computed, and Shapiro looks at each pair once."""
    made = plan(design="paired", methods=["soil", "raft"], units_each=6)
    checks = look(real_trial(draw_trials(made, two_apart(made, 5.0, 0.5), 1, 3), 0))
    assert checks[0].result == "not computed" and checks[0].p is None
    assert "6 residuals" in checks[1].meaning


def test_numbers_out_of_readings_have_one_decimal_more_than_the_instrument() -> None:
    """The same number of decimals for all, and never a nought that is none."""
    made = plan()
    assert [measured(value, made) for value in (8.8, -0.7, 0.00495, 0.0, -0.0)] == [
        "8.80", "−0.70", "0.005", "0.00", "0.00"
    ]  # fmt: skip
    mass = {"kind": "mass", "name": "yield", "unit": "g", "high": 2000, "step": 1}
    assert span(9.96, 137.6, plan(response=mass, smallest_difference=20)) == "10.0 to 137.6\xa0g"


def test_a_usual_report_has_two_pages_with_all_that_a_reviewer_looks_for(trial: Path) -> None:
    """Every reading, means with intervals, residuals, assumptions with their worth, effects, shared p, statements."""
    _, page, _ = reported(trial)
    with pikepdf.open(trial.with_name("r.pdf")) as pdf:
        assert len(pdf.pages) == 2
    for told in (
        "Dots: every reading.", "What the model leaves over", "each with its own 95 % interval", "p shared",
        "effect in standard deviations", "Levene", "Shapiro", "what it is worth", "What may be said",
        "What may not be said", "What a further trial would need", "Every unit and every reading",
    ):  # fmt: skip
        assert told in page
