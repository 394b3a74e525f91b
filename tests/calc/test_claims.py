"""Claims: tests of difference and equivalence, many comparisons, and the statement that a trial allows."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy import stats

from waterleaf.calc.claims import comparison as claims_comparison
from waterleaf.calc.claims import many as claims_many
from waterleaf.calc.claims import statement as claims_statement
from waterleaf.calc.quantity import OutOfRange
from waterleaf.calc.sugar import groups as sugar_groups
from waterleaf.calc.sugar import statistics as sugar_statistics
from waterleaf.calc.sugar import variance as sugar_variance

CONTROL = [4.17, 5.58, 5.18, 6.11, 4.50, 4.61, 5.17, 4.53, 5.33, 5.14]
FIRST = [4.81, 4.17, 4.41, 3.59, 5.87, 3.83, 6.03, 4.89, 4.32, 4.69]
SECOND = [6.31, 5.12, 5.54, 5.50, 5.37, 5.29, 4.92, 6.15, 5.80, 5.26]

# Statements that say one mean is higher or lower.
DIRECTED = {"higher_here", "lower_here", "higher_by_margin", "lower_by_margin"}
# Words that no trial of soluble solids can justify.
FORBIDDEN = ("sweeter", "tastier", "better than", "healthier", "nutritious", "proven", "no difference", "identical")

difference = st.floats(-5, 5)
error = st.floats(0.01, 3)
freedom = st.integers(1, 60).map(float)
margin = st.floats(0.01, 4)
quick = settings(max_examples=100, deadline=None)
few = settings(max_examples=20, deadline=None)
p_values = st.lists(st.floats(0, 1), min_size=1, max_size=12)


# ---------------------------------------------------------------- difference and equivalence


@quick
@given(difference, error, freedom, st.floats(51, 99.5))
def test_interval_and_p_tell_the_same_story(d: float, se: float, df: float, confidence: float) -> None:
    """Zero lies outside the interval exactly when p is below the level that goes with it."""
    low = claims_comparison.difference_low(difference=d, standard_error=se, freedom=df, confidence=confidence)
    high = claims_comparison.difference_high(difference=d, standard_error=se, freedom=df, confidence=confidence)
    p_value = claims_comparison.difference_p(difference=d, standard_error=se, freedom=df)
    assume(abs(p_value - (1 - confidence / 100)) > 1e-9)
    assert (low > 0 or high < 0) == (p_value < 1 - confidence / 100)
    assert (low + high) / 2 == pytest.approx(d, abs=1e-9)
    assert p_value == pytest.approx(2 * stats.t.sf(abs(d / se), df), rel=1e-7, abs=1e-300)


@quick
@given(difference, error, freedom, margin, st.sampled_from([1.0, 5.0, 10.0]))
def test_two_one_sided_tests_are_the_interval_inside_the_margin(
    d: float, se: float, df: float, width: float, level: float
) -> None:
    """Both one-sided tests pass exactly when the interval of twice the level lies inside the margin."""
    p_value = claims_comparison.equivalence_p(difference=d, margin=width, standard_error=se, freedom=df)
    confidence = 100 - 2 * level
    low = claims_comparison.difference_low(difference=d, standard_error=se, freedom=df, confidence=confidence)
    high = claims_comparison.difference_high(difference=d, standard_error=se, freedom=df, confidence=confidence)
    smallest = claims_comparison.smallest_margin_shown(difference=d, standard_error=se, freedom=df, significance=level)
    assume(abs(p_value - level / 100) > 1e-9)
    assert (p_value < level / 100) == (-width < low and high < width) == (smallest < width)


@quick
@given(difference, error, freedom, margin)
def test_equivalence_does_not_mind_which_mean_comes_first(d: float, se: float, df: float, width: float) -> None:
    """Turning the difference round swaps the two tests and leaves the larger p as it is."""
    given_values = {"margin": width, "standard_error": se}
    one = claims_comparison.equivalence_p(difference=d, freedom=df, **given_values)
    assert claims_comparison.equivalence_p(difference=-d, freedom=df, **given_values) == pytest.approx(one, rel=1e-12)
    low_t = claims_comparison.equivalence_low_t(difference=d, **given_values)
    assert claims_comparison.equivalence_high_t(difference=-d, **given_values) == pytest.approx(-low_t, rel=1e-12)


@quick
@given(difference, error, freedom, st.floats(0, 3), st.floats(0.01, 1))
def test_a_wider_margin_is_harder_to_beat_and_easier_to_keep(
    d: float, se: float, df: float, width: float, more: float
) -> None:
    """A wider margin raises the p of superiority and lowers the p of equivalence."""
    beat = {"difference": d, "standard_error": se, "freedom": df}
    superiority_p, equivalence_p = claims_comparison.superiority_p, claims_comparison.equivalence_p
    assert superiority_p(margin=width + more, **beat) >= superiority_p(margin=width, **beat)
    assume(width >= 0.001)
    assert equivalence_p(margin=width + more, **beat) <= equivalence_p(margin=width, **beat)


def test_published_example_is_the_same_from_the_data_on() -> None:
    """From the weights of plants to both one-sided tests, as Welch's method has it."""
    d = sugar_statistics.mean_reading(readings=CONTROL) - sugar_statistics.mean_reading(readings=FIRST)
    se = d / sugar_groups.welch_t(first=CONTROL, second=FIRST)
    df = sugar_groups.welch_freedom(first=CONTROL, second=FIRST)
    assert claims_comparison.equivalence_p(difference=d, margin=1.0, standard_error=se, freedom=df) == pytest.approx(
        0.02996927, abs=5e-9
    )
    assert claims_comparison.equivalence_p(difference=d, margin=0.5, standard_error=se, freedom=df) == pytest.approx(
        0.34202307, abs=5e-9
    )
    assert claims_comparison.superiority_p(difference=-d, margin=0.0, standard_error=se, freedom=df) == pytest.approx(
        stats.ttest_ind(FIRST, CONTROL, equal_var=False, alternative="greater").pvalue, rel=1e-8
    )


