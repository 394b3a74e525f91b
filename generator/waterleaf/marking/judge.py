"""The judge: compares what a student wrote with what was expected, and says why.

The first of these that applies is the verdict:

1. `unreadable`       no number can be read, or its unit has no clear meaning
2. `unknown_unit`     the unit is a word that we do not know, or that could mean several units
3. `other_dimension`  the unit measures something else than the answer
4. `right`            the number lies in the accepted band; `right_no_unit` if the unit was asked for and is missing
5. `wrong_unit`       the unit could serve, and the bare number is right, but not the two together
6. `slip`             the number lies where a known wrong turn leads; its feedback is shown
7. `coarse`           the number is the key, rounded too far
8. `wrong`            none of these

A number without a unit is taken to be in the unit shown at the answer box. A student who answers in another unit of
the same kind is judged after conversion, so rules 4 to 8 hold for every unit. Right comes before slip: where a family
lets a slip touch the accepted band, no student pays for it.
"""

import math
from dataclasses import asdict, dataclass
from typing import Any, Final, Literal

from waterleaf.marking import reading, units
from waterleaf.marking.expected import HAIR, Expected, Tolerance, converted, expected_for, inside
from waterleaf.marking.messages import MESSAGES, fill
from waterleaf.marking.reading import Decimal, Reading, echo, read_answer, read_clock
from waterleaf.marking.units import PURE, Unit, read_unit

__all__ = ["Expected", "Tolerance", "Verdict", "VerdictKind", "expected_for", "judge", "tables"]

VerdictKind = Literal[
    "right", "right_no_unit", "wrong_unit", "other_dimension", "unknown_unit", "slip", "coarse", "wrong", "unreadable",
]
_DAY: Final = 24.0


@dataclass(frozen=True, slots=True)
class Verdict:
    """What the judge makes of an answer: the kind, a sentence for the student, how it was read, and which slip."""

    kind: VerdictKind
    message: str
    echo: str = ""
    slip: int | None = None

    def to_json(self) -> dict[str, Any]:
        """As plain data."""
        return asdict(self)


def judge(text: str, expected: Expected, decimal: Decimal = "point") -> Verdict:
    """Judge one typed answer.

    Examples
    --------
    >>> task = expected_for(1437.0, "g/day", Tolerance(relative=0.01), 3, [(14.37, "You left out the area.")])
    >>> judge("1.44 kg a day", task).kind, judge("1440", task).kind, judge("1440 kg/day", task).kind
    ('right', 'right_no_unit', 'wrong_unit')
    >>> judge("14.4 g/day", task).message
    'You left out the area.'
    """
    if expected.kind == "clock":
        return _judge_clock(read_clock(text), expected)
    found = read_answer(text, decimal)
    if found.value is None:
        return Verdict("unreadable", found.fault)
    unit = read_unit(found.unit_text)
    if unit.fault:
        return _judge_fault(unit, found, expected)
    said = echo(found, unit.shown)
    if not unit.shown:
        return _judge_bare(found.value, found, expected, said)
    if unit.dims != expected.dims and unit.twin and unit.twin[1] == expected.dims:
        unit = Unit(unit.twin[0], None, unit.twin[1], unit.shown)
    fits = _accepted(found.value, expected)
    if unit.dims != expected.dims and unit.vague:
        return Verdict("unknown_unit", _say(unit.vague, expected, unit.shown), said)
    if unit.dims != expected.dims:
        code = "other_dimension_fits" if fits else "other_dimension"
        return Verdict("other_dimension", _say(code, expected, unit.shown), said)
    value = converted(found.value, unit, expected.factor, expected.offset)
    if _accepted(value, expected):
        return Verdict("right", MESSAGES["right"], said)
    if fits:
        return Verdict("wrong_unit", _say("wrong_unit", expected, unit.shown), said)
    return _judge_number(value, found, expected, said)


