"""Reading an answer: where its number ends, which number that is, and what is left for the unit.

A form that has one sensible meaning is read; a form that has two is refused with a reason, but for one: a single comma
or point before exactly three digits. There the setting `decimal` decides, and the echo shows what it decided.
"""

import functools
import math
import re
from dataclasses import dataclass, replace
from typing import Any, Final, Literal, NamedTuple

from waterleaf.marking.characters import SUPERSCRIPTS, SWAPS, clean, lower, lowered, raised
from waterleaf.marking.messages import MESSAGES, fill

Decimal = Literal["point", "comma"]

LONGEST: Final = 200
# Beyond this power of ten a number is written back with the power, not with a row of noughts.
_WRITTEN_OUT: Final = 15
_GROUPED_FROM: Final = 5
_THIN_SPACE: Final = "\u202f"
_FRACTION_PLACES: Final = 6
# The answer under judgement is read anew at every step of its way, so the last few are kept.
_REMEMBERED: Final = 64

VULGAR: Final[dict[str, str]] = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5",
    "⅙": "1/6", "⅚": "5/6", "⅐": "1/7", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅑": "1/9", "⅒": "1/10",
}
_V: Final = "".join(VULGAR)
_RAISED: Final = rf"[⁺⁻]?[{SUPERSCRIPTS}]+"
_POWER: Final = rf"(?: ?(?:\^|\*\*) ?(?:\(([-+]?[0-9]+)\)|([-+]?[0-9]+))|({_RAISED}))"
_JOINED: Final = r"(?:^|[^a-z])(?:to|or|and|until|till)(?![a-z])"

# Matched against cleaned text in lower case: at one position, or anywhere where the name starts with "search". They
# keep to what Python and JavaScript read alike, which rules out \s, \d, \w, \b and all flags.
PATTERNS: Final[dict[str, str]] = {
    "search_foreign_digit": "[\u0660-\u0669\u06f0-\u06f9\u0966-\u096f\u09e6-\u09ef\u0e50-\u0e59\uff10-\uff19]",
    "search_range": rf"±|{_JOINED} ?[-$€£]?[.,]?[0-9{_V}]| - ?[0-9{_V}]",
    "opener": (
        r"(?:about|approximately|approx|around|roughly|circa|ca|c|ph)(?![a-z])[.:]? ?|[~=:] ?"
        r"|[a-z][a-z0-9_ ]{0,30}[=:] ?"
    ),
    "limit": r"[<>≤≥]|(?:at least|at most|up to|more than|less than|over|under|above|below)(?![a-z])",
    "between": r"(?:between|from)(?![a-z])|±",
    "head": r"((?:[-+]|minus(?![a-z]))?) ?((?:us\$|usd(?![a-z])|[$€£¥])?) ?([-+]?) ?",
    "dollars": r"(?:us\$|\$|(?:usd|us dollars?|dollars?)(?![a-z]))",
    "fraction": r"(?:([0-9]{1,4}) )?([0-9]{1,4}) ?/ ?([0-9]{1,4})(?![0-9]|[.,'][0-9])",
    "vulgar": rf"(?:([0-9]{{1,4}}) ?)?([{_V}])",
    "body": r"[.,]?[0-9]+(?:[.,' ][0-9]+)*",
    "point_after": r"[.,](?![.,0-9])",
    "power_e": r"e([-+]?[0-9]+)",
    "power_ten": rf" ?[*x] ?10{_POWER}",
    "power_alone": _POWER,
    "more": rf"[.,'_]?[0-9{_V}]",
    "again": rf" [0-9{_V}]|[^=]*=",
    "range": rf" ?(?:-+|\+ ?/? ?-|…|\.\.+) ?[$€£]?[.,]?[0-9{_V}]",
    "to_one": r"(?: ?: ?| to )1[.]?$",
    "time": r" ?: ?[0-9]{2}(?![.,0-9])",
    "sum": rf" ?(?:[*+x/(:] ?[-(]?[.,]?[0-9{_V}]|\^|\*\*|{_RAISED})",
    "clock_opener": r"(?:at|about|approximately|approx|around|roughly|circa|ca|c)(?![a-z])[.:]? ?|[~=] ?",
    "clock_word": r"(?:12(?:[:.]00)? ?)?(?:(noon|midday)|midnight)[.]?$",
    "clock": (
        r"([0-9]{1,2})(?:(?:[:.,]| ?h ?)([0-9]{2})(?::([0-9]{2}))?|([0-9]{2}))? ?(?:h|hrs?|hours|o'?clock)? ?"
        r"(?:(a\.? ?m\.?|in the morning)|(p\.? ?m\.?|in the (?:afternoon|evening)))?"
        r"(?:,? ?\(?(?:(?:on )?(?:the )?(?:same|next) day|[0-9] days? later)\)?)?[.]?$"
    ),
    "clock_decimal": r"[0-9]{1,2}[.,][0-9](?![0-9])",
    "search_clock_range": rf"[^ ] ?- ?[0-9]|{_JOINED}",
}
# Patterns that must not follow a number, and what it means if one does.
_NOT_A_UNIT: Final = (
    ("range", "range"), ("time", "clock"), ("sum", "sum"), ("more", "shape"), ("again", "two_numbers"),
)
_COMPILED: Final = {name: re.compile(pattern) for name, pattern in PATTERNS.items()}


