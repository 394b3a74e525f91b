"""Rank tests agree with published results, are exact where they say so, and know what few units can never show."""

import itertools
from collections import Counter

import pytest
from test_analysis import analysed
from trial_plans import plan, write_plan

from waterleaf.commands.trial import plan_trial, rehearse_trial, report_trial
from waterleaf.faults import Faults
from waterleaf.trial import ranks
from waterleaf.trial.model import Point
from waterleaf.trial.statement import make_statement

TOMATO = {  # Maindonald and Braun, tomato root weights (row TV11)
    "water": [1.5, 1.9, 1.3, 1.5, 2.4, 1.5], "conc": [1.5, 1.2, 1.2, 2.1, 2.9, 1.6],
    "both": [1.9, 1.6, 0.8, 1.15, 0.9, 1.6], "thrice": [1.0, 1.2, 1.3, 0.9, 0.7, 0.8],
}  # fmt: skip
ZAR = [[7.0, 9.9, 8.5, 5.1, 10.3], [5.3, 5.7, 4.7, 3.5, 7.7], [4.9, 7.6, 5.5, 2.8, 8.4], [8.8, 8.9, 8.1, 3.3, 9.1]]
MILK = (  # DAAG milk, 17 panellists (row TU02)
    [7.2, 7.4, 7.0, 7.2, 4.6, 6.0, 5.0, 4.2, 3.8, 6.1, 3.7, 3.9, 2.5, 4.4, 4.2, 4.6, 5.6],
    [5.8, 6.9, 6.0, 6.0, 5.4, 5.7, 6.1, 3.7, 3.8, 4.3, 3.4, 1.4, 1.7, 5.4, 3.2, 2.2, 3.6],
)


def test_kruskal_and_wallis_agree_with_tomato_roots() -> None:
    """H 9.00278022 with ties, p 0.02925394, by the whole analysis."""
    found = analysed(TOMATO, test="ranks", adjust="holm")
    assert found.main_p == pytest.approx(0.02925394, abs=1e-8)
    assert "9.003" in found.main_text


def test_friedman_agrees_with_zar() -> None:
    """Chi-square 10.68 (rows 19, 8, 8, 15); the exact p lies near the 0.0136 of chi-square."""
    points = [Point(value, name, block=str(block)) for name, row in zip("abcd", ZAR, strict=True)
              for block, value in enumerate(row)]  # fmt: skip
    p, text = ranks.main_test(points, "abcd", "blocked")
    assert "10.68" in text and "exact" in text
    assert p == pytest.approx(0.01358827, abs=0.01)


def test_signed_ranks_agree_with_milk() -> None:
    """Row TU02 gives p 0.0244 with ties broken by the last binary digits; equal differences that tie give 0.0227."""
    gaps = [four - one for four, one in zip(*MILK, strict=True)]
    assert ranks.signed_rank_p(gaps) == pytest.approx(0.02437203, abs=0.002)
    assert ranks.signed_rank_p(gaps) == ranks.signed_rank_p([round(gap, 1) for gap in gaps])


@pytest.mark.parametrize(
    ("design", "each", "least"),
    [("random", 2, 0.33333), ("random", 3, 0.1), ("random", 4, 0.02857), ("random", 5, 0.00794),
     ("paired", 4, 0.125), ("paired", 5, 0.0625), ("paired", 6, 0.03125), ("paired", 7, 0.01563)],
)  # fmt: skip
def test_few_units_have_a_smallest_p(design: str, each: int, least: float) -> None:
    """Rows TQ01 and TQ02: what so few tanks can ever show."""
    assert ranks.smallest_p(design, each) == pytest.approx(least, abs=6e-6)  # type: ignore[arg-type]


def test_the_exact_friedman_curve_is_that_of_every_ranking_gone_through() -> None:
    """Four rows of three: all 1,296 sets of rankings counted one by one."""
    orders = list(itertools.permutations((1, 2, 3)))
    squares = Counter(
        sum(sum(column) ** 2 for column in zip(*rows, strict=True)) for rows in itertools.product(orders, repeat=4)
    )
    values, tails = ranks.friedman_tails(4, 3)
    assert list(values) == sorted(squares)
    for value, tail in zip(values, tails, strict=True):
        assert tail == pytest.approx(sum(n for other, n in squares.items() if other >= value) / 1296, rel=1e-9)


def test_rank_intervals_cut_off_no_more_than_chance_allows() -> None:
    """Five against five at 5 %: the third smallest and third largest of 25 differences, as tables of U give (cut 2)."""
    found = analysed({"soil": [1.0, 2.0, 3.5, 5.0, 7.0], "raft": [11.0, 13.1, 15.3, 17.6, 20.0]}, test="ranks")
    gaps = sorted(a - b for a in (1.0, 2.0, 3.5, 5.0, 7.0) for b in (11.0, 13.1, 15.3, 17.6, 20.0))
    assert (found.pairs[0].low, found.pairs[0].high) == pytest.approx((gaps[2], gaps[-3]))
    assert found.pairs[0].statement == "lower_here"
    said = make_statement(found, margin_stands=True).may[0]
    assert "raft tended to be higher, by ranks" in said and "mean was" not in said


def test_three_units_each_never_show_anything_by_ranks_and_the_plan_says_so(tmp_path: object) -> None:
    """Far apart, and still p 0.1: the planner warns, the report holds back, and no interval is made up."""
    found = analysed({"soil": [1.0, 1.1, 1.2], "raft": [9.0, 9.1, 9.2]}, test="ranks")
    assert found.main_p == pytest.approx(0.1)
    assert found.pairs[0].statement == "could_not_tell"
    assert found.pairs[0].low == -float("inf")


def test_ranks_go_the_whole_way_in_blocks(tmp_path_factory: pytest.TempPathFactory) -> None:
    """Plan, rehearsal and report of a rank test, with its warning on few units."""
    folder = tmp_path_factory.mktemp("ranks")
    path = write_plan(folder / "p.yaml", test="ranks", adjust="holm", design="blocked", units_each=4)
    assert "cannot give a p below 0.125" in plan_trial(path, freeze_it=True, show_layout=False)
    rehearse_trial(path, 3, None)
    said, clean = report_trial(path, folder / "p-rehearsal.csv", folder / "r.html", folder / "r.pdf")
    assert clean and "could not tell" in said
    page = (folder / "r.html").read_text(encoding="utf-8")
    assert "Friedman" in page and "too few units" in page


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"test": "ranks"}, "tukey takes means"),
        ({"test": "ranks", "adjust": "holm", "design": "latin", "units_each": 3}, "rows and columns together"),
        ({"test": "ranks", "adjust": "holm", "aim": "equivalence"}, "alike within a margin"),
        ({"test": "mixed", "readings": 1}, "several readings of each unit"),
    ],
)
def test_plans_that_a_test_cannot_serve_are_refused(changes: dict[str, object], message: str) -> None:
    """What ranks and the mixed model cannot be asked."""
    with pytest.raises(Faults, match=message):
        plan(**changes)
