"""Rules on the cells of a spreadsheet: what cannot be a reading or an answer is not taken, and a message says why."""

import io
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final, Literal

from waterleaf.marking.tableout import _timeless as timeless
from waterleaf.writing import written_whole

_FIRST_DAY: Final = 36526  # 2000-01-01 as a spreadsheet counts days
_LONGEST_LIST: Final = 255  # of a list that stands in the rule itself
_PLAIN, _DAY = "General", "yyyy-mm-dd"


@dataclass(frozen=True, slots=True)
class CellRule:
    """What the cells of a column take, from one row to another; `message` is shown where something else is typed."""

    heading: str
    rows: tuple[tuple[int, int], ...]
    kind: Literal["decimal", "whole", "list", "date"]
    low: str
    high: str
    title: str
    message: str


def number_rule(
    heading: str, rows: Sequence[tuple[int, int]], low: float, high: float, title: str, message: str,
    *, whole: bool = False,
) -> CellRule:  # fmt: skip
    """Numbers from one to another."""
    return CellRule(heading, tuple(rows), "whole" if whole else "decimal", f"{low:g}", f"{high:g}", title, message)


def list_rule(
    heading: str, rows: Sequence[tuple[int, int]], choices: Sequence[str], title: str, message: str
) -> CellRule:
    """One of a short list, which the spreadsheet also offers to choose from."""
    text = ",".join(choices)
    if any("," in choice or '"' in choice for choice in choices) or len(text) > _LONGEST_LIST:
        raise ValueError(f"a list of {len(text)} letters does not fit a rule")
    return CellRule(heading, tuple(rows), "list", f'"{text}"', "", title, message)


def date_rule(heading: str, rows: Sequence[tuple[int, int]], title: str, message: str) -> CellRule:
    """A day of this century."""
    return CellRule(heading, tuple(rows), "date", str(_FIRST_DAY), "", title, message)


def guard(path: Path, headings: Sequence[str], rules: Sequence[CellRule]) -> None:
    """Put rules on the columns that people fill in. The cells take numbers as numbers, where all others are texts."""
    import openpyxl  # type: ignore[import-untyped]
    from openpyxl.worksheet.datavalidation import DataValidation  # type: ignore[import-untyped]

    book = openpyxl.load_workbook(path)
    sheet: Any = book.worksheets[0]
    for rule in rules:
        between = rule.kind in ("decimal", "whole")
        made = DataValidation(
            type=rule.kind, formula1=rule.low, formula2=rule.high or None, allow_blank=True,
            operator="between" if between else "greaterThanOrEqual" if rule.kind == "date" else None,
            errorTitle=rule.title, error=rule.message, showErrorMessage=True,
        )  # fmt: skip
        letter = openpyxl.utils.get_column_letter(headings.index(rule.heading) + 1)
        for first, last in rule.rows:
            made.add(f"{letter}{first}:{letter}{last}")
            for row in range(first, last + 1):
                sheet[f"{letter}{row}"].number_format = _DAY if rule.kind == "date" else _PLAIN
        sheet.add_data_validation(made)
    _widened(sheet, headings)
    held = io.BytesIO()
    book.save(held)
    written_whole(path, timeless(held.getvalue()))


def _widened(sheet: Any, headings: Sequence[str]) -> None:
    """Columns as wide as what stands in them, within reason; room to write where nothing does."""
    import openpyxl

    for number in range(1, len(headings) + 1):
        texts = (len(str(cell.value or "")) for (cell,) in sheet.iter_rows(min_col=number, max_col=number))
        width = max(10, min(40, max(texts, default=0) + 2))
        sheet.column_dimensions[openpyxl.utils.get_column_letter(number)].width = width