@dataclass(frozen=True, slots=True)
class Reading:
    """What was found in an answer.

    `digits` is the number as plain decimal text, `figures` its significant figures as typed (0 for a fraction, which
    is exact) and `places` its decimals. `shown` is the number as a person reads it, `aside` a remark that keeps two
    ways to read it apart, `echo` all of it in words. `fault` says why nothing could be read, in which case the rest is
    empty.
    """

    value: float | None = None
    digits: str = ""
    figures: int = 0
    places: int = 0
    unit_text: str = ""
    shown: str = ""
    aside: str = ""
    echo: str = ""
    fault: str = ""


class _Fault(Exception):
    """An answer that cannot be read; the name of the message."""

    def __init__(self, code: str) -> None:
        super().__init__(code)
        self.code = code


class _Number(NamedTuple):
    """A number found in a line: where it ends, its value, and how it was typed."""

    end: int
    value: float
    sign: str
    whole: str
    fraction: str
    power: int = 0  # a power of ten that is not written out
    figures: int = 0
    places: int = 0
    ambiguous: bool = False


@functools.lru_cache(_REMEMBERED)
def read_answer(text: str, decimal: Decimal = "point") -> Reading:
    """Read a number and the unit text behind it.

    Examples
    --------
    >>> read_answer("about 1,200 kg/day").echo
    'read as 1200 kg/day'
    >>> read_answer("1,200 kg/day", decimal="comma").echo
    'read as 1,200 kg/day (between 1 and 2)'
    >>> read_answer("5-7 kg").fault
    'This gives more than one value. Choose the one value you trust most.'
    """
    try:
        return _read(_line(text, "empty"), decimal)
    except _Fault as fault:
        return Reading(fault=MESSAGES[fault.code])


def read_clock(text: str) -> Reading:
    """Read a time of day, in hours after midnight.

    Examples
    --------
    >>> read_clock("6.30 pm").value
    18.5
    """
    try:
        return _read_clock(lower(_line(text, "clock_empty")))
    except _Fault as fault:
        return Reading(fault=MESSAGES[fault.code])


def echo(reading: Reading, unit: str) -> str:
    """Say how an answer was read: money leads with its sign, a bare "per" unit follows closely."""
    text = reading.shown
    if unit.startswith("$"):
        minus = "−" if text.startswith("−") else ""
        text = f"{minus}${text[len(minus):]}{unit[1:]}"
    elif unit:
        text += unit if unit.startswith("/") or unit == "°" else f" {unit}"
    return fill(MESSAGES["echo"], {"reading": text + reading.aside})


def table() -> dict[str, Any]:
    """All that the browser's script needs to read an answer, as plain data."""
    return {
        "swaps": SWAPS,
        "patterns": PATTERNS,
        "not_a_unit": [list(pair) for pair in _NOT_A_UNIT],
        "vulgar": VULGAR,
        "superscripts": SUPERSCRIPTS,
        "longest": LONGEST,
        "written_out": _WRITTEN_OUT,
        "grouped_from": _GROUPED_FROM,
        "thin_space": _THIN_SPACE,
        "fraction_places": _FRACTION_PLACES,
    }


def _line(text: str, if_empty: str) -> str:
    if len(text) > LONGEST:
        raise _Fault("too_long")
    line = clean(text)
    if not line:
        raise _Fault(if_empty)
    if _COMPILED["search_foreign_digit"].search(line):
        raise _Fault("digits")
    return line


def _at(name: str, text: str, position: int) -> re.Match[str] | None:
    return _COMPILED[name].match(text, position)


