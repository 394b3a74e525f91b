"""Thousands of invented trials: every analysis keeps its error rate, covers the truth, and has the power it was planned
with. Bounds are three standard errors of the nominal share; seeds are fixed."""

import numpy as np
import pytest

from waterleaf.calc.taste.difference import panel_power
from waterleaf.trial import fast, power, simulate, tasting_simulate
from waterleaf.trial.drawn import DESIGNS, base_plan, draw_trials, real_trial, three_errors, two_apart, where_of
from waterleaf.trial.pairs import places
from waterleaf.trial.plan import Panel, PanelTest
from waterleaf.trial.simulate import rates
from waterleaf.trial.tasting import ALTERNATIVES, like, rank

RUNS = 4000


@pytest.mark.parametrize("design", DESIGNS)
def test_null_trials_keep_error_rate_and_coverage(design: str) -> None:
    """Main test and intervals miss in 5 of 100 trials; claims no more often; plants for units far more often."""
    made = base_plan().model_copy(update=DESIGNS[design])
    found = rates(draw_trials(made, two_apart(made, 5.0, 0.0), RUNS, 1))
    for share in (found.main, found.missed, found.missed_alone):
        assert abs(share - 0.05) <= found.margin(0.05)
    assert found.claimed <= found.main
    assert found.wrong_unit > 0.2


@pytest.mark.parametrize("design", DESIGNS)
def test_power_is_what_was_planned(design: str) -> None:
    """The main test finds what the planner promised; the claim, which needs both tests, at most a little less."""
    made = base_plan().model_copy(update=DESIGNS[design])
    shape, deviation = power.shape_of(made), power.deviation_of_unit_mean(made)
    found = rates(draw_trials(made, two_apart(made, 5.0, 2 * deviation), RUNS, 2), plants_too=False)
    planned = power.main_test_power(shape, 2 * deviation, deviation) / 100
    assert abs(found.main - planned) <= three_errors(planned, RUNS)
    claim = power.claim_power(shape, 2 * deviation, deviation) / 100
    assert claim - 0.05 <= found.claimed <= claim + 0.02 + three_errors(claim, RUNS)
    assert abs(found.missed - 0.05) <= found.margin(0.05)


@pytest.mark.parametrize("design", DESIGNS)
def test_the_fast_way_is_the_analysis_of_the_report(design: str) -> None:
    """Six of the same trials through the whole analysis: same p, differences, errors and wrong-unit p."""
    made = base_plan().model_copy(update=DESIGNS[design])
    drawn = draw_trials(made, two_apart(made, 5.0, 0.5), 6, 3)
    many = fast.fit_many(drawn.means, where_of(drawn.units), made.methods, made.design)
    wrong = simulate.wrong_unit_p(drawn)
    for number in range(6):
        real = real_trial(drawn, number)
        assert real.main_p == pytest.approx(many.p[number], abs=1e-10)
        assert real.wrong_unit is not None and real.wrong_unit.p == pytest.approx(wrong[number], abs=1e-10)
        for place, pair in enumerate(real.pairs):
            assert (pair.difference, pair.error) == pytest.approx(
                (many.gaps[number, place], many.errors[number, place])
            )


@pytest.mark.parametrize("design", ["random", "blocked", "paired"])
def test_rank_tests_never_exceed_their_level_and_are_those_of_the_report(design: str) -> None:
    """Conservative with few units; the same p as the analysis of the report."""
    made = base_plan().model_copy(update={**DESIGNS[design], "test": "ranks", "adjust": "holm"})
    drawn = draw_trials(made, two_apart(made, 5.0, 0.0), RUNS, 4)
    p = simulate.rank_p(drawn)
    assert 0.01 < float(np.mean(p <= 0.05)) <= 0.05 + three_errors(0.05, RUNS)
    for number in range(4):
        assert real_trial(drawn, number).main_p == pytest.approx(p[number], abs=1e-10)


@pytest.mark.parametrize("people", [12, 24, 60])
@pytest.mark.parametrize("test", ALTERNATIVES)
def test_choices_have_their_exact_level_and_power(test: PanelTest, people: int) -> None:
    """Guessing panels find something as often as the exact sum says, never above 5 %; so do those that can tell."""
    level = tasting_simulate.exact_level(test, people, 5.0)
    assert 0.01 < level <= 0.05
    guessed = tasting_simulate.choice_rate(test, people, 0.0, 5.0, RUNS, people)
    assert abs(guessed - level) <= three_errors(level, RUNS)
    planned = panel_power(
        assessors=float(people), alternatives=ALTERNATIVES[test], discriminators=30.0,
        significance=2.5 if test == "preference" else 5.0,
    ) / 100  # fmt: skip
    told = tasting_simulate.choice_rate(test, people, 0.3, 5.0, RUNS, 7 * people)
    assert abs(told - planned) <= three_errors(planned, RUNS) + 0.001


@pytest.mark.parametrize(("people", "products"), [(8, 3), (12, 3), (24, 3), (12, 4), (24, 4), (24, 5)])
def test_rankings_without_a_difference_stay_within_the_level(people: int, products: int) -> None:
    """Exact for three products, and for four up to twelve people; chi-square beyond. Same p as the analysis."""
    draw = tasting_simulate.draw_rankings(people, [0.0] * products, RUNS, 8)
    p = fast.blocked_ranks(draw)
    assert float(np.mean(p <= 0.05)) <= 0.05 + three_errors(0.05, RUNS)
    names = [f"p{number}" for number in range(products)]
    for feelings, expected in zip(draw[:3], p[:3], strict=True):
        order = feelings.argsort(axis=1).argsort(axis=1) + 1.0
        assert rank(names, order.tolist(), 5.0).p == pytest.approx(expected)


def base_panel(products: int) -> Panel:
    """A panel of so many products."""
    return Panel(tests=("liking",), assessors=24, products=tuple(f"p{number}" for number in range(products)))


@pytest.mark.parametrize(("people", "products"), [(12, 2), (12, 3), (24, 4)])
def test_liking_without_a_difference_keeps_its_level_though_marks_are_steps(people: int, products: int) -> None:
    """Whole marks with people's own levels; three panels through the analysis of the report give the same p."""
    runs = [tasting_simulate.draw_marks(people, [6.0] * products, 1.5, RUNS, seed) for seed in range(10)]
    marks = np.concatenate(runs)
    many = tasting_simulate.marks_many(marks)
    assert abs(float(np.mean(many.p <= 0.05)) - 0.05) <= three_errors(0.05, len(marks))
    made = base_panel(products)
    for number in range(3):
        given = enumerate([{name: int(m) for name, m in zip(made.products, row, strict=True)} for row in marks[number]])
        found = like(made, given, 5.0)
        assert found.p == pytest.approx(many.p[number], abs=1e-10)
        assert len(found.pairs) == len(places(products))
