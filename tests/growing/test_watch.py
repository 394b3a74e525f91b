"""The crew's game: drawn from a seed, worked out by the sums, and explained by what happened."""

from dataclasses import replace
from pathlib import Path
from typing import Literal

import pikepdf
import pytest

from on_paper import plain
from waterleaf.commands.growing import print_watch
from waterleaf.faults import Faults
from waterleaf.growing.system import read_growing
from waterleaf.growing.term_events import KINDS
from waterleaf.growing.watch import Watch, best, eve_lines
from waterleaf.growing.watch_cards import SITUATIONS
from waterleaf.sheets.paper import Style
from waterleaf.sheets.press import Press
from waterleaf.sheets.watch import booklet, instructors_key

DEMO = Path(__file__).parents[2] / "course" / "demo" / "growing.yaml"
SYSTEM = read_growing(DEMO)
GAME = Watch(SYSTEM, 7)
ALL = Watch(SYSTEM, 1, len(SITUATIONS))


def test_a_seed_draws_the_same_game_again() -> None:
    """Days, situations and sizes."""
    assert Watch(SYSTEM, 7).decisions == GAME.decisions
    assert Watch(SYSTEM, 8).decisions != GAME.decisions


def test_unchanged_decisions_of_a_seed() -> None:
    """A booklet that was handed out can be printed again."""
    assert [(decision.day, decision.situation.key) for decision in GAME.decisions] == [
        (9, "hose"), (24, "show"), (38, "exams"), (52, "visitors"), (66, "works"), (79, "pump"),
    ]  # fmt: skip


def test_every_situation_comes_once_and_in_order_of_days() -> None:
    """A game of all situations uses each, on days that rise."""
    assert {decision.situation.key for decision in ALL.decisions} == {one.key for one in SITUATIONS}
    days = [decision.day for decision in ALL.decisions]
    assert days == sorted(set(days))


@pytest.mark.parametrize("decisions", [0, 5, len(SITUATIONS) + 1, -1])
def test_too_few_or_too_many_decisions_are_refused(decisions: int) -> None:
    """Six at least, and no more than there are situations."""
    with pytest.raises(Faults, match="--decisions"):
        Watch(SYSTEM, 1, decisions)


def test_consequences_end_before_the_next_decision() -> None:
    """No slip reaches into the next situation's days."""
    for seed in range(12):
        game = Watch(SYSTEM, seed, len(SITUATIONS))
        for decision in game.decisions:
            for choice in decision.situation.choices:
                for event in decision.events(choice, game.last):
                    assert event.kind in KINDS
                    assert decision.day <= event.first <= event.last <= game.until(decision)


def test_choices_of_a_situation_lead_to_different_ends() -> None:
    """A decision in which all choices cost the same would be none."""
    for decision in ALL.decisions:
        outcomes = ALL.outcomes(decision)
        assert len({tuple(outcome.lines) for outcome in outcomes}) == 3, decision.situation.key
        assert best(outcomes).points < max(outcome.points for outcome in outcomes)


def test_points_are_the_sum_of_what_happened() -> None:
    """By the printed rules, worked out here again."""
    for decision in GAME.decisions:
        for one in GAME.outcomes(decision):
            lost = (
                5 * one.stress + 3 * one.hazard + one.still / 4 + max(0, one.water) / 25 + max(0, one.nitrogen) / 5
                + max(0, -one.harvest) / 5 + max(0, -one.growth) * 2 + one.choice.minutes / 15
            )  # fmt: skip
            assert one.points == round(lost)


def test_an_earlier_slip_is_carried_into_the_next_decision() -> None:
    """From a state that a slip left, an outcome differs from the one that starts as planned."""
    first, second = GAME.decisions[:2]
    left = GAME.outcomes(first)[0].end
    assert GAME.outcomes(second, left)[1].end.books.accounts != GAME.outcomes(second)[1].end.books.accounts


def test_the_evening_before_is_told_in_both_systems_of_units() -> None:
    """Warmth in both degrees."""
    told = dict(eve_lines(GAME.reading(GAME.decisions[0])))
    assert told["water"] == "24.0\u00a0°C (75\u00a0°F)"


def test_an_outcome_is_told_in_both_systems_of_units() -> None:
    """Litres with gallons, grams with ounces, kilograms with pounds; less than can be shown is as planned."""
    one = GAME.outcomes(GAME.decisions[0])[0]
    told = replace(one, water=119, nitrogen=-132, growth=1.9)
    assert {plain(line) for line in told.lines} >= {
        "Water: 119 L (31 gal) more than planned.",
        "Nitrogen lost: 132 g (4.7 oz) less than planned.",
        "Growth of the fish: 1.9 kg (4.2 lb) more than planned.",
    }
    assert "Water: as planned." in replace(one, water=-0.4).lines


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_key_takes_no_more_than_three_pages(tmp_path: Path, paper: Literal["a4", "letter"]) -> None:
    """Six decisions, on either paper."""
    key = tmp_path / "key.pdf"
    key.write_bytes(Press("watch").pdf(instructors_key(GAME, Style(paper=paper))))
    with pikepdf.open(key) as pdf:
        assert len(pdf.pages) <= 3


def test_the_key_is_kept_apart_from_the_booklet(tmp_path: Path) -> None:
    """Two files, the key in a folder of its own; only the key tells which choice loses least."""
    print_watch(DEMO, 7, 6, tmp_path / "game")
    assert {path.relative_to(tmp_path / "game").as_posix() for path in (tmp_path / "game").rglob("*.pdf")} == {
        "booklet.pdf", "keys/key.pdf",
    }  # fmt: skip
    with pikepdf.open(tmp_path / "game" / "booklet.pdf") as pdf:
        assert pdf.Root.MarkInfo.Marked
    assert " least" not in str(booklet(GAME, Style()))
    assert " least" in str(instructors_key(GAME, Style())["rows"])


def test_every_situation_carries_its_caution() -> None:
    """Before the choices are made."""
    for situation in booklet(ALL, Style())["decisions"]:
        assert situation["caution"]
