"""Tasting: ranking, liking, and serving plans that are truly balanced."""

import itertools
import math
from collections import Counter

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from waterleaf.calc.quantity import OutOfRange
from waterleaf.calc.taste import liking as taste_liking
from waterleaf.calc.taste import orders as taste_orders
from waterleaf.calc.taste import ranks as taste_ranks

FEW = settings(max_examples=100, deadline=None)


# Ranking and liking.

tables = st.integers(3, 6).flatmap(
    lambda products: st.lists(
        st.lists(st.integers(1, 9).map(float), min_size=products, max_size=products), min_size=3, max_size=15
    )
)


@FEW
@given(scores=tables)
def test_rank_sums_add_up(scores: list[list[float]]) -> None:
    """Ranks are shared out completely, ties or not, and agree with an independent ranking."""
    found = taste_ranks.rank_sums(scores=scores)
    products = len(scores[0])
    assert math.fsum(found) == pytest.approx(len(scores) * products * (products + 1) / 2)
    assert found == pytest.approx(np.array([stats.rankdata(row) for row in scores]).sum(axis=0))


@FEW
@given(scores=tables.filter(lambda rows: any(len(set(row)) > 1 for row in rows)))
def test_tied_statistic_agrees_with_an_independent_one(scores: list[list[float]]) -> None:
    """With ties of any kind the statistic and its p-value are scipy's."""
    expected = stats.friedmanchisquare(*np.array(scores).T)
    found = taste_ranks.friedman_tied(scores=scores)
    assert found == pytest.approx(expected.statistic, abs=1e-9)
    p_value = taste_ranks.friedman_p_value(statistic=max(0.0, found), products=len(scores[0]))
    assert p_value == pytest.approx(expected.pvalue, abs=1e-9)


@FEW
@given(data=st.data(), products=st.integers(3, 7), assessors=st.integers(3, 20))
def test_without_ties_both_statistics_are_one(data: st.DataObject, products: int, assessors: int) -> None:
    """The formula from rank sums equals the statistic from the rankings themselves, and W lies between 0 and 1."""
    orders = [[float(rank) for rank in data.draw(st.permutations(range(1, products + 1)))] for _ in range(assessors)]
    sums = list(taste_ranks.rank_sums(scores=orders))
    plain = taste_ranks.friedman_statistic(rank_sums=sums, assessors=assessors)
    assert plain == pytest.approx(taste_ranks.friedman_tied(scores=orders), abs=1e-9)
    assert -1e-9 <= taste_ranks.concordance(rank_sums=sums, assessors=assessors) <= 1 + 1e-9


def test_full_agreement_has_a_concordance_of_one() -> None:
    """Assessors who all rank alike agree fully."""
    sums = [float(12 * rank) for rank in (1, 2, 3, 4)]
    assert taste_ranks.concordance(rank_sums=sums, assessors=12) == pytest.approx(1)


@pytest.mark.parametrize("scores", [[[1.0, 2.0, 3.0], [1.0, 2.0]], [[1.0, 2.0], [2.0, 1.0]], [[5.0, 5.0, 5.0]] * 4])
def test_scores_that_say_nothing_are_refused(scores: list[list[float]]) -> None:
    """Ragged rows, two products, or nothing but ties raise a named error."""
    with pytest.raises(OutOfRange, match="scores"):
        taste_ranks.friedman_tied(scores=scores)


@pytest.mark.parametrize(("products", "significance"), [(3, 5.0), (6, 1.0), (12, 10.0)])
def test_critical_differences_agree_with_scipy(products: int, significance: float) -> None:
    """The quantile of the range and that of chi-square are scipy's; all pairs ask for more than one pair."""
    quantile = stats.studentized_range.ppf(1 - significance / 100, products, np.inf)
    for_all = taste_ranks.honest_rank_difference(assessors=12, products=products, significance=significance)
    for_one = taste_ranks.least_significant_rank_difference(assessors=12, products=products, significance=significance)
    assert for_all == pytest.approx(quantile * math.sqrt(products * (products + 1)), rel=1e-6)
    assert for_all > for_one
    critical = taste_ranks.friedman_critical(products=products, significance=significance)
    assert critical == pytest.approx(stats.chi2.isf(significance / 100, products - 1), rel=1e-9)


