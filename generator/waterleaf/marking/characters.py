"""Characters: which ones separate, and which ones stand for another.

Everything is listed one by one. "White space", "digit" and "lower case" mean different things in Python, in JavaScript
and in either one's regular expressions, and a judge that reads a pasted answer differently in two places is no judge.
"""

from typing import Final

# Spaces of every width, line ends, control characters, and marks that cannot be seen or that turn the direction of the
# text. An unseen mark becomes a space and does not vanish, so that it can never glue two numbers into one.
_BLANKS: Final = (
    (0x0000, 0x0020), (0x007F, 0x00A0), (0x00AD, 0x00AD), (0x061C, 0x061C), (0x1680, 0x1680), (0x180E, 0x180E),
    (0x2000, 0x200F), (0x2028, 0x202F), (0x205F, 0x206F), (0x3000, 0x3000), (0xFEFF, 0xFEFF),
)
# The character we work with, and its look-alikes from keyboards, word processors and other scripts.
_TWINS: Final = {
    "-": "−‐‑‒–—―﹣－", "+": "＋", "*": "×✕✖·⋅∙•∗＊", "/": "÷∕⁄／", "~": "≈≅≃∼～", "=": "＝", ":": "：", ".": "．",
    ",": "，", "'": "’‘ʼʹ′`´", '"': "“”″", "°": "º˚", "%": "％", "$": "＄", "u": "µμ", "K": "\u212a", "l": "ℓ",
    "(": "[（", ")": "]）",
}
SWAPS: Final[dict[str, str]] = {
    **{chr(code): " " for first, last in _BLANKS for code in range(first, last + 1)},
    **{twin: character for character, twins in _TWINS.items() for twin in twins},
}
SUPERSCRIPTS: Final = "⁰¹²³⁴⁵⁶⁷⁸⁹"

_SWAP: Final = str.maketrans(SWAPS)
_LOWER: Final = str.maketrans("ABCDEFGHIJKLMNOPQRSTUVWXYZ", "abcdefghijklmnopqrstuvwxyz")
_DOWN: Final = str.maketrans("⁺⁻" + SUPERSCRIPTS, "+-0123456789")
_UP: Final = str.maketrans("-0123456789", "⁻" + SUPERSCRIPTS)


def clean(text: str) -> str:
    """The text with plain characters for their look-alikes and single spaces, none at the ends.

    Examples
    --------
    >>> clean(" 1\u202f200 µmol· m⁻² ")
    '1 200 umol* m⁻²'
    """
    return " ".join(part for part in text.translate(_SWAP).split(" ") if part)


def lower(text: str) -> str:
    """Lower case for A to Z only: the full rule differs between languages, and changes the length of some texts."""
    return text.translate(_LOWER)


def raised(number: int) -> str:
    """A whole number in small raised digits: -3 is "⁻³"."""
    return str(number).translate(_UP)


def lowered(digits: str) -> str:
    """Small raised digits and signs as plain ones; plain ones stay."""
    return digits.translate(_DOWN)
