"""Dates as people write them in a table: year first, day first with dots, or with slashes where only one day can be
meant."""

import datetime
import re
from typing import Final

# A spreadsheet's own date cell is read as "date 2026-03-09"; a time of day may follow.
_YEAR_FIRST: Final = re.compile(r"(?:date )?(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[ T]\d{1,2}:\d\d(?::\d\d)?)?")
_DOTTED: Final = re.compile(r"(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4}|\d\d)")
_SLASHED: Final = re.compile(r"(\d{1,2})[/-](\d{1,2})[/-](\d{4}|\d\d)")
_ADVICE: Final = "Write it as 2026-03-09. The reading is used, its date is not."


class Unclear(ValueError):
    """A date that no day, or more than one, can be read from, and what to write."""


def read_date(text: str) -> datetime.date:
    """The day that is meant. Dots are day first; slashes and hyphens are read where only one day can be meant.

    Raises Unclear where it can be read in two ways, names no day of the calendar, or is no date.
    """
    plain = " ".join(text.split())
    if found := _YEAR_FIRST.fullmatch(plain):
        year, month, day = (int(part) for part in found.groups())
        return _day(text, [(year, month, day)])
    if found := _DOTTED.fullmatch(plain):
        day, month, year = (int(part) for part in found.groups())
        return _day(text, [(_whole(year), month, day)])
    if found := _SLASHED.fullmatch(plain):
        first, second, year = (int(part) for part in found.groups())
        return _day(text, [(_whole(year), second, first), (_whole(year), first, second)])
    raise Unclear(f"date {text!r} is not a date. {_ADVICE}")


def _whole(year: int) -> int:
    return year + 2000 if year < 100 else year


def _day(text: str, meanings: list[tuple[int, int, int]]) -> datetime.date:
    days = set()
    for meaning in meanings:
        try:
            days.add(datetime.date(*meaning))
        except ValueError:
            continue
    if not days:
        raise Unclear(f"date {text!r} is no day of the calendar. {_ADVICE}")
    if len(days) > 1:
        first, second = sorted(days)
        raise Unclear(f"date {text!r} can be {first} or {second}. Write the one that is meant. The date is not used.")
    return days.pop()