def _read(line: str, decimal: Decimal) -> Reading:
    low = lower(line)
    head = _at("head", low, _after_openers(low))
    assert head is not None  # every part of it may be missing
    if head[1] and head[3]:
        raise _Fault("shape")
    sign = "-" if head[1] in ("-", "minus") or head[3] == "-" else ""
    number = _fraction(low, head.end(), sign) or _decimal(low, head.end(), sign, decimal)
    if _at("to_one", low, number.end):  # a ratio such as 1.4:1 is its first number
        line, low = line[: number.end], low[: number.end]
    money = line[head.start(2) : head.end(2)]
    unit_text = _unit_text(line, low, number.end, money)
    reading = Reading(
        value=number.value, digits=_digits(number), figures=number.figures, places=number.places, unit_text=unit_text,
        shown=_shown(number, decimal), aside=_aside(number),
    )
    return replace(reading, echo=echo(reading, unit_text))


def _after_openers(low: str) -> int:
    """Where the number can start, past words such as "about" and a name such as "feed ="."""
    position = 0
    for _ in range(3):
        if _at("limit", low, position):
            raise _Fault("limit")
        if _at("between", low, position):
            raise _Fault("range")
        opener = _at("opener", low, position)
        if opener is None:
            break
        position = opener.end()
    return position


def _unit_text(line: str, low: str, end: int, money: str) -> str:
    """What follows the number, once it is sure that it is not more of a number."""
    for pattern, code in _NOT_A_UNIT:
        if _at(pattern, low, end):
            raise _Fault(code)
    if _COMPILED["search_range"].search(low[end:]):
        raise _Fault("range")
    unit = line[end:].strip(" .,;:")
    # "$5 dollars" says its unit twice, and means it once.
    if not money or _at("dollars", lower(unit), 0):
        return unit
    return money + unit if not unit or unit.startswith("/") else f"{money} {unit}"


