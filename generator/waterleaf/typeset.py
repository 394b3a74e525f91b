"""Keeps the numbers and units of hand-written text together, so that no line ends between them."""

import re
from typing import Final

_ATOM: Final = r"(?:°[A-Za-z]+|[kmcµ]?(?:g|L|m|W|mol|A|Pa)|[km]?Wh|V|ft|gal|lb|oz|psi|hp|Btu|kB|ppm)"
_UNIT: Final = rf"(?:%|{_ATOM}[²³]?(?:/[A-Za-z]+[²³]?)*)(?![\w^²³])"
_CODE: Final = r"```.*?```|`[^`\n]*`"
_TOGETHER: Final = re.compile(
    rf"(?P<code>{_CODE})|(?<=\d) (?={_UNIT})|(?<=\d)\n(?P<indent> *)(?P<unit>{_UNIT}[^\s`]*) ?", re.DOTALL
)


def held_together(text: str) -> str:
    """The same text with unbreakable spaces between numbers and unit marks; code stays as it is, and so do line counts.

    A unit that begins a line moves to the end of the one before.
    """

    def joined(found: re.Match[str]) -> str:
        if found["code"]:
            return found["code"]
        if found["unit"]:
            return f"\u00a0{found['unit']}\n{found['indent']}"
        return "\u00a0"

    return _TOGETHER.sub(joined, text)
