"""The mark scheme: what each verdict earns of a part's marks for method, result and unit."""

from typing import Final

from waterleaf.bank.models import Marks

# Verdicts of the judge, and those that marking adds, in words for a table.
WORDS: Final = {
    "right": "right",
    "right_no_unit": "right, unit missing",
    "wrong_unit": "right, wrong unit",
    "other_dimension": "unit of something else",
    "slip": "known slip",
    "coarse": "rounded too far",
    "wrong": "wrong",
    "blank": "blank",
    "absent": "not handed in",
    "doubtful": "to be decided",
}
# The number is right in these; what is missing is shown by the word.
RIGHT: Final = ("right", "right_no_unit", "wrong_unit")


def earned(kind: str, marks: Marks, *, unit_missing: bool = False) -> int:
    """Marks for a verdict.

    - right: all marks
    - right number, unit missing or wrong: all but those for the unit
    - rounded too far: one mark for the result is lost, and those for the unit where it is missing too
    - a known slip: half of the marks for the method, rounded down, so nothing where the method is worth one mark
    - anything else: none

    Examples
    --------
    >>> scheme = Marks(method=3, result=1, unit=1)
    >>> [earned(kind, scheme) for kind in ("right", "right_no_unit", "coarse", "slip", "wrong")]
    [5, 4, 4, 1, 0]
    """
    if kind == "right":
        return marks.total
    if kind in ("right_no_unit", "wrong_unit"):
        return marks.total - marks.unit
    if kind == "coarse":
        return marks.total - min(1, marks.result) - (marks.unit if unit_missing else 0)
    if kind == "slip":
        return marks.method // 2
    return 0
