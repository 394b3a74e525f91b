"""Checks of the statistics of several groups against certified data, other packages and printed tables."""

import math
from pathlib import Path

import numpy as np
import pytest
import scipy
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy import stats

from waterleaf.calc.quantity import RELATIONS, OutOfRange
from waterleaf.calc.sugar import effects as sugar_effects
from waterleaf.calc.sugar import statistics as sugar_statistics
from waterleaf.calc.sugar import units as sugar_units
from waterleaf.calc.sugar import variance as sugar_variance

NIST = Path(scipy.__file__).parent / "stats" / "tests" / "data" / "nist_anova"

# Dobson 1983: weights of dried plants.
CONTROL = [4.17, 5.58, 5.18, 6.11, 4.50, 4.61, 5.17, 4.53, 5.33, 5.14]
FIRST = [4.81, 4.17, 4.41, 3.59, 5.87, 3.83, 6.03, 4.89, 4.32, 4.69]
SECOND = [6.31, 5.12, 5.54, 5.50, 5.37, 5.29, 4.92, 6.15, 5.80, 5.26]
PLANTS = [CONTROL, FIRST, SECOND]
# Beall 1942: insects left after each of six sprays.
SPRAYS = [
    [10, 7, 20, 14, 14, 12, 10, 23, 17, 20, 14, 13], [11, 17, 21, 11, 16, 14, 17, 17, 19, 21, 7, 13],
    [0, 1, 7, 2, 3, 1, 2, 1, 3, 0, 1, 4], [3, 5, 12, 6, 4, 3, 5, 5, 5, 5, 2, 4],
    [3, 5, 3, 5, 3, 6, 1, 1, 3, 2, 6, 4], [11, 9, 15, 22, 15, 16, 13, 10, 26, 26, 24, 13],
]
# Feeds for chicks, groups of unequal size, from the data sets of R.
CHICKS = [
    [368, 390, 379, 260, 404, 318, 352, 359, 216, 222, 283, 332],
    [179, 160, 136, 227, 217, 168, 108, 124, 143, 140],
    [309, 229, 181, 141, 260, 203, 148, 169, 213, 257, 244, 271],
    [325, 257, 303, 315, 380, 153, 263, 242, 206, 344, 258],
    [243, 230, 248, 327, 329, 250, 193, 271, 316, 267, 199, 171, 158, 248],
    [423, 340, 392, 339, 341, 226, 320, 295, 334, 322, 297, 318],
]
# Venables and Ripley, npk: block, nitrogen, yield.
NPK = [
    (1, 0, 49.5), (1, 1, 62.8), (1, 0, 46.8), (1, 1, 57.0), (2, 1, 59.8), (2, 1, 58.5), (2, 0, 55.5), (2, 0, 56.0),
    (3, 0, 62.8), (3, 1, 55.8), (3, 1, 69.5), (3, 0, 55.0), (4, 1, 62.0), (4, 1, 48.8), (4, 0, 45.5), (4, 0, 44.2),
    (5, 1, 52.0), (5, 0, 51.5), (5, 1, 49.8), (5, 0, 48.8), (6, 1, 57.2), (6, 1, 59.0), (6, 0, 53.2), (6, 0, 56.0),
]
# agridat, mead.strawberry: eight varieties in four blocks. nlme, ergoStool: four stools, nine subjects.
STRAWBERRIES = [
    [6.9, 6.5, 7.5, 5.3], [6.5, 4, 6.4, 5.6], [5.8, 7, 6.9, 6.5], [7.9, 5.2, 6.1, 3], [7.6, 3.8, 7.2, 7.4],
    [4.9, 2.7, 5, 1.4], [5.6, 4.5, 7, 5.2], [6.3, 5.5, 7.6, 5.8],
]
STOOLS = [
    [12, 10, 7, 7, 8, 9, 8, 7, 9], [15, 14, 14, 11, 11, 11, 12, 11, 13],
    [12, 13, 13, 10, 8, 11, 12, 8, 10], [10, 12, 9, 9, 7, 10, 11, 7, 8],
]
# Intervals of Tukey's test that two outside packages agree on, from the test data of scipy.
TUKEY_EQUAL = [[24.5, 23.5, 26.4, 27.1, 29.9], [28.4, 34.2, 29.5, 32.2, 30.1], [26.1, 28.3, 24.3, 26.2, 27.8]]
TUKEY_UNEQUAL = [[24.5, 23.5, 26.28, 26.4, 27.1, 29.9, 30.1, 30.1], *TUKEY_EQUAL[1:]]

