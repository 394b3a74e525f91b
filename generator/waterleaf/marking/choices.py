"""Answers given by letters: one for a choice, several for an order."""

import re
from typing import Any, Final

from waterleaf.marking.judge import Verdict

# Letters of options stand alone or in a row; whatever is written between them does not matter.
_LETTERS: Final = re.compile(r"[ \t,;.>()/-]*(?:[A-Fa-f][ \t,;.>()/-]*){1,6}")
MESSAGES: Final = {
    "right": "That is the one.",
    "right_order": "That is the order.",
    "wrong": "Work the numbers out for each, then look again.",
    "wrong_order": "Not in this order. Work the number out for each item, then sort.",
    "unreadable": "Write the letter that stands beside the answer.",
    "unreadable_order": "Write the letters in order, for example B, A, C. Use each letter once.",
}


def read_letters(text: str) -> list[str]:
    """The letters in an answer, or none where it holds anything else."""
    return re.findall("[A-F]", text.upper()) if len(text) <= 60 and _LETTERS.fullmatch(text) else []


def judge_letters(text: str, expected: dict[str, Any]) -> Verdict:
    """Judge a choice or an order; `expected` is what `expectations` made."""
    right = expected["right"]
    order = "_order" if len(right) > 1 else ""
    letters = read_letters(text)
    if len(letters) != len(right) or len(set(letters)) != len(letters):
        return Verdict("unreadable", MESSAGES[f"unreadable{order}"])
    read = f"read as {', '.join(letters)}"
    if letters == right:
        return Verdict("right", MESSAGES[f"right{order}"], read)
    say = expected["says"].get(letters[0]) if not order else None
    if say:
        return Verdict("slip", say, read)
    return Verdict("wrong", MESSAGES[f"wrong{order}"], read)