def tables() -> dict[str, Any]:
    """All that the browser's script needs besides the expected answers, as plain data."""
    return {"messages": MESSAGES, "reading": reading.table(), "units": units.table(), "hair": HAIR, "day": _DAY}


def _judge_fault(unit: Unit, found: Reading, expected: Expected) -> Verdict:
    """A number whose unit text was not understood."""
    if unit.word:
        return Verdict("unknown_unit", _say(unit.fault, expected, unit.word), found.echo)
    return Verdict("unreadable", MESSAGES[unit.fault])


def _judge_bare(value: float, found: Reading, expected: Expected, said: str) -> Verdict:
    """A number without a unit: taken in the unit of the answer box, and else, for shares, as a plain share."""
    plain = expected.dims == PURE and expected.factor == 1.0
    if _accepted(value, expected):
        if not expected.unit_needed or plain or (value == 0 and expected.zero_ok):
            return Verdict("right", MESSAGES["right"], said)
        return Verdict("right_no_unit", _say("right_no_unit", expected), said)
    verdict = _judge_number(value, found, expected, said)
    # Where the student brings the unit, 0.05 is a complete way to write 5 %. In a box marked % it is not.
    if expected.dims != PURE or not expected.unit_needed:
        return verdict
    share = value / expected.factor
    if _accepted(share, expected):
        return Verdict("right", MESSAGES["right"], said)
    return _judge_number(share, found, expected, said) if verdict.kind == "wrong" else verdict


def _judge_number(value: float, found: Reading, expected: Expected, said: str) -> Verdict:
    """A number outside the accepted band, in the unit of the answer box."""
    room = _room(expected)
    for index, (low, high, feedback) in enumerate(expected.slips):
        if inside(value, low, high, room):
            return Verdict("slip", feedback, said, index)
    if expected.kind == "whole" and not _is_whole(value):
        return Verdict("wrong", MESSAGES["not_whole"], said)
    for rounded, figures in expected.coarse:
        if 0 < found.figures <= figures and inside(value, rounded, rounded, room):
            return Verdict("coarse", _say("coarse", expected), said)
    return Verdict("wrong", MESSAGES["wrong"], said)


def _judge_clock(found: Reading, expected: Expected) -> Verdict:
    """A time of day: the clock goes round, so one minute past midnight lies close to one minute before it."""
    if found.value is None:
        return Verdict("unreadable", found.fault)
    times = (found.value, found.value - _DAY, found.value + _DAY)
    if any(inside(time, expected.low, expected.high) for time in times):
        return Verdict("right", MESSAGES["right"], found.echo)
    for index, (low, high, feedback) in enumerate(expected.slips):
        if any(inside(time, low, high) for time in times):
            return Verdict("slip", feedback, found.echo, index)
    if any(inside(time + half, expected.low, expected.high) for time in times for half in (-_DAY / 2, _DAY / 2)):
        return Verdict("wrong", MESSAGES["half_day"], found.echo)
    return Verdict("wrong", MESSAGES["wrong"], found.echo)


def _accepted(value: float, expected: Expected) -> bool:
    if expected.kind == "whole" and not _is_whole(value):
        return False
    return inside(value, expected.low, expected.high, _room(expected))


def _room(expected: Expected) -> float:
    """Conversion between scales with different zeros loses digits in proportion to the distance between the zeros."""
    return 0.0 if expected.offset is None else expected.offset / expected.factor


def _is_whole(value: float) -> bool:
    return math.isfinite(value) and abs(value - math.floor(value + 0.5)) <= HAIR * max(1.0, abs(value))


def _say(code: str, expected: Expected, typed: str = "") -> str:
    """A message with its gaps filled, in the wording for an answer without a unit where it has none."""
    if not expected.shown and f"{code}_none" in MESSAGES:
        code = f"{code}_none"
    values = {"unit": expected.shown, "typed": typed, "figures": str(expected.figures)}
    return fill(MESSAGES[code], values)