reading = st.floats(0.5, 30).map(lambda value: round(value, 2))
readings = st.lists(reading, min_size=3, max_size=12).filter(lambda values: max(values) - min(values) > 0.1)
several = st.lists(readings, min_size=2, max_size=5)
quick = settings(max_examples=100, deadline=None)
few = settings(max_examples=20, deadline=None)


# ---------------------------------------------------------------- several groups


def certified(name: str) -> tuple[list[list[float]], float, float, float, float]:
    """Groups of a NIST data set, with certified squares between and within, F and R squared."""
    lines = (NIST / f"{name}.dat").read_text(encoding="utf-8").splitlines()
    numbers = [line.split() for line in lines]
    between = next(parts for parts in numbers if parts[:2] == ["Between", "Treatment"] or parts[:1] == ["Between"])
    within = next(parts for parts in numbers if parts[:1] == ["Within"])
    squared = next(parts for parts in numbers if "R-Squared" in parts)
    groups: dict[str, list[float]] = {}
    for label, value in numbers[60:]:
        groups.setdefault(label, []).append(float(value))
    f_ratio, squares_between = float(between[-1]), float(between[-3])
    return list(groups.values()), squares_between, float(within[-2]), f_ratio, float(squared[-1])


def digits(found: float, wanted: float) -> float:
    """Number of leading digits in which two values agree."""
    return 15.0 if found == wanted else min(15.0, -math.log10(abs(found - wanted) / abs(wanted)))


@pytest.mark.parametrize(
    ("name", "least"),
    [
        ("SiRstv", 12), ("AtmWtAg", 9), ("SmLs01", 13), ("SmLs02", 13), ("SmLs03", 12), ("SmLs04", 9), ("SmLs05", 9),
        ("SmLs06", 9),
    ],
)
def test_analysis_of_variance_reaches_the_certified_digits(name: str, least: int) -> None:
    """The table agrees with the certified squares, F and R squared of NIST to the digits that floats allow."""
    groups, between, within, f_ratio, squared = certified(name)
    table = sugar_variance.anova_table(groups=groups)
    assert table[0].f_ratio is not None
    assert digits(table[0].f_ratio, f_ratio) >= least
    assert digits(table[0].squares, between) >= least
    assert digits(table[1].squares, within) >= least
    assert digits(table[0].squares / table[2].squares, squared) >= least


@pytest.mark.parametrize("name", ["SmLs07", "SmLs08", "SmLs09"])
def test_readings_with_thirteen_like_digits_leave_little(name: str) -> None:
    """Floats hold such readings to four digits of their spread, and the table keeps what they hold."""
    groups, _, _, f_ratio, _ = certified(name)
    table = RELATIONS["anova_table"].function(groups=groups)
    assert digits(table[0].f_ratio, f_ratio) >= 3.5


