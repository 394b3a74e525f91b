"""Item statistics against published matrices, and the traps that look like them."""

import csv
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from waterleaf.marking import items
from waterleaf.marking.items import item_figures


def matrix(*rows: str) -> Any:
    """Rows of digits as a matrix of marks."""
    return np.array([[int(digit) for digit in row] for row in rows], dtype=np.float64)


WUENSCH = matrix(
    "1111110110", "1011011101", "1111011001", "0010001000", "0000010010", "1110111111", "1101110111", "1111111101",
    "0101111101", "1101101110",
)
# The 32 patterns of answers in LSAT section 6 with their frequencies, from memory; the test below holds them to the
# printed difficulties and score counts.
LSAT6_COUNTS = (
    3, 6, 2, 11, 1, 1, 3, 4, 1, 8, 0, 16, 0, 3, 2, 15, 10, 29, 14, 81, 3, 28, 15, 80, 16, 56, 21, 173, 11, 61, 28, 298,
)
LSAT6 = matrix(*(f"{pattern:05b}" for pattern, count in enumerate(LSAT6_COUNTS) for _ in range(count)))
MATRICES = {
    "wuensch": WUENSCH,
    "lsat6": LSAT6,
    "steps": matrix(
        "111111", "111110", "111101", "111010", "110100", "111000", "101000", "010100", "100000", "000000"
    ),
    "four": matrix("454", "343", "555", "232"),
}


def rows() -> list[dict[str, str]]:
    """The table of published and computed values."""
    text = (Path(__file__).parent / "items.csv").read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in text if not line.startswith("#")))


@pytest.mark.parametrize("row", [pytest.param(r, id=f"{r['matrix']} {r['quantity']} {r['place']}") for r in rows()])
def test_figures_agree_with_published_values(row: dict[str, str]) -> None:
    """Each row of the table is met within its tolerance."""
    marks = MATRICES[row["matrix"]]
    totals = marks.sum(axis=1)
    reliability = items.kr20(marks) if row["matrix"] != "four" else items.alpha(marks)
    assert reliability is not None
    if row["place"] != "0":
        found = getattr(item_figures(marks, [1] * marks.shape[1])[int(row["place"]) - 1], row["quantity"])
    else:
        found = {
            "variance": lambda: totals.var(), "kr20": lambda: items.kr20(marks),
            "alpha": lambda: items.alpha(marks), "error": lambda: items.standard_error(totals.std(), reliability),
        }[row["quantity"]]()
    assert found == pytest.approx(float(row["expected"]), abs=float(row["tolerance"]))


def test_the_law_school_table_has_the_printed_score_counts() -> None:
    """One thousand people, and as many with each score as printed."""
    counts = np.bincount(LSAT6.sum(axis=1).astype(int))
    assert counts.tolist() == [3, 20, 85, 237, 357, 298]
    assert LSAT6.mean(axis=0).tolist() == [0.924, 0.709, 0.553, 0.763, 0.870]


def test_the_variance_is_not_mixed_up() -> None:
    """With n - 1 in the variance KR-20 would come out as 0.738 for this class."""
    assert items.kr20(WUENSCH) != pytest.approx(0.73782344, abs=0.01)


def test_upper_and_lower_groups_of_two() -> None:
    """With seven students each group has two; nobody ties, so the index is plain."""
    marks = matrix("1111111111", "1110111111", "1101110111", "1111011001", "0101111001", "0010001000", "0000000010")
    found = items.discrimination(marks, [1] * 10)
    upper, lower = marks[:2].mean(axis=0), marks[-2:].mean(axis=0)
    assert items.group_size(7) == 2
    assert found == pytest.approx((upper - lower).tolist())


def test_ties_count_in_parts_whatever_the_order() -> None:
    """Turning the class list round changes nothing, and the index lies among those of every choice of the ties."""
    found = items.discrimination(WUENSCH, [1] * 10)
    assert found == pytest.approx(items.discrimination(WUENSCH[::-1], [1] * 10))
    assert 1 / 3 <= found[9] <= 1


def test_a_part_that_everyone_has_right_tells_nobody_apart() -> None:
    """Its correlation does not exist, which is not the same as nought."""
    marks = np.column_stack([WUENSCH, np.ones(10)])
    last = item_figures(marks, [1] * 11)[-1]
    assert (last.difficulty, last.discrimination, last.item_total, last.corrected) == (1, 0, None, None)


def test_a_misprinted_point_biserial_is_not_followed() -> None:
    """J. D. Brown's totals give 0.9045 by his own formula, where 0.91 is printed."""
    totals = [50, 45, 45, 40, 35, 30, 30, 25]
    assert items.correlation([1, 1, 1, 1, 0, 0, 0, 0], totals) == pytest.approx(0.90453403, abs=1e-8)


@pytest.mark.parametrize(("spread", "r", "expected"), [(15, 0.91, 4.5), (10, 0.84, 4.0)])
def test_standard_error_of_measurement(spread: float, r: float, expected: float) -> None:
    """Two textbook cases; a reliability that cannot be is refused."""
    assert items.standard_error(spread, r) == pytest.approx(expected)
    with pytest.raises(ValueError, match="must lie between 0 and 1"):
        items.standard_error(spread, 1.04)


@given(st.lists(st.lists(st.integers(0, 3), min_size=4, max_size=4), min_size=2, max_size=40))
def test_figures_stay_within_their_limits(marks: list[list[int]]) -> None:
    """Whatever the marks, shares and correlations lie where they can."""
    for found in item_figures(marks, [3] * 4):
        assert 0 <= found.difficulty <= 1
        assert -1 - 1e-9 <= found.discrimination <= 1 + 1e-9
        for r in (found.item_total, found.corrected):
            assert r is None or -1 - 1e-9 <= r <= 1 + 1e-9
    whole = items.alpha(marks)
    assert whole is None or whole <= 1 + 1e-9


def test_kr20_needs_parts_with_two_outcomes() -> None:
    """Half marks, or parts of different worth, leave alpha alone."""
    assert items.two_outcomes([[0, 2], [2, 2]], [2, 2])
    assert not items.two_outcomes([[1, 2], [2, 2]], [2, 2])
    assert not items.two_outcomes([[0, 2], [3, 2]], [3, 2])


def test_a_number_that_makes_a_question_harder_is_found() -> None:
    """Marks that fall as the number grows; with few students nothing is said."""
    values = [float(place) for place in range(40)]
    found = items.drift(values, [3.0 if value < 20 else 0.0 for value in values])
    assert found is not None
    assert found[0] < -0.8
    assert found[1] < 1e-6
    assert items.drift(values[:29], values[:29]) is None
    assert items.drift(values, [1.0] * 40) is None
