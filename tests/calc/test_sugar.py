"""Checks of means, pairs of groups and the planning of trials against other packages."""

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy import stats

from waterleaf.calc.quantity import OutOfRange
from waterleaf.calc.sugar import effects as sugar_effects
from waterleaf.calc.sugar import groups as sugar_groups
from waterleaf.calc.sugar import power as sugar_power
from waterleaf.calc.sugar import statistics as sugar_statistics

reading = st.floats(0.5, 30).map(lambda value: round(value, 2))
readings = st.lists(reading, min_size=3, max_size=12).filter(lambda values: max(values) - min(values) > 0.1)
few = settings(max_examples=20, deadline=None)


# ---------------------------------------------------------------- means and two groups


@few
@given(readings, st.floats(51, 99.5))
def test_mean_spread_and_interval_agree_with_scipy(values: list[float], confidence: float) -> None:
    """Mean, standard deviation, standard error, variation and interval agree with scipy and numpy."""
    error = stats.sem(values)
    low, high = stats.t.interval(confidence / 100, len(values) - 1, loc=np.mean(values), scale=error)
    assert sugar_statistics.mean_reading(readings=values) == pytest.approx(np.mean(values), rel=1e-12)
    assert sugar_statistics.standard_deviation(readings=values) == pytest.approx(np.std(values, ddof=1), rel=1e-9)
    assert sugar_statistics.standard_error(readings=values) == pytest.approx(error, rel=1e-9)
    assert sugar_statistics.coefficient_of_variation(readings=values) == pytest.approx(
        100 * stats.variation(values, ddof=1), rel=1e-9
    )
    assert sugar_statistics.interval_low(readings=values, confidence=confidence) == pytest.approx(low, rel=1e-8)
    assert sugar_statistics.interval_high(readings=values, confidence=confidence) == pytest.approx(high, rel=1e-8)


@pytest.mark.parametrize(
    ("base", "digits"), [(1.0, 1e-12), (1_000_000.0, 1e-9), (10_000_000.0, 1e-8)], ids=["NumAcc2", "NumAcc3", "NumAcc4"]
)
def test_standard_deviation_keeps_its_digits_on_a_high_base(base: float, digits: float) -> None:
    """NIST sets NumAcc2 to 4: 1001 readings a tenth apart, whose spread is exactly a tenth, as far as floats go."""
    values = [base + 0.2, *[base + 0.1, base + 0.3] * 500]
    assert sugar_statistics.standard_deviation(readings=values) == pytest.approx(0.1, rel=digits)


@few
@given(readings, readings)
def test_two_groups_agree_with_scipy(first: list[float], second: list[float]) -> None:
    """Welch's and Student's t, degrees of freedom, p and interval agree with scipy."""
    welch = stats.ttest_ind(first, second, equal_var=False)
    student = stats.ttest_ind(first, second)
    assert sugar_groups.welch_t(first=first, second=second) == pytest.approx(welch.statistic, rel=1e-8, abs=1e-9)
    freedom = sugar_groups.welch_freedom(first=first, second=second)
    assert freedom == pytest.approx(welch.df, rel=1e-8)
    assert sugar_groups.pooled_t(first=first, second=second) == pytest.approx(student.statistic, rel=1e-8, abs=1e-9)
    assume(abs(welch.statistic) < 100)
    p = sugar_groups.two_sided_p(t_found=float(welch.statistic), freedom=freedom)
    assert p == pytest.approx(welch.pvalue, rel=1e-6)
    interval = welch.confidence_interval(0.95)
    half = sugar_groups.welch_half_width(first=first, second=second)
    assert 2 * half == pytest.approx(interval.high - interval.low, rel=1e-7)


@few
@given(st.lists(st.tuples(reading, reading), min_size=3, max_size=12))
def test_pairs_agree_with_scipy(pairs: list[tuple[float, float]]) -> None:
    """t of pairs and its interval agree with scipy."""
    first, second = map(list, zip(*pairs, strict=True))
    differences = sugar_groups.pair_differences(first=first, second=second)
    assume(max(differences) - min(differences) > 0.1)
    found = stats.ttest_rel(first, second)
    interval = found.confidence_interval(0.9)
    assert sugar_groups.paired_t(differences=differences) == pytest.approx(found.statistic, rel=1e-8, abs=1e-9)
    assert 2 * sugar_groups.paired_half_width(differences=differences, confidence=90.0) == pytest.approx(
        interval.high - interval.low, rel=1e-8
    )


def test_pairs_want_partners() -> None:
    """Lists of different length make no pairs."""
    with pytest.raises(OutOfRange, match="first: 3 readings against 2"):
        sugar_groups.pair_differences(first=[1.0, 2.0, 3.0], second=[1.0, 2.0])


@few
@given(readings, readings)
def test_effect_is_t_without_the_number_of_units(first: list[float], second: list[float]) -> None:
    """Cohen's d times the root of the harmonic number of units is Student's t; turned round it changes sign only."""
    harmonic = math.sqrt(len(first) * len(second) / (len(first) + len(second)))
    effect = sugar_effects.cohen_d(first=first, second=second)
    assert effect * harmonic == pytest.approx(sugar_groups.pooled_t(first=first, second=second), rel=1e-9, abs=1e-12)
    assert sugar_effects.cohen_d(first=second, second=first) == pytest.approx(-effect, abs=1e-12)


