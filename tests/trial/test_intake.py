"""A filled table is held against its plan: everything is named, nothing is lost, the file stays as it was."""

import csv
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from trial_plans import null_truth, plan, write_plan

from waterleaf.calc.sugar.refractometer import corrected_brix
from waterleaf.commands.trial import read_trial, rehearse_trial, reveal_truth
from waterleaf.faults import Faults
from waterleaf.trial.datatable import headings, write_tables
from waterleaf.trial.intake import Intake, take_in
from waterleaf.trial.layout import lay_out
from waterleaf.trial.rehearse import invent_readings, invent_truth

PLAN = plan()
UNITS = lay_out(PLAN)
ROWS = list[dict[str, str]]


def filled(tmp_path: Path) -> ROWS:
    """A rehearsal's rows, without a fault."""
    truth = null_truth(PLAN, 5.0)
    path = write_tables(PLAN, UNITS, tmp_path, "data", invent_readings(PLAN, UNITS, truth, 1))[0]
    with path.open(encoding="utf-8-sig", newline="") as handle:
        return list(csv.DictReader(handle))


def taken(tmp_path: Path, spoil: Callable[[ROWS], object]) -> Intake:
    """What comes of the rows after somebody has spoilt them."""
    rows = filled(tmp_path)
    spoil(rows)
    path = tmp_path / "spoilt.csv"
    with path.open("w", encoding="utf-8", newline="") as handle:
        writer = csv.DictWriter(handle, headings(PLAN))
        writer.writeheader()
        writer.writerows(rows)
    before = path.read_bytes()
    found = take_in(PLAN, UNITS, path)
    assert path.read_bytes() == before
    return found


def put(row: int, **cells: str) -> Callable[[ROWS], object]:
    """Change some cells of one row."""
    return lambda rows: rows[row].update(cells)


def test_a_clean_table_gives_every_reading_at_twenty_degrees(tmp_path: Path) -> None:
    """CSV and spreadsheet alike, each reading corrected by the relation of the course."""
    intake = taken(tmp_path, lambda rows: None)
    assert (len(intake.readings), intake.count("held"), intake.count("missing")) == (60, 0, 0)
    assert take_in(PLAN, UNITS, tmp_path / "data.xlsx").readings[7].value == intake.readings[7].value
    row = filled(tmp_path)[0]
    shown, warmth = float(row["value"]), float(row["temperature"])
    assert intake.readings[0].value == corrected_brix(reading=shown, temperature=warmth)


def test_an_instrument_that_compensates_is_not_corrected_again(tmp_path: Path) -> None:
    """No temperature column, and the reading as it was shown."""
    response = {**PLAN.response.model_dump(mode="json"), "compensates": True}
    made = plan(response=response)
    units = lay_out(made)
    path = write_tables(made, units, tmp_path, "d", invent_readings(made, units, null_truth(made, 5.0), 1))[0]
    assert "temperature" not in headings(made)
    assert all(reading.value == reading.shown for reading in take_in(made, units, path).readings)


@pytest.mark.parametrize(
    ("cells", "kind", "message"),
    [
        ({"value": "about five"}, "held", "not a plain number"),
        ({"value": "=1+4"}, "held", "not a plain number"),
        ({"value": "5.1 degBx"}, "held", "units under unit"),
        ({"value": "33"}, "held", "beyond the instrument"),
        ({"value": "-0.1"}, "held", "beyond the instrument"),
        ({"value": "inf"}, "held", "not a plain number"),
        ({"unit": "g"}, "held", "the plan says degBx"),
        ({"temperature": ""}, "held", "does not compensate"),
        ({"temperature": "41"}, "held", "cannot be brought to 20"),
        ({"code": "QQ1Q"}, "held", "no unit has the code QQ1Q"),
        ({"reading": "6"}, "held", "from 1 to 5"),
        ({"trial": "deadbeef"}, "held", "mark of the trial"),
        ({"value": ""}, "missing", "no usable reading 1"),
        ({"value": "5,1"}, "flagged", "decimal comma"),
        ({"value": "5.14"}, "flagged", "between two steps"),
        ({"value": "0.5"}, "flagged", "outside what the plan expects"),
        ({"value": "11.9"}, "flagged", "lies far from the others"),
        ({"date": "03/09/26"}, "flagged", "can be 2026-03-09 or 2026-09-03"),
        ({"date": "31.2.2026"}, "flagged", "no day of the calendar"),
        ({"date": "Tuesday"}, "flagged", "is not a date"),
    ],
)
def test_each_kind_of_bad_cell_is_named(cells: dict[str, str], kind: Any, message: str, tmp_path: Path) -> None:
    """Held back, missing or flagged, with the line; every other reading is still there."""
    intake = taken(tmp_path, put(0, **cells))
    assert any(finding.kind == kind and message in finding.message for finding in intake.findings)
    assert len(intake.readings) == (60 if kind == "flagged" else 59)
    if kind != "missing":
        assert any(finding.where == "spoilt.csv:2" for finding in intake.findings)


def test_swapped_codes_are_held_back(tmp_path: Path) -> None:
    """Two tags changed over: the printed places give them away."""

    def swap(rows: ROWS) -> None:
        rows[0]["code"], rows[5]["code"] = rows[5]["code"], rows[0]["code"]

    intake = taken(tmp_path, swap)
    assert sum("may be swapped" in finding.message for finding in intake.findings) == 2


def test_a_code_with_one_wrong_letter_is_guessed_but_not_used(tmp_path: Path) -> None:
    """The code that was probably meant is named."""
    code = UNITS[0].code
    intake = taken(tmp_path, put(0, code="J" + code[1:]))
    assert any(f"{code} may be meant" in finding.message for finding in intake.findings)


