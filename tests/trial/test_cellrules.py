"""The blank spreadsheets take what can be a reading or an answer, and say why they take nothing else."""

from pathlib import Path
from typing import Any

import openpyxl
import pytest
from trial_plans import plan

from waterleaf.trial.cellrules import list_rule
from waterleaf.trial.datatable import headings, write_tables
from waterleaf.trial.layout import lay_out
from waterleaf.trial.panel import ANSWER_HEADINGS, CHOICES, NINE_POINTS, serve, write_answers

TESTS = ["triangle", "duo_trio", "preference", "ranking", "liking"]
ASKED: dict[str, Any] = {"tests": TESTS, "assessors": 12, "products": ["soil", "raft"]}


def rules_of(path: Path) -> dict[str, Any]:
    """The rule of every cell that has one."""
    sheet: Any = openpyxl.load_workbook(path).active
    found: dict[str, Any] = {}
    for rule in sheet.data_validations.dataValidation:
        assert rule.showErrorMessage and 0 < len(rule.error) <= 255 and 0 < len(rule.errorTitle) <= 32
        for span in rule.sqref.ranges:
            for row, column in span.cells:
                cell = sheet.cell(row, column).coordinate
                assert cell not in found
                found[cell] = rule
    return found


def test_every_cell_of_the_readings_that_people_fill_in_has_its_rule(tmp_path: Path) -> None:
    """Reading 1 to 5, value on the scale, prism 0 to 50 degrees, a day; in every row down to the last."""
    made = plan()
    rules = rules_of(write_tables(made, lay_out(made), tmp_path, "d")[1])
    columns = {heading: "ABCDEFGHIJ"[place] for place, heading in enumerate(headings(made))}
    for heading, kind, ends in (
        ("reading", "whole", ("1", "5")), ("value", "decimal", ("0", "32")), ("temperature", "decimal", ("0", "50")),
        ("date", "date", ("36526", None)),
    ):  # fmt: skip
        for row in (2, 61):
            rule = rules[f"{columns[heading]}{row}"]
            assert (rule.type, (rule.formula1, rule.formula2)) == (kind, ends)
        assert f"{columns[heading]}62" not in rules


def test_every_answer_has_the_rule_of_its_test(tmp_path: Path) -> None:
    """A choice takes the codes of its own row, a ranking its places, a liking the marks or the words of the sheet."""
    made = plan(panel=ASKED)
    assert made.panel is not None
    path = write_answers(tmp_path, "a", "abcdef01", serve(made, made.panel))[1]
    rules, sheet = rules_of(path), openpyxl.load_workbook(path).active
    assert sheet is not None
    column = "ABCDEFGH"[ANSWER_HEADINGS.index("answer")]
    seen = set()
    for row in range(2, sheet.max_row + 1):
        rule, test, cups = rules[f"{column}{row}"], sheet[f"C{row}"].value, str(sheet[f"D{row}"].value)
        seen.add(test)
        if test in CHOICES:
            assert (rule.type, rule.formula1) == ("list", f'"{cups.replace(" ", ",")}"')
        elif test == "ranking":
            assert (rule.type, rule.operator, rule.formula1, rule.formula2) == ("whole", "between", "1", "2")
        else:
            assert rule.type == "list"
            assert rule.formula1 == '"' + ",".join([*"987654321", *NINE_POINTS]) + '"'
    assert seen == set(TESTS)
    assert len(rules) == sheet.max_row - 1


def test_a_list_that_a_spreadsheet_would_cut_off_is_refused() -> None:
    """Longer than 255 letters, or with a comma inside: the rule would offer something else than was meant."""
    with pytest.raises(ValueError, match="does not fit a rule"):
        list_rule("answer", [(2, 2)], ["a" * 200, "b" * 60], "t", "m")
    with pytest.raises(ValueError, match="does not fit a rule"):
        list_rule("answer", [(2, 2)], ["one, two"], "t", "m")


def test_tables_of_answers_are_the_same_bytes_every_time(tmp_path: Path) -> None:
    """No clock in a spreadsheet with rules."""
    made = plan(panel=ASKED)
    assert made.panel is not None
    cups = serve(made, made.panel)
    first, second = (
        [path.read_bytes() for path in write_answers(tmp_path, name, "abcdef01", cups)] for name in ("a", "b")
    )
    assert first == second
