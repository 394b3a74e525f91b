"""Tasting: the tests of difference, their power, d-prime, ranking, and serving plans that are truly balanced."""

import itertools
import math
from collections import Counter
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, stats

from waterleaf.calc.quantity import OutOfRange
from waterleaf.calc.taste import difference as taste
from waterleaf.calc.taste import liking as taste_liking
from waterleaf.calc.taste import orders as taste_orders
from waterleaf.calc.taste import prime as taste_prime
from waterleaf.calc.taste import ranks as taste_ranks
from waterleaf.calc.taste import share as taste_share

MODULES = ["taste_liking", "taste_orders", "taste_prime", "taste_ranks", "taste_share"]
FEW = settings(max_examples=100, deadline=None)
panels = st.integers(3, 400)
choices = st.integers(2, 10)
levels = st.sampled_from([20.0, 10.0, 5.0, 1.0, 0.1])


# Finding a difference.


@pytest.mark.parametrize(
    ("assessors", "alternatives", "significance"),
    [(3, 3, 1.0), (3, 3, 0.1), (4, 3, 1.0), (4, 3, 0.1), (5, 3, 0.1), (6, 3, 0.1),
     (6, 2, 1.0), (6, 2, 0.1), (8, 2, 0.1)],
)
def test_panel_too_small_for_the_level_is_refused(assessors: int, alternatives: int, significance: float) -> None:
    """Where the published tables print a dash, no number of correct answers is offered."""
    with pytest.raises(OutOfRange, match="too few"):
        taste.smallest_correct(assessors=assessors, alternatives=alternatives, significance=significance)


@FEW
@given(assessors=st.integers(12, 400), alternatives=choices, significance=levels)
def test_smallest_number_correct_is_significant_and_one_less_is_not(
    assessors: int, alternatives: int, significance: float
) -> None:
    """The p-value crosses the level exactly at the smallest number correct."""
    needed = taste.smallest_correct(assessors=assessors, alternatives=alternatives, significance=significance)
    p_at = taste.p_value_one_sided(correct=needed, assessors=assessors, alternatives=alternatives)
    p_below = taste.p_value_one_sided(correct=needed - 1, assessors=assessors, alternatives=alternatives)
    assert p_at <= significance / 100 < p_below


@FEW
@given(data=st.data(), assessors=panels, alternatives=choices)
def test_one_sided_p_value_is_the_binomial_tail(data: st.DataObject, assessors: int, alternatives: int) -> None:
    """The p-value agrees with an independent binomial test."""
    correct = data.draw(st.integers(0, assessors))
    expected = stats.binomtest(correct, assessors, 1 / alternatives, alternative="greater").pvalue
    found = taste.p_value_one_sided(correct=correct, assessors=assessors, alternatives=alternatives)
    assert found == pytest.approx(expected, rel=1e-9)


@FEW
@given(data=st.data(), assessors=panels)
def test_two_sided_p_value_does_not_care_which_side_won(data: st.DataObject, assessors: int) -> None:
    """The paired p-value is the same for both sides, and agrees with an independent two-sided test."""
    preferring = data.draw(st.integers(0, assessors))
    found = taste.p_value_two_sided(preferring=preferring, assessors=assessors)
    assert found == taste.p_value_two_sided(preferring=assessors - preferring, assessors=assessors)
    assert found == pytest.approx(stats.binomtest(preferring, assessors).pvalue, rel=1e-9)


@FEW
@given(assessors=st.integers(12, 400), significance=levels)
def test_two_sided_number_is_the_one_sided_number_at_half_the_level(assessors: int, significance: float) -> None:
    """A two-sided paired test asks for at least as many on one side as the one-sided test, and for half the level."""
    two_sided = taste.smallest_agreeing(assessors=assessors, significance=significance)
    one_sided = taste.smallest_correct(assessors=assessors, alternatives=2, significance=significance)
    assert two_sided >= one_sided
    assert taste.p_value_two_sided(preferring=two_sided, assessors=assessors) <= significance / 100
    assert taste.p_value_two_sided(preferring=two_sided - 1, assessors=assessors) > significance / 100


