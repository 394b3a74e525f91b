"""The table into which readings are typed: one row a reading, with the code of the unit and never its method."""

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Final

from waterleaf.marking.tableout import Cell, write_csv, write_xlsx
from waterleaf.trial.cellrules import CellRule, date_rule, guard, number_rule
from waterleaf.trial.frozen import fingerprint, short
from waterleaf.trial.layout import Unit
from waterleaf.trial.plan import Plan

NEEDED: Final = ("trial", "code", "reading", "value")
# Stands as the reader of invented readings, so that they are known for what they are under any file name.
REHEARSAL: Final = "rehearsal"
Key = tuple[str, int]


def headings(plan: Plan) -> list[str]:
    """The columns of the table; prism temperature only where the instrument does not compensate."""
    warmth = ["temperature"] if plan.needs_temperature else []
    return ["trial", "code", "place", "reading", "value", "unit", *warmth, "date", "reader", "remark"]


def rows(
    plan: Plan, units: Sequence[Unit], filled: Mapping[Key, Mapping[str, Cell]] | None = None
) -> Iterable[list[Cell]]:
    """The rows, blank or filled, in the order of places."""
    mark = short(fingerprint(plan, units))
    for unit in units:
        for number in range(1, plan.readings + 1):
            cells: dict[str, Cell] = {
                "trial": mark,
                "code": unit.code,
                "place": unit.place,
                "reading": number,
                "unit": plan.response.unit,
                **(filled or {}).get((unit.code, number), {}),
            }
            yield [cells.get(heading, "") for heading in headings(plan)]


def write_tables(
    plan: Plan,
    units: Sequence[Unit],
    place: Path,
    stem: str,
    filled: Mapping[Key, Mapping[str, Cell]] | None = None,
) -> list[Path]:
    """The table as CSV and as a spreadsheet that refuses what cannot be a reading."""
    made = [place / f"{stem}.csv", place / f"{stem}.xlsx"]
    write_csv(made[0], headings(plan), rows(plan, units, filled))
    write_xlsx(made[1], "Readings", headings(plan), rows(plan, units, filled))
    guard(made[1], headings(plan), cell_rules(plan))
    return made


def cell_rules(plan: Plan) -> list[CellRule]:
    """What the cells that people fill in take."""
    response, rows = plan.response, [(2, len(plan.methods) * plan.units_each * plan.readings + 1)]
    scale = f"Give a number from {response.low:g} to {response.high:g}, as the instrument shows it. Words go to remark."
    made = [
        number_rule(
            "reading", rows, 1, plan.readings, "Not a reading of this plan",
            f"Give the number of the reading, 1 to {plan.readings}.", whole=True,
        ),
        number_rule("value", rows, response.low, response.high, "Not a reading", scale),
        date_rule("date", rows, "Not a date", "Give the day, such as 2026-03-09."),
    ]  # fmt: skip
    if plan.needs_temperature:
        warmth = "Give the temperature of the prism in degrees Celsius, 0 to 50."
        made.append(number_rule("temperature", rows, 0, 50, "Not a temperature", warmth))
    return made
