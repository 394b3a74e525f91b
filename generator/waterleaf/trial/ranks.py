"""Rank tests, where the plan named them: only the order of the unit means counts, not how far apart they lie."""

import bisect
import functools
import itertools
import math
import operator
import statistics
import warnings
from collections import defaultdict
from collections.abc import Sequence
from typing import Final

from waterleaf.calc.claims.many import holm
from waterleaf.trial.model import Point, present_methods
from waterleaf.trial.pairs import Pair, Rule, grouped, places
from waterleaf.trial.plan import Design

# Rankings of so many things are gone through one by one up to so many rows.
_EXACT_ROWS: Final = {3: 60, 4: 12}


@functools.cache
def rank_sum_shares(first: int, second: int) -> tuple[float, ...]:
    """Chance of 0, 1, 2, ... values of the first group above one of the second, if nothing differs."""
    # How many ways to fit a staircase of each area into a rectangle, built up a row at a time.
    counts = [1] + [0] * (first * second)
    for part in range(1, first + 1):
        counts = _times(counts, second + part)
        counts = _divided(counts, part)
    total = sum(counts)
    return tuple(count / total for count in counts)


def _times(counts: list[int], power: int) -> list[int]:
    return [count - (counts[place - power] if place >= power else 0) for place, count in enumerate(counts)]


def _divided(counts: list[int], power: int) -> list[int]:
    found = list(counts)
    for place in range(power, len(found)):
        found[place] += found[place - power]
    return found