def _fraction(low: str, start: int, sign: str) -> _Number | None:
    """A fraction such as 3/4, ¾, 1 3/4 or 1¾."""
    match = _at("fraction", low, start)
    if match:
        whole, top, bottom = match[1], match[2], match[3]
    else:
        match = _at("vulgar", low, start)
        if not match:
            return None
        whole = match[1]
        top, bottom = VULGAR[match[2]].split("/")
    below = int(bottom)
    if below == 0:
        raise _Fault("divided_by_zero")
    if whole and (int(top) >= below or len(top) > 2):  # "1 200/300" may mean 1200/300
        raise _Fault("sum")
    above = int(whole or 0) * below + int(top)
    scale = 10**_FRACTION_PLACES
    rounded = (2 * above * scale + below) // (2 * below)
    places = str(rounded % scale).rjust(_FRACTION_PLACES, "0").rstrip("0")
    sign = sign if above else ""
    return _Number(match.end(), -above / below if sign else above / below, sign, str(rounded // scale), places)


def _decimal(low: str, start: int, sign: str, decimal: Decimal) -> _Number:
    """A number in digits, with whatever separators and power of ten it has."""
    body = _at("body", low, start)
    if not body:
        raise _Fault("no_number")
    end = body.end()
    whole, fraction, ambiguous = _parted(body[0], decimal)
    marked = bool(fraction)
    if body[0].isdecimal() and _at("point_after", low, end):
        marked, end = True, end + 1
    if body[0] == "10" and not marked and (power := _at("power_alone", low, end)):
        whole, typed, end = "1", _power_text(power), power.end()
    elif power := _at("power_e", low, end) or _at("power_ten", low, end):
        typed, end = _power_text(power), power.end()
    else:
        typed = ""
    value = float(f"{whole}.{fraction or '0'}e{typed or '0'}")
    zero = not (whole + fraction).strip("0")
    if math.isinf(value) or (value == 0 and not zero):
        raise _Fault("size")
    exponent = 0 if zero else int(typed or 0)
    sign = "" if zero else sign
    figures = _figures(whole + fraction, marked or typed != "")
    places = max(0, len(fraction) - exponent)
    unclear = ambiguous and exponent == 0
    if abs(exponent) <= _WRITTEN_OUT:
        whole, fraction = _shifted(whole, fraction, exponent)
        exponent = 0
    return _Number(end, -value if sign else value, sign, whole, fraction, exponent, figures, places, unclear)


def _power_text(match: re.Match[str]) -> str:
    return lowered("".join(group for group in match.groups() if group))


def _parted(body: str, decimal: Decimal) -> tuple[str, str, bool]:
    """The digits before and after the decimal mark, and whether it took the setting to tell the mark."""
    parts = re.split("[.,' ]", body)
    marks = [character for character in body if character in ".,' "]
    if not parts[0]:
        if len(marks) > 1:
            raise _Fault("shape")
        return "0", parts[1], False
    fraction = ""
    ambiguous = False
    if marks and marks[-1] in ".,":
        others = marks[:-1]
        if not others and len(parts[1]) == 3 and len(parts[0]) <= 3 and parts[0][0] != "0":
            ambiguous = marks[0] == ("," if decimal == "comma" else ".")
        if ambiguous or (marks[-1] not in others and (others or not _grouped(parts))):
            fraction = parts.pop()
            marks.pop()
    if marks and (len(set(marks)) > 1 or not _grouped(parts)):
        raise _Fault("two_numbers" if marks[0] == marks[-1] == " " else "shape")
    return "".join(parts).lstrip("0") or "0", fraction, ambiguous


def _grouped(parts: list[str]) -> bool:
    """Whether the parts of a number are thousands: one to three digits, no leading nought, then threes."""
    return len(parts[0]) <= 3 and parts[0][0] != "0" and all(len(part) == 3 for part in parts[1:])


def _figures(digits: str, all_count: bool) -> int:
    """Significant figures: noughts at the end of a whole number count only behind a point or with a power of ten."""
    digits = digits.lstrip("0")
    return max(1, len(digits if all_count else digits.rstrip("0")))


def _shifted(whole: str, fraction: str, power: int) -> tuple[str, str]:
    """The digits with the decimal mark moved by a power of ten."""
    if power > 0:
        moved = fraction[:power].ljust(power, "0")
        return (whole + moved).lstrip("0") or "0", fraction[power:]
    if power < 0:
        whole = whole.rjust(1 - power, "0")
        return whole[:power].lstrip("0") or "0", whole[power:] + fraction
    return whole, fraction


def _digits(number: _Number) -> str:
    point = "." if number.fraction else ""
    power = f"e{number.power}" if number.power else ""
    return f"{number.sign}{number.whole}{point}{number.fraction}{power}"


def _shown(number: _Number, decimal: Decimal) -> str:
    """The number as a person writes it: true minus, thin spaces from five digits on, the page's decimal mark."""
    whole = number.whole
    if len(whole) >= _GROUPED_FROM:
        head = len(whole) % 3
        parts = [whole[:head]] if head else []
        whole = _THIN_SPACE.join(parts + [whole[at : at + 3] for at in range(head, len(whole), 3)])
    minus = "−" if number.sign else ""
    point = ("," if decimal == "comma" else ".") if number.fraction else ""
    power = f" × 10{raised(number.power)}" if number.power else ""
    return f"{minus}{whole}{point}{number.fraction}{power}"


def _aside(number: _Number) -> str:
    """For a number that another reader could take to be a thousand times as large: the whole numbers around it."""
    if not number.ambiguous:
        return ""
    near, far = number.whole, str(int(number.whole) + 1)
    below, above = (f"−{far}", f"−{near}") if number.sign else (near, far)
    return fill(MESSAGES["aside"], {"below": below, "above": above})


def _read_clock(low: str) -> Reading:
    opener = _at("clock_opener", low, 0)
    start = opener.end() if opener else 0
    word = _at("clock_word", low, start)
    if word:
        return _time(12 if word[1] else 0, 0, 0)
    match = _at("clock", low, start)
    if match is None:
        if _COMPILED["search_clock_range"].search(low):
            raise _Fault("range")
        raise _Fault("clock_decimal" if _at("clock_decimal", low, start) else "clock_shape")
    hour, minute, second = int(match[1]), int(match[2] or match[4] or 0), int(match[3] or 0)
    morning, evening = match[5], match[6]
    last = hour == 24 and minute == second == 0 and not morning and not evening
    if minute > 59 or second > 59 or (hour > 23 and not last) or (morning and hour > 12) or (evening and hour == 0):
        raise _Fault("clock_hours")
    if morning and hour == 12:
        hour = 0
    elif evening and hour < 12:
        hour += 12
    return _time(hour, minute, second)


def _time(hour: int, minute: int, second: int) -> Reading:
    shown = f"{hour:02d}:{minute:02d}" + (f":{second:02d}" if second else "")
    reading = Reading(value=hour + (minute * 60 + second) / 3600, digits=shown, shown=shown)
    return replace(reading, echo=echo(reading, ""))