def test_more_correct_answers_than_assessors_are_refused() -> None:
    """A count that cannot be is named, not turned into a probability."""
    with pytest.raises(OutOfRange, match="25 of 24"):
        taste.p_value_one_sided(correct=25, assessors=24, alternatives=3)
    with pytest.raises(OutOfRange, match="25 of 24"):
        taste.p_value_two_sided(preferring=25, assessors=24)
    for limit in (taste_share.correct_share_low, taste_share.correct_share_high):
        with pytest.raises(OutOfRange, match="of 24"):
            limit(correct=25, assessors=24)


# Power and the number of assessors.


def exact_power(assessors: int, alternatives: int, discriminators: float, significance: float) -> float:
    """Power by an independent route: the quantile function of the binomial distribution."""
    guess = 1 / alternatives
    needed = stats.binom.isf(significance / 100, assessors, guess) + 1
    return float(stats.binom.sf(needed - 1, assessors, guess + discriminators / 100 * (1 - guess)))


@pytest.mark.parametrize(
    ("alternatives", "discriminators", "significance", "wished"),
    [(3, 50.0, 5.0, 80.0), (3, 30.0, 1.0, 90.0), (2, 40.0, 5.0, 95.0), (3, 25.0, 20.0, 99.0), (10, 20.0, 5.0, 80.0)],
)
def test_assessors_needed_are_the_first_and_the_lasting_ones(
    alternatives: int, discriminators: float, significance: float, wished: float
) -> None:
    """Of all panels up to 1,200 the first that reaches the power, and the first from which all do."""
    enough = [exact_power(n, alternatives, discriminators, significance) >= wished / 100 for n in range(1, 1201)]
    first = 1 + enough.index(True)
    lasting = 1 + max(n for n, reached in enumerate(enough, start=1) if not reached)
    asked = {
        "alternatives": alternatives, "discriminators": discriminators, "significance": significance,
        "wished_power": wished,
    }
    assert taste.assessors_needed(**asked) == first
    assert taste.assessors_always_enough(**asked) == lasting


def test_power_falls_between_the_first_and_the_lasting_panel() -> None:
    """The saw-teeth are real: between the two numbers of assessors some panel misses the wished power."""
    first = int(taste.assessors_needed(alternatives=3, discriminators=30.0, wished_power=90.0))
    lasting = int(taste.assessors_always_enough(alternatives=3, discriminators=30.0, wished_power=90.0))
    powers = [taste.panel_power(assessors=n, alternatives=3, discriminators=30.0) for n in range(first, lasting + 1)]
    assert powers[0] >= 90
    assert powers[-1] >= 90
    assert min(powers) < 90


def test_fainter_differences_and_stricter_wishes_need_more_assessors() -> None:
    """Fewer discriminators, a lower level and a higher power each raise the number of assessors."""
    base = {"alternatives": 3, "discriminators": 40.0, "significance": 5.0, "wished_power": 80.0}
    needed = taste.assessors_needed(**base)
    for change in ({"discriminators": 30.0}, {"significance": 1.0}, {"wished_power": 95.0}, {"alternatives": 2}):
        assert taste.assessors_needed(**{**base, **change}) > needed


# How many truly perceive it, and similarity.


@FEW
@given(assessors=st.integers(3, 400).filter(lambda n: n % 6 == 0))
def test_guessing_panel_has_no_discriminators_and_a_perfect_one_only_those(assessors: int) -> None:
    """A share of correct answers at the guess is nobody, all correct is everybody."""
    for alternatives in (2, 3):
        guessed = taste_share.discriminators(
            correct=assessors // alternatives, assessors=assessors, alternatives=alternatives
        )
        assert guessed == pytest.approx(0, abs=1e-12)
        perfect = taste_share.discriminators(correct=assessors, assessors=assessors, alternatives=alternatives)
        assert perfect == pytest.approx(100)
        assert taste_share.discriminators_error(correct=assessors, assessors=assessors, alternatives=alternatives) == 0


