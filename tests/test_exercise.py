"""What a student gets: one draw, two renderings, keys that follow from the printed numbers."""

import ast
import re
from pathlib import Path

import pytest

from waterleaf.bank.builder import load_bank
from waterleaf.bank.family import Family
from waterleaf.bank.story import fill
from waterleaf.draw import draw
from waterleaf.exercise import pose
from waterleaf.shown import clock
from waterleaf.working import figures
from waterleaf.working.units import money, written

BANK = load_bank(Path(__file__).parents[1] / "question_bank")
FAMILIES = [pytest.param(family, id=key) for key, family in BANK.items()]


@pytest.mark.parametrize("family", FAMILIES)
def test_metric_and_customary_sheets_have_the_same_answer(family: Family) -> None:
    """Key and tolerance agree: the one key lies in the other's band."""
    for number in range(30):
        drawn = draw(family, number)
        metric, customary = pose(drawn, "metric"), pose(drawn, "us")
        for name, part in family.parts.items():
            one, other = metric.keys[name], customary.keys[name]
            if not part.file.numeric:
                assert one == other, (name, number)
                continue
            for a, b in zip(one, other, strict=True) if isinstance(one, tuple) else ((one, other),):
                low, high = part.tolerance.around(a)
                assert low <= b <= high, (name, number)


@pytest.mark.parametrize("family", FAMILIES)
def test_printed_key_lies_inside_its_own_band(family: Family) -> None:
    """Rounding the key for print never puts it outside what is accepted."""
    for number in range(30):
        for system in ("metric", "us"):
            for part in pose(draw(family, number), system).parts:  # type: ignore[arg-type]
                if part.kind in ("number", "whole"):
                    assert part.low <= float(part.key_text) <= part.high, (part.name, part.key_text)


@pytest.mark.parametrize("family", FAMILIES)
def test_story_and_questions_are_filled_in(family: Family) -> None:
    """No brace is left, and every drawn number stands in the story, a question or the table."""
    drawn = draw(family, 5)
    exercise = pose(drawn)
    text = " ".join([exercise.story, *(part.ask for part in exercise.parts)])
    assert "{" not in text
    table = " ".join(cell for row in exercise.table.rows for cell in row) if exercise.table else ""
    for name, printed in drawn.texts.items():
        for number in printed if isinstance(printed, tuple) else (printed,):
            unit = family.file.given[name].unit
            shown = clock(float(number)) if unit == "hour" else figures.grouped(number)
            priced = money(shown).removeprefix("$") if unit.startswith("dollar") else shown
            alone = re.compile("|".join(rf"(?<![\d.,]){re.escape(form)}(?!\d)" for form in (number, shown, priced)))
            assert alone.search(f"{text} {table}"), f"{name} = {number} is not on the sheet"


def test_customary_working_starts_from_the_printed_numbers() -> None:
    """The first lines turn the printed feet into the metres that the formula needs."""
    lines = [line.piece.plain for line in pose(draw(BANK["feed/daily_feed"], 1), "us").parts[0].working]
    assert lines[0].startswith("A = 291\u00a0ft² = 27.03")
    assert lines[-1].endswith("= 3.35")


@pytest.mark.parametrize("family", FAMILIES)
def test_customary_working_changes_the_unit_of_every_number_in_a_sum(family: Family) -> None:
    """No metric number falls from the sky: the printed one and its change of unit stand before the sum."""
    exercise = pose(draw(family, 3), "us")
    for part in exercise.parts:
        spec = family.parts[part.name]
        lines = [line.piece.plain for line in part.working]
        for argument, given in spec.file.with_.items():
            if not isinstance(given, str) or argument in spec.plain_names or not lines:
                continue
            names = {node.id for node in ast.walk(ast.parse(given, mode="eval")) if isinstance(node, ast.Name)}
            for name in names & family.file.given.keys() & exercise.shown.keys():
                customary = exercise.shown[name].unit != written(family.file.given[name].unit)
                if customary and isinstance(exercise.keys[name], float):
                    assert any(exercise.shown[name].whole in line for line in lines), f"{part.name}: {name}"


@pytest.mark.parametrize(
    ("hours", "shown"),
    [(6.5, "06:30"), (0, "00:00"), (23.999, "00:00 next day"), (25.25, "01:15 next day"), (49, "01:00 2 days later")],
)
def test_clock_shows_hours_and_minutes(hours: float, shown: str) -> None:
    """Rounded to the minute, and past midnight it says so."""
    assert clock(hours) == shown


def test_groups_of_readings_are_listed_as_a_person_would() -> None:
    """Readings of a group are parted by commas, groups by semicolons, and the unit follows."""
    exercise = pose(draw(BANK["sugar/three_systems"], 3))
    _piece, text, _meaning = next(part for part in exercise.parts if part.name == "f").given[0]
    assert text == "5.9, 4.8, 5.2, 5.4; 5.8, 6.1, 6.3, 6.2; 5.0, 5.7, 4.1, 4.8\u00a0°Brix"


def test_a_per_cent_sign_stays_with_its_number() -> None:
    """A line of print never starts with it."""
    assert fill("at {{ level }} % of\n  it", {"level": 5}) == "at 5\N{NO-BREAK SPACE}% of it"