@pytest.mark.parametrize("groups", [PLANTS, SPRAYS, CHICKS], ids=["PlantGrowth", "InsectSprays", "chickwts"])
def test_analysis_of_variance_agrees_with_scipy(groups: list[list[float]]) -> None:
    """F and p agree with scipy, the rows add up, and the relation agrees with its table."""
    found, table = stats.f_oneway(*groups), sugar_variance.anova_table(groups=groups)
    assert table[0].f_ratio == pytest.approx(found.statistic, rel=1e-10)
    assert table[0].p_value == pytest.approx(found.pvalue, rel=1e-8)
    assert sugar_variance.anova_f(groups=groups) == pytest.approx(found.statistic, rel=1e-10)
    assert sugar_variance.f_ratio_p(
        f_ratio=sugar_variance.anova_f(groups=groups), freedom_between=float(table[0].freedom),
        freedom_within=float(table[1].freedom),
    ) == pytest.approx(found.pvalue, rel=1e-8)
    assert table[0].freedom + table[1].freedom == table[2].freedom == sum(map(len, groups)) - 1


def test_printed_tables_of_plants_and_sprays_are_found() -> None:
    """Squares, mean squares and F as they stand in print for two well-known data sets."""
    plants, sprays = sugar_variance.anova_table(groups=PLANTS), sugar_variance.anova_table(groups=SPRAYS)
    assert [round(row.squares, 5) for row in plants[:2]] == [3.76634, 10.49209]
    assert plants[1].mean_square == pytest.approx(0.38859593, abs=5e-9)
    assert [round(row.squares, 5) for row in sprays[:2]] == [2668.83333, 1015.16667]
    assert sprays[0].f_ratio == pytest.approx(34.70228206, abs=5e-9)
    roots = sugar_variance.anova_table(groups=[[math.sqrt(count) for count in group] for group in SPRAYS])
    assert roots[0].f_ratio == pytest.approx(44.79932921, abs=5e-9)


@few
@given(several, st.floats(0, 50), st.floats(0.5, 20))
def test_f_does_not_depend_on_the_scale(groups: list[list[float]], shift: float, stretch: float) -> None:
    """Moving or stretching the scale leaves F and eta squared as they were; f belongs to eta squared."""
    moved = [[(value + shift) * stretch for value in group] for group in groups]
    ratio = sugar_variance.anova_f(groups=groups)
    assert sugar_variance.anova_f(groups=moved) == pytest.approx(ratio, rel=1e-6, abs=1e-9)
    eta = sugar_effects.eta_squared(groups=groups)
    assert sugar_effects.eta_squared(groups=moved) == pytest.approx(eta, rel=1e-6, abs=1e-9)
    table = sugar_variance.anova_table(groups=groups)
    assert eta == pytest.approx(table[0].squares / table[2].squares, rel=1e-9, abs=1e-12)
    share = min(eta, 0.99)
    assert sugar_effects.cohen_f_from_eta(eta=share) ** 2 == pytest.approx(share / (1 - share))


def test_groups_without_any_spread_are_infinitely_apart() -> None:
    """Where readings of a group are all alike but groups differ, F is infinite and Tukey's intervals are refused."""
    groups = [[4.0, 4.0], [6.0, 6.0]]
    assert sugar_variance.anova_table(groups=groups)[0].f_ratio == math.inf
    with pytest.raises(OutOfRange, match="groups: no reading differs"):
        sugar_variance.tukey_intervals(groups=groups)


def transposed(table: list[list[float]]) -> list[list[float]]:
    """Rows as columns."""
    return [list(column) for column in zip(*table, strict=True)]


def npk_means() -> list[list[float]]:
    """Mean yield without and with nitrogen in each of six blocks."""
    return [
        [float(np.mean([y for b, n, y in NPK if (b, n) == (block, nitrogen)])) for block in range(1, 7)]
        for nitrogen in (0, 1)
    ]