@FEW
@given(data=st.data(), assessors=panels, alternatives=choices)
def test_limits_lie_evenly_about_the_share_found(data: st.DataObject, assessors: int, alternatives: int) -> None:
    """The two one-sided limits are as far from the share as the normal quantile says."""
    seen = {"correct": data.draw(st.integers(0, assessors)), "assessors": assessors, "alternatives": alternatives}
    found, error = taste_share.discriminators(**seen), taste_share.discriminators_error(**seen)
    low, high = taste_share.discriminators_low(**seen), taste_share.discriminators_high(**seen)
    assert low + high == pytest.approx(2 * found, abs=1e-9)
    assert high - low == pytest.approx(2 * stats.norm.ppf(0.95) * error, abs=1e-9)


@FEW
@given(data=st.data(), assessors=panels, confidence=st.sampled_from([80.0, 90.0, 95.0, 99.0]))
def test_exact_interval_is_that_of_clopper_and_pearson(
    data: st.DataObject, assessors: int, confidence: float
) -> None:
    """Both ends agree with an independent computation, at none and all correct too."""
    correct = data.draw(st.sampled_from([0, assessors]) | st.integers(0, assessors))
    expected = stats.binomtest(correct, assessors).proportion_ci(confidence / 100)
    low = taste_share.correct_share_low(correct=correct, assessors=assessors, confidence=confidence)
    high = taste_share.correct_share_high(correct=correct, assessors=assessors, confidence=confidence)
    assert low == pytest.approx(100 * expected.low, abs=1e-7)
    assert high == pytest.approx(100 * expected.high, abs=1e-7)


@pytest.mark.parametrize(
    ("assessors", "share", "by_normal", "by_exact"),
    [(30, 30.0, 11, 11), (30, 20.0, 9, 9), (48, 30.0, 19, 19), (48, 20.0, 16, 16), (60, 30.0, 25, 25),
     (60, 20.0, 21, 21),
     (36, 30.0, 14, 13), (36, 20.0, 12, 11), (72, 30.0, 31, 30), (72, 20.0, 26, 26)],
)
def test_both_rules_of_similarity_give_their_own_number(
    assessors: int, share: float, by_normal: int, by_exact: int
) -> None:
    """The normal rule and the exact rule agree for some triangle panels and differ by one for others."""
    normal = max(
        correct for correct in range(assessors + 1)
        if taste_share.discriminators_high(correct=correct, assessors=assessors, alternatives=3) < share
    )
    exact = taste_share.largest_correct_for_similarity(assessors=assessors, alternatives=3, discriminators=share)
    assert (normal, exact) == (by_normal, by_exact)


@FEW
@given(assessors=st.integers(30, 400), alternatives=st.sampled_from([2, 3]), share=st.floats(20, 60), risk=levels)
def test_similarity_keeps_its_risk(assessors: int, alternatives: int, share: float, risk: float) -> None:
    """A panel in which the agreed share perceives the difference stays within the number no oftener than the risk."""
    chance = 1 / alternatives + share / 100 * (1 - 1 / alternatives)
    largest = taste_share.largest_correct_for_similarity(
        assessors=assessors, alternatives=alternatives, discriminators=share, miss_risk=risk
    )
    assert stats.binom.cdf(largest, assessors, chance) <= risk / 100 * (1 + 1e-9)
    assert stats.binom.cdf(largest + 1, assessors, chance) > risk / 100


def test_similarity_with_a_tiny_panel_is_refused() -> None:
    """Three assessors cannot show similarity at a risk of 0.1 percent."""
    with pytest.raises(OutOfRange, match="too few"):
        taste_share.largest_correct_for_similarity(assessors=3, alternatives=3, discriminators=30.0, miss_risk=0.1)


# d-prime.

Share = Callable[..., float]
TESTS: list[tuple[str, Share, Share, float]] = [
    ("triangle", taste_prime.triangle_correct_share, taste_prime.triangle_d_prime, 100 / 3),
    ("duo-trio", taste_prime.duo_trio_correct_share, taste_prime.duo_trio_d_prime, 50),
    ("paired", taste_prime.paired_correct_share, taste_prime.paired_d_prime, 50),
    ("3-AFC", taste_prime.three_choice_correct_share, taste_prime.three_choice_d_prime, 100 / 3),
    ("tetrad", taste_prime.tetrad_correct_share, taste_prime.tetrad_d_prime, 100 / 3),
]
NAMED = [pytest.param(*test[1:], id=test[0]) for test in TESTS]


