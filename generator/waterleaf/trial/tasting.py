"""From a panel's answers to what they show: exact binomial tests, rank sums, and liking with each person as a block."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from waterleaf.calc.quantity import OutOfRange
from waterleaf.calc.taste.difference import p_value_one_sided, p_value_two_sided, smallest_agreeing, smallest_correct
from waterleaf.calc.taste.ranks import (
    concordance,
    friedman_p_value,
    friedman_tied,
    honest_rank_difference,
    least_significant_rank_difference,
    rank_sums,
)
from waterleaf.calc.taste.share import (
    correct_share_high,
    correct_share_low,
    discriminators,
    largest_correct_for_similarity,
)
from waterleaf.trial.answers import Answers
from waterleaf.trial.model import Fit, Point, fit
from waterleaf.trial.pairs import Pair, Rule, adjusted, places, pooled_pairs
from waterleaf.trial.plan import Panel, PanelTest, Plan
from waterleaf.trial.ranks import friedman_p, signed_rank_p

FEWEST: Final = 3
ALTERNATIVES: Final[dict[PanelTest, float]] = {"triangle": 3.0, "duo_trio": 2.0, "preference": 2.0}


@dataclass(frozen=True, slots=True)
class Similar:
    """A planned test of likeness: the share fixed beforehand in per cent, and the most right answers that show it."""

    within: float
    most: int | None
    shown: bool


@dataclass(frozen=True, slots=True)
class Choice:
    """A triangle, duo-trio or preference test.

    `right` counts right answers, or in a preference test those who chose the first product. `needed` is the smallest
    number that counts as a finding, nothing where so few people cannot show any. `share` holds the per cent of true
    discriminators, or of those who chose the first product, with the ends of its exact interval.
    """

    test: PanelTest
    products: tuple[str, ...]
    answered: int
    right: int
    needed: int | None
    p: float | None
    found: bool
    share: tuple[float, float, float] | None = None
    similar: Similar | None = None

    @property
    def larger(self) -> int:
        """In a preference test, how many chose the product that more people chose."""
        return max(self.right, self.answered - self.right)

    @property
    def favourite(self) -> str:
        """In a preference test, the product that more people chose."""
        return self.products[0] if 2 * self.right >= self.answered else self.products[1]


@dataclass(frozen=True, slots=True)
class RankPair:
    """Two products, the difference of their rank sums, and whether it counts among all pairs."""

    first: str
    second: str
    difference: float
    found: bool


@dataclass(frozen=True, slots=True)
class Ranked:
    """Rank sums, lowest liked best; Friedman's test, or for two products the exact test of a preference.

    `single` is the least significant difference of one pair fixed beforehand, `among_all` that of any pair.
    """

    products: tuple[str, ...]
    people: int
    sums: tuple[float, ...]
    p: float | None
    text: str
    agreement: float | None
    single: float | None
    among_all: float | None
    pairs: tuple[RankPair, ...]
    test: PanelTest = "ranking"


@dataclass(frozen=True, slots=True)
class Liked:
    """Marks on the nine-point scale with each person as a block, and the rank test beside it."""

    products: tuple[str, ...]
    people: int
    marks: tuple[tuple[int, ...], ...]
    fit: Fit | None
    p: float | None
    pairs: tuple[Pair, ...]
    rank_p: float | None
    rank_text: str
    complete: int
    significance: float
    test: PanelTest = "liking"

    @property
    def agree(self) -> bool:
        """Whether means and ranks come to the same side of the level."""
        level = self.significance / 100
        return self.p is None or self.rank_p is None or (self.p <= level) == (self.rank_p <= level)

    def found(self, pair: Pair) -> bool:
        """Whether a pair may be called different: main test and shared p both stand."""
        level = self.significance / 100
        return self.p is not None and self.p <= level and pair.adjusted <= level


Part = Choice | Ranked | Liked


@dataclass(frozen=True, slots=True)
class Tasting:
    """The results of a session, test by test in the order of the plan."""

    plan: Plan
    panel: Panel
    parts: tuple[Part, ...]


def analyse_answers(plan: Plan, panel: Panel, answers: Answers, *, margin_stands: bool) -> Tasting:
    """Every test of the panel. Likeness is tested only where a share for it stands in a frozen plan."""
    parts: list[Part] = []
    for test in panel.tests:
        if test == "ranking":
            rows = [[float(row[p]) for p in panel.products] for row in answers.numbers.get(test, {}).values()]
            parts.append(rank(panel.products, rows, plan.significance))
        elif test == "liking":
            parts.append(like(panel, answers.numbers.get(test, {}).items(), plan.significance))
        else:
            given = answers.chosen.get(test, {}).values()
            favoured = [product == panel.products[0] for product, _ in given]
            right = favoured if test == "preference" else [correct for _, correct in given]
            within = panel.similar_within if margin_stands and test != "preference" else None
            parts.append(choose(test, panel.products, right, plan.significance, within))
    return Tasting(plan, panel, tuple(parts))


def choose(
    test: PanelTest, products: Sequence[str], right: Sequence[bool], significance: float, within: float | None
) -> Choice:
    """The exact test of a forced choice: one-sided where there is a right answer, two-sided for a preference."""
    people, count = float(len(right)), float(sum(right))
    made = Choice(test, tuple(products), len(right), sum(right), None, None, False)
    if people < FEWEST:
        return made
    alternatives = ALTERNATIVES[test]
    low = correct_share_low(correct=count, assessors=people, confidence=100 - significance)
    high = correct_share_high(correct=count, assessors=people, confidence=100 - significance)
    if test == "preference":
        p = p_value_two_sided(preferring=count, assessors=people)
        share = (100 * count / people, low, high)
    else:
        p = p_value_one_sided(correct=count, assessors=people, alternatives=alternatives)
        ends = [max(0.0, (end - 100 / alternatives) / (1 - 1 / alternatives)) for end in (low, high)]
        share = (discriminators(correct=count, assessors=people, alternatives=alternatives), ends[0], ends[1])
    return Choice(
        test, tuple(products), len(right), sum(right), needed(test, people, significance), p,
        p <= significance / 100, share, _similar(made, within, significance),
    )  # fmt: skip


def needed(test: PanelTest, people: float, significance: float) -> int | None:
    """The smallest number of right, or of agreeing, answers that counts; nothing where none does."""
    try:
        if test == "preference":
            return int(smallest_agreeing(assessors=people, significance=significance))
        return int(smallest_correct(assessors=people, alternatives=ALTERNATIVES[test], significance=significance))
    except OutOfRange:
        return None


def _similar(made: Choice, within: float | None, significance: float) -> Similar | None:
    if within is None:
        return None
    try:
        most = int(
            largest_correct_for_similarity(
                assessors=float(made.answered), alternatives=ALTERNATIVES[made.test], discriminators=within,
                miss_risk=significance,
            )
        )  # fmt: skip
    except OutOfRange:
        return Similar(within, None, False)
    return Similar(within, most, made.right <= most)


def rank(products: Sequence[str], rows: Sequence[Sequence[float]], significance: float) -> Ranked:
    """Friedman's test of rankings, one row of places for each person; pairs by the difference that holds for all."""
    people, count, level = len(rows), len(products), significance / 100
    sums = tuple(math.fsum(row[place] for row in rows) for place in range(count))
    made = Ranked(tuple(products), people, sums, None, "too few rankings to test", None, None, None, ())
    if people < FEWEST:
        return made
    if count == 2:
        first = float(sum(row[0] < row[1] for row in rows))
        p = p_value_two_sided(preferring=first, assessors=float(people))
        pair = RankPair(products[0], products[1], sums[0] - sums[1], p <= level)
        return Ranked(made.products, people, sums, p, "exact test of two places", None, None, None, (pair,))
    statistic = friedman_tied(scores=rows)
    p, how = friedman_p(sums, people, friedman_p_value(statistic=statistic, products=float(count)))
    size = {"assessors": float(people), "products": float(count), "significance": significance}
    reach = honest_rank_difference(**size)
    gaps = [(products[one], products[two], sums[one] - sums[two]) for one, two in places(count)]
    pairs = tuple(RankPair(one, two, gap, p <= level and abs(gap) >= reach) for one, two, gap in gaps)
    return Ranked(
        made.products, people, sums, p,
        f"Friedman's chi-square = {statistic:.4g} on {count - 1} degrees of freedom; p {how}",
        concordance(rank_sums=list(rank_sums(scores=rows)), assessors=float(people)),
        least_significant_rank_difference(**size), reach, pairs,
    )  # fmt: skip


