"""Every sentence that the judge can say.

They stand together so that a teacher can check their tone in one place, and so that the browser's script, which gets
them as data, has no sentence of its own. A name in braces is filled in; a message whose name ends in `_none` replaces
its namesake where the answer has no unit.
"""

import re
from collections.abc import Mapping
from typing import Final

MESSAGES: Final[dict[str, str]] = {
    # How an answer was read.
    "echo": "read as {reading}",
    "aside": " (between {below} and {above})",
    # Why an answer could not be read.
    "empty": "Write your answer as a number and its unit.",
    "too_long": "This is too long for me to read. Write one number and its unit.",
    "digits": "Please use the digits 0 to 9.",
    "no_number": "I cannot find a number at the start. Write the number first, then the unit.",
    "shape": "I cannot read this number. Write it like 1250 or 12.5.",
    "two_numbers": "I see more than one number here. Write one number and one unit.",
    "range": "This gives more than one value. Choose the one value you trust most.",
    "limit": "This gives a limit, not a value. Write the value itself.",
    "sum": "This is still to be worked out. Write only the number it comes to.",
    "clock": "This looks like a time of day. Write a plain number here.",
    "divided_by_zero": "No number can be divided by zero. Look at your fraction again.",
    "size": "This number is too large or too small for me to read. Check the power of ten.",
    "unit_shape": "I can read your number, but not the unit behind it. Write it like g/day or g per day.",
    "unit_order": "I cannot tell what your unit is divided by. Put “per” or / before each such part, like g/m²/day.",
    # Why a time of day could not be read.
    "clock_empty": "Write your answer as a time of day, like 6:30 or 18:30.",
    "clock_shape": "I cannot read this as a time of day. Write one time, like 6:30 or 18:30.",
    "clock_hours": "There is no such time on the clock. Hours go to 24 and minutes to 59.",
    "clock_decimal": "I cannot tell the minutes. Write two digits for them, like 6:30.",
    # What the judge makes of it.
    "right": "Right.",
    "right_no_unit": "Your number is right. Write its unit too: {unit}.",
    "wrong_unit": "Your number is right, but not in {typed}. The answer is in {unit}.",
    "wrong_unit_none": "Your number is right, but not with {typed}. The answer is a plain number.",
    "other_dimension": "The unit {typed} measures something else. The unit of this answer is {unit}.",
    "other_dimension_none": "The unit {typed} does not belong here. This answer is a plain number.",
    "other_dimension_fits": "Your number is right, but the unit {typed} measures something else. Use {unit}.",
    "other_dimension_fits_none": "Your number is right, but it needs no unit. Leave out {typed}.",
    "unknown_unit": "I do not know the unit “{typed}”. You could write {unit}.",
    "unknown_unit_none": "I do not know the unit “{typed}”. This answer is a plain number.",
    "which_degrees": "Say which degrees you mean, such as °C, °F or °Brix.",
    "which_ton": "There is more than one kind of ton. Write kg, lb or tonne.",
    "coarse": "You are close: the answer was rounded too far. Give it with {figures} significant figures.",
    "not_whole": "This answer counts whole things. Write a whole number.",
    "half_day": "Your time is twelve hours out. Write am or pm, or use the 24-hour clock.",
    "wrong": "Not this time. Go back over your steps one by one.",
}

_GAP: Final = re.compile(r"\{([a-z]+)\}")


def fill(message: str, values: Mapping[str, str]) -> str:
    """Put values into the gaps of a message, in one pass, so that braces in a student's text stay as they are."""
    return _GAP.sub(lambda gap: values[gap[1]], message)
