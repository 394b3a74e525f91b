"""Reading a practical task from its file."""

from pathlib import Path

import pytest

from papers_room import BANK, HOME
from waterleaf.faults import Faults
from waterleaf.marking.practical import Criterion, read_practical

CRITERION = "  - {name: N%d, levels: [{marks: 2, text: a}, {marks: 1, text: b}, {marks: 0, text: c}]}\n"
CRITERIA = "criteria:\n" + "".join(CRITERION % n for n in range(4))
TASK = f"title: Try\nsources: [s]\nstop: [smoke]\nsteps:\n  - do: look\n{CRITERIA}"


def faults_of(text: str, folder: Path) -> str:
    """What is wrong with a task."""
    path = folder / "try.yaml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(Faults) as caught:
        read_practical(path, BANK)
    return str(caught.value)


@pytest.mark.parametrize("path", sorted((HOME / "course" / "practicals").glob("*.yaml")), ids=lambda path: path.stem)
def test_every_task_of_the_course_is_sound(path: Path) -> None:
    """Cautions, a safety stop, sources, and criteria that add up; reports have no stop."""
    task = read_practical(path)
    assert task.full >= 12
    if task.kind == "practical":
        assert any(step.care for step in task.steps)
        assert len(task.stop) >= 3
        assert task.ready


@pytest.mark.parametrize(("old", "new", "message"), [
    ("stop: [smoke]\n", "", "stop: say what stops the task at once"),
    ("marks: 1, text: b", "marks: 3, text: b", "must fall from level to level and end at 0"),
    ("marks: 0, text: c", "marks: 1, text: c", "must fall from level to level and end at 0"),
    ("name: N1", "name: n0", "criteria: two have the same name"),
    ("name: N1", "name: Date", "'date' heads a column of the results table"),
    ("name: N1", "name: =cmd", "criteria.1.name: "),
    (CRITERION % 3, "", "criteria: 3 entries are too few. Give at least 4."),
    ("  - do: look\n", "  - {do: look, glance: up}\n", "steps.0.glance: "),
    ("sources: [s]\n", "", "sources: this field is missing."),
])
def test_what_makes_no_task_is_told(old: str, new: str, message: str, tmp_path: Path) -> None:
    """File, line, field, and what is wanted."""
    assert message in faults_of(TASK.replace(old, new, 1), tmp_path)


@pytest.mark.parametrize(("day", "message"), [
    ("{family: no/such, say: x, asks: {feed: F}, mind: m}", "try.yaml:11: day.family: 'no/such' is not in the bank."),
    ("{family: feed/daily_feed, say: 'x {{ boats }}', asks: {feed: F}, mind: m}", "'boats' is not given there: "),
    ("{family: feed/daily_feed, say: '{% if 1 %}', asks: {feed: F}, mind: m}", "day.say: "),
    ("{family: feed/daily_feed, say: x, asks: {boat: F}, mind: m}", "'boat' is not a part of feed/daily_feed: feed, "),
])
def test_numbers_of_the_day_are_held_against_the_bank(day: str, message: str, tmp_path: Path) -> None:
    """A name that the family has not is found before anything is printed."""
    assert message in faults_of(f"{TASK}day: {day}\n", tmp_path)


def test_a_mark_between_levels_stands_for_the_lower_one() -> None:
    """What was seen is never better than what was marked."""
    levels = [{"marks": 4, "text": "all"}, {"marks": 2, "text": "half"}, {"marks": 0, "text": "none"}]
    criterion = Criterion.model_validate({"name": "Sum", "levels": levels})
    assert [criterion.level_for(marks).text for marks in (4, 3, 2, 0.5)] == ["all", "half", "half", "none"]