def like(panel: Panel, marks: Iterable[tuple[int, dict[str, int]]], significance: float) -> Liked:
    """Marks of liking: products against what is left when each person's own level is taken off, and ranks beside it."""
    given = sorted(marks, key=lambda one: one[0])
    products = panel.products
    points = [
        Point(float(row[product]), product, block=str(person))
        for person, row in given if len(row) > 1
        for product in products if product in row
    ]  # fmt: skip
    columns = tuple(tuple(row[product] for _, row in given if product in row) for product in products)
    complete = [[float(row[product]) for product in products] for _, row in given if len(row) == len(products)]
    people = len({point.block for point in points})
    made = Liked(products, people, columns, None, None, (), None, "too few marks to test", len(complete), significance)
    if people < FEWEST:
        return made
    fitted = fit(points, products, "blocked")
    if not fitted.testable or len(fitted.methods) < 2:
        return Liked(products, people, columns, fitted, None, (), None, "nothing varies, or products never meet",
                     len(complete), significance)  # fmt: skip
    rule = Rule(significance, "tukey", panel.mark_to_find, math.sqrt(fitted.error_square))
    pairs = tuple(adjusted(pooled_pairs(fitted), len(fitted.methods), rule))
    rank_p, text = _rank_beside(complete)
    return Liked(
        products, people, columns, fitted, fitted.table[0].p, pairs, rank_p, text, len(complete), significance
    )  # fmt: skip


def _rank_beside(complete: Sequence[Sequence[float]]) -> tuple[float | None, str]:
    """The rank test of those who marked every product, with allowance for ties."""
    if len(complete) < FEWEST:
        return None, "too few people marked every product"
    if len(complete[0]) == 2:
        return signed_rank_p([one - two for one, two in complete]), "Wilcoxon's signed ranks"
    try:
        statistic = friedman_tied(scores=complete)
    except OutOfRange:
        return 1.0, "nobody marked any two products differently"
    p = friedman_p_value(statistic=statistic, products=float(len(complete[0])))
    return p, f"Friedman with ties, chi-square = {statistic:.4g} on {len(complete[0]) - 1} degrees of freedom"
