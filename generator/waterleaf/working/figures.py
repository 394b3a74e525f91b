"""Numbers as a person writes them: significant figures, decimals, thin spaces between thousands.

Rounding is done on the decimal text, half to even, as ASTM E29 and NIST SP 811 ask; rounding the binary value would
turn 2.675 into 2.67.
"""

from decimal import ROUND_HALF_EVEN, Decimal
from typing import Final

# Enough digits to tell two answers apart, few enough to hide the noise of binary arithmetic.
_QUIET_DIGITS: Final = 14
THIN_SPACE: Final = "\u202f"


def quiet(value: float) -> Decimal:
    """A float as a decimal, without the noise in its last binary digits."""
    return Decimal(f"{value:.{_QUIET_DIGITS}g}")


def significant(value: float, figures: int) -> str:
    """Round to significant figures and write in full, without an exponent: 1234.5 to 3 figures is "1230"."""
    number = quiet(value)
    if number == 0:
        return "0"
    place = number.adjusted() - figures + 1
    rounded = number.quantize(Decimal(1).scaleb(place), rounding=ROUND_HALF_EVEN)
    if rounded.adjusted() > number.adjusted():  # 9.99 became 10.0: one digit too many
        rounded = rounded.quantize(Decimal(1).scaleb(place + 1), rounding=ROUND_HALF_EVEN)
    return f"{rounded:f}"


def decimals(value: float, places: int) -> str:
    """Round to a number of decimal places; a negative number of places rounds to tens, hundreds and so on."""
    rounded = quiet(value).quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_EVEN)
    return f"{rounded + 0:f}"


def plain(value: float, figures: int = _QUIET_DIGITS) -> str:
    """The shortest decimal text of a value, to at most `figures` significant figures."""
    text = significant(value, figures)
    return text.rstrip("0").rstrip(".") if "." in text else text


def grouped(text: str) -> str:
    """Put thin spaces between thousands from five digits on, and a true minus in front: "-12345" is "−12 345"."""
    sign, digits = ("−", text[1:]) if text.startswith("-") else ("", text)
    whole, point, fraction = digits.partition(".")
    if len(whole) > 4:
        head = len(whole) % 3
        parts = ([whole[:head]] if head else []) + [whole[i : i + 3] for i in range(head, len(whole), 3)]
        whole = THIN_SPACE.join(parts)
    return f"{sign}{whole}{point}{fraction}"