@FEW
@given(
    pairs=st.lists(st.tuples(st.integers(1, 9), st.integers(1, 9)), min_size=3, max_size=40).filter(
        lambda rows: len({first - second for first, second in rows}) > 1
    ),
    confidence=st.sampled_from([80.0, 95.0, 99.0]),
)
def test_liking_is_compared_within_each_assessor(pairs: list[tuple[int, int]], confidence: float) -> None:
    """The paired t, its p-value and interval agree with an independent paired test."""
    first, second = zip(*pairs, strict=True)
    differences = [float(one - two) for one, two in pairs]
    expected = stats.ttest_rel(first, second)
    interval = expected.confidence_interval(confidence / 100)
    mean = taste_liking.liking_difference(differences=differences)
    half = taste_liking.liking_half_width(differences=differences, confidence=confidence)
    assert taste_liking.liking_t(differences=differences) == pytest.approx(expected.statistic, rel=1e-9, abs=1e-12)
    assert taste_liking.liking_p_value(differences=differences) == pytest.approx(expected.pvalue, rel=1e-9)
    assert (mean - half, mean + half) == pytest.approx((interval.low, interval.high), abs=1e-9)
    marks = [float(mark) for mark in first]
    assert taste_liking.mean_liking(marks=marks) == pytest.approx(np.mean(marks))
    assert taste_liking.liking_error(marks=marks) == pytest.approx(stats.sem(marks), abs=1e-12)


# Serving orders and codes.


def places_are_balanced(orders: list[str]) -> bool:
    """Whether each product stands in each place equally often."""
    counts = Counter((place, letter) for order in orders for place, letter in enumerate(order))
    return len(counts) == len(orders[0]) ** 2 and len(set(counts.values())) == 1


def neighbours_are_balanced(orders: list[str]) -> bool:
    """Whether each product is followed by each other product equally often."""
    counts = Counter(pair for order in orders for pair in itertools.pairwise(order))
    return len(counts) == len(orders[0]) * (len(orders[0]) - 1) and len(set(counts.values())) == 1


@pytest.mark.parametrize("products", range(2, 17))
def test_williams_orders_balance_places_and_neighbours(products: int) -> None:
    """Each product stands in each place, and behind each other one, equally often; odd numbers need twice the rows."""
    orders = [row.order for row in taste_orders.williams_orders(products=products)]
    assert len(orders) == products * (2 if products % 2 else 1)
    assert len(set(orders)) == len(orders)
    assert places_are_balanced(orders)
    assert neighbours_are_balanced(orders)


def test_cyclic_square_is_seen_to_leave_neighbours_unbalanced() -> None:
    """The plain cyclic square balances places only, and the check of neighbours notices."""
    cyclic = ["ABCD", "BCDA", "CDAB", "DABC"]
    assert places_are_balanced(cyclic)
    assert not neighbours_are_balanced(cyclic)


@FEW
@given(rounds=st.integers(1, 20), seed=st.integers(0, 999_999))
def test_triangle_orders_are_used_equally_often(rounds: int, seed: int) -> None:
    """A multiple of six assessors meets each of the six orders equally often, the odd sample in each place alike."""
    plan = taste_orders.triangle_orders(assessors=6 * rounds, seed=seed)
    assert [row.assessor for row in plan] == list(range(1, 6 * rounds + 1))
    every = ["".join(order) for order in itertools.product("AB", repeat=3) if len(set(order)) == 2]
    assert Counter(row.order for row in plan) == dict.fromkeys(every, rounds)
    odd = Counter(min(range(3), key=lambda place: row.order.count(row.order[place])) for row in plan)
    assert odd == dict.fromkeys(range(3), 2 * rounds)


