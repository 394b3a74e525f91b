"""What is wrong in a plan is said in the words of a person, with the line, what was found and what is accepted."""

from pathlib import Path
from typing import Any

import pytest
from trial_plans import plan_data, write_plan

from waterleaf.faults import Faults
from waterleaf.trial.plan import load_plan

PANEL: dict[str, Any] = {"tests": ["triangle"], "assessors": 12, "products": ["soil", "raft"]}
COUNT: dict[str, Any] = {"kind": "count", "name": "leaves", "high": 30, "step": 1}
# Words of a checking library, not of a person.
STRANGE = ("Input should", "String should", "Tuple", "dictionary", "valid integer", "^[a-z", "instance of", "parse")


def faults_of(path: Path) -> list[str]:
    """Every line that the plan's check prints."""
    with pytest.raises(Faults) as caught:
        load_plan(path)
    return [str(fault) for fault in caught.value.faults]


@pytest.mark.parametrize(
    ("changes", "field", "message"),
    [
        ({"name": "My Trial!"}, "name", "'My Trial!' cannot stand here. Use small letters, digits and hyphens"),
        ({"name": "My Trial!"}, "name", "Such as my-trial."),
        ({"name": ""}, "name", "this is empty. Write it in."),
        ({"name": 5}, "name", '5 is not a text. Put quotation marks round it: "5".'),
        ({"question": "x" * 400}, "question", "400 letters are too many. Give at most 300."),
        ({"methods": ["soil"]}, "methods", "1 entry is too few. Give at least 2."),
        ({"methods": "soil"}, "methods", "'soil' is no list. Write it in square brackets: [soil]."),
        ({"methods": [1, "raft"]}, "methods.0", "1 is not a text."),
        ({"methods": list("abcdefghi")}, "methods", "9 entries are too many. Give at most 8."),
        ({"units_each": 0}, "units_each", "0 is out of range. Give a number from 1 to 50."),
        ({"units_each": "four"}, "units_each", "'four' is not a whole number. Give one from 1 to 50."),
        ({"units_each": 2.5}, "units_each", "2.5 is not a whole number."),
        ({"units_each": True}, "units_each", "true does not belong here."),
        ({"shared_supply": "maybe"}, "shared_supply", "'maybe' is neither yes nor no. Write true or false."),
        ({"design": "blokced"}, "design", "Did you mean blocked? Give random, blocked, latin or paired."),
        ({"smallest_difference": 0}, "smallest_difference", "0 is out of range. Give a number above 0."),
        ({"smallest_difference": "0,5"}, "smallest_difference", "is not a number. Write it with a point: 0.5."),
        ({"spread": 5}, "spread", "5 stands alone; its own fields belong under it"),
        ({"seed": 10**30}, "seed", "is out of range. Give a number from 0 to 999999."),
        ({"codes_known_to": []}, "codes_known_to", "no entry is too few. Give at least 1."),
        ({"response": {**COUNT, "plausible": [1]}}, "response.plausible", "this takes two numbers."),
        ({"response": {**COUNT, "high": "inf"}}, "response.high", "'inf' has no end."),
        ({"panel": {**PANEL, "asessors": 3}}, "panel.asessors", "Did you mean assessors? Fields here are tests,"),
        ({"panel": {**PANEL, "tests": ["tetrad"]}}, "panel.tests.0", "Give triangle, duo_trio, preference,"),
        ({"panel": {**PANEL, "assessors": 1}}, "panel.assessors", "Give a number from 2 to 300."),
    ],
)
def test_a_wrong_field_is_told_in_plain_words(
    changes: dict[str, Any], field: str, message: str, tmp_path: Path
) -> None:
    """One line a fault, with the line of the file and nothing of the library behind it."""
    path = write_plan(tmp_path / "p.yaml", **changes)
    before = path.read_bytes()
    lines = faults_of(path)
    assert path.read_bytes() == before
    assert any(f": {field}: " in line and message in line for line in lines)
    assert not any("\n" in line or word in line for line in lines for word in STRANGE)


def test_a_file_that_is_no_plan_says_what_a_plan_is(tmp_path: Path) -> None:
    """A list, or a word, is not a set of fields."""
    path = tmp_path / "p.yaml"
    for text in ("- a\n- b\n", "just words\n"):
        path.write_text(text, encoding="utf-8")
        assert faults_of(path) == [
            "p.yaml:1: a file of this kind is fields such as name: value, a line each. `waterleaf trial start` lays "
            "down a plan with a note at every field."
        ]


def test_every_field_that_is_spoilt_is_told_in_plain_words(tmp_path: Path) -> None:
    """Each field of the template in turn as text, list, group, nothing, number: refused in plain words, or accepted."""
    for field in plan_data():
        for value in ("?", [], {}, "", -1, 1e300, True):
            path = write_plan(tmp_path / "p.yaml", **{field: value})
            try:
                load_plan(path)
            except Faults as caught:
                for fault in caught.faults:
                    assert not any(word in str(fault) for word in STRANGE), str(fault)