@pytest.mark.parametrize("treatments", [STRAWBERRIES, STOOLS, npk_means()], ids=["strawberry", "ergoStool", "npk"])
def test_blocks_agree_with_a_linear_model(treatments: list[list[float]]) -> None:
    """Squares, F and p of treatments and blocks agree with a two-way model fitted by statsmodels."""
    import pandas as pd
    from statsmodels.formula.api import ols
    from statsmodels.stats.anova import anova_lm

    long = pd.DataFrame([
        {"treatment": str(t), "block": str(b), "y": float(value)}
        for t, row in enumerate(treatments) for b, value in enumerate(row)
    ])
    model = anova_lm(ols("y ~ C(treatment) + C(block)", long).fit())
    table = sugar_variance.blocked_table(treatments=treatments)
    for row, name in zip(table, ["C(treatment)", "C(block)", "Residual"], strict=False):
        assert row.freedom == model.loc[name, "df"]
        assert row.squares == pytest.approx(model.loc[name, "sum_sq"], rel=1e-9)
    for row, name in zip(table, ["C(treatment)", "C(block)"], strict=False):
        assert row.f_ratio == pytest.approx(model.loc[name, "F"], rel=1e-9)
        assert row.p_value == pytest.approx(model.loc[name, "PR(>F)"], rel=1e-8)
    blocks = transposed(treatments)
    assert sugar_variance.blocked_f(treatments=treatments, blocks=blocks) == pytest.approx(table[0].f_ratio, rel=1e-9)


def test_npk_one_way_by_nitrogen_agrees_with_scipy() -> None:
    """Yield by nitrogen alone, blocks ignored, agrees with scipy."""
    groups = [[y for _, n, y in NPK if n == nitrogen] for nitrogen in (0, 1)]
    assert sugar_variance.anova_f(groups=groups) == pytest.approx(stats.f_oneway(*groups).statistic, rel=1e-10)


@quick
@given(st.integers(2, 4).flatmap(lambda width: st.lists(
    st.lists(reading, min_size=width, max_size=width), min_size=2, max_size=5,
)))
def test_blocks_take_nothing_from_the_treatments(treatments: list[list[float]]) -> None:
    """The squares add up to those of all readings, and treatments keep the squares they have without blocks."""
    assume(np.ptp(np.array(treatments)) > 0.1)
    table, plain = sugar_variance.blocked_table(treatments=treatments), sugar_variance.anova_table(groups=treatments)
    assert sum(row.squares for row in table[:3]) == pytest.approx(plain[2].squares, rel=1e-9)
    assert table[0].squares == pytest.approx(plain[0].squares, rel=1e-9, abs=1e-12)
    assert table[3].freedom == plain[2].freedom == sum(row.freedom for row in table[:3])


def test_a_block_without_some_treatment_is_refused() -> None:
    """Ragged blocks are refused by name."""
    with pytest.raises(OutOfRange, match="treatments: some block lacks"):
        sugar_variance.blocked_table(treatments=[[4.0, 5.0, 6.0], [5.0, 6.0]])


@pytest.mark.parametrize(
    ("groups", "wanted"),
    [
        (TUKEY_EQUAL, {
            (1, 2): (-4.6, -8.2491590249, -0.9508409751, 0.0144483269), (1, 3): (-0.26, None, None, 0.9803107241),
            (2, 3): (4.34, 0.6908409751, 7.9891590249, 0.0203311369),
        }),
        (TUKEY_UNEQUAL, {
            (1, 2): (-3.645, -7.02207070, -0.26792930, 0.03371498), (1, 3): (0.695, None, None, 0.85572267),
            (2, 3): (4.34, 0.59347644, 8.08652356, 0.02259047),
        }),
        (PLANTS, {
            (1, 2): (0.371, -0.32021605, 1.06221605, 0.39087114), (1, 3): (-0.494, -1.18521605, 0.19721605, 0.19799599),
            (2, 3): (-0.865, -1.55621605, -0.17378395, 0.01200642),
        }),
    ],
    ids=["equal", "unequal", "PlantGrowth"],
)
def test_tukey_intervals_agree_with_printed_ones(
    groups: list[list[float]], wanted: dict[tuple[int, int], tuple[float, float | None, float | None, float]]
) -> None:
    """Difference, ends and p of every pair as two outside packages give them."""
    rows = sugar_variance.tukey_intervals(groups=groups)
    assert [(row.first, row.second) for row in rows] == list(wanted)
    for row, (difference, low, high, p_value) in zip(rows, wanted.values(), strict=True):
        assert row.difference == pytest.approx(difference, abs=1e-9)
        assert row.p_value == pytest.approx(p_value, abs=2e-8)
        if low is not None:
            assert (row.low, row.high) == pytest.approx((low, high), abs=1e-6)


