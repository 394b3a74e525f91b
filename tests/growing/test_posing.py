"""Exercises take the numbers of a growing file where they fit, and say in a line where they do not."""

from pathlib import Path

import pytest

from waterleaf.bank.builder import load_bank
from waterleaf.bank.models import Given
from waterleaf.commands.work import worked_exercise
from waterleaf.draw import distinct_draws, draw, judge_values
from waterleaf.exercise import pose
from waterleaf.growing.posing import pose_bank, with_own_numbers
from waterleaf.growing.system import names, read_growing
from waterleaf.working.units import factor, registry

ROOT = Path(__file__).parents[2]
SAMPLE = ROOT / "course" / "demo" / "growing.yaml"
BANK = load_bank(ROOT / "question_bank")
NAMED = [
    (family, name, given.own) for family in BANK.values() for name, given in family.file.given.items()
    if isinstance(given, Given) and given.own
]


@pytest.mark.parametrize(("family", "name", "own"), NAMED, ids=[f"{f.key}:{n}" for f, n, _ in NAMED])
def test_a_given_names_a_value_that_exists_and_measures_the_same(family: object, name: str, own: str) -> None:
    """A misspelt name would quietly leave the exercise as it was."""
    unit, _ = names()[own]
    given = next(f for f, n, _ in NAMED if f is family).file.given[name]
    assert isinstance(given, Given)
    if unit and not unit.startswith("deg"):
        assert factor(unit, given.unit) > 0
    elif unit:
        assert registry().Unit(unit).dimensionality == registry().Unit(given.unit).dimensionality


def test_own_numbers_stand_in_every_draw_and_every_draw_is_sound() -> None:
    """The value of the file is in the story; the rest is drawn as ever."""
    posed = with_own_numbers(BANK["feed/daily_feed"], read_growing(SAMPLE), [(7, 12)])
    draws = list(distinct_draws(posed.family, 7, 12))
    assert posed.used == {"bed_area": 16.0, "meals": 3.0}
    assert {drawn.values["bed_area"] for drawn in draws} == {16.0}
    assert len({drawn.values["feed_ratio"] for drawn in draws}) == 12
    for drawn in draws:
        assert judge_values(posed.family, drawn.values)[0] == ""
        assert "16.0 m²" in pose(drawn).story.replace("\u00a0", " ")


def test_a_value_that_no_sound_draw_can_hold_is_left_out_with_a_reason() -> None:
    """One line for a family, naming the value and what stands against it."""
    posed = with_own_numbers(BANK["solids/flush_times"], read_growing(SAMPLE), [(1, 1)])
    assert "cone_volume" in posed.used
    assert "flush_volume is drawn, since 16" in posed.line
    assert "\n" not in posed.line


def test_an_assumed_value_is_not_taken_for_the_systems_own() -> None:
    """Only what the file gives, or what follows from it, is posed."""
    posed = with_own_numbers(BANK["solids/flush_day"], read_growing(SAMPLE), [(1, 1)])
    assert "solids_share" not in posed.used
    assert "sludge_solids" in posed.used
    assert "the file gives no solids.share" in posed.line


def test_a_class_still_gets_different_sheets() -> None:
    """Values are given up, last first, where too few different draws would be left."""
    one = with_own_numbers(BANK["feed/fish_ration"], read_growing(SAMPLE), [(1, 1)])
    class_ = with_own_numbers(BANK["feed/fish_ration"], read_growing(SAMPLE), [(1, 24)])
    assert set(one.used) == {"biomass", "daily_feed"}
    assert set(class_.used) == {"biomass"}
    assert len(list(distinct_draws(class_.family, 1, 24))) == 24


def test_seeds_tell_own_numbers_from_drawn_ones() -> None:
    """The code of a sheet must not stand for two different sheets."""
    family = BANK["feed/daily_feed"]
    posed = with_own_numbers(family, read_growing(SAMPLE), [(1, 1)]).family
    assert draw(family, 1).seed != draw(posed, 1).seed
    assert draw(posed, 1).seed == draw(posed, 1).seed


def test_a_family_that_names_nothing_stays_as_it_is() -> None:
    """Most families of the bank have no number of a growing system in them."""
    [family], lines = pose_bank([BANK["sugar/two_beds"]], read_growing(SAMPLE), [(1, 1)])
    assert family is BANK["sugar/two_beds"]
    assert not lines


def test_the_work_command_poses_own_numbers_and_typed_ones_win() -> None:
    """What a person types stands above the file."""
    own = worked_exercise("feed/daily_feed", [], "1", "metric", False, SAMPLE)
    typed = worked_exercise("feed/daily_feed", ["bed_area=31 m^2"], "1", "metric", False, SAMPLE)
    assert "16.0 m²" in own.replace("\u00a0", " ")
    assert own.endswith("feed/daily_feed: own bed_area 16\u00a0m², meals 3\u00a0meal/day")
    assert "31 m²" in typed.replace("\u00a0", " ")
