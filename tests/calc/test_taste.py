"""Tasting: the tests of difference, their power, what a panel perceives, and d-prime."""

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, stats

from waterleaf.calc.quantity import OutOfRange
from waterleaf.calc.taste import difference as taste
from waterleaf.calc.taste import prime as taste_prime
from waterleaf.calc.taste import share as taste_share

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
