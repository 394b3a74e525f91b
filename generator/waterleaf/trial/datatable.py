"""The table into which readings are typed: one row a reading, with the code of the unit and never its method."""

import io
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any, Final

from waterleaf.marking.tableout import Cell, write_csv, write_xlsx
from waterleaf.marking.tableout import _timeless as timeless
from waterleaf.trial.frozen import fingerprint, short
from waterleaf.trial.layout import Unit
from waterleaf.trial.plan import Plan
from waterleaf.writing import written_whole

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
    _guard(made[1], plan)
    return made


def _guard(path: Path, plan: Plan) -> None:
    """Put rules on the columns that people fill in: a value outside the instrument's scale is not taken."""
    import openpyxl  # type: ignore[import-untyped]
    from openpyxl.worksheet.datavalidation import DataValidation  # type: ignore[import-untyped]

    book = openpyxl.load_workbook(path)
    sheet: Any = book.worksheets[0]
    columns = headings(plan)
    last = len(plan.methods) * plan.units_each * plan.readings + 1

    def rule(heading: str, low: float, high: float, said: str) -> None:
        made = DataValidation(type="decimal", operator="between", formula1=f"{low:g}", formula2=f"{high:g}")
        made.error, made.errorTitle, made.showErrorMessage = said, "Not a reading", True
        letter = openpyxl.utils.get_column_letter(columns.index(heading) + 1)
        made.add(f"{letter}2:{letter}{last}")
        sheet.add_data_validation(made)
        for row in range(2, last + 1):
            sheet[f"{letter}{row}"].number_format = "General"

    response = plan.response
    rule("value", response.low, response.high, f"Give a number from {response.low:g} to {response.high:g}.")
    if plan.needs_temperature:
        rule("temperature", 0, 50, "Give the temperature of the prism in degrees Celsius.")
    held = io.BytesIO()
    book.save(held)
    written_whole(path, timeless(held.getvalue()))