@few
@given(st.lists(st.floats(2, 9), min_size=3, max_size=9), st.lists(st.floats(2, 9), min_size=3, max_size=9), margin)
def test_equivalence_agrees_with_statsmodels(first: list[float], second: list[float], width: float) -> None:
    """Both one-sided t tests with pooled spread agree with statsmodels."""
    from statsmodels.stats.weightstats import ttost_ind

    assume(np.ptp(first) > 0.1 and np.ptp(second) > 0.1)
    d = sugar_statistics.mean_reading(readings=first) - sugar_statistics.mean_reading(readings=second)
    se = sugar_groups.pooled_deviation(first=first, second=second) * math.sqrt(1 / len(first) + 1 / len(second))
    p_value, lower, upper = ttost_ind(first, second, -width, width)
    given_values = {"difference": d, "margin": width, "standard_error": se}
    found = claims_comparison.equivalence_p(freedom=float(len(first) + len(second) - 2), **given_values)
    assert found == pytest.approx(p_value, rel=1e-6, abs=1e-12)
    assert claims_comparison.equivalence_low_t(**given_values) == pytest.approx(lower[0], rel=1e-7, abs=1e-9)
    assert claims_comparison.equivalence_high_t(**given_values) == pytest.approx(upper[0], rel=1e-7, abs=1e-9)


# ---------------------------------------------------------------- many comparisons


@few
@given(p_values)
def test_adjusted_p_values_agree_with_statsmodels(values: list[float]) -> None:
    """Bonferroni, Holm and Benjamini-Hochberg agree with statsmodels, in the order given."""
    from statsmodels.stats.multitest import multipletests

    for method, function in (
        ("bonferroni", claims_many.bonferroni), ("holm", claims_many.holm), ("fdr_bh", claims_many.benjamini_hochberg)
    ):
        wanted = multipletests(values, method=method)[1]
        assert function(p_values=values) == pytest.approx(wanted, rel=1e-12, abs=1e-300)


@quick
@given(p_values)
def test_adjustments_are_ordered_by_strictness(values: list[float]) -> None:
    """No adjustment lowers a p value; Holm is never stricter than Bonferroni, nor Benjamini-Hochberg than Holm."""
    for raw, loose, middle, strict in zip(
        values, claims_many.benjamini_hochberg(p_values=values), claims_many.holm(p_values=values),
        claims_many.bonferroni(p_values=values), strict=True,
    ):
        assert raw <= loose + 1e-15 <= middle + 2e-15 <= strict + 3e-15 <= 1 + 3e-15