def test_a_doubled_row_is_used_once_or_not_at_all(tmp_path: Path) -> None:
    """Alike: once. Different: a person decides."""
    alike = taken(tmp_path, lambda rows: rows.append(dict(rows[3])))
    assert len(alike.readings) == 60
    assert alike.count("flagged") == 1
    other = taken(tmp_path, lambda rows: rows.append({**rows[3], "value": "7.7"}))
    assert len(other.readings) == 59
    assert other.count("held") == 1


def test_outliers_are_flagged_and_stay(tmp_path: Path) -> None:
    """An odd reading goes into the analysis as it stands."""
    intake = taken(tmp_path, put(0, value="11.0"))
    far = [finding.where for finding in intake.findings if "lies far from the others" in finding.message]
    assert [reading.shown for reading in intake.readings if reading.where in far] == [11.0]


def test_a_table_of_another_trial_is_refused(tmp_path: Path) -> None:
    """Its mark is not that of the plan."""
    filled(tmp_path)
    other = plan(seed=8)
    with pytest.raises(Faults, match="belongs to another trial"):
        take_in(other, lay_out(other), tmp_path / "data.csv")


def test_an_empty_table_is_refused(tmp_path: Path) -> None:
    """A heading is not data."""
    path = tmp_path / "empty.csv"
    path.write_text("trial,code,reading,value\n", encoding="utf-8")
    with pytest.raises(Faults, match="no rows"):
        take_in(PLAN, UNITS, path)


def test_masses_in_another_unit_are_turned_and_flagged(tmp_path: Path) -> None:
    """Kilograms in a table of grams."""
    response = {"kind": "mass", "name": "yield", "unit": "g", "high": 2000, "step": 1}
    made = plan(response=response, smallest_difference=20)
    units = lay_out(made)
    cells: Any = {(unit.code, n): {"value": 0.25, "unit": "kg"} for unit in units for n in range(1, 6)}
    intake = take_in(made, units, write_tables(made, units, tmp_path, "d", cells)[0])
    assert {reading.value for reading in intake.readings} == {250.0}
    assert intake.count("flagged") == 60


def test_no_cell_of_the_tables_can_run_as_a_formula(tmp_path: Path) -> None:
    """A block named like a formula stays a text, and the value column takes only what the instrument can show."""
    made = plan(design="blocked", blocks=["=1+1", "b", "c", "d"])
    paths = write_tables(made, lay_out(made), tmp_path, "d")
    sheet = openpyxl.load_workbook(paths[1]).active
    assert sheet is not None
    assert "f" not in {cell.data_type for row in sheet.iter_rows() for cell in row}
    assert sheet["C2"].value.startswith("=1+1")
    rules = {str(rule.sqref): (rule.formula1, rule.formula2) for rule in sheet.data_validations.dataValidation}
    assert rules["E2:E61"] == ("0", "32")
    assert "\n=" not in paths[0].read_text(encoding="utf-8-sig").replace(",", "\n")


def test_tables_are_the_same_bytes_every_time(tmp_path: Path) -> None:
    """No clock in a spreadsheet."""
    first = [path.read_bytes() for path in write_tables(PLAN, UNITS, tmp_path, "a")]
    assert first == [path.read_bytes() for path in write_tables(PLAN, UNITS, tmp_path, "b")]


def test_a_rehearsal_keeps_its_truth_until_asked(tmp_path: Path) -> None:
    """The data file has no method in it; the truth comes on request and is that of the seed."""
    path = write_plan(tmp_path / "p.yaml")
    said = rehearse_trial(path, 3, None)
    text = (tmp_path / "p-rehearsal.csv").read_text(encoding="utf-8-sig")
    assert not any(method in said + text for method in PLAN.methods)
    truth = invent_truth(PLAN, 3)
    assert json.loads((tmp_path / "p-rehearsal-truth.json").read_text(encoding="utf-8"))["means"] == truth.means
    assert all(method in reveal_truth(path, None) for method in PLAN.methods)
    assert read_trial(path, tmp_path / "p-rehearsal.csv")[0].startswith("60 of 60")


def test_rehearsed_readings_have_the_spread_of_the_plan() -> None:
    """Two hundred units: spread between and within units come back within a few standard errors."""
    made = plan(units_each=50, methods=["a", "b", "c", "d"], readings=2)
    units = lay_out(made)
    data = invent_readings(made, units, null_truth(made, 6.0), 5)
    pairs: list[tuple[float, float]] = []
    for unit in units:
        cells = [data[unit.code, n] for n in (1, 2)]
        first, second = (
            corrected_brix(reading=float(str(c["value"])), temperature=float(str(c["temperature"]))) for c in cells
        )
        pairs.append((first, second))
    within = (sum((a - b) ** 2 for a, b in pairs) / 400) ** 0.5
    middle = sum(a + b for a, b in pairs) / 400
    between = (sum(((a + b) / 2 - middle) ** 2 for a, b in pairs) / 199 - within**2 / 2) ** 0.5
    assert within == pytest.approx(0.6, rel=0.15)
    assert between == pytest.approx(0.4, rel=0.25)


def test_a_hundred_thousand_rows_are_read(tmp_path: Path) -> None:
    """Rows beyond the plan are each held back, and the report of it stays short."""
    rows = filled(tmp_path)
    many = tmp_path / "many.csv"
    with many.open("w", encoding="utf-8", newline="") as handle:
        writer = csv.DictWriter(handle, headings(PLAN))
        writer.writeheader()
        writer.writerows([*rows, *({**rows[0], "reading": "99"} for _ in range(100_000))])
    intake = take_in(PLAN, UNITS, many)
    assert (len(intake.readings), intake.count("held")) == (60, 100_000)
