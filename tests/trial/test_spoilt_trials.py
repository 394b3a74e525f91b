"""What happens to a trial in a real term: units lost, groups emptied, instruments stuck, plans edited, tables mixed up.

Every case ends in a report that says so, or in one clear line; the files stay as they were."""

import csv
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from trial_plans import plan, write_plan

from waterleaf.commands.trial import read_trial, rehearse_trial, report_trial
from waterleaf.faults import Faults
from waterleaf.trial.answers import take_in_answers
from waterleaf.trial.frozen import fingerprint, frozen_path, short
from waterleaf.trial.intake import listed
from waterleaf.trial.layout import lay_out
from waterleaf.trial.panel import ANSWER_HEADINGS, answer_rows, serve
from waterleaf.trial.plan import load_plan
from waterleaf.trial.tasting_rehearse import invent_answers, no_difference

ROWS = list[dict[str, str]]


def spoilt(trial: Path, change: Callable[[ROWS], object]) -> tuple[str, str]:
    """What report and page say when somebody has changed the rows; neither plan nor table is touched."""
    with trial.with_name("p-rehearsal.csv").open(encoding="utf-8-sig", newline="") as handle:
        rows = list(csv.DictReader(handle))
    change(rows)
    data = trial.with_name("spoilt.csv")
    with data.open("w", encoding="utf-8", newline="") as handle:
        writer = csv.DictWriter(handle, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)
    kept = {path: path.read_bytes() for path in (data, trial, frozen_path(trial))}
    page = trial.with_name("r.html")
    said, _ = report_trial(trial, data, page, None)
    assert {path: path.read_bytes() for path in kept} == kept
    return said, page.read_text(encoding="utf-8")


def of_method(trial: Path, method: str, units: int) -> set[str]:
    """The codes of some units of a method."""
    return set([unit.code for unit in lay_out(load_plan(trial)) if unit.method == method][:units])


def blank(codes: set[str]) -> Callable[[ROWS], object]:
    """Nothing was read on these units."""
    return lambda rows: [row.update(value="") for row in rows if row["code"] in codes]


def test_groups_of_unequal_size_are_compared_and_told(trial: Path) -> None:
    """Two tanks of soil lost: told in the box, and the others are still compared."""
    said, page = spoilt(trial, blank(of_method(trial, "soil", 2)))
    assert "50 of 60 planned readings could be used." in page
    assert "2 of 12 tanks have no usable reading." in page
    assert said.count("Soluble solids,") == 3


def test_an_empty_group_is_named_and_nothing_is_said_about_it(trial: Path) -> None:
    """No reading of raft at all: soil and hydroponic are compared, raft is not."""
    said, page = spoilt(trial, blank(of_method(trial, "raft", 4)))
    assert "No usable reading of raft: nothing is said about it." in page
    assert said.count("Soluble solids,") == 1 and "raft" not in said.partition("May not be said:")[0]


def test_one_unit_left_of_a_method_stands_on_the_spread_of_the_others(trial: Path) -> None:
    """Its spread is not looked at, which the page says; the comparison leans on that of the others."""
    said, page = spoilt(trial, blank(of_method(trial, "raft", 3)))
    assert said.count("Soluble solids,") == 3
    assert "Fewer than three units of a method say nothing about its spread." in page


def test_one_unit_left_of_every_method_is_not_tested(trial: Path) -> None:
    """Planned with four tanks of each, left with one of each: observed, not tested."""
    codes = {code for method in ("soil", "hydroponic", "raft") for code in of_method(trial, method, 3)}
    said, page = spoilt(trial, blank(codes))
    assert "Observed here, not tested" in said
    assert "Nothing was tested" in page


def test_nothing_left_at_all_is_a_report_without_a_result(trial: Path) -> None:
    """Every value blank: the report says that nothing could be used, and makes no claim."""
    said, page = spoilt(trial, lambda rows: [row.update(value="") for row in rows])
    assert "0 of 60 planned readings could be used." in page
    assert "above" not in said


def test_readings_that_are_all_equal_are_an_instrument_to_look_at(trial: Path) -> None:
    """A stuck scale: told in the box, nothing tested."""
    said, page = spoilt(trial, lambda rows: [row.update(value="5.0", temperature="20") for row in rows])
    assert "All readings are equal. That is an instrument or a table to look at, not a result." in page
    assert "above" not in said