@quick
@given(st.integers(1, 200).map(float), st.floats(0.1, 20))
def test_bonferroni_keeps_the_family_within_its_level(count: float, level: float) -> None:
    """With the level shared out, the chance of any false alarm is at most the level, and without it at least."""
    shared = claims_many.bonferroni_level(comparisons=count, significance=level)
    assume(shared >= 0.1)
    assert claims_many.family_wise_error(comparisons=count, significance=shared) <= level + 1e-9
    assert claims_many.family_wise_error(comparisons=count, significance=level) >= level - 1e-9


def test_three_plain_tests_find_what_tukey_does_not() -> None:
    """Control against second treatment is significant alone, and not among three comparisons."""
    p_value = claims_comparison.difference_p(
        difference=0.494, standard_error=0.494 / 2.13402045, freedom=16.78576448
    )
    honest = sugar_variance.tukey_intervals(groups=[CONTROL, FIRST, SECOND])[1]
    assert p_value < 0.05 < min(claims_many.bonferroni(p_values=[p_value, 0.5, 0.01])[0], honest.p_value)


# ---------------------------------------------------------------- statements


@quick
@given(st.integers(1, 8).map(float), difference, margin)
def test_an_unreplicated_trial_is_never_tested(groups: float, d: float, width: float) -> None:
    """One unit a group, or fewer units than groups, allows no test, whatever the difference."""
    for units in {1.0, groups}:
        found = claims_statement.allowed_statement(units=units, groups=groups, difference=d, margin=width)
        assert found == "observed_not_tested"


def test_plants_of_one_tank_do_not_replicate_it() -> None:
    """Two tanks of twenty plants have no degrees of freedom for tanks: 38 are refused, and without them no test."""
    with pytest.raises(OutOfRange, match="freedom: 38 is more than 2 units in 2 groups can give"):
        claims_statement.allowed_statement(units=2.0, difference=1.0, standard_error=0.1, freedom=38.0, margin=0.5)
    assert claims_statement.allowed_statement(units=2.0, difference=1.0, margin=0.5) == "observed_not_tested"
    assert claims_statement.allowed_statement(units=6.0, difference=1.0, margin=0.5) == "observed_not_tested"


@quick
@given(
    st.integers(2, 6), st.integers(2, 8), difference, error, margin, st.sampled_from([1.0, 5.0, 10.0]),
    st.integers(1, 6),
)
def test_a_direction_is_claimed_only_when_significant(
    groups: int, each: int, d: float, se: float, width: float, level: float, comparisons: int
) -> None:
    """A directed statement needs a p below its share of the level, and points the way of the difference."""
    df = float(groups * (each - 1))
    said = claims_statement.allowed_statement(
        units=float(groups * each), groups=float(groups), difference=d, standard_error=se, freedom=df, margin=width,
        significance=level, comparisons=float(comparisons),
    )
    p_value = claims_comparison.difference_p(difference=d, standard_error=se, freedom=df)
    alike = claims_comparison.equivalence_p(difference=d, margin=width, standard_error=se, freedom=df)
    share = level / 100 / comparisons
    assume(abs(p_value - share) > 1e-9 and abs(alike - share) > 1e-9)
    if said in DIRECTED:
        assert p_value < share
        assert (d > 0) == said.startswith("higher")
    if said in {"similar_within_margin", "differs_but_within_margin"}:
        assert alike < share
    if p_value >= share:
        assert said in {"could_not_tell", "similar_within_margin"}
    if said == "could_not_tell":
        assert alike >= share
    assert said != "observed_not_tested"


@quick
@given(difference, error, freedom, margin)
def test_turning_a_comparison_round_turns_the_statement(d: float, se: float, df: float, width: float) -> None:
    """Swapping the two means swaps higher and lower and changes nothing else."""
    given_values = {"units": df + 2, "standard_error": se, "freedom": df, "margin": width}
    there = claims_statement.allowed_statement(difference=d, **given_values)
    back = claims_statement.allowed_statement(difference=-d, **given_values)
    swapped = there.replace("higher", "low").replace("lower", "higher").replace("low_", "lower_")
    assert back == swapped