@FEW
@given(assessors=st.integers(3, 80), seed=st.integers(0, 999_999))
def test_every_start_of_a_plan_is_nearly_balanced(assessors: int, seed: int) -> None:
    """Whenever the session breaks off, no order was used more than once oftener than another."""
    for plan, orders in (
        (taste_orders.triangle_orders(assessors=assessors, seed=seed), 6),
        (taste_orders.duo_trio_orders(assessors=assessors, seed=seed), 4),
        (taste_orders.paired_orders(assessors=assessors, seed=seed), 2),
    ):
        for served in range(orders, assessors + 1):
            counts = Counter((row.reference, row.order) for row in plan[:served])
            assert len(counts) == orders
            assert max(counts.values()) - min(counts.values()) <= 1


def test_duo_trio_reference_is_one_of_the_two_and_each_equally_often() -> None:
    """Each product is the open reference, and stands first, for half of the assessors."""
    plan = taste_orders.duo_trio_orders(assessors=32, seed=7)
    assert Counter(row.reference for row in plan) == {"A": 16, "B": 16}
    assert Counter((row.reference, row.order) for row in plan) == {
        (reference, order): 8 for reference in "AB" for order in ("AB", "BA")
    }
    assert all(len(row.codes) == 2 for row in plan)


@pytest.mark.parametrize("products", [2, 3, 4, 5])
def test_ranking_plan_deals_the_whole_square(products: int) -> None:
    """A full round of assessors tastes the rows of the square, each once."""
    square = sorted(row.order for row in taste_orders.williams_orders(products=products))
    size = max(4, len(square) * 2)
    plan = taste_orders.ranking_orders(assessors=size, products=products, seed=3)
    assert sorted(row.order for row in plan[: len(square)]) == square
    assert all(len(set(row.codes)) == products for row in plan)


@FEW
@given(assessors=st.integers(1, 120), samples=st.integers(1, 30), seed=st.text(max_size=12))
def test_blind_codes_never_repeat_for_one_assessor(assessors: int, samples: int, seed: str) -> None:
    """Codes have three digits, differ within a set and between sets, and come back only when all 900 are used up."""
    found = taste_orders.blind_codes(assessors, samples, seed)
    assert [len(set(codes)) for codes in found] == [samples] * assessors
    assert all(100 <= code <= 999 for codes in found for code in codes)
    per_deck = 900 // samples
    for start in range(0, assessors, per_deck):
        deck = [code for codes in found[start:start + per_deck] for code in codes]
        assert len(set(deck)) == len(deck)


def test_same_seed_draws_the_same_plan_and_another_seed_another() -> None:
    """A printed plan can be drawn again from its seed alone."""
    first = taste_orders.serving_plan(taste_orders.TRIANGLE_ORDERS, 24, "week nine")
    assert taste_orders.serving_plan(taste_orders.TRIANGLE_ORDERS, 24, "week nine") == first
    other = taste_orders.serving_plan(taste_orders.TRIANGLE_ORDERS, 24, "week ten")
    assert [row.order for row in other] != [row.order for row in first]
    assert [row.codes for row in other] != [row.codes for row in first]


def test_orders_and_codes_look_drawn_not_listed() -> None:
    """Over many seeds each order comes first about equally often, and so does each half of the codes."""
    plans = [taste_orders.triangle_orders(assessors=6, seed=seed) for seed in range(1200)]
    firsts = Counter(plan[0].order for plan in plans)
    assert stats.chisquare(list(firsts.values())).pvalue > 1e-4
    low = sum(plan[0].codes[0] < 550 for plan in plans)
    assert stats.binomtest(low, len(plans)).pvalue > 1e-4


def test_more_cups_than_codes_are_refused() -> None:
    """Nobody is handed 901 cups with three-digit codes."""
    with pytest.raises(OutOfRange, match="901 codes"):
        taste_orders.blind_codes(1, 901, "any")
