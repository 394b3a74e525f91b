r"""Reads tests/marking/answers.csv: what students type, and what the judge should make of it.

    task      the exercise that is answered, by its name in TASKS
    decimal   point | comma: the page's setting
    typed     the answer; \u00a0 and its like stand for characters that cannot be seen
    value     the number read, or the name of the message that says why none was
    verdict   kind of verdict; "slip 0" for the first slip of the task
    echo      how the answer was read, without the words "read as"; empty where the row does not say

The expected columns were filled in by hand, before the judge was run on them.
"""

import csv
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from waterleaf.marking.judge import Expected, Tolerance, expected_for

TABLE = Path(__file__).parent / "marking" / "answers.csv"
COLUMNS = ["task", "decimal", "typed", "value", "verdict", "echo"]

_FIVE_MINUTES = Tolerance(absolute=5 / 60)

TASKS: Final[dict[str, Expected]] = {
    "feed": expected_for(
        1437.0, "g/day", Tolerance(relative=0.01), 3,
        [(10059.0, "This is a week's feed."), (2.505, "You divided where you should multiply.")],
        other_units=["lb/day"],
    ),
    "feed in the box": expected_for(1437.0, "g/day", Tolerance(relative=0.01), 3, unit_needed=False),
    "flow": expected_for(
        24.6, "L/min", Tolerance(relative=0.02), 3,
        [(1476.0, "This is the flow in an hour."), (0.41, "This is the flow in a second.")], other_units=["gallon/min"],
    ),
    "tank": expected_for(
        2650.0, "L", Tolerance(relative=0.01), 3, [(2.65, "You stopped at cubic metres.")], other_units=["gallon"],
    ),
    "temperature": expected_for(
        26.5, "degC", Tolerance(absolute=0.2), 3, [(79.7, "This is still in Fahrenheit.")], other_units=["degF"],
    ),
    "frost": expected_for(-3.5, "degC", Tolerance(absolute=0.25), 2, [(3.5, "It is colder than freezing.")]),
    "warming": expected_for(4.0, "delta_degC", Tolerance(absolute=0.2), 2),
    "ratio of feed": expected_for(
        47.2, "g/m^2/day", Tolerance(relative=0.03), 3, [(1132.8, "You multiplied by the hours.")],
    ),
    "price": expected_for(12.5, "dollar/m^2", Tolerance(relative=0.01), 3, [(125.0, "You lost a decimal place.")]),
    "cash": expected_for(48.75, "dollar", Tolerance(absolute=0.005), 4),
    "loss": expected_for(-120.0, "dollar", Tolerance(absolute=1), 3, [(120.0, "Costs are higher than sales here.")]),
    "share": expected_for(62.5, "percent", Tolerance(absolute=0.5), 3, [(37.5, "This is the other part.")]),
    "share in the box": expected_for(62.5, "percent", Tolerance(absolute=0.5), 3, unit_needed=False),
    "ration": expected_for(1.8, "percent/day", Tolerance(relative=0.03), 2, [(0.018, "Write it in percent.")]),
    "plants": expected_for(
        137.0, "plant", Tolerance(), 3, [(136.4, "Round up: a part of a plant cannot be planted.")], kind="whole",
    ),
    "fish": expected_for(48.0, "fish", Tolerance(absolute=1), 2, kind="whole"),
    "density": expected_for(7.5, "fish/m^3", Tolerance(relative=0.02), 2),
    "sugar": expected_for(8.2, "degBx", Tolerance(absolute=0.05), 2),
    "conversion": expected_for(1.35, "", Tolerance(relative=0.02), 3, [(0.741, "You turned the fraction over.")]),
    "nitrate": expected_for(42.0, "mg/L", Tolerance(relative=0.03), 2, [(0.042, "You stopped at grams per litre.")]),
    "pipe": expected_for(50.0, "mm", Tolerance(relative=0.02), 2, [(25.0, "This is the radius.")]),
    "light": expected_for(17.3, "mol/m^2/day", Tolerance(relative=0.02), 3),
    "energy": expected_for(18.0, "kWh", Tolerance(relative=0.02), 2, [(0.75, "This is the power.")]),
    "turnover": expected_for(1.5, "1/hour", Tolerance(relative=0.02), 2),
    "sun": expected_for(35.0, "degree", Tolerance(absolute=0.5), 2),
    "nothing": expected_for(0.0, "kg", Tolerance(absolute=0.05), 1),
    "salt": expected_for(2.4, "kg", Tolerance(relative=0.03), 2),
    "meal": expected_for(18.5, "hour", _FIVE_MINUTES, 2, [(16.5, "You started two hours early.")], kind="clock"),
    "midnight": expected_for(0.0, "hour", _FIVE_MINUTES, 2, kind="clock"),
}


@dataclass(frozen=True)
class Row:
    """One typed answer."""

    line: int
    task: str
    decimal: str
    typed: str
    value: str
    verdict: str
    echo: str


def rows() -> list[Row]:
    """All rows of the table, in order."""
    found: list[Row] = []
    with TABLE.open(encoding="utf-8", newline="") as handle:
        numbered = [(number, line) for number, line in enumerate(handle, start=1) if line.strip() and line[0] != "#"]
    assert next(csv.reader([numbered[0][1]])) == COLUMNS
    for number, line in numbered[1:]:
        cells = next(csv.reader([line], strict=True))
        assert len(cells) == len(COLUMNS), f"answers.csv:{number}: {len(cells)} columns, not {len(COLUMNS)}"
        task, decimal, typed, value, verdict, echo = map(_visible, cells)
        found.append(Row(number, task, decimal, typed, value, verdict, echo))
    return found


def _visible(cell: str) -> str:
    return re.sub(r"\\u([0-9a-f]{4})", lambda code: chr(int(code[1], 16)), cell)
