"""Numbers are rounded on their decimal text and written the way a person would."""

import pytest

from waterleaf.working import figures

# Rounding examples printed by college chemistry departments and by NIST SP 811 appendix B.7 (the latter from memory).
ROUNDED = [
    (56.748, 3, "56.7"),
    (2.146, 3, "2.15"),
    (21.4501, 3, "21.5"),
    (21.350, 3, "21.4"),
    (21.45, 3, "21.4"),
    (3.677, 3, "3.68"),
    (3.677, 2, "3.7"),
    (6.632, 2, "6.6"),
    (6.65, 2, "6.6"),
    (6.35, 2, "6.4"),
    (3.05, 2, "3.0"),
    (6.9749515, 3, "6.97"),
    (6.9749515, 5, "6.9750"),
    (6.9749515, 7, "6.974952"),
    (6.9749505, 7, "6.974950"),
    (0.00455, 2, "0.0046"),
    (2.675, 3, "2.68"),
    (999.96, 4, "1000"),
    (0.0, 3, "0"),
    (-0.125, 2, "-0.12"),
]


@pytest.mark.parametrize(("value", "shown", "text"), ROUNDED)
def test_rounding_is_half_to_even_on_the_decimal_text(value: float, shown: int, text: str) -> None:
    """Binary noise does not decide a tie."""
    assert figures.significant(value, shown) == text


@pytest.mark.parametrize(
    ("text", "shown"),
    [("1234", "1234"), ("12345", "12\u202f345"), ("-1234567.5", "−1\u202f234\u202f567.5"), ("0.5", "0.5")],
)
def test_thousands_are_set_apart_from_five_digits_on(text: str, shown: str) -> None:
    """Thin spaces, which no decimal sign can be taken for."""
    assert figures.grouped(text) == shown


def test_decimals_never_print_a_negative_zero() -> None:
    """A tiny negative number rounds to plain zero."""
    assert figures.decimals(-0.001, 2) == "0.00"