@functools.cache
def signed_rank_shares(pairs: int) -> tuple[float, ...]:
    """Chance of each sum of the ranks with a plus sign, if nothing differs."""
    counts = [1] + [0] * (pairs * (pairs + 1) // 2)
    for rank in range(1, pairs + 1):
        counts = [count + (counts[place - rank] if place >= rank else 0) for place, count in enumerate(counts)]
    return tuple(count / 2**pairs for count in counts)


@functools.cache
def friedman_tails(rows: int, count: int) -> tuple[tuple[int, ...], tuple[float, ...]]:
    """The sums of squared rank sums that so many rankings without ties can have, and the chance of each or a larger one
    if nothing differs. Empty where there are too many to go through: chi-square has to do there.

    Chi-square gives three products a p that is too small: with 12 people it cries wolf in 6.2 of 100 panels, not 5.
    """
    if rows > _EXACT_ROWS.get(count, 0):
        return (), ()
    orders = list(itertools.permutations(range(1, count + 1)))
    # Which product holds which sum does not matter, so sums are kept in order: far fewer of them.
    states: dict[tuple[int, ...], float] = {(0,) * count: 1.0}
    for _ in range(rows):
        following: dict[tuple[int, ...], float] = defaultdict(float)
        for sums, chance in states.items():
            for order in orders:
                following[tuple(sorted(map(operator.add, sums, order)))] += chance / len(orders)
        states = following
    squares: dict[int, float] = defaultdict(float)
    for sums, chance in states.items():
        squares[sum(part * part for part in sums)] += chance
    values = sorted(squares)
    tails = list(itertools.accumulate(squares[value] for value in reversed(values)))[::-1]
    return tuple(values), tuple(min(1.0, tail) for tail in tails)


def friedman_p(rank_sums: Sequence[float], rows: int, by_chi_square: float) -> tuple[float, str]:
    """p for rank sums of rankings without ties, and how it was found: exact where that can be worked out."""
    values, tails = friedman_tails(rows, len(rank_sums))
    if not values:
        return by_chi_square, "by chi-square"
    return tails[bisect.bisect_left(values, round(math.fsum(part * part for part in rank_sums)))], "exact"


def smallest_p(design: Design, each: int) -> float:
    """The smallest two-sided p that two methods with so many units each can reach, however far apart they lie."""
    shares = signed_rank_shares(each) if design in ("paired", "blocked") else rank_sum_shares(each, each)
    return min(1.0, 2 * shares[0])


def main_test(points: Sequence[Point], methods: Sequence[str], design: Design) -> tuple[float, str]:
    """p of the main test, and what it is. Blocks in which a method is missing are left out.

    Kruskal and Wallis for units at random, by chi-square; Friedman for blocks, exact for few blocks without ties, else
    by chi-square; for two methods Wilcoxon's rank sum or signed ranks, exact where nothing ties.
    """
    from scipy import stats

    present = present_methods(points, methods)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # nothing but ties
        if design == "random" and len(present) > 2:
            found = stats.kruskal(*grouped(points, present))
            name = "Kruskal and Wallis: H"
        elif design == "random":
            return rank_sum_p(*grouped(points, present)), "Wilcoxon's rank sum test"
        elif len(present) > 2:
            rows = complete_blocks(points, present)
            if len(rows) < 2:
                return 1.0, "fewer than two complete blocks"
            found = stats.friedmanchisquare(*zip(*rows, strict=True))
            name = f"Friedman, {len(rows)} complete blocks: chi-square"
            if all(len(set(row)) == len(row) for row in rows):
                sums = stats.rankdata(rows, axis=1).sum(axis=0)
                p, how = friedman_p([float(part) for part in sums], len(rows), float(found.pvalue))
                return p, f"{name} = {found.statistic:.4g}, p {how}"
        else:
            rows = complete_blocks(points, present)
            return signed_rank_p([one - two for one, two in rows]), f"Wilcoxon's signed ranks, {len(rows)} pairs"
    p = float(found.pvalue)
    return (1.0 if math.isnan(p) else p), f"{name} = {found.statistic:.4g} on {len(present) - 1} degrees of freedom"


def complete_blocks(points: Sequence[Point], methods: Sequence[str]) -> list[list[float]]:
    """The values of the blocks that hold every method, in the order of the methods."""
    blocks: dict[str, dict[str, float]] = defaultdict(dict)
    for point in points:
        blocks[point.block][point.method] = point.value
    return [[held[method] for method in methods] for held in blocks.values() if all(m in held for m in methods)]


def rank_sum_p(first: Sequence[float], second: Sequence[float]) -> float:
    """Two-sided p of Wilcoxon's rank sum test; exact where no two values are equal."""
    from scipy import stats

    tied = len({*first, *second}) < len(first) + len(second)
    if len({*first, *second}) == 1:
        return 1.0
    return float(stats.mannwhitneyu(first, second, method="asymptotic" if tied else "exact").pvalue)


def signed_rank_p(gaps: Sequence[float]) -> float:
    """Two-sided p of Wilcoxon's signed ranks; gaps of nought are left out, exact where no two are equal in size."""
    from scipy import stats

    # Means of decimal readings differ in their last binary digits; that breaks no tie.
    gaps = [gap for gap in (round(gap, 10) for gap in gaps) if gap]
    if not gaps:
        return 1.0
    exact = len({abs(gap) for gap in gaps}) == len(gaps)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # few pairs: the report says so itself
        return min(1.0, float(stats.wilcoxon(gaps, method="exact" if exact else "approx", correction=not exact).pvalue))


def rank_pairs(points: Sequence[Point], methods: Sequence[str], design: Design, rule: Rule) -> list[Pair]:
    """Every pair by Wilcoxon's tests with Holm's shared p; middle difference, and an interval for all pairs together.

    The interval is exact for values without ties; where so few units cannot give one, it has no ends.
    """
    present = present_methods(points, methods)
    raw: list[tuple[str, str, float, float, float, float]] = []
    level = rule.significance / 100 / max(1, len(places(len(present))))
    for one, two in places(len(present)):
        chosen = (present[one], present[two])
        if design == "random":
            first, second = grouped(points, chosen)
            gaps = sorted(a - b for a in first for b in second)
            p, shares = rank_sum_p(first, second), rank_sum_shares(len(first), len(second))
        else:
            own = [a - b for a, b in complete_blocks(points, chosen)]
            if not own:
                continue
            gaps = sorted((a + b) / 2 for place, a in enumerate(own) for b in own[place:])
            p, shares = signed_rank_p(own), signed_rank_shares(len(own))
        raw.append((*chosen, statistics.median(gaps), p, *_ends(gaps, shares, level)))
    return [
        Pair(first, second, middle, 0.0, 0.0, p, shared, low, high, level, 1.0, middle / rule.deviation,
             "could_not_tell")
        for (first, second, middle, p, low, high), shared in zip(
            raw, holm(p_values=[pair[3] for pair in raw]) if raw else (), strict=True
        )
    ]  # fmt: skip


def _ends(gaps: Sequence[float], shares: Sequence[float], level: float) -> tuple[float, float]:
    """Ends of the interval: as many gaps are cut off at each side as chance leaves there at half the level."""
    cut, below = 0, shares[0]
    while below <= level / 2 and 2 * cut < len(gaps):
        cut += 1
        below += shares[cut]
    return (gaps[cut - 1], gaps[-cut]) if cut else (-math.inf, math.inf)