@pytest.mark.parametrize(("share", "inverse", "guess"), NAMED)
def test_products_that_are_alike_are_guessed(share: Share, inverse: Share, guess: float) -> None:
    """With a d-prime of nothing the test yields pure guesses, and pure guesses yield a d-prime of nothing."""
    assert share(d_prime=0.0) == pytest.approx(guess, abs=1e-9)
    assert inverse(correct_share=guess) == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize(("share", "inverse", "guess"), NAMED)
def test_d_prime_and_share_invert_each_other(share: Share, inverse: Share, guess: float) -> None:
    """Share to d-prime to share comes back, and a wider difference is found oftener."""
    shares = np.linspace(guess + 0.5, 99.5, 25)
    found = [inverse(correct_share=float(value)) for value in shares]
    assert found == sorted(found)
    assert len(set(found)) == len(found)
    for value, d_prime in zip(shares, found, strict=True):
        assert share(d_prime=d_prime) == pytest.approx(value, abs=1e-8)


def simulated(rule: str, d_prime: float, runs: int = 200_000) -> float:
    """Share of correct answers when the rule of the test is played out with random strengths, in percent."""
    draw = np.random.default_rng(20_240_501)
    a, a2 = draw.standard_normal(runs), draw.standard_normal(runs)
    b, b2 = draw.standard_normal(runs) + d_prime, draw.standard_normal(runs) + d_prime
    if rule == "triangle":  # A, A and B: the two closest are taken for the pair
        right = (np.abs(a - a2) < np.abs(a - b)) & (np.abs(a - a2) < np.abs(a2 - b))
    elif rule == "duo-trio":  # the reference is an A: the closer one is taken for it
        right = np.abs(a2 - a) < np.abs(b - a)
    elif rule == "paired":
        right = b > a
    elif rule == "3-AFC":
        right = (b > a) & (b > a2)
    else:  # tetrad: the two weakest are one group, the two strongest the other
        right = (np.maximum(a, a2) < np.minimum(b, b2)) | (np.maximum(b, b2) < np.minimum(a, a2))
    return 100 * float(right.mean())


@pytest.mark.parametrize("d_prime", [0.0, 1.0, 2.0])
@pytest.mark.parametrize(("rule", "share"), [pytest.param(name, share, id=name) for name, share, _, _ in TESTS])
def test_share_is_what_the_rule_of_the_test_yields(rule: str, share: Share, d_prime: float) -> None:
    """Played out 200,000 times, each test's rule gives the computed share within five standard errors."""
    expected = share(d_prime=d_prime)
    error = 100 * math.sqrt(expected / 100 * (1 - expected / 100) / 200_000)
    assert simulated(rule, d_prime) == pytest.approx(expected, abs=5 * error)


@pytest.mark.parametrize("d_prime", [0.3, 1.7, 4.0, 6.0])
def test_quadrature_agrees_with_an_adaptive_one(d_prime: float) -> None:
    """The triangle and 3-AFC integrals agree with scipy's adaptive quadrature to eleven digits."""
    cdf, pdf = stats.norm.cdf, stats.norm.pdf
    shift = d_prime * math.sqrt(2 / 3)
    triangle, _ = integrate.quad(
        lambda z: 2 * (cdf(-z * math.sqrt(3) + shift) + cdf(-z * math.sqrt(3) - shift)) * pdf(z), 0, 10, epsabs=1e-12
    )
    three, _ = integrate.quad(lambda z: pdf(z - d_prime) * cdf(z) ** 2, -10, 10 + d_prime, epsabs=1e-12)
    assert taste_prime.triangle_correct_share(d_prime=d_prime) == pytest.approx(100 * triangle, abs=1e-9)
    assert taste_prime.three_choice_correct_share(d_prime=d_prime) == pytest.approx(100 * three, abs=1e-9)


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
