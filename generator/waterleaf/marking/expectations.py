"""What the judge expects of a posed part: a bridge from exercises to the judge."""

from typing import Any

from waterleaf.exercise import PosedPart
from waterleaf.marking.expected import Expected, Tolerance, expected_for


def expectations(part: PosedPart) -> list[Expected]:
    """One expected answer, or one for each time of a timetable, in the unit of the sheet."""
    if part.kind == "times":
        return [_time(part, index) for index in range(len(part.key))]
    # An amount stays the same beside a slip; a share grows and shrinks with the number it surrounds.
    tolerance = Tolerance(relative=part.share) if part.share else Tolerance(absolute=(part.high - part.low) / 2)
    slips = [(float(slip.value), slip.say) for slip in part.slips]
    return [
        expected_for(
            part.key, part.unit, tolerance, part.figures, slips, kind="whole" if part.kind == "whole" else "number"
        )
    ]


def _time(part: PosedPart, index: int) -> Expected:
    """The expected time at one place of a timetable; a slip counts where its own timetable has such a place."""
    slips = [
        (float(slip.value[index]), slip.say)
        for slip in part.slips
        if isinstance(slip.value, tuple | list) and index < len(slip.value)
    ]
    tolerance = Tolerance(absolute=(part.high[index] - part.low[index]) / 2)
    return expected_for(part.key[index], "hour", tolerance, part.figures, slips, kind="clock")


def letters_expected(part: PosedPart) -> dict[str, Any]:
    """The right letters of a choice or an order, and what to say to whoever takes another option."""
    return {
        "kind": "letters",
        "right": part.key_text.split(", "),
        "says": {option.letter: option.say for option in part.options if option.say and option.letter != part.key_text},
        "see": {option.letter: option.see for option in part.options if option.see},
    }
