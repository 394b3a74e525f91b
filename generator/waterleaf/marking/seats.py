"""Where somebody sits: a row and a place in it."""

import re
from typing import Final

_LETTERED: Final = re.compile(r"([A-Za-z])[ -]?(\d{1,2})")
_NUMBERED: Final = re.compile(r"(\d{1,2})-(\d{1,2})")


def place_of(seat: str) -> tuple[int, int] | None:
    """Row and place of a seat written as B3 (row B, place 3) or as 2-3; None for anything else.

    Examples
    --------
    >>> place_of("B3"), place_of("2-3"), place_of("window")
    ((2, 3), (2, 3), None)
    """
    plain = seat.strip()
    found = _LETTERED.fullmatch(plain)
    if found:
        return ord(found[1].upper()) - ord("A") + 1, int(found[2])
    found = _NUMBERED.fullmatch(plain)
    return (int(found[1]), int(found[2])) if found else None
