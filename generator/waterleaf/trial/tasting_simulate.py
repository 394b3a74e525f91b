"""Error rates and power of the panel's tests, exact where there is a sum and by simulation of whole panels."""

import math
from collections.abc import Iterator, Sequence
from functools import partial
from typing import Any

import numpy as np

from waterleaf.calc.taste.difference import panel_power
from waterleaf.trial import fast, power
from waterleaf.trial.lines import Line
from waterleaf.trial.model import Point
from waterleaf.trial.plan import PanelTest
from waterleaf.trial.tasting import ALTERNATIVES, needed


def exact_level(test: PanelTest, people: int, significance: float) -> float:
    """Share of guessing panels in which the test finds something: never above the level, often well below."""
    from scipy import stats

    least = needed(test, float(people), significance)
    if least is None:
        return 0.0
    tail = float(stats.binom.sf(least - 1, people, 1 / ALTERNATIVES[test]))
    return 2 * tail if test == "preference" else tail


def choice_rate(test: PanelTest, people: int, truly: float, significance: float, runs: int, seed: int) -> float:
    """Share of simulated panels in which the test finds something, if a share of the people can truly tell.

    In a preference test `truly` is the share of people that leans to one product, the rest chooses by chance.
    """
    draw = np.random.default_rng(seed)
    shape, guess = (runs, people), 1 / ALTERNATIVES[test]
    right = ((draw.random(shape) < truly) | (draw.random(shape) < guess)).sum(axis=1)
    least = needed(test, float(people), significance)
    if least is None:
        return 0.0
    found = right >= least
    if test == "preference":
        found |= people - right >= least
    return float(found.mean())


def draw_rankings(people: int, effects: Sequence[float], runs: int, seed: int) -> Any:
    """Feelings that decide rankings, in units of how far marks stray; shape (runs, people, products)."""
    return np.asarray(effects) + np.random.default_rng(seed).standard_normal((runs, people, len(effects)))


def ranking_rate(people: int, effects: Sequence[float], significance: float, runs: int, seed: int) -> float:
    """Share of simulated panels in which Friedman's test finds something."""
    return float((fast.blocked_ranks(draw_rankings(people, effects, runs, seed)) <= significance / 100).mean())


def draw_marks(people: int, liking: Sequence[float], stray: float, runs: int, seed: int) -> Any:
    """Marks on the nine-point scale, people's own levels included; shape (runs, people, products)."""
    draw = np.random.default_rng(seed)
    level = draw.standard_normal((runs, people, 1))
    return np.clip(
        np.rint(np.asarray(liking) + level + stray * draw.standard_normal((runs, people, len(liking)))), 1, 9
    )


def marks_many(marks: Any) -> fast.Many:
    """The analysis of liking of every panel at once."""
    _, people, products = marks.shape
    names = [str(product) for product in range(products)]
    where = [Point(0.0, name, block=str(person)) for person in range(people) for name in names]
    return fast.fit_many(marks.reshape(len(marks), -1), where, names, "blocked")


def lines(runs: int) -> Iterator[Line]:
    """The lines of the tables of the panel."""
    yield "panels without a difference: exact level, found"
    for test in ALTERNATIVES:
        for people in (12, 24, 36, 60):
            yield partial(_guessing, test, people, runs)
    for people in (8, 12, 24):
        for products in (3, 4, 6):
            yield partial(_ranking, people, products, runs)
    for people in (8, 12, 24):
        for products in (2, 3, 4):
            yield partial(_liking, people, products, runs)
    yield "panels with a difference: planned power, found"
    for test in ALTERNATIVES:
        yield partial(_telling, test, runs)
    yield partial(_liking_apart, runs)


def _guessing(test: PanelTest, people: int, runs: int) -> str:
    exact, found = exact_level(test, people, 5.0), choice_rate(test, people, 0.0, 5.0, runs, 3)
    return f"  {test:<10} {people:>3} people  {100 * exact:6.2f} {100 * found:6.2f}"


def _ranking(people: int, products: int, runs: int) -> str:
    found = ranking_rate(people, [0.0] * products, 5.0, runs, 4)
    return f"  ranking    {people:>3} people, {products} products  {100 * found:6.2f}"


def _liking(people: int, products: int, runs: int) -> str:
    found = float((marks_many(draw_marks(people, [6.0] * products, 1.5, runs, 5)).p <= 0.05).mean())
    return f"  liking     {people:>3} people, {products} products  {100 * found:6.2f}"


def _telling(test: PanelTest, runs: int) -> str:
    level = 2.5 if test == "preference" else 5.0
    planned = panel_power(assessors=24.0, alternatives=ALTERNATIVES[test], discriminators=40.0, significance=level)
    return f"  {test:<10}  24 people, 40 %  {planned:6.2f} {100 * choice_rate(test, 24, 0.4, 5.0, runs, 6):6.2f}"


def _liking_apart(runs: int) -> str:
    many = marks_many(draw_marks(24, [5.5, 6.5, 6.0], 1.5, runs, 7))
    planned = power.main_test_power(power.Shape("blocked", 3, 24, 5.0), 1.0, math.sqrt(1.5**2 + 1 / 12))
    return f"  liking      24 people, 1 point  {planned:6.2f} {100 * float((many.p <= 0.05).mean()):6.2f}"