def test_tukey_intervals_agree_with_scipy_at_another_level() -> None:
    """Ends at 90 % agree with scipy for groups of unequal size."""
    found = stats.tukey_hsd(*CHICKS).confidence_interval(0.90)
    for row in sugar_variance.tukey_intervals(groups=CHICKS, confidence=90.0):
        assert row.low == pytest.approx(found.low[row.first - 1, row.second - 1], rel=1e-5)
        assert row.high == pytest.approx(found.high[row.first - 1, row.second - 1], rel=1e-5)


@pytest.mark.parametrize(
    ("share", "groups", "freedom", "wanted"),
    [
        (0.95, 3, 27, 3.50643), (0.95, 3, 12, 3.77293), (0.99, 3, 12, 5.04593), (0.95, 4, 20, 3.95829),
        (0.95, 5, 20, 4.23186), (0.95, 3, 20, 3.57793), (0.95, 6, 66, 4.15085), (0.95, 3, 6, 4.33920),
        (0.95, 4, 8, 4.52881), (0.95, 4, 16, 4.04609), (0.95, 3, 24, 3.53170),
    ],
)
def test_studentized_range_matches_printed_tables(share: float, groups: int, freedom: int, wanted: float) -> None:
    """Critical values of the studentized range to five decimals."""
    found = sugar_variance.studentized_quantile(share, float(groups), float(freedom))
    assert found == pytest.approx(wanted, abs=5.1e-6)


def test_student_t_matches_printed_tables() -> None:
    """Critical values of Student's t to five decimals."""
    printed = {
        2: 4.30265, 4: 2.77645, 6: 2.44691, 8: 2.30600, 10: 2.22814, 12: 2.17881, 18: 2.10092, 20: 2.08596, 27: 2.05183,
    }
    for freedom, wanted in printed.items():
        assert sugar_statistics.t_quantile(0.975, freedom) == pytest.approx(wanted, abs=5.1e-6)


@pytest.mark.parametrize(
    ("square", "units", "groups", "freedom"), [(0.39, 10, 3, 27), (4.5, 2, 8, 4), (50.0, 30, 5, 100)]
)
def test_comparing_all_pairs_asks_for_more(square: float, units: int, groups: int, freedom: int) -> None:
    """The honest difference exceeds the least one for three groups or more, and equals it for two."""
    given_values = {"mean_square": square, "group_size": float(units), "freedom": float(freedom)}
    least = sugar_variance.least_significant_difference(**given_values)
    assert sugar_variance.honestly_significant_difference(**given_values, groups=float(groups)) > least
    assert sugar_variance.honestly_significant_difference(**given_values, groups=2.0) == pytest.approx(least, rel=1e-5)


def test_hsd_is_the_half_width_of_the_intervals() -> None:
    """With groups of one size every interval of Tukey is the honest difference to either side."""
    within = sugar_variance.anova_table(groups=PLANTS)[1]
    assert within.mean_square is not None
    honest = sugar_variance.honestly_significant_difference(
        mean_square=within.mean_square, group_size=10.0, groups=3.0, freedom=float(within.freedom)
    )
    for row in sugar_variance.tukey_intervals(groups=PLANTS):
        assert (row.high - row.low) / 2 == pytest.approx(honest, rel=1e-9)


# ---------------------------------------------------------------- units and ranks