@pytest.mark.parametrize(
    ("d", "se", "df", "width", "comparisons", "wanted"),
    [
        (0.16466667, 0.25316260, 26.74847876, 0.6, 1.0, "similar_within_margin"),
        (0.16466667, 0.25316260, 26.74847876, 0.6, 2.0, "could_not_tell"),
        (0.371, 0.31143484, 16.52358506, 0.5, 1.0, "could_not_tell"),
        (0.75294118, 0.26556234, 16.0, 1.0, 1.0, "higher_here"),
        (-0.75294118, 0.26556234, 16.0, 1.0, 1.0, "lower_here"),
        (0.75294118, 0.26556234, 16.0, 1.5, 1.0, "differs_but_within_margin"),
        (0.75294118, 0.26556234, 16.0, 0.1, 1.0, "higher_by_margin"),
        (0.75294118, 0.26556234, 16.0, 1.0, 10.0, "could_not_tell"),
        (-0.865, 0.28736593, 14.10356912, 0.2, 1.0, "lower_by_margin"),
    ],
    ids=[
        "clinical", "clinical, two looks", "plants", "milk", "milk turned round", "milk, wide margin",
        "milk, thin margin", "milk, ten looks", "treatments",
    ],
)
def test_published_trials_get_their_rung(
    d: float, se: float, df: float, width: float, comparisons: float, wanted: str
) -> None:
    """Each rung of the ladder, by the numbers of a published trial."""
    assert claims_statement.allowed_statement(
        units=40.0, difference=d, standard_error=se, freedom=df, margin=width, comparisons=comparisons
    ) == wanted


def test_identical_readings_are_no_evidence() -> None:
    """A spread of zero comes from the instrument's steps, not from certainty."""
    assert claims_statement.allowed_statement(
        units=6.0, difference=0.2, standard_error=0.0, freedom=4.0, margin=0.5
    ) == "observed_not_tested"


@quick
@given(st.floats(0, 1), st.sampled_from([1.0, 5.0, 10.0]))
def test_panels_speak_only_of_what_they_were_asked(p_value: float, level: float) -> None:
    """A test of difference never ends in a preference, nor a preference in a difference."""
    assume(abs(p_value - level / 100) > 1e-12)
    told = claims_statement.allowed_difference_statement(p_value=p_value, significance=level)
    liked = claims_statement.allowed_preference_statement(p_value=p_value, significance=level)
    assert told == ("could_be_told_apart" if p_value < level / 100 else "not_told_apart")
    assert liked == ("preferred_by_panel" if p_value < level / 100 else "preference_not_established")


def test_the_wording_claims_nothing_beyond_the_trial() -> None:
    """Every key has a sentence, each directed one carries its interval, and none holds a word that oversteps."""
    from typing import get_args

    assert set(claims_statement.WORDING) == set(get_args(claims_statement.StatementKey))
    for key, sentence in claims_statement.WORDING.items():
        assert sentence.endswith("."), key
        assert not any(word in sentence.lower() for word in FORBIDDEN), key
        if key in DIRECTED:
            assert "{interval}" in sentence
            assert sentence.startswith("In this trial")


@quick
@given(st.floats(0.5, 30), st.floats(0.5, 50), st.floats(0, 2))
def test_smallest_difference_is_never_below_the_instrument(mean: float, share: float, step: float) -> None:
    """The margin is at least what the instrument can tell and at least the share of the mean, and one of the two."""
    found = claims_comparison.smallest_difference_that_matters(mean=mean, share=share, instrument_step=step)
    assert found >= step
    assert found >= mean * share / 100
    assert found in (step, pytest.approx(mean * share / 100))


def test_all_statements_can_be_reached() -> None:
    """A sweep over differences, errors and margins reaches every statement about two means."""
    reached = {
        claims_statement.allowed_statement(
            units=12.0, difference=float(d), standard_error=float(se), freedom=10.0, margin=float(width)
        )
        for d, se, width in itertools.product(np.linspace(-2, 2, 21), (0.0, 0.05, 0.3, 1.0), (0.1, 0.5, 1.5))
    }
    of_panels = {"could_be_told_apart", "not_told_apart", "preferred_by_panel", "preference_not_established"}
    assert reached == set(claims_statement.WORDING) - of_panels