# ---------------------------------------------------------------- planning


@few
@given(st.floats(0.05, 1.5), st.integers(2, 40), st.integers(2, 40), st.sampled_from([1.0, 5.0, 10.0]))
def test_power_agrees_with_statsmodels(effect: float, first: int, second: int, level: float) -> None:
    """Power of two groups, of pairs and of several groups agrees with statsmodels, where that has an answer."""
    from statsmodels.stats.power import FTestAnovaPower, TTestIndPower, TTestPower

    one, two = float(first), float(second)
    compared = [
        (
            sugar_power.two_group_power(effect=effect, first_units=one, second_units=two, significance=level),
            TTestIndPower().power(effect, first, level / 100, ratio=second / first),
        ),
        (
            sugar_power.pairs_power(effect=effect, pairs=one, significance=level),
            TTestPower().power(effect, first, level / 100),
        ),
        (
            sugar_power.anova_power(effect=effect, groups=3.0, group_size=one, significance=level),
            FTestAnovaPower().power(effect, 3 * first, level / 100, k_groups=3),
        ),
    ]
    answered = [(found, wanted) for found, wanted in compared if math.isfinite(wanted)]
    assume(answered)
    for found, wanted in answered:
        assert found == pytest.approx(100 * wanted, rel=1e-6, abs=1e-6)


@few
@given(st.floats(0.1, 3), st.floats(51, 99), st.integers(2, 8))
def test_size_found_is_the_smallest_with_the_wished_power(effect: float, wish: float, groups: int) -> None:
    """One unit fewer would miss the wish, for two groups, pairs and several groups."""
    size = sugar_power.group_size_exact(difference=effect, deviation=1.0, power=wish)
    assert sugar_power.two_group_power(effect=effect, first_units=size, second_units=size) >= wish - 1e-9
    pairs = sugar_power.pairs_exact(effect=effect, power=wish)
    assert sugar_power.pairs_power(effect=effect, pairs=pairs) >= wish - 1e-9
    each = sugar_power.anova_group_size(effect=effect, groups=float(groups), power=wish)
    assert sugar_power.anova_power(effect=effect, groups=float(groups), group_size=each) >= wish - 1e-9
    if size > 2:
        assert sugar_power.two_group_power(effect=effect, first_units=size - 1, second_units=size - 1) < wish
    if pairs > 2:
        assert sugar_power.pairs_power(effect=effect, pairs=pairs - 1) < wish
    if each > 2:
        assert sugar_power.anova_power(effect=effect, groups=float(groups), group_size=each - 1) < wish


@few
@given(st.floats(0.2, 1.9), st.sampled_from([80.0, 90.0, 95.0]))
def test_closed_form_is_within_a_unit_of_the_exact_size(effect: float, wish: float) -> None:
    """From five units a group on the formula, rounded up, is at most one unit off."""
    exact = sugar_power.group_size_exact(difference=effect, deviation=1.0, power=wish)
    assume(exact >= 5)
    assert abs(math.ceil(sugar_power.group_size(difference=effect, deviation=1.0, power=wish)) - exact) <= 1


@few
@given(st.integers(2, 300), st.sampled_from([80.0, 90.0]))
def test_detectable_effect_has_the_wished_power(units: int, wish: float) -> None:
    """The effect found has exactly the wished power, and more units find smaller ones."""
    effect = sugar_power.detectable_effect(group_size=float(units), power=wish)
    power = sugar_power.two_group_power(effect=effect, first_units=float(units), second_units=float(units))
    assert power == pytest.approx(wish)
    assert sugar_power.detectable_effect(group_size=float(units + 1), power=wish) < effect


def test_two_groups_of_an_analysis_of_variance_are_a_t_test() -> None:
    """With two groups f is half of d, and both powers are the same."""
    assert sugar_power.anova_power(effect=0.4, groups=2.0, group_size=20.0) == pytest.approx(
        sugar_power.two_group_power(effect=0.8, first_units=20.0, second_units=20.0), rel=1e-9
    )
    assert sugar_effects.cohen_f(means=[4.0, 4.8], deviation=1.0) == pytest.approx(0.4)


def test_a_hopeless_wish_is_refused() -> None:
    """A difference too small for ten million units is refused by name."""
    with pytest.raises(OutOfRange, match="difference: would need more than 10,000,000 units"):
        sugar_power.group_size_exact(difference=0.001, deviation=1000.0)


def test_huge_differences_need_two_units_and_never_fail() -> None:
    """Far beyond the tables two units a group still do, and power is all but certain."""
    assert sugar_power.group_size_exact(difference=1000.0, deviation=0.001) == 2
    assert sugar_power.two_group_power(effect=20.0, first_units=100_000.0, second_units=100_000.0) == pytest.approx(100)
    assert sugar_power.anova_power(effect=10.0, groups=50.0, group_size=100_000.0) == pytest.approx(100)