@few
@given(st.lists(st.lists(st.integers(0, 9).map(float), min_size=2, max_size=8), min_size=2, max_size=5))
def test_kruskal_wallis_agrees_with_scipy_ties_included(groups: list[list[float]]) -> None:
    """H and its p agree with scipy for small whole numbers, which tie often."""
    assume(len({value for group in groups for value in group}) > 1)
    found = stats.kruskal(*groups)
    h = sugar_units.kruskal_wallis_h(groups=groups)
    assert h == pytest.approx(found.statistic, rel=1e-9, abs=1e-9)
    p_value = sugar_units.kruskal_wallis_p(rank_h=max(0.0, h), groups=float(len(groups)))
    assert p_value == pytest.approx(found.pvalue, rel=1e-7)


def test_kruskal_wallis_of_the_sprays_is_the_printed_one() -> None:
    """H of the six sprays, with many ties."""
    assert sugar_units.kruskal_wallis_h(groups=SPRAYS) == pytest.approx(54.69134462, abs=5e-9)


def test_readings_all_alike_cannot_be_ranked() -> None:
    """One value throughout is refused by name."""
    with pytest.raises(OutOfRange, match="groups: all readings are alike"):
        sugar_units.kruskal_wallis_h(groups=[[5.0, 5.0], [5.0, 5.0]])


@pytest.mark.parametrize(("first", "second"), [(2, 2), (3, 3), (3, 4), (4, 4), (5, 5), (2, 7)])
def test_smallest_rank_sum_p_is_that_of_groups_that_do_not_overlap(first: int, second: int) -> None:
    """The exact test of scipy gives the same p for groups that do not overlap at all."""
    lower, upper = list(range(first)), [100 + place for place in range(second)]
    wanted = stats.mannwhitneyu(lower, upper, alternative="two-sided", method="exact").pvalue
    found = sugar_units.smallest_rank_sum_p(first_size=float(first), second_size=float(second))
    assert found == pytest.approx(wanted, rel=1e-12)


@pytest.mark.parametrize("pairs", [3, 5, 6, 10])
def test_smallest_sign_p_is_that_of_pairs_that_all_agree(pairs: int) -> None:
    """The exact signed-rank and binomial tests of scipy give the same p when all pairs point one way."""
    found = sugar_units.smallest_sign_p(pairs=float(pairs))
    assert found == pytest.approx(stats.binomtest(pairs, pairs).pvalue, rel=1e-12)
    ranks = stats.wilcoxon([place + 1.0 for place in range(pairs)], method="exact")
    assert found == pytest.approx(ranks.pvalue, rel=1e-12)


@quick
@given(st.integers(2, 60), st.integers(2, 50), st.floats(0, 1))
def test_sub_samples_are_worth_between_their_units_and_themselves(units: int, each: int, likeness: float) -> None:
    """Sub-samples that are not alike count in full, those all alike count as their units, others lie between."""
    everything = float(units * each)

    def worth(share: float) -> float:
        effect = sugar_units.design_effect(sub_samples=float(each), intraclass=share)
        return sugar_units.effective_sample(all_sub_samples=everything, design_effect=effect)

    assert worth(0.0) == pytest.approx(everything)
    assert worth(1.0) == pytest.approx(units)
    assert units - 1e-9 <= worth(likeness) <= everything + 1e-9


def test_averaging_sub_samples_first_gives_the_right_unit() -> None:
    """Plants of one tank make the naive test sure; the means of the tanks are what may be tested."""
    tanks = [[5.0, 5.1, 4.9, 5.0], [6.0, 6.1, 5.9, 6.0]], [[5.4, 5.5, 5.3, 5.4], [6.6, 6.5, 6.7, 6.6]]
    naive = sugar_variance.anova_table(groups=[[plant for tank in kind for plant in tank] for kind in tanks])
    honest = sugar_variance.anova_table(groups=[[float(np.mean(tank)) for tank in kind] for kind in tanks])
    assert (naive[1].freedom, honest[1].freedom) == (14, 2)
    assert naive[0].p_value is not None
    assert honest[0].p_value is not None
    assert naive[0].p_value < honest[0].p_value