def test_a_method_that_lost_most_of_its_readings_is_told(trial: Path) -> None:
    """One plant a tank of soil is left: the mixed model leads, and the box says why."""
    soil = of_method(trial, "soil", 4)
    _, page = spoilt(trial, lambda rows: [
        row.update(value="") for row in rows if row["code"] in soil and row["reading"] != "1"
    ])  # fmt: skip
    assert "Units of soil have far fewer readings than others" in page
    assert "the mixed model" in page.lower()


def test_words_in_number_cells_are_held_back_one_line_each(trial: Path) -> None:
    """File, line, what was found, what is accepted; the rest is used."""

    def change(rows: ROWS) -> None:
        rows[0]["value"], rows[1]["value"], rows[2]["temperature"] = "n/a", "5.1?", "warm"

    spoilt(trial, change)
    text, clean = read_trial(trial, trial.with_name("spoilt.csv"))
    assert not clean and text.startswith("57 of 60 readings can be used.")
    assert "  spoilt.csv:2: value 'n/a' is not a plain number. Put words under remark, and units under unit." in text
    assert "  spoilt.csv:4: temperature 'warm' is not a plain number." in text


def test_a_table_of_another_trial_is_one_line(trial: Path, tmp_path: Path) -> None:
    """Both marks are named."""
    other = write_plan(tmp_path / "q.yaml", name="another-trial")
    rehearse_trial(other, 3, None)
    with pytest.raises(Faults) as caught:
        report_trial(trial, tmp_path / "q-rehearsal.csv", None, None)
    assert len(caught.value.faults) == 1
    line = str(caught.value.faults[0])
    assert line.startswith("q-rehearsal.csv: belongs to another trial") and "\n" not in line
    assert short(fingerprint(load_plan(trial), lay_out(load_plan(trial)))) in line


@pytest.fixture(scope="module")
def large() -> tuple[Any, list[list[Any]]]:
    """A panel of three hundred in all five tests, and its filled rows."""
    made = plan(panel={
        "tests": ["triangle", "duo_trio", "preference", "ranking", "liking"], "assessors": 300,
        "products": ["soil", "raft"],
    })  # fmt: skip
    assert made.panel is not None
    cups = serve(made, made.panel)
    filled = invent_answers(made, made.panel, cups, no_difference(made.panel), 1)
    return made, answer_rows(short(fingerprint(made, lay_out(made))), cups, filled)


def write_many(path: Path, rows: list[list[Any]], more: list[list[Any]]) -> Path:
    """A table with its rows and many more."""
    with path.open("w", encoding="utf-8", newline="") as handle:
        csv.writer(handle).writerows([list(ANSWER_HEADINGS), *rows, *more])
    return path


def test_a_hundred_thousand_copied_answers_count_once(large: tuple[Any, list[list[Any]]], tmp_path: Path) -> None:
    """The same rows pasted over and over: every answer is used once, and the list of it stays short."""
    made, rows = large
    path = write_many(tmp_path / "many.csv", rows, [rows[place % len(rows)] for place in range(100_000)])
    found = take_in_answers(made, lay_out(made), path)
    assert {len(given) for given in (*found.chosen.values(), *found.numbers.values())} == {300}
    assert (found.count("held"), found.count("flagged")) == (0, len(rows))
    lines = listed(found.findings)
    assert len(lines) < 50 and max(map(len, lines)) < 250


def test_a_hundred_thousand_answers_of_nobody_are_held(large: tuple[Any, list[list[Any]]], tmp_path: Path) -> None:
    """Assessor 999 was never invited: each row is held with its line, all true answers are there."""
    made, rows = large
    strange = [rows[0][0], "999", *rows[0][2:]]
    found = take_in_answers(made, lay_out(made), write_many(tmp_path / "many.csv", rows, [strange] * 100_000))
    assert found.count("held") == 100_000
    assert {len(given) for given in (*found.chosen.values(), *found.numbers.values())} == {300}


def test_one_answer_typed_a_hundred_thousand_times_is_one_short_line(
    large: tuple[Any, list[list[Any]]], tmp_path: Path
) -> None:
    """A key held down: the line names the first places and how many more there are."""
    made, rows = large
    found = take_in_answers(made, lay_out(made), write_many(tmp_path / "many.csv", rows, [rows[0]] * 100_000))
    (finding,) = found.findings
    assert len(finding.where) < 120 and finding.where.endswith("and 99997 more")
    assert "100001 times the same answer. Used once." in finding.message
